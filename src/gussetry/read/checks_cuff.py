"""What the keys of the cuff and the rib's swatch must have of each other."""

from __future__ import annotations

from collections.abc import Iterator

from gussetry.diagnostics import Problem
from gussetry.read import values
from gussetry.read.given import RibGaugeKeys
from gussetry.read.keys import fields
from gussetry.read.models import SpecificationKeys
from gussetry.read.problems import contradiction, value_at
from gussetry.read.values import WrongError
from gussetry.source import Document, Value
from gussetry.spec import Cuff

_SWATCHES = {
    "ribbed": ("a ribbed cuff", "stitches: 17, rows: 20"),
    "post": ("a cuff of post stitches", "stitch: dc, stitches: 15, rows: 9"),
}
"""What each ribbed style is called, and a swatch such as it needs."""
_SIDEWAYS = ("rows", "stitches", "row parity", "seam counts")
_STRANGE: dict[str, tuple[str, ...]] = {
    "ribbed": ("rounds",),
    "post": _SIDEWAYS,
    "round": _SIDEWAYS,
    "none": (*_SIDEWAYS, "rounds", "depth", "yarn", "stripes"),
}
"""Keys that say nothing of a cuff of that style."""


def check_cuff(document: Document) -> Iterator[Problem]:
    """A ribbed cuff without its gauge, and keys that another style of cuff would need."""
    cuff = value_at(document.data, ("cuff",))
    cuff = cuff if isinstance(cuff, dict) else {}
    style = str(cuff.get("style", Cuff().style))
    if style in _SWATCHES and not _has_rib(document.data):
        called, swatch = _SWATCHES[style]
        yield Problem(
            "no-rib-gauge",
            f"{called} needs a rib gauge",
            ("cuff",),
            f"add `rib gauge: {{over: 10 cm, {swatch}}}` from a swatch of the ribbing, "
            "or choose `cuff: {style: round}`",
        )
    for key in _STRANGE.get(style, ()):
        if key in cuff:
            yield contradiction(document, ("cuff", key), f"a cuff of style {style}")
    if style != "none" and "yarn" in cuff and "stripes" in cuff:
        yield contradiction(document, ("cuff", "yarn"), "a striped cuff")
    if style == "post":
        yield from _posts(document)
        yield from _pairs(document)


def _posts(document: Document) -> Iterator[Problem]:
    """A rib of post stitches in single crochet, which has no post to work round."""
    rib = value_at(document.data, ("rib gauge",))
    known = fields(RibGaugeKeys)
    if not isinstance(rib, dict) or any(
        values.nearest(key, known) == "stitch" for key in rib if key not in known
    ):
        return
    if rib.get("stitch", "sc") == "sc":
        written = "stitch" in rib
        yield Problem(
            "no-post",
            "post stitches need a post, and sc has none"
            + ("" if written else ": the rib gauge names no stitch, which means sc"),
            ("rib gauge", "stitch") if written else ("rib gauge",),
            "swatch the ribbing in hdc or dc, and name it, such as `stitch: dc`; "
            "or choose `cuff: {style: ribbed}`",
        )


def _pairs(document: Document) -> Iterator[Problem]:
    """Pinned pick-ups that no whole number of ribs, a front and a back post each, can carry."""
    pinned = value_at(document.data, ("lower hand", "pick up"))
    one = {"": pinned} if not isinstance(pinned, dict) else pinned
    for size, value in one.items():
        try:
            count = values.count(value, 6, 400)
        except WrongError:
            continue
        if count % 2:
            yield Problem(
                "odd-rib",
                f"{count} stitches cannot be picked up from a cuff of post stitches: its ribs are"
                " pairs, one from the front and one from the back",
                ("lower hand", "pick up", size) if size else ("lower hand", "pick up"),
                f"pick up {count - 1} or {count + 1}",
            )


def _has_rib(data: Value) -> bool:
    # A misspelt key is reported as such, and not as missing too; a file of another shape as that.
    if not isinstance(data, dict):
        return True
    known = fields(SpecificationKeys)
    return "rib gauge" in data or any(
        values.nearest(key, known) == "rib gauge" for key in data if key not in known
    )
