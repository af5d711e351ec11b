"""The text of a specification whose every count is pinned, in the manner of the starter."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from gussetry.misreadings import safe
from gussetry.sample.makings import CuffShape, GapShape, Making, PhaseShape

UNTOLD = "# not in the table: "
"""How every line begins that names what counts alone cannot tell."""

_HAND = 190
"""Millimetres round the placeholder's hand, near the surveyed women's mean (18.6 cm: Gordon et al.,
2012 Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007)."""
_EASE = 10
_SWATCH = 100
_TALLER = 10, 9
"""Rounds to stitches over one length: six printed gauges of plain sc have a height of 0.875 to
0.929 widths."""
_BARE = re.compile(r"[A-Za-z][A-Za-z-]{0,30}")
_WORDS_OF_YAML = ("yes", "no", "on", "off", "true", "false", "null", "y", "n")


def specification(
    making: Making,
    size: str,
    table: str,
    others: Sequence[GapShape] = (),
    doubts: Sequence[str] = (),
) -> str:
    """The specification that makes just these counts. `table` is the name of the file, `others`
    are ways to set the thumb aside that make the same table, `doubts` what to look at again."""
    parts = (
        _head(table, size, doubts),
        _gauges(making),
        _yarns(),
        _sizes(size),
        _cuff(making),
        _lower_hand(making),
        _gusset(making),
        _division(making, others),
        _crown(making),
        _thumb(making),
    )
    return "\n".join(line for part in parts for line in part) + "\n"


def untold(text: str) -> tuple[str, ...]:
    """What the text of a specification says that its table could not tell."""
    lines = (line.strip() for line in text.splitlines())
    return tuple(line.removeprefix(UNTOLD) for line in lines if line.startswith(UNTOLD))


def _quoted(name: str) -> str:
    if _BARE.fullmatch(name) and name.casefold() not in _WORDS_OF_YAML:
        return name
    return '"' + name.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _head(table: str, size: str, doubts: Sequence[str]) -> Iterator[str]:
    yield f"# A sample with every count pinned: the column {safe(size)} of {safe(table)}."
    yield "# It makes just these counts as it stands:   gussetry counts FILE"
    yield "# What counts alone cannot tell is marked, and yours to put right; the counts stay."
    for doubt in doubts:
        yield f"# Pinned as the table has it, but look again: {doubt}"
    yield ""
    yield f"{UNTOLD}the pattern's name, and your own"
    yield "pattern: My sample"
    yield "credit: Your name here"
    yield f"{UNTOLD}whether you work in US or in UK terms"
    yield "terms: US"


def _gauges(making: Making) -> Iterator[str]:
    yield ""
    # Such that the placeholder's hand fills the sample.
    across = round(making.hand * _SWATCH / (_HAND + _EASE))
    across = min(100, max(3, across))
    up = round(across * _TALLER[0] / _TALLER[1])
    yield f"{UNTOLD}the gauge, and whether it is sc, hdc or dc; measure your sample"
    yield f"gauge: {{over: 10 cm, stitch: sc, stitches: {across}, rounds: {up}}}"
    if making.cuff.style == "ribbed":
        yield f"{UNTOLD}the gauge of the ribbing"
        yield f"rib gauge: {{over: 10 cm, stitches: {across}, rows: {up}}}"


def _yarns() -> Iterator[str]:
    yield ""
    yield f"{UNTOLD}the yarns, and the rounds of each (add them under stripes)"
    yield "yarns:"
    yield '  A: {name: yarn of the sample, colour: "#7a8b99"}'


def _sizes(size: str) -> Iterator[str]:
    yield ""
    yield f"{UNTOLD}the hand that it fits; give its measures, the circumference at least"
    yield "sizes:"
    yield f"  {_quoted(size)}: {{hand circumference: {_HAND / 10:g} cm, for: women}}"


def _cuff(making: Making) -> Iterator[str]:
    yield ""
    cuff = making.cuff
    if cuff.style == "none":
        yield "# The table has no cuff."
        yield "cuff: {style: none}"
    elif cuff.style == "round":
        yield f"{UNTOLD}whether the cuff's rounds are plain or ribbed in post stitches"
        if 0 <= making.lower.pick_up - cuff.rows <= 1:
            yield f"{UNTOLD}whether they are rows, ribbed sideways, instead of rounds"
        yield "cuff:"
        yield "  style: round"
        yield f"  rounds: {cuff.rows}"
    else:
        yield from _ribbed(cuff, making.lower.pick_up)


def _ribbed(cuff: CuffShape, picked: int) -> Iterator[str]:
    if cuff.seam_counts:
        yield (
            f"{UNTOLD}how {picked} stitches come out of {cuff.rows} rows; taken: one out of the"
            " seam"
        )
    elif picked != cuff.rows:
        yield (
            f"{UNTOLD}where {picked} stitches are picked up along {cuff.rows} rows; taken: spread"
            " evenly"
        )
    yield f"{UNTOLD}how high above the wrist crease the cuff ends; taken: at it"
    yield "cuff:"
    yield "  style: ribbed"
    yield f"  rows: {cuff.rows}"
    yield f"  stitches: {cuff.across}"
    if cuff.seam_counts:
        yield "  seam counts: yes"


def _lower_hand(making: Making) -> Iterator[str]:
    yield ""
    lower = making.lower
    yield f"{UNTOLD}whether the rounds are joined; taken: a spiral"
    yield "lower hand:"
    yield f"  pick up: {lower.pick_up}"
    yield f"  increases: {lower.increases}"
    yield f"  rounds: {lower.rounds}                   # before the gusset opens"
    yield "  joined: no"


def _gusset(making: Making) -> Iterator[str]:
    if making.aside is None:
        return
    gusset, gap, _ = making.aside
    yield ""
    if gap.growth == "alternating":
        yield f"{UNTOLD}on which side the markers move (first, second); taken: by turns"
    yield f"{UNTOLD}whether the thumb stands nearer to the palm; taken: at the side"
    yield "gusset:"
    yield f"  growth: {gap.growth}"
    yield f"  every: {gusset.every}"
    yield f"  between markers: {gap.between}"
    yield "  towards palm: 0"


def _division(making: Making, others: Sequence[GapShape]) -> Iterator[str]:
    yield ""
    if making.aside is None:
        yield f"division: {{hand stitches: {making.hand}}}"
        return
    gusset, gap, _ = making.aside
    if gap.between + (2 if gap.with_marked else 0) + 2 * gap.pairs == gap.chains:
        yield f"{UNTOLD}which round sets the thumb aside; taken: the first after the last increase"
    for other in others:
        yield f"{UNTOLD}how the thumb is set aside; this would fit too: {_set_aside(other)}"
    yield f"{UNTOLD}whether the thumb's stitches are worked again in the division; taken: yes"
    yield "division:"
    yield f"  bridge: {gap.bridge}"
    if gap.pairs:
        yield f"  pairs: {gap.pairs}"
    if gap.chains:
        yield f"  chains: {gap.chains}"
    yield f"  with marked: {'yes' if gap.with_marked else 'no'}"
    yield "  worked again: yes"
    yield f"  crook stitches: {gap.crook}"
    yield f"  round: {gusset.division}"
    yield f"  hand stitches: {gap.hand}"


def _set_aside(gap: GapShape) -> str:
    bridge = {
        "join": f"pairs: {gap.pairs}",
        "chain": f"chains: {gap.chains}",
        "none": "bridge: none",
    }[gap.bridge]
    marked = "yes" if gap.with_marked else "no"
    return (
        f"growth: {gap.growth}, between markers: {gap.between}, {bridge}, with marked: {marked},"
        f" crook stitches: {gap.crook}"
    )


def _crown(making: Making) -> Iterator[str]:
    crown = making.crown
    yield ""
    if crown.edging is not None:
        yield f"{UNTOLD}which of the last rounds are an edging; taken: the last one"
        yield "crown:"
        yield "  style: open"
        yield f"  plain before: {crown.plain_before}"
        yield f"  edging: {crown.edging}"
        return
    if any(phase.decreases == 2 for phase in crown.phases):
        kinds = {phase.kind for phase in crown.phases if phase.decreases == 2}
        taken = "at the sides" if "sides" in kinds else "evenly spread"
        yield f"{UNTOLD}where two decreases a round stand; taken: {taken}"
    yield "crown:"
    yield f"  plain before: {crown.plain_before}"
    yield "  phases:"
    for phase in crown.phases or (PhaseShape("sides", 0, 2, 0),):
        yield f"    - {{{_phase(phase)}}}"
    decreased = sum(phase.rounds * phase.decreases for phase in crown.phases)
    yield f"  before closing: {making.hand - decreased}"
    yield f"  last: {crown.last}"


def _phase(phase: PhaseShape) -> str:
    said = f"{phase.kind}: {phase.rounds}"
    if phase.kind == "evenly":
        said += f", decreases: {phase.decreases}"
    return f"{said}, plain after: {phase.plain_after}"


def _thumb(making: Making) -> Iterator[str]:
    yield ""
    if making.aside is None:
        yield "# The table has no thumb."
        yield "thumb: {style: none}"
        return
    thumb = making.aside.thumb
    if not thumb.side_decreases and thumb.to_length:
        yield f"{UNTOLD}which plain rounds of the thumb are for its length; taken: those after two"
    yield f"{UNTOLD}what the thumb's first round finds; taken: {thumb.start} stitches"
    if thumb.edging is not None:
        yield f"{UNTOLD}which of the thumb's last rounds are an edging; taken: the last one"
    yield "thumb:"
    if thumb.edging is not None:
        yield "  style: open"
    yield f"  stitches: {thumb.start}"
    yield f"  crook decreases: {thumb.crook_decreases}"
    yield f"  plain after: {thumb.plain_after}"
    yield f"  side decreases: {thumb.side_decreases}"
    yield f"  rounds to length: {thumb.to_length}"
    if thumb.edging is not None:
        yield f"  edging: {thumb.edging}"
        return
    narrowed = thumb.start - thumb.crook_decreases - 2 * thumb.side_decreases
    yield f"  before closing: {narrowed}"
    yield f"  last: {thumb.last}"
