"""From body to wish: the measures of a hand, given or derived from surveyed ratios.

Sources. ANSUR II: Gordon et al., 2012 Anthropometric Survey of U.S. Army Personnel,
NATICK/TR-15/007 (ratios a person computed from its records). Snyder 1977: Anthropometry of
Infants, Children, and Youths to Age 18, UM-HSRI-77-17.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, NamedTuple

from gussetry.spec import Size, Spec, Wearer

WRIST_TO_HAND = Fraction(83, 100)
"""Wrist over hand circumference, adults: 0.829 men, 0.830 women (ANSUR II, mean)."""
CHILD_WRIST_TO_HAND = Fraction(89, 100)
"""The same, 2 to 6 years: wrist over breadth 2.14 (Snyder 1977) times breadth over
circumference 0.417 (ANSUR II): an estimate."""
HAND_LENGTH = {"women": (Fraction(641, 1000), Fraction(615, 10)),
               "men": (Fraction(573, 1000), Fraction(716, 10))}  # fmt: skip
"""Hand length = slope × circumference + mm (ANSUR II, least squares)."""
CHILD_LENGTH_TO_HAND = Fraction(907, 1000)
"""Hand length over circumference: breadth over circumference 0.4174 (ANSUR II) over breadth
over length 0.460 (Snyder 1977): an estimate."""
INFANT_LENGTH_TO_HAND = Fraction(80, 100)
"""The same for infants under two: hand length over breadth/0.417, 0.76 at birth to 0.84 (Snyder et
al. 1975, UM-HSRI-BI-75-5, with ANSUR II's ratio): an estimate."""
THUMB_TO_HAND = Fraction(311, 1000)
"""Thumb over hand circumference, π·diameter (Snyder 1977, mean, ages 2–20)."""
THUMB_LENGTH = Fraction(352, 1000)
"""Free thumb over hand length (Snyder 1977, mean)."""
CROOK_HEIGHT = Fraction(300, 1000)
"""Height of the thumb crook above the wrist over hand length (Snyder 1977, mean)."""
CROOK_HEIGHT_P95 = Fraction(368, 1000)
"""The same, 95th percentile."""
CUFF_DEPTH = Fraction(1, 3)
"""Cuff depth over hand length where none is asked for: common practice, no source."""
CROWN_HEIGHT = Fraction(1, 4)
"""Crown over hand length, from the tip of the little finger up: common practice, no source."""
PALM_TO_HAND = {"women": Fraction(601, 1000), "men": Fraction(603, 1000)}
"""Palm length over hand length (ANSUR II, mean)."""
CHILD_PALM_TO_HAND = 1 - Fraction(433, 1000)
"""The same for children and infants: what the middle finger, 0.433 of the hand's length, leaves
(Snyder 1977, mean, ages 2–20)."""
TUCKED_TO_HAND = Fraction(12, 10)
"""Girth with the thumb laid in over hand circumference: common practice, no source."""
CUFF_STRETCH = Fraction(14, 10)
"""How many times its width a cuff opens to, where no swatch was pulled: common practice, no
source."""
LEAST_ADULT = Fraction(165)
"""A hand circumference from which a size without `for` is taken as an adult's: our choice,
between the survey's youngest women (152 mm at the least) and children of eleven (173 mm)."""
LEAST_MAN = Fraction(200)
"""The same for men: half-way between the survey's means, 187 and 212 mm, rounded."""


Origin = Literal["given", "surveyed", "derived", "estimated", "weak"]
ORIGINS: tuple[Origin, ...] = ("given", "surveyed", "derived", "estimated", "weak")
"""What a measure rests on, the surest first: measured by the designer; out of the table of the hand
that the size names; by a surveyed ratio; by a ratio that no survey of such hands gives, or from a
measure that is estimated itself; by common practice, without a source."""


def weaker(*origins: Origin) -> Origin:
    """The least sure of them."""
    return max(origins, key=ORIGINS.index)


class Body(NamedTuple):
    """A hand's measures, millimetres, and in the same order where each comes from."""

    hand_circumference: Fraction
    wrist_circumference: Fraction
    hand_length: Fraction
    thumb_circumference: Fraction
    thumb_length: Fraction
    crook_height: Fraction
    origins: tuple[Origin, ...]

    def measure(self, name: str) -> Fraction:
        """The measure of that name, as `hand length`, mm."""
        found: Fraction = getattr(self, name.replace(" ", "_"))
        return found

    def origin(self, name: str) -> Origin:
        """Where the measure of that name comes from."""
        return self.origins[self._fields.index(name.replace(" ", "_"))]


@dataclass(frozen=True, slots=True)
class Measure:
    """One measure of the finished mitten, mm.

    `body` is the hand's beside it, None where it has no such, and `body_origin` where that comes
    from; `origin` is the least sure of what the wish rests on; `finished` is what the counts give.
    """

    name: str
    body: Fraction | None
    body_origin: Origin | None
    wish: Fraction
    origin: Origin
    finished: Fraction


def wearer(size: Size) -> Wearer:
    """For whom the size is: as it says, else guessed from the hand's circumference."""
    if size.wearer:
        return size.wearer
    if size.hand_circumference < LEAST_ADULT:
        return "children"
    return "men" if size.hand_circumference >= LEAST_MAN else "women"


def body(size: Size) -> Body:
    """The size's measures, those not given derived from hand circumference and hand length."""
    girth, hand = size.hand_circumference, _known(size, "hand circumference")
    who = wearer(size)
    adult = who in HAND_LENGTH
    if adult:
        slope, more = HAND_LENGTH[who]
        likely_length, wrist = slope * girth + more, WRIST_TO_HAND
    else:
        ratio = INFANT_LENGTH_TO_HAND if who == "infants" else CHILD_LENGTH_TO_HAND
        likely_length, wrist = ratio * girth, CHILD_WRIST_TO_HAND
    # A child's ratios to the circumference are estimates, since no survey has it.
    by_girth = weaker("derived" if adult else "estimated", hand)
    length = size.hand_length or likely_length
    by_length = weaker(
        ratio_origin(size), _known(size, "hand length") if size.hand_length else by_girth
    )
    likely: dict[str, tuple[Fraction | None, Fraction, Origin]] = {
        "wrist circumference": (size.wrist_circumference, wrist * girth, by_girth),
        "hand length": (size.hand_length, likely_length, by_girth),
        "thumb circumference": (size.thumb_circumference, THUMB_TO_HAND * girth, by_girth),
        "thumb length": (size.thumb_length, THUMB_LENGTH * length, by_length),
        "crook height": (size.crook_height, CROOK_HEIGHT * length, by_length),
    }
    own = {name: known or guess for name, (known, guess, _) in likely.items()}
    origins = [_known(size, name) if known else by for name, (known, _, by) in likely.items()]
    return Body(
        girth,
        own["wrist circumference"],
        own["hand length"],
        own["thumb circumference"],
        own["thumb length"],
        own["crook height"],
        (hand, *origins),
    )


def ratio_origin(size: Size) -> Origin:
    """What a measure is that follows from the hand's length: the ratios were surveyed on children
    from two years and on adults, and are estimates for infants."""
    return "estimated" if wearer(size) == "infants" else "derived"


def _known(size: Size, name: str) -> Origin:
    """Where a measure that the size has comes from."""
    if name in size.estimated:
        return "estimated"
    return "surveyed" if name in size.surveyed else "given"


class Wish(NamedTuple):
    """What the finished mitten should measure, millimetres."""

    cuff_circumference: Fraction
    cuff_depth: Fraction
    hand_circumference: Fraction
    thumb_circumference: Fraction
    crook_height: Fraction
    hand_length: Fraction
    thumb_length: Fraction
    crown_height: Fraction


def tucked_girth(size: Size) -> tuple[Fraction, bool]:
    """Round the hand with its thumb laid in, mm: what a cuff must pass. And whether that is weak:
    a usual share of the hand's circumference instead of a measure."""
    if size.tucked_girth is not None:
        return size.tucked_girth, False
    return TUCKED_TO_HAND * size.hand_circumference, True


def cuff_stretch(spec: Spec) -> tuple[Fraction, bool]:
    """How many times its relaxed width the cuff opens to. And whether that is weak: the usual
    figure instead of a swatch that was pulled.

    A ribbed cuff stretches as its rib's swatch does, any other as the hand's.
    """
    ribbed = spec.cuff.style in ("ribbed", "post")
    gauge = spec.cuff.gauge if ribbed else spec.gauge
    if gauge is None or gauge.stretch is None:
        return CUFF_STRETCH, True
    return gauge.stretch, False


def palm_share(size: Size) -> Fraction:
    """The palm's length over the hand's, of that size's wearer."""
    return PALM_TO_HAND.get(wearer(size), CHILD_PALM_TO_HAND)


def wish(spec: Spec, size: Size) -> Wish:
    """The body with its ease; every cuff's is a share of the wrist, however it is worked.

    An open end stops at its share of the hand's or the thumb's length, with no ease, and has no
    crown. Without a thumb its measures are 0.
    """
    own, ease = body(size), spec.ease
    crown, thumb = spec.crown, spec.thumb
    length, crown_height = own.hand_length + ease.length, own.hand_length * CROWN_HEIGHT
    if crown.style == "open":
        reach = palm_share(size) if crown.reach is None else crown.reach
        length, crown_height = own.hand_length * reach, Fraction(0)
    thumb_length = own.thumb_length + ease.thumb_length
    if thumb.style == "open":
        thumb_length = own.thumb_length * thumb.reach
    wished = Wish(
        cuff_circumference=own.wrist_circumference * (1 + ease.cuff),
        cuff_depth=spec.cuff.depth if spec.cuff.depth is not None else own.hand_length * CUFF_DEPTH,
        hand_circumference=own.hand_circumference + ease.hand,
        thumb_circumference=own.thumb_circumference + ease.thumb,
        crook_height=own.crook_height,
        hand_length=length,
        thumb_length=thumb_length,
        crown_height=crown_height,
    )
    if spec.has_thumb:
        return wished
    none = Fraction(0)
    return wished._replace(thumb_circumference=none, crook_height=none, thumb_length=none)
