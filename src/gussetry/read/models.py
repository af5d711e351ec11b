"""The specification as it is written: every key, its kind, what it says, and an example.

The one definition behind the reader, the JSON Schema and the table of keys.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any, TypeAlias

from pydantic import BaseModel, ConfigDict, Field

from gussetry.read import kinds

Pin: TypeAlias = dict[str, int]


def _key(name: str, says: str, example: str) -> Any:
    return Field(None, alias=name, description=says, examples=[example])


def _needed(name: str, says: str, example: str) -> Any:
    return Field(alias=name, description=says, examples=[example])


class Group(BaseModel):
    """Some keys that belong together; no others may stand among them."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class GaugeKeys(Group):
    """A swatch in the stitch of the hand."""

    over: Annotated[Fraction, kinds.length(20, 300)] = _needed(
        "over", "How wide and how tall the swatch was.", "over: 10 cm"
    )
    stitch: Annotated[str, kinds.choice("sc", "hdc", "dc")] | None = _key(
        "stitch", "The stitch, in US terms. Else sc.", "stitch: hdc"
    )
    stitches: Annotated[Fraction, kinds.number("1", "300")] = _needed(
        "stitches", "Stitches across it.", "stitches: 17.5"
    )
    rounds: Annotated[Fraction, kinds.number("1", "300")] = _needed(
        "rounds", "Rounds up it.", "rounds: 20"
    )
    stretches_to: Annotated[Fraction, kinds.length(20, 900)] | None = _key(
        "stretches to", "How wide it opens when pulled.", "stretches to: 13 cm"
    )
    lean: Annotated[Fraction, kinds.number("-5", "5")] | None = _key(
        "lean",
        "Stitches by which ten rounds drift with the direction of work; against it, with a "
        "minus. Else 0.",
        "lean: 1.5",
    )


class RibGaugeKeys(Group):
    """A swatch in the cuff's ribbing. Needed for a cuff ribbed sideways or in post stitches."""

    over: Annotated[Fraction, kinds.length(20, 300)] = _needed(
        "over", "How wide and how tall the swatch was.", "over: 4 in"
    )
    stitch: Annotated[str, kinds.choice("sc", "hdc", "dc")] | None = _key(
        "stitch", "The stitch, in the back loop or round the post; US terms. Else sc.", "stitch: sc"
    )
    stitches: Annotated[Fraction, kinds.number("1", "300")] = _needed(
        "stitches", "Stitches along the rib.", "stitches: 17"
    )
    rows: Annotated[Fraction, kinds.number("1", "300")] = _needed(
        "rows", "Rows across the ribs; of a post-stitch rib, its rounds.", "rows: 20"
    )
    stretches_to: Annotated[Fraction, kinds.length(20, 900)] | None = _key(
        "stretches to", "How wide it opens round the wrist when pulled.", "stretches to: 16 cm"
    )


class YarnKeys(Group):
    """A yarn under its letter."""

    name: Annotated[str, kinds.line(60)] = _needed(
        "name", "What the yarn is called in words and keys.", "name: slate"
    )
    colour: Annotated[str, kinds.COLOUR] = _needed(
        "colour",
        "Its colour on the drawings, always in quotes: a bare # begins a comment.",
        'colour: "#44546a"',
    )
    weight: Annotated[int, kinds.count(0, 7)] | None = _key(
        "weight", "The yarn council's number, 0 (lace) to 7 (jumbo).", "weight: 4"
    )
    grams: Annotated[Fraction, kinds.number("1", "2000")] | None = _key(
        "grams", "What a ball weighs; with `metres`.", "grams: 50"
    )
    metres: Annotated[Fraction, kinds.number("1", "5000")] | None = _key(
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

    hand_circumference: Annotated[Fraction, kinds.measure("hand circumference")] | None = _key(
        "hand circumference",
        "Round the knuckles, without the thumb. Needed, unless there is a `standard`.",
        "hand circumference: 18.5 cm",
    )
    standard: Annotated[str, kinds.STANDARD] | None = _key(
        "standard",
        "A published hand instead: a glove size, a percentile of surveyed adults (of the hand's "
        "circumference alone), a child's age. Other measures written here outrank its table; a "
        "`hand circumference` beside it is an error.",
        "standard: women p50",
    )
    wearer: Annotated[str, kinds.choice("women", "men", "children", "infants")] | None = _key(
        "for", "Whose hands: chooses the survey for what is not measured.", "for: women"
    )
    age_from: Annotated[int, kinds.AGE] | None = _key(
        "age from", "The youngest wearer; under 3 years brings cautions.", "age from: 18 months"
    )
    wrist_circumference: Annotated[Fraction, kinds.measure("wrist circumference")] | None = _key(
        "wrist circumference", "Round the wrist.", "wrist circumference: 15.5 cm"
    )
    hand_length: Annotated[Fraction, kinds.measure("hand length")] | None = _key(
        "hand length", "Wrist crease to tip of the middle finger.", "hand length: 18 cm"
    )
    thumb_circumference: Annotated[Fraction, kinds.measure("thumb circumference")] | None = _key(
        "thumb circumference", "Round the thumb.", "thumb circumference: 6 cm"
    )
    thumb_length: Annotated[Fraction, kinds.measure("thumb length")] | None = _key(
        "thumb length", "The free part of the thumb.", "thumb length: 2 1/4 in"
    )
    crook_height: Annotated[Fraction, kinds.measure("crook height")] | None = _key(
        "crook height", "Wrist crease to the crook of the thumb.", "crook height: 55 mm"
    )
    tucked_girth: Annotated[Fraction, kinds.measure("tucked girth")] | None = _key(
        "tucked girth",
        "Round the hand with the thumb laid in: what a cuff must pass.",
        "tucked girth: 22 cm",
    )


class EaseKeys(Group):
    """What the mitten has more than the hand; less is written with a minus."""

    hand: Annotated[Fraction, kinds.length(-40, 80)] | None = _key(
        "hand", "Round the hand. Else 1 cm.", "hand: 12 mm"
    )
    thumb: Annotated[Fraction, kinds.length(-20, 60)] | None = _key(
        "thumb", "Round the thumb. Else 1 cm.", "thumb: 1 cm"
    )
    length: Annotated[Fraction, kinds.length(-20, 80)] | None = _key(
        "length", "Beyond the middle finger. Else 8 mm.", "length: 8 mm"
    )
    thumb_length: Annotated[Fraction, kinds.length(-20, 60)] | None = _key(
        "thumb length", "Beyond the thumb. Else 6 mm.", "thumb length: 1/4 in"
    )
    cuff: Annotated[Fraction, kinds.share(-60, 20)] | None = _key(
        "cuff", "The cuff against the wrist. Else -10 %.", "cuff: -10 %"
    )


StripeKeys: TypeAlias = Annotated[
    dict[Annotated[str, kinds.YARN], Annotated[int, kinds.count(1, 300)]],
    Field(min_length=1, max_length=1),
]
Plan: TypeAlias = Annotated[list[StripeKeys], Field(min_length=1, max_length=200)]


class CuffKeys(Group):
    """The cuff."""

    style: Annotated[str, kinds.choice("ribbed", "post", "round", "none")] | None = _key(
        "style",
        "Ribbed sideways in turned rows, ribbed round in post stitches, worked round in plain "
        "rounds, or none. Else ribbed.",
        "style: round",
    )
    depth: Annotated[Fraction, kinds.length(10, 300)] | None = _key(
        "depth", "How tall it is. Else a third of the hand's length.", "depth: 6 cm"
    )
    rows: Annotated[Pin, kinds.pin(4, 300)] | None = _key(
        "rows", "Rows of a ribbed cuff, way round the wrist.", "rows: {S: 28, M: 30}"
    )
    stitches: Annotated[Pin, kinds.pin(1, 200)] | None = _key(
        "stitches", "Stitches of a row of a ribbed cuff.", "stitches: 11"
    )
    rounds: Annotated[Pin, kinds.pin(1, 300)] | None = _key(
        "rounds", "Rounds of a cuff worked round (post or round).", "rounds: 12"
    )
    parity: Annotated[str, kinds.choice("even", "odd", "any")] | None = _key(
        "row parity",
        "Whether the rows of a ribbed cuff come out even or odd. Else even, whole ribs.",
        "row parity: any",
    )
    seam_counts: Annotated[bool, kinds.YES_NO] | None = _key(
        "seam counts",
        "Whether the seam is one more row end to pick up from. Else no.",
        "seam counts: yes",
    )
    above_crease: Annotated[Fraction, kinds.length(-60, 100)] | None = _key(
        "above crease",
        "How far the cuff's upper edge lies above the wrist crease. Else 0 cm.",
        "above crease: 1 cm",
    )
    yarn: Annotated[str, kinds.YARN] | None = _key(
        "yarn", "The yarn of a plain cuff. Else the first stripe's.", "yarn: A"
    )
    stripes: Plan | None = _key(
        "stripes", "Stripes of the cuff, in rows or rounds.", "stripes: [A: 2, B: 2]"
    )


class LowerHandKeys(Group):
    """From the pick-up round to the gusset."""

    pick_up: Annotated[Pin, kinds.pin(6, 400)] | None = _key(
        "pick up", "Stitches of the pick-up round.", "pick up: 30"
    )
    increases: Annotated[Pin, kinds.pin(0, 100)] | None = _key(
        "increases", "Increases at the outer edge, one a round.", "increases: {S: 1, M: 2}"
    )
    rounds: Annotated[Pin, kinds.pin(1, 200)] | None = _key(
        "rounds", "Rounds before the gusset opens, with the pick-up round.", "rounds: 3"
    )
    joined: Annotated[bool, kinds.YES_NO] | None = _key(
        "joined",
        "Whether each round is joined with a slip stitch and a chain. Else no, a spiral.",
        "joined: yes",
    )


class GussetKeys(Group):
    """The thumb gusset."""

    growth: Annotated[str, kinds.choice("inside", "first", "second", "alternating")] | None = _key(
        "growth",
        "Where the markers go: `inside`, both new stitches for the thumb; `first` or "
        "`second`, one for the thumb and one for the hand, always on that side; "
        "`alternating`, the two by turns. Else inside.",
        "growth: alternating",
    )
    every: Annotated[int, kinds.count(1, 10)] | None = _key(
        "every", "One increase round in so many rounds. Else 1.", "every: 2"
    )
    between_markers: Annotated[Pin, kinds.pin(0, 150)] | None = _key(
        "between markers", "Stitches between the markers, fully grown.", "between markers: 11"
    )
    towards_palm: Annotated[int, kinds.count(0, 20)] | None = _key(
        "towards palm",
        "Stitches by which the thumb stands nearer to the palm; left and right then differ. "
        "Else 0.",
        "towards palm: 2",
    )


class DivisionKeys(Group):
    """The round that sets the thumb's stitches aside."""

    bridge: Annotated[str, kinds.choice("join", "chain", "none")] | None = _key(
        "bridge",
        "How the gap is closed. Else chain, or join where pairs are pinned.",
        "bridge: chain",
    )
    pairs: Annotated[Pin, kinds.pin(1, 40)] | None = _key(
        "pairs", "Pairs of hand stitches joined over the gap.", "pairs: 2"
    )
    chains: Annotated[Pin, kinds.pin(1, 60)] | None = _key(
        "chains", "Chains made over the gap.", "chains: {S: 2, M: 3}"
    )
    with_marked: Annotated[bool, kinds.YES_NO] | None = _key(
        "with marked", "Whether the marked stitches go to the thumb. Else yes.", "with marked: no"
    )
    worked_again: Annotated[bool, kinds.YES_NO] | None = _key(
        "worked again",
        "Whether the thumb's stitches are worked once more in this round. Else yes.",
        "worked again: no",
    )
    crook: Annotated[Pin, kinds.pin(0, 60)] | None = _key(
        "crook stitches", "Stitches that the crook gives to the thumb.", "crook stitches: 2"
    )
    round: Annotated[Pin, kinds.pin(2, 300)] | None = _key(
        "round", "Its number, the pick-up round being 1.", "round: 15"
    )
    hand: Annotated[Pin, kinds.pin(6, 400)] | None = _key(
        "hand stitches", "Stitches of the hand after it.", "hand stitches: 36"
    )


class PhaseKeys(Group):
    """A phase of the crown: has either `sides` or `evenly`."""

    model_config = ConfigDict(
        json_schema_extra={"oneOf": [{"required": ["sides"]}, {"required": ["evenly"]}]}
    )

    sides: Annotated[Pin, kinds.pin(0, 100, fitted=True)] | None = _key(
        "sides", "Rounds with a decrease at each side.", "sides: fitted"
    )
    evenly: Annotated[Pin, kinds.pin(0, 100, fitted=True)] | None = _key(
        "evenly", "Rounds with decreases evenly spaced.", "evenly: 3"
    )
    decreases: Annotated[int, kinds.count(1, 60)] | None = _key(
        "decreases", "With `evenly`: decreases in a round.", "decreases: 4"
    )
    plain_after: Annotated[int, kinds.count(0, 20)] | None = _key(
        "plain after", "Plain rounds after each. Else 0.", "plain after: 1"
    )


class CrownKeys(Group):
    """The crown, ended by sc2tog all round."""

    phases: Annotated[list[PhaseKeys], Field(min_length=1, max_length=12)] | None = _key(
        "phases",
        "Its phases in order. Else sides with a plain round after each, then 4 evenly.",
        "phases: [{sides: 2, plain after: 1}, {evenly: fitted, decreases: 4}]",
    )
    plain_before: Annotated[Pin, kinds.pin(0, 200)] | None = _key(
        "plain before", "Plain rounds from the division to the crown.", "plain before: 12"
    )
    before_closing: Annotated[Pin, kinds.pin(4, 400)] | None = _key(
        "before closing", "Stitches that its phases leave.", "before closing: 20"
    )
    last: Annotated[Pin, kinds.pin(4, 6)] | None = _key(
        "last", "Stitches that are drawn shut.", "last: 5"
    )
    style: Annotated[str, kinds.choice("closed", "open")] | None = _key(
        "style", "Drawn shut, or open with an edging: fingerless. Else closed.", "style: open"
    )
    reach: Annotated[Fraction, kinds.share(25, 100)] | None = _key(
        "reach",
        "With `style: open`: how much of the hand's length is covered. Else the palm.",
        "reach: 65 %",
    )
    edging: Annotated[Pin, kinds.pin(1, 20)] | None = _key(
        "edging", "With `style: open`: rounds of edging; one where nothing is said.", "edging: 2"
    )
    follow_lean: Annotated[bool, kinds.YES_NO] | None = _key(
        "follow lean",
        "Whether the sides move with the lean of the stitches, to stay over the thumb. Else no.",
        "follow lean: yes",
    )


class ThumbKeys(Group):
    """The thumb."""

    style: Annotated[str, kinds.choice("closed", "open", "none")] | None = _key(
        "style",
        "Drawn shut, open with an edging, or none: no gusset either. Else closed.",
        "style: open",
    )
    stitches: Annotated[Pin, kinds.pin(4, 200)] | None = _key(
        "stitches", "Stitches that its first round finds, the crook's among them.", "stitches: 15"
    )
    crook_decreases: Annotated[Pin, kinds.pin(0, 60)] | None = _key(
        "crook decreases", "First rounds with one decrease at the crook.", "crook decreases: 2"
    )
    plain_after: Annotated[Pin, kinds.pin(0, 100)] | None = _key(
        "plain after", "Plain rounds after these.", "plain after: 2"
    )
    side_decreases: Annotated[Pin, kinds.pin(0, 60)] | None = _key(
        "side decreases",
        "Rounds with a decrease at the crook and one at the outer side, a plain one after each. "
        "None unless pinned.",
        "side decreases: 2",
    )
    rounds_to_length: Annotated[Pin, kinds.pin(0, 200)] | None = _key(
        "rounds to length", "Plain rounds up to the tip.", "rounds to length: {S: 3, M: 4}"
    )
    before_closing: Annotated[Pin, kinds.pin(4, 200)] | None = _key(
        "before closing", "Stitches left before it is drawn in.", "before closing: 9"
    )
    last: Annotated[Pin, kinds.pin(4, 6)] | None = _key(
        "last", "Stitches that are drawn shut.", "last: 6"
    )
    reach: Annotated[Fraction, kinds.share(0, 100)] | None = _key(
        "reach",
        "With `style: open`: how much of the free thumb is covered. Else 50 %.",
        "reach: 60 %",
    )
    edging: Annotated[Pin, kinds.pin(1, 20)] | None = _key(
        "edging", "With `style: open`: rounds of edging; one where nothing is said.", "edging: 2"
    )


class StripesKeys(Group):
    """The stripes of the hand. Without them the first yarn is used throughout."""

    plan: Plan = _needed("plan", "Rounds of each yarn, from the anchor.", "plan: [A: 4, B: 2]")
    repeat: Annotated[bool, kinds.YES_NO] | None = _key(
        "repeat", "Whether it begins again; else the last stripe goes on. Else yes.", "repeat: no"
    )
    anchor: Annotated[str, kinds.choice("cuff", "crook", "tip")] | None = _key(
        "anchor",
        "Where it begins: at the pick-up round upwards, at the division upwards (below it the plan "
        "runs on backwards), or at the last round downwards. Else cuff.",
        "anchor: crook",
    )
    thumb: Annotated[str, kinds.THUMB_YARN] | None = _key(
        "thumb", "Match the hand at the same height, or one yarn. Else match.", "thumb: B"
    )
    plans: (
        Annotated[dict[Annotated[str, kinds.DECLARED_SIZE], Plan], Field(min_length=1)] | None
    ) = _key(
        "by size",
        "Plans of their own for some sizes.",
        "by size: {S: [A: 3, B: 2]}",
    )
    carry: Annotated[int, kinds.count(0, 60)] | None = _key(
        "carry",
        "Rounds that a yarn may rest and still be carried inside; longer, it is cut. In turned "
        "rows it is carried over an even number only. Else 4.",
        "carry: 6",
    )


class SwatchKeys(Group):
    """A swatch of the hand's stitch, measured for the yarn that it used."""

    stitches: Annotated[int, kinds.count(4, 400)] = _needed(
        "stitches", "Stitches across it.", "stitches: 20"
    )
    rounds: Annotated[int, kinds.count(2, 400)] = _needed(
        "rounds", "Rounds or rows up it.", "rounds: 22"
    )
    used: Annotated[tuple[Fraction, str], kinds.AMOUNT] = _needed(
        "used", "The yarn in it, ravelled and measured, or weighed: the first yarn.", "used: 29 m"
    )


class SpecificationKeys(Group):
    """A mitten pattern: what is drawn, for whom, from what."""

    pattern: Annotated[str, kinds.line(120)] = _needed("pattern", "The title.", "pattern: Skerry")
    credit: Annotated[str, kinds.words(400)] | None = _key(
        "credit", "Who designed it.", "credit: Designed for the example"
    )
    copyright: Annotated[str, kinds.words(400)] | None = _key(
        "copyright", "The line of rights.", "copyright: All rights reserved"
    )
    caption: Annotated[str, kinds.words(600)] | None = _key(
        "caption", "A line under the drawings.", "caption: Worked in a spiral"
    )
    terms: Annotated[str, kinds.choice("US", "UK")] | None = _key(
        "terms", "The terms that words and drawings use. Else US.", "terms: UK"
    )
    style: Annotated[str, kinds.line(200)] | None = _key(
        "style", "The style sheet of the drawings. Else default.", "style: large-print"
    )
    gauge: GaugeKeys = _needed(
        "gauge",
        "The size of your stitches: a swatch in the stitch of the hand.",
        "gauge: {over: 10 cm, stitches: 18, rounds: 20}",
    )
    rib_gauge: RibGaugeKeys | None = _key(
        "rib gauge",
        "A swatch in the ribbing; needed for a ribbed cuff.",
        "rib gauge: {over: 10 cm, stitches: 17, rows: 20}",
    )
    yarns: Annotated[
        dict[Annotated[str, kinds.LETTER], YarnKeys], Field(min_length=1, max_length=12)
    ] = _needed(
        "yarns",
        "The yarns, each under a capital letter.",
        'yarns: {A: {name: slate, colour: "#44546a"}}',
    )
    sizes: Annotated[
        dict[Annotated[str, kinds.SIZE_NAME], SizeKeys], Field(min_length=1, max_length=24)
    ] = _needed(
        "sizes",
        "The sizes, each under its name, smallest first.",
        "sizes: {S: {hand circumference: 18 cm}, M: {hand circumference: 20 cm}}",
    )
    swatch: SwatchKeys | None = _key(
        "swatch",
        "What yarn a swatch used; else the yarn is a weak estimate.",
        "swatch: {stitches: 20, rounds: 22, used: 29 m}",
    )
    reserve: Annotated[Fraction, kinds.share(0, 100)] | None = _key(
        "reserve", "Yarn over what is worked. Else 10 %.", "reserve: 15 %"
    )
    ease: EaseKeys | None = _key(
        "ease", "What the mitten has more than the hand.", "ease: {hand: 1 cm}"
    )
    cuff: CuffKeys | None = _key("cuff", "The cuff.", "cuff: {depth: 6 cm}")
    lower_hand: LowerHandKeys | None = _key(
        "lower hand", "From the pick-up round to the gusset.", "lower hand: {pick up: 30}"
    )
    gusset: GussetKeys | None = _key("gusset", "The thumb gusset.", "gusset: {growth: alternating}")
    division: DivisionKeys | None = _key(
        "division", "The round that sets the thumb aside.", "division: {bridge: join, pairs: 2}"
    )
    crown: CrownKeys | None = _key("crown", "The crown.", "crown: {last: 5}")
    thumb: ThumbKeys | None = _key("thumb", "The thumb.", "thumb: {last: 6}")
    stripes: StripesKeys | None = _key(
        "stripes", "The stripes of the hand.", "stripes: {plan: [A: 4, B: 2]}"
    )
