"""Concerns about the swatch alone: its yarn's weight, and the shape of its stitches."""

from __future__ import annotations

from fractions import Fraction

from gussetry.diagnostics import Problem
from gussetry.spec import Spec
from gussetry.units import MM_PER_INCH, text

WEIGHTS: dict[int, tuple[str, int, int]] = {
    0: ("dc", 32, 42),
    1: ("sc", 21, 32),
    2: ("sc", 16, 20),
    3: ("sc", 12, 17),
    4: ("sc", 11, 14),
    5: ("sc", 8, 11),
    6: ("sc", 6, 9),
    7: ("sc", 0, 5),
}
"""To each yarn weight the stitch, and the fewest and the most of them over 4 in.

Source: Craft Yarn Council's www.YarnStandards.com, standard yarn weight system, as printed in 2018;
guidelines only, by its own word. Weight 0 is printed in double crochet, weight 7 as `5 or fewer`.
"""
_UK = {"sc": "UK dc", "dc": "UK tr"}
COUNCIL_WIDTH = 4 * MM_PER_INCH

LEAST_SHAPE, MOST_SHAPE = Fraction(80, 100), Fraction(115, 100)
"""Height over width of a plain sc, between which a swatch is believed. Six gauges of
plain sc, printed in yarn makers' patterns and worked flat, give 0.875 to 0.929; the room about them
is common practice, no source."""


def weight_concerns(spec: Spec) -> tuple[Problem, ...]:
    """Yarns of a weight to which the gauge is unusual, over 4 in, both ends of the range allowed.

    Only the stitch that the council prints for a weight is compared (WEIGHTS): hdc never is, nor
    dc but for weight 0.
    """
    count = COUNCIL_WIDTH / spec.gauge.width
    found: dict[int, list[str]] = {}
    for yarn in spec.yarns:
        if yarn.weight is None:
            continue
        stitch, fewest, most = WEIGHTS[yarn.weight]
        if spec.gauge.stitch == stitch and not fewest <= count <= most:
            found.setdefault(yarn.weight, []).append(yarn.letter)
    return tuple(_weight(spec, weight, letters) for weight, letters in found.items())


def _weight(spec: Spec, weight: int, letters: list[str]) -> Problem:
    stitch, fewest, most = WEIGHTS[weight]
    usual = f"{fewest} to {most}" if fewest else f"{most} or fewer"
    named = f"{stitch} ({_UK[stitch]})" if spec.terms == "UK" else stitch
    many = "yarns" if len(letters) > 1 else "yarn"
    count = text(COUNCIL_WIDTH / spec.gauge.width, 2)
    return Problem(
        "unusual-gauge-for-weight",
        f"{many} {' and '.join(letters)}: {count} {named} over 4 in is unusual for weight"
        f" {weight}, where the yarn council's guideline is {usual}",
        ("yarns", letters[0], "weight"),
        "look at the weight and at the swatch; it is a guideline only, and a dense mitten may be"
        " meant",
        "warning",
    )


def shape_concerns(spec: Spec) -> tuple[Problem, ...]:
    """A plain sc much flatter or much taller than sc is; other stitches and ribbing are not
    judged, since theirs vary."""
    gauge = spec.gauge
    shape = gauge.height / gauge.width
    if gauge.stitch != "sc" or LEAST_SHAPE <= shape <= MOST_SHAPE:
        return ()
    return (
        Problem(
            "unusual-stitch-shape",
            f"a single crochet{' (UK double crochet)' if spec.terms == 'UK' else ''}"
            f" {text(gauge.width, 2)} mm wide and {text(gauge.height, 2)} mm tall"
            f" is unusual: height over width is {text(shape, 3)}, and 0.8 to 1.15 is to be expected"
            " (printed gauges: 0.875 to 0.929)",
            ("gauge",),
            "count stitches and rounds of the swatch again; were they exchanged?",
            "warning",
        ),
    )
