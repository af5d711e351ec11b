"""The specification as it is written: every key, its kind, what it says, and an example.

The one definition behind the reader, the JSON Schema and the table of keys.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, TypeAlias

from pydantic import ConfigDict, Field

from gussetry.read import kinds
from gussetry.read.given import (
    EaseKeys,
    GaugeKeys,
    Group,
    RibGaugeKeys,
    SizeKeys,
    SwatchKeys,
    YarnKeys,
    key,
    needed,
)

Pin: TypeAlias = dict[str, int]

StripeKeys: TypeAlias = Annotated[
    dict[Annotated[str, kinds.YARN], Annotated[int, kinds.count(1, 300)]],
    Field(min_length=1, max_length=1),
]
Plan: TypeAlias = Annotated[list[StripeKeys], Field(min_length=1, max_length=200)]


class CuffKeys(Group):
    """The cuff."""

    style: Annotated[str, kinds.choice("ribbed", "post", "round", "none")] | None = key(
        "style",
        "Ribbed sideways in turned rows, ribbed round in post stitches, worked round in plain "
        "rounds, or none. Else ribbed.",
        "style: round",
    )
    depth: Annotated[Fraction, kinds.length(10, 300)] | None = key(
        "depth", "How tall it is. Else a third of the hand's length.", "depth: 6 cm"
    )
    rows: Annotated[Pin, kinds.pin(4, 300)] | None = key(
        "rows", "Rows of a ribbed cuff, way round the wrist.", "rows: {S: 28, M: 30}"
    )
    stitches: Annotated[Pin, kinds.pin(1, 200)] | None = key(
        "stitches", "Stitches of a row of a ribbed cuff.", "stitches: 11"
    )
    rounds: Annotated[Pin, kinds.pin(1, 300)] | None = key(
        "rounds", "Rounds of a cuff worked round (post or round).", "rounds: 12"
    )
    parity: Annotated[str, kinds.choice("even", "odd", "any")] | None = key(
        "row parity",
        "Whether the rows of a ribbed cuff come out even or odd. Else even, whole ribs.",
        "row parity: any",
    )
    seam_counts: Annotated[bool, kinds.YES_NO] | None = key(
        "seam counts",
        "Whether the seam is one more row end to pick up from. Else no.",
        "seam counts: yes",
    )
    above_crease: Annotated[Fraction, kinds.length(-60, 100)] | None = key(
        "above crease",
        "How far the cuff's upper edge lies above the wrist crease. Else 0 cm.",
        "above crease: 1 cm",
    )
    yarn: Annotated[str, kinds.YARN] | None = key(
        "yarn", "The yarn of a plain cuff. Else the first stripe's.", "yarn: A"
    )
    stripes: Plan | None = key(
        "stripes", "Stripes of the cuff, in rows or rounds.", "stripes: [A: 2, B: 2]"
    )


class LowerHandKeys(Group):
    """From the pick-up round to the gusset."""

    pick_up: Annotated[Pin, kinds.pin(6, 400)] | None = key(
        "pick up", "Stitches of the pick-up round.", "pick up: 30"
    )
    increases: Annotated[Pin, kinds.pin(0, 100)] | None = key(
        "increases", "Increases at the outer edge, one a round.", "increases: {S: 1, M: 2}"
    )
    rounds: Annotated[Pin, kinds.pin(1, 200)] | None = key(
        "rounds", "Rounds before the gusset opens, with the pick-up round.", "rounds: 3"
    )
    joined: Annotated[bool, kinds.YES_NO] | None = key(
        "joined",
        "Whether each round is joined with a slip stitch and a chain. Else no, a spiral.",
        "joined: yes",
    )


class GussetKeys(Group):
    """The thumb gusset."""

    growth: Annotated[str, kinds.choice("inside", "first", "second", "alternating")] | None = key(
        "growth",
        "Where the markers go: `inside`, both new stitches for the thumb; `first` or "
        "`second`, one for the thumb and one for the hand, always on that side; "
        "`alternating`, the two by turns. Else inside.",
        "growth: alternating",
    )
    every: Annotated[int, kinds.count(1, 10)] | None = key(
        "every", "One increase round in so many rounds. Else 1.", "every: 2"
    )
    between_markers: Annotated[Pin, kinds.pin(0, 150)] | None = key(
        "between markers", "Stitches between the markers, fully grown.", "between markers: 11"
    )
    towards_palm: Annotated[int, kinds.count(0, 20)] | None = key(
        "towards palm",
        "Stitches by which the thumb stands nearer to the palm; left and right then differ. "
        "Else 0.",
        "towards palm: 2",
    )


class DivisionKeys(Group):
    """The round that sets the thumb's stitches aside."""

    bridge: Annotated[str, kinds.choice("join", "chain", "none")] | None = key(
        "bridge",
        "How the gap is closed. Else chain, or join where pairs are pinned.",
        "bridge: chain",
    )
    pairs: Annotated[Pin, kinds.pin(1, 40)] | None = key(
        "pairs", "Pairs of hand stitches joined over the gap.", "pairs: 2"
    )
    chains: Annotated[Pin, kinds.pin(1, 60)] | None = key(
        "chains", "Chains made over the gap.", "chains: {S: 2, M: 3}"
    )
    with_marked: Annotated[bool, kinds.YES_NO] | None = key(
        "with marked", "Whether the marked stitches go to the thumb. Else yes.", "with marked: no"
    )
    worked_again: Annotated[bool, kinds.YES_NO] | None = key(
        "worked again",
        "Whether the thumb's stitches are worked once more in this round. Else yes.",
        "worked again: no",
    )
    crook: Annotated[Pin, kinds.pin(0, 60)] | None = key(
        "crook stitches", "Stitches that the crook gives to the thumb.", "crook stitches: 2"
    )
    round: Annotated[Pin, kinds.pin(2, 300)] | None = key(
        "round", "Its number, the pick-up round being 1.", "round: 15"
    )
    hand: Annotated[Pin, kinds.pin(6, 400)] | None = key(
        "hand stitches", "Stitches of the hand after it.", "hand stitches: 36"
    )


class PhaseKeys(Group):
    """A phase of the crown: has either `sides` or `evenly`."""

    model_config = ConfigDict(
        json_schema_extra={"oneOf": [{"required": ["sides"]}, {"required": ["evenly"]}]}
    )

    sides: Annotated[Pin, kinds.pin(0, 100, fitted=True)] | None = key(
        "sides", "Rounds with a decrease at each side.", "sides: fitted"
    )
    evenly: Annotated[Pin, kinds.pin(0, 100, fitted=True)] | None = key(
        "evenly", "Rounds with decreases evenly spaced.", "evenly: 3"
    )
    decreases: Annotated[int, kinds.count(1, 60)] | None = key(
        "decreases", "With `evenly`: decreases in a round.", "decreases: 4"
    )
    plain_after: Annotated[int, kinds.count(0, 20)] | None = key(
        "plain after", "Plain rounds after each. Else 0.", "plain after: 1"
    )


class CrownKeys(Group):
    """The crown, ended by sc2tog all round."""

    phases: Annotated[list[PhaseKeys], Field(min_length=1, max_length=12)] | None = key(
        "phases",
        "Its phases in order. Else sides with a plain round after each, then 4 evenly.",
        "phases: [{sides: 2, plain after: 1}, {evenly: fitted, decreases: 4}]",
    )
    plain_before: Annotated[Pin, kinds.pin(0, 200)] | None = key(
        "plain before", "Plain rounds from the division to the crown.", "plain before: 12"
    )
    before_closing: Annotated[Pin, kinds.pin(4, 400)] | None = key(
        "before closing", "Stitches that its phases leave.", "before closing: 20"
    )
    last: Annotated[Pin, kinds.pin(4, 6)] | None = key(
        "last", "Stitches that are drawn shut.", "last: 5"
    )
    style: Annotated[str, kinds.choice("closed", "open")] | None = key(
        "style", "Drawn shut, or open with an edging: fingerless. Else closed.", "style: open"
    )
    reach: Annotated[Fraction, kinds.share(25, 100)] | None = key(
        "reach",
        "With `style: open`: how much of the hand's length is covered. Else the palm.",
        "reach: 65 %",
    )
    edging: Annotated[Pin, kinds.pin(1, 20)] | None = key(
        "edging", "With `style: open`: rounds of edging; one where nothing is said.", "edging: 2"
    )
    follow_lean: Annotated[bool, kinds.YES_NO] | None = key(
        "follow lean",
        "Whether the sides move with the lean of the stitches, to stay over the thumb. Else no.",
        "follow lean: yes",
    )


class ThumbKeys(Group):
    """The thumb."""

    style: Annotated[str, kinds.choice("closed", "open", "none")] | None = key(
        "style",
        "Drawn shut, open with an edging, or none: no gusset either. Else closed.",
        "style: open",
    )
    stitches: Annotated[Pin, kinds.pin(4, 200)] | None = key(
        "stitches", "Stitches that its first round finds, the crook's among them.", "stitches: 15"
    )
    crook_decreases: Annotated[Pin, kinds.pin(0, 60)] | None = key(
        "crook decreases", "First rounds with one decrease at the crook.", "crook decreases: 2"
    )
    plain_after: Annotated[Pin, kinds.pin(0, 100)] | None = key(
        "plain after", "Plain rounds after these.", "plain after: 2"
    )
    side_decreases: Annotated[Pin, kinds.pin(0, 60)] | None = key(
        "side decreases",
        "Rounds with a decrease at the crook and one at the outer side, a plain one after each. "
        "None unless pinned.",
        "side decreases: 2",
    )
    rounds_to_length: Annotated[Pin, kinds.pin(0, 200)] | None = key(
        "rounds to length", "Plain rounds up to the tip.", "rounds to length: {S: 3, M: 4}"
    )
    before_closing: Annotated[Pin, kinds.pin(4, 200)] | None = key(
        "before closing", "Stitches left before it is drawn in.", "before closing: 9"
    )
    last: Annotated[Pin, kinds.pin(4, 6)] | None = key(
        "last", "Stitches that are drawn shut.", "last: 6"
    )
    reach: Annotated[Fraction, kinds.share(0, 100)] | None = key(
        "reach",
        "With `style: open`: how much of the free thumb is covered. Else 50 %.",
        "reach: 60 %",
    )
    edging: Annotated[Pin, kinds.pin(1, 20)] | None = key(
        "edging", "With `style: open`: rounds of edging; one where nothing is said.", "edging: 2"
    )


class StripesKeys(Group):
    """The stripes of the hand. Without them the first yarn is used throughout."""

    plan: Plan = needed("plan", "Rounds of each yarn, from the anchor.", "plan: [A: 4, B: 2]")
    repeat: Annotated[bool, kinds.YES_NO] | None = key(
        "repeat", "Whether it begins again; else the last stripe goes on. Else yes.", "repeat: no"
    )
    anchor: Annotated[str, kinds.choice("cuff", "crook", "tip")] | None = key(
        "anchor",
        "Where it begins: at the pick-up round upwards, at the division upwards (below it the plan "
        "runs on backwards), or at the last round downwards. Else cuff.",
        "anchor: crook",
    )
    thumb: Annotated[str, kinds.THUMB_YARN] | None = key(
        "thumb", "Match the hand at the same height, or one yarn. Else match.", "thumb: B"
    )
    plans: (
        Annotated[dict[Annotated[str, kinds.DECLARED_SIZE], Plan], Field(min_length=1)] | None
    ) = key(
        "by size",
        "Plans of their own for some sizes.",
        "by size: {S: [A: 3, B: 2]}",
    )
    carry: Annotated[int, kinds.count(0, 60)] | None = key(
        "carry",
        "Rounds that a yarn may rest and still be carried inside; longer, it is cut. In turned "
        "rows it is carried over an even number only. Else 4.",
        "carry: 6",
    )


class ChartsKeys(Group):
    """The stitch charts."""

    sizes: Annotated[str, kinds.choice("apart", "together", "both")] | None = key(
        "sizes",
        "One chart a size, one for several sizes where their rounds allow it, or both; left out, "
        "as the style has it.",
        "sizes: both",
    )
    hand: Annotated[str, kinds.choice("right", "left", "both")] | None = key(
        "hand", "For which hand; left out, as the style has it.", "hand: both"
    )


class PagesKeys(Group):
    """Finished pages for print."""

    paper: Annotated[str, kinds.choice("A4", "Letter", "both")] | None = key(
        "paper", "The paper that pages are made for. Else both.", "paper: A4"
    )
    sets: Annotated[str, kinds.choice("each", "all")] | None = key(
        "sets",
        "Pages for each size by itself, or one set for all sizes, which then share charts. Else "
        "each.",
        "sets: all",
    )


class SpecificationKeys(Group):
    """A mitten pattern: what is drawn, for whom, from what."""

    pattern: Annotated[str, kinds.line(120)] = needed("pattern", "The title.", "pattern: Skerry")
    credit: Annotated[str, kinds.words(400)] | None = key(
        "credit", "Who designed it.", "credit: Designed for the example"
    )
    copyright: Annotated[str, kinds.words(400)] | None = key(
        "copyright", "The line of rights.", "copyright: All rights reserved"
    )
    caption: Annotated[str, kinds.words(600)] | None = key(
        "caption", "A line under the drawings.", "caption: Worked in a spiral"
    )
    terms: Annotated[str, kinds.choice("US", "UK")] | None = key(
        "terms", "The terms that words and drawings use. Else US.", "terms: UK"
    )
    style: Annotated[str, kinds.line(200)] | None = key(
        "style", "The style sheet of the drawings. Else default.", "style: large-print"
    )
    charts: ChartsKeys | None = key(
        "charts", "Which stitch charts are drawn.", "charts: {sizes: both, hand: left}"
    )
    pages: PagesKeys | None = key(
        "pages", "Finished pages are made too.", "pages: {paper: both, sets: each}"
    )
    gauge: GaugeKeys = needed(
        "gauge",
        "The size of your stitches: a swatch in the stitch of the hand.",
        "gauge: {over: 10 cm, stitches: 18, rounds: 20}",
    )
    rib_gauge: RibGaugeKeys | None = key(
        "rib gauge",
        "A swatch in the ribbing; needed for a ribbed cuff.",
        "rib gauge: {over: 10 cm, stitches: 17, rows: 20}",
    )
    yarns: Annotated[
        dict[Annotated[str, kinds.LETTER], YarnKeys], Field(min_length=1, max_length=12)
    ] = needed(
        "yarns",
        "The yarns, each under a capital letter.",
        'yarns: {A: {name: slate, colour: "#44546a"}}',
    )
    sizes: Annotated[
        dict[Annotated[str, kinds.SIZE_NAME], SizeKeys], Field(min_length=1, max_length=24)
    ] = needed(
        "sizes",
        "The sizes, each under its name, smallest first.",
        "sizes: {S: {hand circumference: 18 cm}, M: {hand circumference: 20 cm}}",
    )
    swatch: SwatchKeys | None = key(
        "swatch",
        "What yarn a swatch used; else the yarn is a weak estimate.",
        "swatch: {stitches: 20, rounds: 22, used: 29 m}",
    )
    reserve: Annotated[Fraction, kinds.share(0, 100)] | None = key(
        "reserve", "Yarn over what is worked. Else 10 %.", "reserve: 15 %"
    )
    ease: EaseKeys | None = key(
        "ease", "What the mitten has more than the hand.", "ease: {hand: 1 cm}"
    )
    cuff: CuffKeys | None = key("cuff", "The cuff.", "cuff: {depth: 6 cm}")
    lower_hand: LowerHandKeys | None = key(
        "lower hand", "From the pick-up round to the gusset.", "lower hand: {pick up: 30}"
    )
    gusset: GussetKeys | None = key("gusset", "The thumb gusset.", "gusset: {growth: alternating}")
    division: DivisionKeys | None = key(
        "division", "The round that sets the thumb aside.", "division: {bridge: join, pairs: 2}"
    )
    crown: CrownKeys | None = key("crown", "The crown.", "crown: {last: 5}")
    thumb: ThumbKeys | None = key("thumb", "The thumb.", "thumb: {last: 6}")
    stripes: StripesKeys | None = key(
        "stripes", "The stripes of the hand.", "stripes: {plan: [A: 4, B: 2]}"
    )
