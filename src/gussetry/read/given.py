"""What is measured before anything is made: swatches, yarns, hands and their ease, as written."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field

from gussetry.read import kinds


def key(name: str, says: str, example: str) -> Any:
    """A key that may be left out: its name, what it says, an example."""
    return Field(None, alias=name, description=says, examples=[example])


def needed(name: str, says: str, example: str) -> Any:
    """A key that must be there."""
    return Field(alias=name, description=says, examples=[example])


class Group(BaseModel):
    """Some keys that belong together; no others may stand among them."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class GaugeKeys(Group):
    """A swatch in the stitch of the hand."""

    over: Annotated[Fraction, kinds.length(20, 300)] = needed(
        "over", "How wide and how tall the swatch was.", "over: 10 cm"
    )
    stitch: Annotated[str, kinds.choice("sc", "hdc", "dc")] | None = key(
        "stitch", "The stitch, in US terms. Else sc.", "stitch: hdc"
    )
    stitches: Annotated[Fraction, kinds.number("1", "300")] = needed(
        "stitches", "Stitches across it.", "stitches: 17.5"
    )
    rounds: Annotated[Fraction, kinds.number("1", "300")] = needed(
        "rounds", "Rounds up it.", "rounds: 20"
    )
    stretches_to: Annotated[Fraction, kinds.length(20, 900)] | None = key(
        "stretches to", "How wide it opens when pulled.", "stretches to: 13 cm"
    )
    lean: Annotated[Fraction, kinds.number("-5", "5")] | None = key(
        "lean",
        "Stitches by which ten rounds drift with the direction of work; against it, with a "
        "minus. Else 0.",
        "lean: 1.5",
    )


class RibGaugeKeys(Group):
    """A swatch in the cuff's ribbing. Needed for a cuff ribbed sideways or in post stitches."""

    over: Annotated[Fraction, kinds.length(20, 300)] = needed(
        "over", "How wide and how tall the swatch was.", "over: 4 in"
    )
    stitch: Annotated[str, kinds.choice("sc", "hdc", "dc")] | None = key(
        "stitch", "The stitch, in the back loop or round the post; US terms. Else sc.", "stitch: sc"
    )
    stitches: Annotated[Fraction, kinds.number("1", "300")] = needed(
        "stitches", "Stitches along the rib.", "stitches: 17"
    )
    rows: Annotated[Fraction, kinds.number("1", "300")] = needed(
        "rows", "Rows across the ribs; of a post-stitch rib, its rounds.", "rows: 20"
    )
    stretches_to: Annotated[Fraction, kinds.length(20, 900)] | None = key(
        "stretches to", "How wide it opens round the wrist when pulled.", "stretches to: 16 cm"
    )


class YarnKeys(Group):
    """A yarn under its letter."""

    name: Annotated[str, kinds.line(60)] = needed(
        "name", "What the yarn is called in words and keys.", "name: slate"
    )
    colour: Annotated[str, kinds.COLOUR] = needed(
        "colour",
        "Its colour on the drawings, always in quotes: a bare # begins a comment.",
        'colour: "#44546a"',
    )
    weight: Annotated[int, kinds.count(0, 7)] | None = key(
        "weight", "The yarn council's number, 0 (lace) to 7 (jumbo).", "weight: 4"
    )
    grams: Annotated[Fraction, kinds.number("1", "2000")] | None = key(
        "grams", "What a ball weighs; with `metres`.", "grams: 50"
    )
    metres: Annotated[Fraction, kinds.number("1", "5000")] | None = key(
        "metres", "How long a ball is; with `grams`.", "metres: 95"
    )


class SizeKeys(Group):
    """A size under its name: the hand that it is for, not the mitten. Has either `hand
    circumference` or `standard`."""

    model_config = ConfigDict(
        json_schema_extra={
            "oneOf": [{"required": ["hand circumference"]}, {"required": ["standard"]}]
        }
    )

    hand_circumference: Annotated[Fraction, kinds.measure("hand circumference")] | None = key(
        "hand circumference",
        "Round the knuckles, without the thumb. Needed, unless there is a `standard`.",
        "hand circumference: 18.5 cm",
    )
    standard: Annotated[str, kinds.STANDARD] | None = key(
        "standard",
        "A published hand instead: a glove size, a percentile of surveyed adults (of the hand's "
        "circumference alone), a child's age. Other measures written here outrank its table; a "
        "`hand circumference` beside it is an error.",
        "standard: women p50",
    )
    wearer: Annotated[str, kinds.choice("women", "men", "children", "infants")] | None = key(
        "for", "Whose hands: chooses the survey for what is not measured.", "for: women"
    )
    age_from: Annotated[int, kinds.AGE] | None = key(
        "age from", "The youngest wearer; under 3 years brings cautions.", "age from: 18 months"
    )
    wrist_circumference: Annotated[Fraction, kinds.measure("wrist circumference")] | None = key(
        "wrist circumference", "Round the wrist.", "wrist circumference: 15.5 cm"
    )
    hand_length: Annotated[Fraction, kinds.measure("hand length")] | None = key(
        "hand length", "Wrist crease to tip of the middle finger.", "hand length: 18 cm"
    )
    thumb_circumference: Annotated[Fraction, kinds.measure("thumb circumference")] | None = key(
        "thumb circumference", "Round the thumb.", "thumb circumference: 6 cm"
    )
    thumb_length: Annotated[Fraction, kinds.measure("thumb length")] | None = key(
        "thumb length", "The free part of the thumb.", "thumb length: 2 1/4 in"
    )
    crook_height: Annotated[Fraction, kinds.measure("crook height")] | None = key(
        "crook height", "Wrist crease to the crook of the thumb.", "crook height: 55 mm"
    )
    tucked_girth: Annotated[Fraction, kinds.measure("tucked girth")] | None = key(
        "tucked girth",
        "Round the hand with the thumb laid in: what a cuff must pass.",
        "tucked girth: 22 cm",
    )


class EaseKeys(Group):
    """What the mitten has more than the hand; less is written with a minus."""

    hand: Annotated[Fraction, kinds.length(-40, 80)] | None = key(
        "hand", "Round the hand. Else 1 cm.", "hand: 12 mm"
    )
    thumb: Annotated[Fraction, kinds.length(-20, 60)] | None = key(
        "thumb", "Round the thumb. Else 1 cm.", "thumb: 1 cm"
    )
    length: Annotated[Fraction, kinds.length(-20, 80)] | None = key(
        "length", "Beyond the middle finger. Else 8 mm.", "length: 8 mm"
    )
    thumb_length: Annotated[Fraction, kinds.length(-20, 60)] | None = key(
        "thumb length", "Beyond the thumb. Else 6 mm.", "thumb length: 1/4 in"
    )
    cuff: Annotated[Fraction, kinds.share(-60, 20)] | None = key(
        "cuff", "The cuff against the wrist. Else -10 %.", "cuff: -10 %"
    )


class SwatchKeys(Group):
    """A swatch of the hand's stitch, measured for the yarn that it used."""

    stitches: Annotated[int, kinds.count(4, 400)] = needed(
        "stitches", "Stitches across it.", "stitches: 20"
    )
    rounds: Annotated[int, kinds.count(2, 400)] = needed(
        "rounds", "Rounds or rows up it.", "rounds: 22"
    )
    used: Annotated[tuple[Fraction, str], kinds.AMOUNT] = needed(
        "used", "The yarn in it, ravelled and measured, or weighed: the first yarn.", "used: 29 m"
    )
