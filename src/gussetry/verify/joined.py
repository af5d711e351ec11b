"""The far stitches of joined pairs, which are worked and used up: each under a small bow tie."""

from __future__ import annotations

from gussetry.stitchmap import Round
from gussetry.verify.charts import Sheet
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.rays import with_role
from gussetry.verify.strokes import Symbol, read_symbol
from gussetry.verify.svg import Shape

_BESIDE = 0.3
"""How far beside its stitch a bow tie may stand, over the pitch."""
_ABOVE = (0.3, 1.0)
"""How far above its stitch, over the pitch."""


def compare_joined(sheet: Sheet) -> list[Disagreement]:
    """Far stitches of a pair without their bow tie, and bow ties over others."""
    if sheet.centre is not None:
        return []
    marks = with_role(sheet, "joined")
    findings = [
        found_at("joined", "a mark of joining is no bow tie", mark)
        for mark in marks
        if read_symbol(mark.subs, -1j, filled=False, stroked=True) != Symbol("join")
    ]
    for row, round_ in sheet.paired:
        far = _used_up(round_)
        for stitch in row.items:
            entry = stitch.tag("index")
            if stitch.tag("role") == "sum" or entry not in far:
                continue
            own = [mark for mark in marks if _over(mark, stitch, sheet.pitch)]
            if len(own) != 1:
                findings.append(
                    found_at("joined", "the far stitch of a joined pair is not marked", stitch,
                             "1", str(len(own)))
                )  # fmt: skip
            marks = [mark for mark in marks if mark not in own]
            findings += [
                found_at("joined", "a mark of joining names another stitch", mark, entry,
                         mark.tag("index"))
                for mark in own
                if mark.tag("index") not in ("", entry)
            ]  # fmt: skip
    if sheet.paired:
        findings += [
            found_at("joined", "a mark of joining stands over no joined stitch", mark)
            for mark in marks
        ]
    return findings


def _used_up(round_: Round) -> set[str]:
    """The entries whose stitch is the far one of a pair."""
    made = [index for index, op in enumerate(round_.work) for _ in range(op.makes)]
    return {str(made[number]) for op in round_.work if op.do == "join" for number in op.onto}


def _over(mark: Shape, stitch: Shape, pitch: float) -> bool:
    off = mark.box.centre - stitch.box.centre
    return abs(off.real) < _BESIDE * pitch and _ABOVE[0] < -off.imag / pitch < _ABOVE[1]
