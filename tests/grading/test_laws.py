"""Hand-typed mittens that obey the counting laws, and every law broken on purpose."""

import pytest
from grading.notation import changed
from grading.typed import (
    Breaking,
    chained,
    cuff_round,
    finishing,
    hand_round,
    joined_pair,
    marked,
    thumb_round,
    without,
)

from gussetry.grading.laws import (
    check_map,
)
from gussetry.stitchmap import StitchMap


@pytest.mark.parametrize("obeying", [joined_pair(), chained()], ids=["joined", "chained"])
def test_a_mitten_that_obeys_is_found_faultless(obeying: StitchMap) -> None:
    assert check_map(obeying, "inside") == ()


TOPS = "law-tops"

BROKEN: list[tuple[str, str, Breaking]] = [
    ("unknown kind", "law-kinds", hand_round(8, work="sc 0-8, bobble 9")),
    ("a decrease over one", "law-kinds", hand_round(8, work="sc 0-8, sc2tog 9")),
    ("an increase over two", "law-kinds", hand_round(8, work="sc 0-7, inc 8+9")),
    ("a stitch that does not count", "law-kinds", hand_round(8, work="sc 0-8, loose sc 9")),
    ("a held hold", "law-kinds", hand_round(8, work="sc 0-8, held hold 9")),
    ("a join onto nothing", "law-kinds", hand_round(8, work="sc 0-8, join 9")),
    ("a slip stitch into two", "law-kinds", hand_round(8, work="sc 0-7, slst 8+9")),
    ("a joining slip stitch that uses", "law-kinds", hand_round(8, work="sc 0-9, loose slst >0")),
    ("count too high", "law-counts", hand_round(8, count=11)),
    ("count too low", "law-counts", cuff_round(3, count=1)),
    ("held stitch counted", "law-counts", hand_round(7, count=16)),
    ("used-up stitch beyond the round", "law-counts", hand_round(8, work="sc 0-8, join 9 >12")),
    (
        "stitch used up twice",
        "law-counts",
        hand_round(7, work="sc 0-5, held sc 6-11, join 12-13 >5, sc 14-17", count=9),
    ),
    (
        "held stitch used up",
        "law-counts",
        hand_round(7, work="sc 0-5, held sc 6-11, join 12 >6, sc 13-17", count=10),
    ),
    ("stitch left out", TOPS, hand_round(8, work="sc 0-4, sc 6-9", count=9)),
    ("last stitch left out", TOPS, hand_round(8, work="sc 0-8", count=9)),
    ("stitch worked twice", TOPS, hand_round(8, work="sc 0-4, sc 4-9", count=11)),
    ("stitch that is not there", TOPS, hand_round(8, work="sc 0-10", count=11)),
    ("stitch before the first", TOPS, hand_round(8, work="sc 0-8, sc2tog 9+-1")),
    ("order turned", TOPS, hand_round(8, work="sc 9-0")),
    ("two stitches swapped", TOPS, hand_round(8, work="sc 0-3, sc 5, sc 4, sc 6-9")),
    ("row not turned", TOPS, cuff_round(4, work="loose ch, sc 0-1")),
    ("not all drawn shut", TOPS, hand_round(13, work="close 0+1+2")),
    ("row end missed", "law-places", hand_round(1, work="sc r0-10, sc s0")),
    ("row end that is not there", "law-places", hand_round(1, work="sc r0-12")),
    ("row end used three times", "law-places", hand_round(1, work="sc r0, sc r0, sc r0-11")),
    ("row ends out of order", "law-places", hand_round(1, work="sc r1, sc r0, sc r2-11")),
    ("seam used twice", "law-places", hand_round(1, work="sc s0, sc r0-11, sc s0")),
    ("chain missed", "law-places", cuff_round(1, work="loose ch, sc c1")),
    ("chain worked the wrong way", "law-places", cuff_round(1, work="loose ch, sc c0-1")),
    ("underside missed", "law-places", cuff_round(13, work="seam 1+u1, seam 0+u1")),
    ("a place of another piece", "law-places", hand_round(8, work="sc 0-9, sc h0", count=11)),
    ("a cuff's top where it has none", "law-places", hand_round(1, work="sc t0-11")),
    ("crook strand missed", "law-places", thumb_round(1, work="sc k1, sc h0-5")),
    ("crook strand used twice", "law-places", thumb_round(1, work="sc2tog k0+k0, sc h0-5")),
    ("held stitch missed", "law-places", thumb_round(1, work="sc2tog k0+k1, sc h0-4")),
    ("seam askew", "law-seam", cuff_round(13, work="seam 1+u0, seam 0+u1")),
    ("seam of two tops", "law-seam", cuff_round(13, work="seam 1+0, seam u0+u1")),
    ("held stitch not taken up", "law-held", thumb_round(1, work="sc2tog k0+k1, sc h0-4")),
    (
        "held stitches out of order",
        "law-held",
        thumb_round(1, work="sc2tog k0+k1, sc h1, sc h0, sc h2-5"),
    ),
    ("more taken up than held", "law-held", thumb_round(1, work="sc2tog k0+k1, sc h0-6")),
    ("crook last", "law-held", thumb_round(1, work="sc h0-5, sc2tog k0+k1")),
    ("no thumb", "law-held", without("thumb")),
    (
        "pairs that cross",
        "law-joins",
        hand_round(7, work="sc 0-5, held sc 6-11, join 12 >4, join 13 >5, sc 14-17"),
    ),
    (
        "pairs far from the gap",
        "law-joins",
        hand_round(7, work="sc 0-5, held sc 6-11, sc 12, join 13 >5, sc 14-17"),
    ),
    (
        "joined before the far one is made",
        "law-joins",
        hand_round(7, work="sc 0-4, held sc 6-11, join 12 >11, sc 5, sc 13-17"),
    ),
    ("a pair with no gap", "law-joins", hand_round(8, work="sc 0-3, join 4 >4, sc 5-9")),
    ("marker past the end", "law-markers", hand_round(8, markers=(("thumb side", 10),))),
    ("markers crossed", "law-markers", hand_round(6, markers=marked(11, 6))),
    ("markers on one stitch", "law-markers", hand_round(6, markers=marked(6, 6))),
    ("marker alone", "law-markers", hand_round(6, markers=marked(6, 11)[:1])),
    (
        "marker twice",
        "law-markers",
        hand_round(8, markers=(("thumb side", 4), ("thumb side", 5))),
    ),
    ("first marker strays", "law-gusset", hand_round(6, markers=marked(8, 11))),
    ("second marker strays", "law-gusset", hand_round(6, markers=marked(6, 12))),
    ("marker dropped", "law-gusset", hand_round(6, markers=())),
    (
        "growth in one marked stitch",
        "law-gusset",
        hand_round(6, work="sc 0-5, inc 6, sc 7-15", markers=marked(6, 10)),
    ),
    (
        "growth beside the marker",
        "law-gusset",
        hand_round(6, work="sc 0-5, inc 6, sc 7, inc 8, sc 9-15"),
    ),
    (
        "uneven gaps",
        "law-even",
        hand_round(11, work="sc2tog 0+1, sc 2, sc2tog 3+4, sc 5-7"),
    ),
    ("straddle", "law-even", hand_round(11, work="sc 1-3, sc2tog 4+5, sc 6, sc2tog 7+0")),
    ("odd stitch skipped", "law-even", thumb_round(3, work="sc2tog 0+1, sc2tog 2+3, skip 4-6")),
    (
        "decreases stacked",
        "law-stacked",
        hand_round(12, work="sc2tog 0+1, sc 2, sc2tog 3+4, sc 5"),
    ),
    (
        "stacked on the second stitch of the decrease",
        "law-stacked",
        hand_round(12, work="sc 0-1, sc2tog 2+3, sc 4, sc2tog 5+0"),
    ),
    ("ended on three", "law-ends", thumb_round(3, work="sc2tog 0+1, sc2tog 2+3, sc 4", count=3)),
    ("ended on seven", "law-ends", without("thumb", 3)),
    ("not drawn shut", "law-ends", without("hand", 13)),
    ("drawn shut by stitches", "law-ends", hand_round(13, work="close 0+1, close 2+3")),
    ("round number missing", "law-rounds", without("hand", 8)),
    ("round numbered twice", "law-rounds", hand_round(8, number=7)),
    ("foundation numbered", "law-rounds", cuff_round(0, number=1)),
    ("step twice", "law-rounds", hand_round(6, step=2)),
    ("phase twice", "law-rounds", hand_round(8, phase="lower hand")),
    ("yarn not declared", "law-yarns", hand_round(5, yarn="C")),
    ("finished with an undeclared yarn", "law-yarns", finishing("hand", 3, -1, "Z")),
    ("change not prepared", "law-finish", finishing("hand", 3, -1, None)),
    ("change prepared too early", "law-finish", finishing("hand", 3, 0, "B")),
    ("no change follows", "law-finish", finishing("hand", 8, -1, "B")),
    ("change to the wrong yarn", "law-finish", finishing("hand", 3, -1, "A")),
]  # fmt: skip


@pytest.mark.parametrize(
    ("code", "breaking"), [(c, b) for _, c, b in BROKEN], ids=[name for name, _, _ in BROKEN]
)
def test_a_law_broken_on_purpose_is_found(code: str, breaking: Breaking) -> None:
    whole = joined_pair()
    spoilt = breaking(whole)
    assert spoilt != whole
    assert code in {problem.code for problem in check_map(spoilt, "inside")}


def test_every_law_has_been_broken() -> None:
    elsewhere = {"law-crook", "law-halves", "law-edging", "law-sides", "law-thumb"}
    laws = {code for _, code, _ in BROKEN} | elsewhere
    assert laws == {
        "law-counts", "law-crook", "law-edging", "law-ends", "law-even", "law-finish",
        "law-gusset", "law-halves", "law-held", "law-joins", "law-kinds", "law-markers",
        "law-places", "law-rounds", "law-seam", "law-sides", "law-stacked", "law-thumb",
        "law-tops", "law-yarns",
    }  # fmt: skip


def test_a_finding_says_where_it_is() -> None:
    found = check_map(changed(joined_pair(), "hand", 8, count=11))
    assert found[0].message.startswith("size M, hand, round 8: the count is 11, but 10 made")
    found = check_map(changed(joined_pair(), "cuff", 3, count=1))
    assert found[0].message.startswith("size M, cuff, row 3: ")
