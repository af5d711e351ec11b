"""One value's text to a count, a length, a share, a choice: strict forms, and what to write else.

Every function takes the value as the source gives it (text, or by mistake a list or mapping) and
raises `WrongError` with a message that continues the sentence "the key …".
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable
from fractions import Fraction

from gussetry import survey
from gussetry.misreadings import clipped
from gussetry.source import Scalar
from gussetry.units import METRES_IN_YARD, MM_PER_INCH, millimetres
from gussetry.units import text as number_text

BOUNDS = {
    "hand circumference": (70, 330),
    "wrist circumference": (50, 280),
    "hand length": (50, 260),
    "thumb circumference": (20, 120),
    "thumb length": (10, 110),
    "crook height": (10, 130),
    "tucked girth": (70, 420),
}
"""Millimetres between which each measure of a hand lies, newborn to giant: common practice, no
source."""

_AMOUNT = (
    r"(?:(?:0|[1-9][0-9]{0,8})(?:\.[0-9]{1,3})?"
    r"|(?:[1-9][0-9]{0,2} )?[1-9][0-9]?/(?:2|3|4|8|16)"
    r"|(?:[1-9][0-9]{0,2})? ?[½¼¾⅓⅔⅛⅜⅝⅞])"
)
LENGTH_PATTERN = rf"^{_AMOUNT} ?(?:mm|cm|in)$"
SIGNED_LENGTH_PATTERN = rf"^[-−+]?{_AMOUNT} ?(?:mm|cm|in)$"
AMOUNT_PATTERN = r"^(?:0|[1-9][0-9]{0,3})(?:\.[0-9]{1,3})? ?(?:m|yd|g|oz)$"
SHARE_PATTERN = r"^[-−+]?(?:0|[1-9][0-9]?|100)(?:\.[0-9])? ?%$"
AGE_PATTERN = r"^(?:0|[1-9][0-9]{0,2}) ?(?:months?|years?)$"
COLOUR_PATTERN = r"^#[0-9a-fA-F]{6}$"
LETTER_PATTERN = r"^[A-Z]$"

_GLYPHS = {
    "½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4), "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
}  # fmt: skip
_UNIT_WORDS = {
    '"': "in", "″": "in", "”": "in", "inch": "in", "inches": "in", "ins": "in",
    "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm", "cms": "cm",
    "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm", "mms": "mm",
}  # fmt: skip
MOST_DIGITS = 12
"""Characters of a number that are read and shown; what is longer is beyond every bound."""
BEYOND = 10**MOST_DIGITS
_YES_NO = {"yes": True, "no": False, "true": True, "false": False}


class WrongError(ValueError):
    """A value that cannot stand: a code, a message that follows the key's name, and a remedy."""

    def __init__(self, code: str, message: str, remedy: str = "") -> None:
        super().__init__(message)
        self.code, self.message, self.remedy = code, message, remedy


def scalar(value: object, wanted: str) -> str:
    """The text of a value that is a text; `wanted` says what it should be ("a length")."""
    if isinstance(value, list):
        raise WrongError("not-a-text", f"must be {wanted}, not a list")
    if not isinstance(value, str):
        raise WrongError("not-a-text", f"must be {wanted}, not a group of keys")
    if not value and not getattr(value, "quoted", False):
        raise WrongError("no-value", "has no value", f"write {wanted}, after the colon")
    return str(value)


def _plain(value: object, wanted: str) -> str:
    # A number in quotes is text to every other reader of YAML, and to the JSON Schema.
    written = scalar(value, wanted)
    if isinstance(value, Scalar) and value.quoted and re.fullmatch(r"[0-9.]+", written):
        raise WrongError(
            "quoted-number", f"must be {wanted}, not text", f"write {written} unquoted"
        )
    return written


def count(value: object, least: int, most: int) -> int:
    """A whole number from `least` to `most`, written in plain digits."""
    written = _plain(value, "a whole number")
    if re.fullmatch("[-−]?[1-9][0-9]*|0", written):
        number = _sized(written)
        if not least <= number <= most:
            raise _out_of_range(written, Fraction(least), Fraction(most))
        return int(number)
    message = f"must be a whole number, not {clipped(written)}"
    raise WrongError("not-a-count", message, _digits_remedy(written))


def _sized(written: str) -> Fraction:
    """The number that digits say, or one beyond all bounds where there are too many of them."""
    if len(written) > MOST_DIGITS:
        return Fraction(-BEYOND if written[0] in "-−" else BEYOND)
    return Fraction(written.replace("−", "-").removeprefix("+"))


def _out_of_range(written: str, least: Fraction, most: Fraction) -> WrongError:
    shown = written if len(written) <= MOST_DIGITS else f"{written[:MOST_DIGITS]}…"
    ends = f"from {number_text(least)} to {number_text(most)}"
    remedy = f"write {number_text(least)}" if least == most else f"write a number {ends}"
    return WrongError("out-of-range", f"cannot be {shown}", remedy)


def _digits_remedy(written: str) -> str:
    bare = written.replace("_", "").replace(" ", "")
    digits = bare.lstrip("+").lstrip("0") or "0"
    if re.fullmatch(r"\+?[0-9]{1,6}", bare):
        return f"write {digits}, in plain digits"
    if re.fullmatch(r"[0-9]+[.,]0+", written):
        return f"write {re.split('[.,]', written)[0]}, without decimals"
    return "write plain digits, such as 24"


def decimal(value: object, least: Fraction, most: Fraction) -> Fraction:
    """A number with at most three decimals behind a point, exact."""
    written = _plain(value, "a number")
    sign = "[-−+]?" if least < 0 else "[-−]?"
    if re.fullmatch(rf"{sign}(?:0|[1-9][0-9]*)(?:\.[0-9]{{1,3}})?", written):
        number = _sized(written)
        if not least <= number <= most:
            raise _out_of_range(written, least, most)
        return number
    remedy = _decimal_remedy(written)
    raise WrongError("not-a-number", f"must be a number, not {clipped(written)}", remedy)


def _decimal_remedy(written: str) -> str:
    if re.fullmatch(r"[0-9]+,[0-9]+", written):
        return f"write {written.replace(',', '.')}, with a point"
    if re.fullmatch(r"[0-9]+\.[0-9]{4,}", written):
        return "write three decimals at most"
    bare = written.replace("_", "").replace(" ", "").lstrip("0") or "0"
    if re.fullmatch(r"[0-9]{1,4}(?:\.[0-9]{1,3})?", bare):
        return f"write {bare}, in plain digits"
    return "write plain digits, such as 17.5"


def length(value: object, least: int, most: int) -> Fraction:
    """A length in millimetres, exact, from `least` to `most` millimetres."""
    written = scalar(value, "a length, such as 17.5 cm or 7 in")
    pattern = SIGNED_LENGTH_PATTERN if least < 0 else LENGTH_PATTERN
    if not re.fullmatch(pattern, written):
        raise _no_length(written, signed=least < 0)
    found = re.fullmatch(r"([-−+]?)(.*?) ?(mm|cm|in)", written)
    assert found is not None
    sign, amount, unit = found.groups()
    mm = millimetres(_amount(amount), unit) * (-1 if sign in ("-", "−") else 1)
    if not least <= mm <= most:
        raise WrongError(
            "implausible-measure",
            f"cannot be {written}: expected {_range(least, most, unit)}",
            _other_unit(amount, unit, (Fraction(least), Fraction(most))),
        )
    return mm


_YARN_UNITS = {
    "m": ("metres", Fraction(1)),
    "yd": ("metres", METRES_IN_YARD),
    "g": ("grams", Fraction(1)),
    "oz": ("grams", Fraction(28349523125, 1000000000)),
}
"""An ounce is 28.349523125 g, exact (international pound, 1959; from memory)."""


def amount(value: object) -> tuple[Fraction, str]:
    """An amount of yarn, exact, and whether it is in `metres` or `grams`."""
    written = scalar(value, "an amount of yarn, such as 29 m or 12 g")
    if not re.fullmatch(AMOUNT_PATTERN, written):
        bare = re.fullmatch(r"[0-9.]+", written)
        if bare:
            remedy = f"write {written} m or {written} g"
            raise WrongError("no-unit", f"needs a unit: {clipped(written)} could be any", remedy)
        remedy = "write it like 29 m, 32 yd, 12 g or 0.5 oz"
        raise WrongError("not-an-amount", f"must be an amount, not {clipped(written)}", remedy)
    found = re.fullmatch(r"([0-9.]+) ?(m|yd|g|oz)", written)
    assert found is not None
    unit, times = _YARN_UNITS[found.group(2)]
    if not Fraction(found.group(1)):
        raise WrongError("out-of-range", f"cannot be {written}", "weigh or measure it")
    return Fraction(found.group(1)) * times, unit


def _amount(amount: str) -> Fraction:
    total = Fraction(0)
    for part in re.split(r" |(?=[½¼¾⅓⅔⅛⅜⅝⅞])", amount):
        if part:
            total += _GLYPHS.get(part) or Fraction(part)
    return total


def _range(least: int, most: int, unit: str) -> str:
    if unit == "in":
        return f"{number_text(least / MM_PER_INCH, 1)} to {number_text(most / MM_PER_INCH, 1)} in"
    if unit == "cm":
        return f"{number_text(Fraction(least, 10))} to {number_text(Fraction(most, 10))} cm"
    return f"{least} to {most} mm"


def _other_unit(amount: str, unit: str, bounds: tuple[Fraction, Fraction]) -> str:
    value = _amount(amount)
    for other in ("cm", "in", "mm"):
        if other != unit and bounds[0] <= millimetres(value, other) <= bounds[1]:
            return f"is the unit right? {amount} {other} would be possible"
    return "check the number and its unit"


def likely_unit(value: str, bounds: tuple[Fraction, Fraction]) -> str:
    """A remedy for a length that is well written but cannot be meant: another unit that fits."""
    found = re.fullmatch(r"[-−+]?(.*?) ?(mm|cm|in)", value)
    return _other_unit(found.group(1), found.group(2), bounds) if found else ""


def _no_length(written: str, signed: bool) -> WrongError:
    forms = "write a length such as 17.5 cm, 45 mm, 7 in or 7 1/2 in"
    sign, rest = (written[:1], written[1:]) if written[:1] in "-−+" else ("", written)
    found = re.fullmatch(r"([0-9½¼¾⅓⅔⅛⅜⅝⅞][0-9., /½¼¾⅓⅔⅛⅜⅝⅞]*?)\s*([^\W\d_]+\.?|[\"″”%])?", rest)
    if not found:
        return WrongError("not-a-length", f"must be a length, not {clipped(written)}", forms)
    amount, unit = found.groups()
    plain_amount = re.fullmatch(_AMOUNT, amount)
    if sign and not signed:
        message = f"must be a length above nothing, not {clipped(written)}"
        return WrongError("not-a-length", message, f"write it without the {sign}")
    if unit is None:
        example = f"{sign}{amount}" if plain_amount else "17.5"
        remedy = f"write {example} cm, {example} mm or {example} in"
        return WrongError("no-unit", f"needs a unit: {clipped(written)} could be anything", remedy)
    known = _UNIT_WORDS.get(unit.lower().rstrip("."), unit.lower().rstrip("."))
    if known not in ("mm", "cm", "in"):
        message = f"has a unit that is not known here: {clipped(unit)}"
        return WrongError("wrong-unit", message, "write the length in cm, mm or in")
    if known != unit:
        message = f"has its unit written as {clipped(unit)}"
        return WrongError("wrong-unit", message, f"write {sign}{amount} {known}")
    pointed = amount.replace(",", ".")
    if re.fullmatch(_AMOUNT, pointed):
        message = f"must be a length, not {clipped(written)}"
        return WrongError("not-a-length", message, f"write {sign}{pointed} {known}, with a point")
    return WrongError("not-a-length", f"must be a length, not {clipped(written)}", forms)


def share(value: object, least: int, most: int) -> Fraction:
    """A share of the whole, written in per cent, from `least` to `most` per cent."""
    such = "-15 %" if least < 0 else "15 %"
    written = scalar(value, f"a share, such as {such}")
    if not re.fullmatch(SHARE_PATTERN, written):
        remedy = f"write it in per cent, such as {such}"
        raise WrongError("not-a-share", f"must be a share, not {clipped(written)}", remedy)
    number = Fraction(written.rstrip("% ").replace("−", "-"))
    if not least <= number <= most:
        raise WrongError("out-of-range", f"cannot be {written}", f"write {least} % to {most} %")
    return number / 100


def months(value: object) -> int:
    """An age in months, written in months or years."""
    written = scalar(value, "an age, such as 2 years or 18 months")
    if not re.fullmatch(AGE_PATTERN, written):
        bare = re.fullmatch(r"[0-9]{1,3}", written)
        remedy = "write it like 2 years or 18 months"
        if bare:
            raise WrongError("no-unit", f"needs a unit: {clipped(written)} could be years", remedy)
        raise WrongError("not-an-age", f"must be an age, not {clipped(written)}", remedy)
    found = re.match(r"[0-9]+", written)
    assert found is not None
    age = int(found.group()) * (12 if "year" in written else 1)
    if age > 1200:
        raise WrongError("out-of-range", f"cannot be {written}", "write 100 years at most")
    return age


STANDARD_FORMS = (
    "EN ISO 21420 size 4 to 13, women or men p1 to p99 (1, 2.5, 5, 10, 25, 50, 75, 90, 95, 97.5,"
    " 99), age 2 to 13, or 0 to 23 months"
)


def standard(value: object) -> str:
    """The name of a published hand."""
    written = scalar(value, "a published hand, such as women p50")
    try:
        return survey.hand(written).standard
    except survey.UnknownStandard as unknown:
        remedy = f"write {STANDARD_FORMS}; or give the hand circumference"
        if unknown.nearest:
            remedy = f"the nearest is {unknown.nearest}; or give the hand circumference instead"
        message = f"names a hand that is not known here: {clipped(written)}"
        raise WrongError("unknown-standard", message, remedy) from None


def yes_no(value: object) -> bool:
    """Yes or no."""
    written = scalar(value, "yes or no")
    if written.casefold() not in _YES_NO:
        raise WrongError("not-yes-or-no", f"must be yes or no, not {clipped(written)}")
    return _YES_NO[written.casefold()]


def choice(value: object, words: tuple[str, ...]) -> str:
    """One of the words."""
    wanted = listed(words, "or")
    written = scalar(value, wanted)
    if written not in words:
        near = nearest(written, words)
        remedy = f"did you mean {near}?" if near else ""
        if written in ("htr", "tr", "treble", "double crochet", "single crochet"):
            remedy = "stitches are named in US terms here: sc, hdc, dc are UK dc, htr, tr"
        raise WrongError("unknown-word", f"must be {wanted}, not {clipped(written)}", remedy)
    return written


def colour(value: object) -> str:
    """A colour as `#rrggbb`, in small letters."""
    written = scalar(value, 'a colour in quotes, such as "#44546a"')
    if not re.fullmatch(COLOUR_PATTERN, written):
        remedy = 'write six hexadecimal digits after a #, in quotes: "#44546a"'
        short = re.fullmatch("#([0-9a-fA-F])([0-9a-fA-F])([0-9a-fA-F])", written)
        if short:
            remedy = f'write "#{"".join(digit * 2 for digit in short.groups())}"'
        elif re.fullmatch("[0-9a-fA-F]{6}", written):
            remedy = f'write "#{written}"'
        raise WrongError("not-a-colour", f"must be a colour, not {clipped(written)}", remedy)
    return written.lower()


def words(value: object, longest: int, empty: bool = False) -> str:
    """A text of one line or more, without invisible characters, blanks trimmed."""
    if empty and isinstance(value, str) and not value:
        return ""
    written = scalar(value, "a text").strip()
    if not written:
        raise WrongError("no-value", "is empty", "write a text")
    if len(written) > longest:
        message = f"is {len(written)} characters long"
        raise WrongError("too-long", message, f"write {longest} at most")
    for character in written:
        kind = unicodedata.category(character)
        if kind in ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp") and character != "\n":
            message = f"has an invisible character (U+{ord(character):04X}) in it"
            raise WrongError("not-text", message, "delete it")
    return written


def line(value: object, longest: int) -> str:
    """A text of one line, without invisible characters, blanks trimmed."""
    written = words(value, longest)
    if "\n" in written:
        raise WrongError("not-text", "must stand on one line", "leave the line break out")
    return written


def letter(value: object) -> str:
    """The letter of a yarn: one capital."""
    written = scalar(value, "the letter of a yarn")
    if not re.fullmatch(LETTER_PATTERN, written):
        first = next((c for c in written.upper() if c in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"), "A")
        remedy = f"call the yarn {first}; its name goes under `name:`"
        raise WrongError("not-a-letter", "must be one capital letter", remedy)
    return written


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that a misspelt one was meant to be, if any is near."""
    plain = {name.casefold(): name for name in known}
    folded = re.sub(r"[\s_-]+", " ", re.sub(r"(?<=[a-z])(?=[A-Z])", " ", word[:60])).casefold()
    near = difflib.get_close_matches(folded.strip(), plain, n=1, cutoff=0.7)
    return plain[near[0]] if near else None


def listed(words: Iterable[str], last: str) -> str:
    """The words as a list in a sentence: `A, B and C`."""
    *first, end = tuple(words) or ("nothing",)
    return f"{', '.join(first)} {last} {end}" if first else end
