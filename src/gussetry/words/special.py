"""Special stitches and abbreviations: what the words use, explained in the reader's terms.

Common practice, no source, but for the US and UK names (telling/names.py).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from gussetry.stitchmap import POSTS, Op, StitchMap
from gussetry.telling.names import Terms, named

_NAMES = {
    "sc": ("single crochet", "double crochet"), "hdc": ("half double crochet", "half treble"),
    "dc": ("double crochet", "treble"), "slst": ("slip stitch", "slip stitch"),
}  # fmt: skip
LOOPS = {"sc": 2, "hdc": 3, "dc": 2}
"""Loops on the hook before the last pull-through of each stitch."""


def full_name(do: str, terms: Terms) -> str:
    """`single crochet` in US, `double crochet` in UK terms for `sc`."""
    return _NAMES[do][terms == "UK"]


def _glossary(terms: Terms) -> Iterator[tuple[str, str]]:
    """Every abbreviation that words may use, and what it stands for."""
    yield from (("ch", "chain"), ("BLO", "back loop only (the loop away from you)"))
    for stitch in ("dc", "hdc", "sc"):
        name, full = named(stitch, terms), full_name(stitch, terms)
        yield name, full
        yield f"{name}2tog", f"{full} 2 together: one st over the next 2 sts"
        for way, side in (("fp", "front"), ("bp", "back")):
            if way + stitch in POSTS:
                yield named(way + stitch, terms), f"{side} post {full}"
    yield "m", "in a count: a marked stitch"
    yield from (("rnd", "round"), ("RS", "right side"))
    yield named("slst", terms), full_name("slst", terms)
    yield "st", "stitch"


def abbreviations(text: str, terms: Terms) -> Iterator[str]:
    """The abbreviations that the text uses, in the order of the alphabet: `sc: single crochet`."""
    found = [
        (short, full)
        for short, full in _glossary(terms)
        if re.search(rf"(?<![A-Za-z]){re.escape(short)}s?(?![A-Za-z0-9])", text, _case(short))
    ]
    for short, full in sorted(found, key=lambda pair: pair[0].lower()):
        if short in ("st", "rnd"):
            yield f"{short}(s): {full}({'es' if short == 'st' else 's'})"
        else:
            yield f"{short}: {full}"


def _case(short: str) -> re.RegexFlag:
    """Capitals at the start of a sentence are the same abbreviation; `m` and `RS` are what they
    are."""
    return re.NOFLAG if short in ("m", "RS", "BLO") else re.IGNORECASE


def _ops(maps: Sequence[StitchMap]) -> Iterator[Op]:
    return (op for m in maps for piece in m.pieces for r in piece.rounds for op in r.work)


def special_stitches(maps: Sequence[StitchMap], terms: Terms) -> Iterator[str]:
    """The techniques that the maps use and that a maker may not know, a paragraph each."""
    stitch = maps[0].fabric.stitch
    name = named(stitch, terms)
    ops = list(_ops(maps))
    kinds = {op.do for op in ops}
    places = {place[0] for op in ops for place in op.into if isinstance(place, tuple)}
    if "row end" in places:
        yield (
            f"Picking up in row ends: work each {name} round the edge of a row, under two strands"
            " of it; under one strand alone a hole is left."
        )
    yield from _posts(kinds, terms)
    if kinds & {"sc2tog", "hdc2tog", "dc2tog"}:
        yield _together(stitch, terms)
    if any(op.finish for op in ops):
        yield _changing(ops, terms)
    if "join" in kinds:
        yield (
            "Join 1 pair at the crook: the pair is the last st before the gap and the first st"
            f" after it. Insert the hook in both, {_over(terms)} and pull through everything. This"
            " is no stitch: it only draws the two together, and neither is worked into again. A"
            " second pair is the next st out on each side, and so on."
        )
    if "crook" in places:
        yield _crook(maps, kinds)
    if "close" in kinds:
        yield (
            "Drawing shut: cut the yarn, leaving 30 cm (12 in), and pull it through the last loop."
            " Take the needle through each front loop from the middle outwards."
        )


def _over(terms: Terms) -> str:
    """What laying the yarn over the hook is called."""
    return "yarn over" if terms == "US" else "yarn round hook"


def _changing(ops: Sequence[Op], terms: Terms) -> str:
    """How a yarn is changed in the last stitch of a round, for each kind of stitch that it is."""
    last = {(op.of or POSTS.get(op.do, op.do)).removesuffix("2tog") for op in ops if op.finish}
    loops = [f"{n} for {named(do, terms)}" for do, n in LOOPS.items() if do in last]
    words = (
        "Changing yarn: work the last st in the old yarn until only its last step is left (loops on"
        f" the hook: {', '.join(loops)}), then {_over(terms)} with the new yarn and pull it through"
        " all of them."
    )
    if any(op.do == "slst" and not op.counts for op in ops):
        words += f" The {named('slst', terms)} that joins the rnd is worked in the new yarn."
    return words


def _posts(kinds: set[str], terms: Terms) -> Iterator[str]:
    for do in ("fphdc", "bphdc", "fpdc", "bpdc"):
        if do in kinds:
            side, other = ("front", "back") if do.startswith("fp") else ("back", "front")
            yield (
                f"{named(do, terms)}: as a {full_name(POSTS[do], terms)}, but insert the hook from"
                f" the {side}, round the post of the st below, and out at the {side} again; the top"
                f" of that st stays at the {other}, unworked."
            )


def _together(stitch: str, terms: Terms) -> str:
    name = named(stitch, terms)
    over = _over(terms)
    start = "" if stitch == "sc" else f"{over}, "
    half = "" if stitch != "dc" else f", {over} and pull through 2 loops"
    return (
        f"{name}2tog: {start}insert the hook in the next st, {over} and pull up a loop{half}; the"
        f" same in the st after it; {over} and pull through all loops on the hook. It makes one st"
        " of two."
    )


def _crook(maps: Sequence[StitchMap], kinds: set[str]) -> str:
    """Where the thumb finds the crook's stitches."""
    chains = any(
        op.do == "ch" and op.counts and piece.piece == "hand" and r.phase == "division"
        for m in maps
        for piece in m.pieces
        for r in piece.rounds
        for op in r.work
    )
    if chains:
        return (
            "Crook sts: the free loops along the underside of the chains over the gap. The first is"
            " the one below the chain made last; the last is the one below the chain made first."
        )
    if "join" in kinds:
        return (
            "Crook sts: strands at the joined pair. With 2 of them the first is at the st after the"
            " gap, the last at the st before it; catch two strands each time."
        )
    return "Crook sts: strands picked up between the hand's sts on either side of the gap."
