"""What stands before the rounds: sizes, materials, gauge, finished measures, notes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from gussetry.grading import GradedSize, finished
from gussetry.grading.amounts import Need, needs
from gussetry.grading.changes import ends
from gussetry.spec import Gauge, Spec
from gussetry.telling.atoms import GUSSET
from gussetry.telling.lists import ABSENT, counted, enumerated, listed
from gussetry.telling.names import Terms, named
from gussetry.units import METRES_IN_YARD, MM_PER_INCH, inches_text, text
from gussetry.words.events import Scene
from gussetry.words.special import full_name

WEIGHTS = ("lace", "super fine", "fine", "light", "medium", "bulky", "super bulky", "jumbo")
"""The yarn council's names of its numbers 0 to 7 (www.YarnStandards.com)."""


def sizes(scene: Scene, graded: Sequence[GradedSize]) -> Iterator[str]:
    """The sizes as every list has them, and the hands that they are for."""
    names = [size.size.name for size in graded]
    yield names[0] if len(names) == 1 else f"{names[0]} ({', '.join(names[1:])})"
    hands = [size.size.hand_circumference for size in graded]
    cm = listed([text(hand / 10, 1) for hand in hands])
    inch = listed([inches_text(hand, scene.inch_step) for hand in hands])
    yield f"For a hand of {cm} cm, {inch} in round the knuckles, without the thumb."
    if len(names) > 1:
        yield (
            "Figures stand in this order; where there is one alone it serves every size, and"
            f" {ABSENT} is none for that size. After “Sizes … only” the figures are those of"
            " the sizes named."
        )


def gauge_name(terms: Terms) -> str:
    """`Gauge` in US, `Tension` in UK terms."""
    return "Gauge" if terms == "US" else "Tension"


def materials(scene: Scene, spec: Spec, graded: Sequence[GradedSize]) -> Iterator[str]:
    """Yarns with what a pair takes, hook, markers and the rest."""
    found = [{need.yarn.letter: need for need in needs(spec, size)} for size in graded]
    for yarn in spec.yarns:
        own = [table.get(yarn.letter) for table in found]
        if not any(own):
            continue
        weight = "" if yarn.weight is None else f" ({WEIGHTS[yarn.weight]}, weight {yarn.weight})"
        yield f"Yarn {yarn.letter}, {yarn.name}{weight}: {_amounts(own)}"
    yield f"Hook in the size that gives you the {gauge_name(scene.terms).lower()}"
    yield _markers(scene)
    if spec.has_thumb:
        yield "Waste yarn or a holder for the sts of the thumb"
    yield "Blunt needle for the ends"


def _markers(scene: Scene) -> str:
    """As many markers as are in the work at once, and the one where rounds begin."""
    rounds = [r for m in scene.maps for piece in m.pieces for r in piece.rounds]
    most = max(len(r.markers) for r in rounds) + 1
    if most == 1:
        return "Stitch marker for the start of the rnd"
    return f"{most} stitch markers, one of them for the start of the rnd"


def _amounts(own: Sequence[Need | None]) -> str:
    """Metres and yards, or grams where no length is known, and whole balls."""
    known = [need for need in own if need]
    parts = []
    if all(need.metres_to_have is not None for need in known):
        metres = [need.metres_to_have if need else None for need in own]
        parts.append(f"{_whole(metres)} m")
        parts.append(f"{_whole([None if m is None else m / METRES_IN_YARD for m in metres])} yd")
    if not parts or not known[0].weak:
        grams = [need.grams_to_have if need else None for need in own]
        if all(need.grams_to_have is not None for need in known):
            parts.append(f"{_whole(grams)} g")
    balls = [need.balls() if need else None for need in own]
    if all(need.balls() is not None for need in known):
        of = text(known[0].yarn.grams or 0, 1)
        parts.append(f"{listed([b if b else ABSENT for b in balls])} × {of} g")
    return ", ".join(parts)


def _whole(values: Sequence[Fraction | None]) -> str:
    return listed([ABSENT if value is None else math.ceil(value) for value in values])


def reserve(spec: Spec) -> str:
    """What the amounts rest on."""
    over = text(spec.reserve * 100, 1)
    amounts = f"For a pair, with {over} % over."
    if spec.swatch is None:
        amounts += " Estimated without a measured swatch: have more at hand."
    return amounts


def gauge(spec: Spec, terms: Terms) -> Iterator[str]:
    """The swatch of the hand, and the ribbing's own."""
    way = "joined rnds" if spec.lower_hand.joined else "a spiral"
    yield _swatch(spec.gauge, terms, "rnds", f"worked in {way}")
    rib = spec.cuff.gauge
    if rib and spec.cuff.style == "ribbed":
        yield _swatch(rib, terms, "rows", "of the ribbing, turned rows in BLO")
    elif rib and spec.cuff.style == "post":
        posts = " and ".join(named(way + rib.stitch, terms) for way in ("fp", "bp"))
        yield _swatch(rib, terms, "rnds", f"of the ribbing, {posts} by turns")


def _swatch(one: Gauge, terms: Terms, rounds: str, of: str) -> str:
    """`18 sc and 20 rnds over 10 cm (4 in) …`, over whichever comes out in whole stitches."""
    spans = ((Fraction(100), "10 cm (4 in)"), (4 * MM_PER_INCH, "4 in (10 cm)"))
    over, shown = min(spans, key=lambda way: (way[0] / one.width).denominator)
    across, up = text(over / one.width, 1), text(over / one.height, 1)
    return f"{across} {named(one.stitch, terms)} and {up} {rounds} over {shown}, {of}."


def measures(scene: Scene) -> Iterator[str]:
    """Every finished measure in every size."""
    tables = [finished(m) for m in scene.firsts]
    for name in tables[0]:
        yield f"{name.capitalize()}: {scene.length([table[name] for table in tables])}"


def notes(scene: Scene, spec: Spec) -> Iterator[str]:
    """How to read and work the text."""
    if spec.caption:
        yield spec.caption
    if scene.joined:
        yield _joined(scene)
    yield (
        "The count at the end of a line is what you have then. A marker stays with its st: move it"
        " up into what you work there, unless the line says otherwise."
    )
    yield from _sides(scene)
    yield _hands(scene)


def _joined(scene: Scene) -> str:
    """What begins and joins a round, where each is joined."""
    lifts: dict[int, list[str]] = {}
    for piece in scene.maps[0].pieces:
        if piece.worked == "rounds":
            lift = sum(op.do == "ch" and not op.counts for op in piece.rounds[-2].work)
            lifts.setdefault(lift, []).append(piece.piece)
    slip = named("slst", scene.terms)
    if len(lifts) == 1:
        chain = never = f"ch {next(iter(lifts))}"
    else:
        chain = ", ".join(f"ch {n} ({enumerated(names)})" for n, names in lifts.items())
        never = "chain"
    return (
        f"Each rnd begins with {chain} and is joined with {slip} in its first st. Neither the"
        f" {never} nor the {slip} is ever counted or worked into."
    )


def _sides(scene: Scene) -> Iterator[str]:
    """Where a marker goes that is put in a numbered stitch, and what those of the sides tell."""
    rounds = [r for m in scene.maps for piece in m.pieces for r in piece.rounds]
    names = {name for r in rounds for name, _ in r.markers} - {*GUSSET}
    if not names:
        return
    words = "A marker in a numbered st: count from the first st of the rnd just worked"
    words += ", leaving out sts set aside." if any(r.phase == "division" for r in rounds) else "."
    if any(r.phase in ("crown sides", "thumb sides") for r in rounds):
        words += " A decrease at a side that has a marker begins in the marked st."
    yield words


def _hands(scene: Scene) -> str:
    words = (
        "Left-handed: work the words as they stand, hook in your left hand; the work then runs the"
        " other way."
    )
    if len({m.mitten for m in scene.maps}) > 1:
        words += (
            " What is called the left mitten then becomes a right one, and the other way round."
        )
    return words


def finishing(scene: Scene, spec: Spec) -> Iterator[str]:
    """Ends, and the second mitten."""
    number = [len(ends(m, spec.stripes.carry)) for m in scene.firsts]
    yield f"Weave in every end on the inside: {counted(number, 'end')} in each mitten."
    if len({m.mitten for m in scene.maps}) > 1:
        yield "Work a left and a right mitten: lines without either name serve both."
    else:
        yield "Work the second mitten like the first: left and right are alike."


def subtitle(scene: Scene, spec: Spec) -> str:
    """What the pattern makes, and in whose terms it is written."""
    stitch = full_name(spec.gauge.stitch, scene.terms)
    kind = "Fingerless mitts" if spec.crown.style == "open" else "Mittens"
    other = {"US": "UK", "UK": "US"}[scene.terms]
    theirs = full_name(spec.gauge.stitch, "UK" if scene.terms == "US" else "US")
    name = named(spec.gauge.stitch, scene.terms)
    return (
        f"{kind} in {stitch}. Written in {scene.terms} terms: {name} is {stitch}, which {other}"
        f" patterns call {theirs}."
    )
