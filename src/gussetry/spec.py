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

RESERVE = Fraction(1, 10)
"""Yarn over what is worked: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Gauge:
    """A swatch: the size of one stitch. `width` and `height` in millimetres.

    `stretch`: how many times its width the fabric opens to, None where it was not tried. `lean`:
    stitches by which ten rounds of a spiral drift, with the direction of work, or against it where
    negative.
    """

    stitch: Stitch
    width: Fraction
    height: Fraction
    stretch: Fraction | None = None
    lean: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Swatch:
    """A swatch that was measured for its yarn: whole stitches and rounds, and what they used, in
    metres or in grams."""

    stitches: int
    rounds: int
    metres: Fraction | None = None
    grams: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Yarn:
    """A yarn: its letter in stripe plans and on charts, its name, its colour `#rrggbb`.

    `weight` is the yarn council's number, 0 to 7; `grams` and `metres` what a ball's label says.
    """

    letter: str
    name: str
    colour: str
    weight: int | None = None
    grams: Fraction | None = None
    metres: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Size:
    """A size and the body it is for. Millimetres; None where the survey's ratio shall serve.

    `standard` is the published hand that the size was taken from, in its own words; `surveyed` are
    the measures that come out of its table, `estimated` those that it suggests and no table has
    (`hand circumference`, as the keys are written). `tucked_girth`: round the hand, its thumb laid
    in.
    """

    name: str
    hand_circumference: Fraction
    wearer: Wearer | None = None
    age_from_months: int | None = None
    wrist_circumference: Fraction | None = None
    hand_length: Fraction | None = None
    thumb_circumference: Fraction | None = None
    thumb_length: Fraction | None = None
    crook_height: Fraction | None = None
    tucked_girth: Fraction | None = None
    standard: str | None = None
    surveyed: frozenset[str] = frozenset()
    estimated: frozenset[str] = frozenset()


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
    """The cuff. `ribbed`: sideways turned rows in the back loop; `post`: rounds of front and back
    post stitches by turns; `round`: plain rounds; `none`.

    `depth` in millimetres, None for a third of the hand's length. `rows` and `stitches` pin a
    ribbed cuff, `rounds` pins one worked round (`post` or `round`). `parity` holds the row count
    even or lets it be `any`. `seam_counts`: the seam gives the pick-up round one place more.
    `above_crease`: how far the cuff's upper edge lies above the wrist crease. `gauge` is the rib's
    own (ribbed or post).
    `stripes` runs by rows (ribbed) or rounds; empty for `yarn` alone.
    """

    style: Literal["ribbed", "post", "round", "none"] = "ribbed"
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
    the hand between division and crown; `before_closing` the stitches that the phases leave;
    `last` the stitches that are drawn shut (4 to 6).

    `open`: fingerless; the hand ends at `reach` of the hand's length (None: the palm's surveyed
    share), with `edging` rounds, and has no phases. `follow_lean`: the sides stand where the
    fabric's drift has carried the thumb's line.
    """

    phases: tuple[CrownPhase, ...] = (
        CrownPhase("sides", plain_after=1),
        CrownPhase("evenly", decreases=4),
    )
    plain_before: PerSize = ()
    before_closing: PerSize = ()
    last: PerSize = ()
    style: Literal["closed", "open"] = "closed"
    reach: Fraction | None = None
    edging: PerSize = ()
    follow_lean: bool = False


@dataclass(frozen=True, slots=True)
class Thumb:
    """The thumb. Pins: the stitches that its first round finds; first rounds with one decrease at
    the crook each; plain rounds after them; rounds with a decrease at crook and outer side (a plain
    round after each); plain rounds to length; the stitches that are then left; stitches drawn shut
    (4 to 6).

    `open`: it ends at `reach` of the free thumb, with `edging` rounds. `none`: no
    thumb, and no gusset (for infants).
    """

    stitches: PerSize = ()
    crook_decreases: PerSize = ()
    plain_after: PerSize = ()
    side_decreases: PerSize = ()
    rounds_to_length: PerSize = ()
    before_closing: PerSize = ()
    last: PerSize = ()
    style: Literal["closed", "open", "none"] = "closed"
    reach: Fraction = Fraction(1, 2)
    edging: PerSize = ()


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
    to match the hand at the same height. `plans`: a size's own plan in its place in `Spec.sizes`,
    None where the common one serves. `carry`: rounds that a yarn may rest and still be carried up
    the inside; longer, it is cut."""

    plan: tuple[Stripe, ...]
    repeat: bool = True
    anchor: Literal["cuff", "crook", "tip"] = "cuff"
    thumb: str | None = None
    plans: tuple[tuple[Stripe, ...] | None, ...] = ()
    carry: int = 4


@dataclass(frozen=True, slots=True)
class Charts:
    """What the designer wants of her stitch charts whatever the style says; "" leaves it to that.
    `sizes`: `apart`, `together` or `both`; `hand`: `right`, `left` or `both`."""

    sizes: Literal["apart", "together", "both", ""] = ""
    hand: Literal["right", "left", "both", ""] = ""


@dataclass(frozen=True, slots=True)
class Pages:
    """Finished pages: on which paper, `A4`, `Letter` or `both`; a set for `each` size or one for
    `all`; and for which sights pictures of the pages are made."""

    paper: Literal["A4", "Letter", "both"] = "both"
    sets: Literal["each", "all"] = "each"
    simulate: tuple[Literal["grey", "protan", "deutan", "tritan"], ...] = ()


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
    swatch: Swatch | None = None
    reserve: Fraction = RESERVE
    terms: Literal["US", "UK"] = "US"
    credit: str = ""
    copyright: str = ""
    caption: str = ""
    style: str = "default"
    charts: Charts = Charts()
    pages: Pages | None = None

    @property
    def captions(self) -> tuple[str, ...]:
        """What the designer says of how the pattern is worked."""
        return (self.caption,) if self.caption else ()

    @property
    def lines(self) -> tuple[str, ...]:
        """Her credit and copyright lines."""
        return tuple(line for line in (self.credit, self.copyright) if line)

    @property
    def has_thumb(self) -> bool:
        """Whether there is a thumb, and with it a gusset and a division."""
        return self.thumb.style != "none"


def pin(pins: PerSize, size: int) -> int | None:
    """The pin of the size at that place in `Spec.sizes`, None where it is free."""
    return pins[size] if pins else None
