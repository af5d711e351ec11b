"""Published hands: what surveys of people and the standard of glove sizes say about one.

Sources. ANSUR II: Gordon et al., 2012 Anthropometric Survey of U.S. Army Personnel,
NATICK/TR-15/007; soldiers of 17 to 58 years. EN ISO 21420:2020, protective gloves, as EN 420:2003
had the sizes. Snyder 1977: Anthropometry of Infants, Children, and Youths to Age 18,
UM-HSRI-77-17. Snyder 1975: UM-HSRI-BI-75-5, infants.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Literal, NamedTuple

Grown = Literal["women", "men"]


class Adults(NamedTuple):
    """The hand circumference of the surveyed women or men, mm; `percentiles` by name, `p2.5`."""

    number: int
    mean: Fraction
    deviation: Fraction
    percentiles: Mapping[str, Fraction]


_STEPS = ("1", "2.5", "5", "10", "25", "50", "75", "90", "95", "97.5", "99")


def _adults(number: int, mean: str, deviation: str, *percentiles: int) -> Adults:
    found = {f"p{p}": Fraction(mm) for p, mm in zip(_STEPS, percentiles, strict=True)}
    return Adults(number, Fraction(mean), Fraction(deviation), found)


ADULTS: Mapping[Grown, Adults] = {
    "women": _adults(
        1986, "186.55", "8.82", 167, 170, 173, 175, 180, 187, 192, 198, 202, 204, 207
    ),
    "men": _adults(
        4082, "212.28", "10.24", 189, 193, 195, 199, 206, 212, 219, 225, 230, 233, 237
    ),
}  # fmt: skip
"""ANSUR II."""
YOUNGEST_ADULT = 17 * 12
"""Months: the youngest of that survey."""

GLOVE_STEP = Fraction(254, 10)
"""From one glove size of EN ISO 21420 to the next, mm: its circumferences are inches, rounded."""
HALF_STEP = GLOVE_STEP / 2
"""How far a hand may be from a size, mm, before it is nearer to the next."""

_GLOVES = {
    6: (152, 160), 7: (178, 171), 8: (203, 182), 9: (229, 192), 10: (254, 204), 11: (279, 215),
}  # fmt: skip
"""Hand circumference and hand length, mm."""
_GLOVES_UNCHECKED = {4: 101, 5: 127, 12: 304, 13: 329}
"""Hand circumference, mm: from memory, not held against a print; within 1 mm of size × 25.4. The
standard bounds the hand's length there and does not tell it."""

BREADTH_TO_HAND = Fraction(417, 1000)
"""Hand breadth over hand circumference (ANSUR II, mean 0.4169). For children an estimate: no survey
of theirs has the circumference."""
_PI = Fraction(355, 113)

_CHILDREN = {
    2: ("50.0", "102.2", "112.9", "35.4", "12.2", "71.2"),
    3: ("52.8", "110.6", "113.3", "37.5", "12.8", "77.8"),
    4: ("55.3", "117.7", "117.5", "40.1", "13.3", "81.1"),
    5: ("57.7", "123.7", "119.6", "42.7", "13.9", "85.0"),
    6: ("60.3", "129.8", "121.8", "45.0", "14.5", "89.5"),
    7: ("62.5", "134.8", "126.6", "47.8", "15.4", "95.9"),
    8: ("65.0", "141.1", "131.0", "48.2", "15.5", "97.2"),
    9: ("67.3", "147.5", "132.6", "52.3", "15.7", "103.9"),
    10: ("69.7", "153.2", "135.5", "54.2", "16.4", "108.1"),
    11: ("72.0", "158.9", "138.6", "56.4", "16.6", "110.8"),
    12: ("74.8", "166.4", "144.7", "58.0", "17.4", "115.2"),
    13: ("77.7", "171.8", "149.1", "60.3", "17.8", "119.3"),
}
"""By year of age, both sexes, means in mm (Snyder 1977): hand breadth, hand length, wrist
circumference, thumb length, thumb diameter, thumb crotch to middle fingertip."""

_INFANTS = {
    0: (37, 68), 3: (41, 74), 6: (42, 80), 9: (45, 89), 12: (46, 92), 16: (46, 93), 20: (47, 95),
}  # fmt: skip
"""By first month of age, both sexes, means in mm (Snyder 1975): hand breadth, hand length."""
_OLDEST_INFANT = 23


class Hand(NamedTuple):
    """A published hand. `standard` is its name; `measures` are mm under the names of a size's keys,
    `estimated` those of them that no table has. `wearer` and `age_from_months` are None where the
    table does not say whose hand it is."""

    standard: str
    measures: Mapping[str, Fraction]
    estimated: frozenset[str] = frozenset()
    wearer: Literal["women", "men", "children", "infants"] | None = None
    age_from_months: int | None = None


class UnknownStandard(ValueError):
    """Raised for words that name no published hand; `nearest` is one that they may have meant."""

    def __init__(self, words: str, nearest: str | None) -> None:
        super().__init__(words)
        self.nearest = nearest


def _whole(mm: Fraction) -> Fraction:
    """The millimetre nearest to it: what is reckoned from means deserves no finer figure."""
    return Fraction((2 * mm + 1).__floor__() // 2)


def _glove(size: int) -> Hand:
    name = f"EN ISO 21420 size {size}"
    if size in _GLOVES_UNCHECKED:
        found = {"hand circumference": Fraction(_GLOVES_UNCHECKED[size])}
        return Hand(name, found, estimated=frozenset(found))
    girth, length = _GLOVES[size]
    return Hand(name, {"hand circumference": Fraction(girth), "hand length": Fraction(length)})


def _child(age: int) -> Hand:
    breadth, length, wrist, thumb, diameter, to_crotch = map(Fraction, _CHILDREN[age])
    measures = {
        "hand circumference": _whole(breadth / BREADTH_TO_HAND),
        "wrist circumference": _whole(wrist),
        "hand length": _whole(length),
        # The diameter is that of the hole that the thumb passed.
        "thumb circumference": _whole(_PI * diameter),
        "thumb length": _whole(thumb),
        # A difference of two means.
        "crook height": _whole(length - to_crotch),
    }
    estimated = frozenset({"hand circumference"})
    return Hand(f"age {age}", measures, estimated, "children", 12 * age)


def _infant(months: int) -> Hand:
    breadth, length = _INFANTS[max(first for first in _INFANTS if first <= months)]
    measures = {
        "hand circumference": _whole(breadth / BREADTH_TO_HAND),
        "hand length": Fraction(length),
    }
    name = f"{months} month{'' if months == 1 else 's'}"
    return Hand(name, measures, frozenset({"hand circumference"}), "infants", months)


def _hands() -> dict[str, Hand]:
    gloves = [_glove(size) for size in sorted(_GLOVES | _GLOVES_UNCHECKED)]
    grown = [
        Hand(f"{who} {percentile}", {"hand circumference": mm}, wearer=who)
        for who, adults in ADULTS.items()
        for percentile, mm in adults.percentiles.items()
    ]
    children = [_child(age) for age in _CHILDREN]
    infants = [_infant(months) for months in range(_OLDEST_INFANT + 1)]
    found = {hand.standard: hand for hand in (*gloves, *grown, *children, *infants)}
    return found | {f"age {hand.standard}": hand for hand in infants}


HANDS: Mapping[str, Hand] = _hands()
"""Every published hand by the words that name it: `EN ISO 21420 size 8`, `women p50`, `age 6`,
`9 months` or `age 9 months`.

A percentile fixes the hand's circumference alone: who is at the 95th in one measure is not at the
95th in another, so that the other measures are derived from it.
"""


def hand(words: str) -> Hand:
    """The published hand that the words name. UnknownStandard where they name none."""
    if words in HANDS:
        return HANDS[words]
    raise UnknownStandard(words, _nearest(words))


def _nearest(words: str) -> str | None:
    """The name of the published hand nearest to what a person may have meant."""
    plain = " ".join(words.casefold().split())
    numbers = re.findall(r"[0-9]{1,4}(?:\.[0-9]{1,3})?", plain)
    if not numbers:
        return None
    number = Fraction(numbers[-1])
    if "month" in plain:
        return _at_months(number)
    if re.search(r"\b(?:women|woman|female)", plain):
        return f"women {_percentile(number)}"
    if re.search(r"\b(?:men|man|male)", plain):
        return f"men {_percentile(number)}"
    if re.search(r"\b(?:age|aged|years?|child|children)\b", plain):
        return _at_months(number * 12)
    if re.search(r"\b(?:en|iso|size|glove)\b|21420|420", plain):
        return f"EN ISO 21420 size {min(13, max(4, round(number)))}"
    return None


def _percentile(number: Fraction) -> str:
    return "p" + min(_STEPS, key=lambda step: abs(Fraction(step) - number))


def _at_months(months: Fraction) -> str:
    if months <= _OLDEST_INFANT:
        return _infant(int(months)).standard
    return f"age {min(max(_CHILDREN), max(2, int(months / 12)))}"
