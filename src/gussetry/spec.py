"""Noun 1: what the designer asks for, all sizes in one frozen `Spec`.

Lengths are exact millimetres (`Fraction`). A *pin* is a count that the designer fixes; a
`PerSize` holds one pin a size in the order of `Spec.sizes`, None where a size leaves it free.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Stitch = Literal["sc", "hdc", "dc"]
Growth = Literal["inside", "first", "second", "alternating"]
Wearer = Literal["women", "men", "children", "infants"]
PerSize = tuple[int | None, ...]


@dataclass(frozen=True, slots=True)
class Gauge:
    """A swatch: the size of one stitch. `width` and `height` in millimetres."""

    stitch: Stitch
    width: Fraction
    height: Fraction


@dataclass(frozen=True, slots=True)
class Yarn:
    """A yarn: its letter in stripe plans and on charts, its name, its colour `#rrggbb`."""

    letter: str
    name: str
    colour: str


@dataclass(frozen=True, slots=True)
class Size:
    """A size and the body it is for. Millimetres; None where the survey's ratio shall serve."""

    name: str
    hand_circumference: Fraction
    wearer: Wearer | None = None
    age_from_months: int | None = None
    wrist_circumference: Fraction | None = None
    hand_length: Fraction | None = None
    thumb_circumference: Fraction | None = None
    thumb_length: Fraction | None = None
    crook_height: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Ease:
    """What is added to the body: mm, and for the `cuff` a share of the wrist (−1/10: 10 % less)."""

    hand: Fraction = Fraction(10)
    thumb: Fraction = Fraction(10)
    length: Fraction = Fraction(8)
    thumb_length: Fraction = Fraction(6)
    cuff: Fraction = Fraction(-1, 10)


@dataclass(frozen=True, slots=True)
class Cuff:
    """The cuff. `ribbed`: sideways turned rows in the back loop; `round`: plain rounds; `none`.

    `depth` in millimetres, None for a third of the hand's length. `rows` and `stitches` pin a
    ribbed cuff, `rounds` pins one worked round. `parity` holds the row count even or lets it be
    `any`. `seam_counts`: the seam gives the pick-up round one place more. `above_crease`: how far
    the cuff's upper edge lies above the wrist crease. `gauge` is the rib's own (ribbed only).
    `stripes` runs by rows (ribbed) or rounds; empty for `yarn` alone.
    """

    style: Literal["ribbed", "round", "none"] = "ribbed"
    gauge: Gauge | None = None
    depth: Fraction | None = None
    rows: PerSize = ()
    stitches: PerSize = ()
    rounds: PerSize = ()
    parity: Literal["even", "odd", "any"] = "even"
    seam_counts: bool = False
    above_crease: Fraction = Fraction(0)
    yarn: str = ""
    stripes: tuple[Stripe, ...] = ()


@dataclass(frozen=True, slots=True)
class LowerHand:
    """From the pick-up round to the gusset. Pins: picked-up stitches, outer-edge increases,
    rounds before the opening (the pick-up round among them)."""

    pick_up: PerSize = ()
    increases: PerSize = ()
    rounds: PerSize = ()
    joined: bool = False


@dataclass(frozen=True, slots=True)
class Gusset:
    """The thumb gusset. `every`: an increase round in so many rounds. `towards_palm`: stitches
    by which it stands off the half-way point (left and right then differ). Pin: stitches between
    the markers when it is grown."""

    growth: Growth = "inside"
    every: int = 1
    between_markers: PerSize = ()
    towards_palm: int = 0


@dataclass(frozen=True, slots=True)
class Division:
    """The round that sets the thumb's stitches aside.

    `bridge` joins `pairs`, chains `chains`, or neither. `with_marked`: the two marked stitches
    are set aside too. `worked_again`: the held stitches are worked once more in this round.
    Pins: `round` (its number from the pick-up round), `crook` (stitches the crook gives),
    `hand` (stitches of the hand after it).
    """

    bridge: Literal["join", "chain", "none"] = "chain"
    pairs: PerSize = ()
    chains: PerSize = ()
    with_marked: bool = True
    worked_again: bool = True
    crook: PerSize = ()
    round: PerSize = ()
    hand: PerSize = ()


@dataclass(frozen=True, slots=True)
class CrownPhase:
    """One phase of the crown.

    `sides`: a decrease at each side in `rounds` rounds; `evenly`: `decreases` a round, spread.
    `plain_after` plain rounds follow each. `rounds` None: fitted.
    """

    kind: Literal["sides", "evenly"]
    rounds: PerSize = ()
    decreases: int = 2
    plain_after: int = 0


@dataclass(frozen=True, slots=True)
class Crown:
    """The crown's phases in order, then sc2tog all round. `plain_before` pins the plain rounds of
    the hand between division and crown; `last` pins the stitches that are drawn shut (4 to 6)."""

    phases: tuple[CrownPhase, ...] = (
        CrownPhase("sides", plain_after=1),
        CrownPhase("evenly", decreases=4),
    )
    plain_before: PerSize = ()
    last: PerSize = ()


@dataclass(frozen=True, slots=True)
class Thumb:
    """The thumb. Pins: first rounds with one decrease at the crook each; plain rounds after them;
    rounds with a decrease at crook and outer side (a plain round after each); plain rounds to
    length; stitches drawn shut (4 to 6)."""

    crook_decreases: PerSize = ()
    plain_after: PerSize = ()
    side_decreases: PerSize = ()
    rounds_to_length: PerSize = ()
    last: PerSize = ()


@dataclass(frozen=True, slots=True)
class Stripe:
    """So many rounds of one yarn."""

    yarn: str
    rounds: int


@dataclass(frozen=True, slots=True)
class Stripes:
    """The hand's stripes. `anchor` says where the plan begins: at the pick-up round upwards
    (`cuff`), at the division upwards and repeated downwards (`crook`), or at the last round
    downwards (`tip`). Without `repeat` the last stripe goes on. `thumb`: a yarn letter, or None
    to match the hand at the same height."""

    plan: tuple[Stripe, ...]
    repeat: bool = True
    anchor: Literal["cuff", "crook", "tip"] = "cuff"
    thumb: str | None = None


@dataclass(frozen=True, slots=True)
class Spec:
    """Everything that one specification says. `sizes` stand smallest first."""

    pattern: str
    gauge: Gauge
    yarns: tuple[Yarn, ...]
    sizes: tuple[Size, ...]
    stripes: Stripes
    ease: Ease = Ease()
    cuff: Cuff = Cuff()
    lower_hand: LowerHand = LowerHand()
    gusset: Gusset = Gusset()
    division: Division = Division()
    crown: Crown = Crown()
    thumb: Thumb = Thumb()
    terms: Literal["US", "UK"] = "US"
    credit: str = ""
    copyright: str = ""
    caption: str = ""
    style: str = "default"


def pin(pins: PerSize, size: int) -> int | None:
    """The pin of the size at that place in `Spec.sizes`, None where it is free."""
    return pins[size] if pins else None
