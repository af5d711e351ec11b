"""Hand-typed open and thumbless mittens that obey the laws, and every law of theirs broken."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from grading.notation import changed, mitten, row
from grading.typed import marked

from gussetry.grading.laws import check_map, check_sizes
from gussetry.grading.laws_sizes import named_counts
from gussetry.stitchmap import Piece, StitchMap

CUFF = Piece("cuff", "rounds", (row(0, "foundation", 1, "ch *9"), row(1, "cuff", 1, "sc c0-8")))


def fingerless() -> StitchMap:
    """Nine picked up, six held, two chained; both ends open, the hand with two rounds of edging."""
    side = (("thumb side", 5),)
    hand = (
        row(1, "pick-up", 1, "sc t0-8"),
        row(2, "gusset", 1, "sc 0-3, inc 4, sc 5-8"),
        row(3, "gusset", 2, "sc 0-3, inc 4-5, sc 6-9", markers=marked(4, 7)),
        row(4, "gusset", 3, "sc 0-3, inc 4, sc 5-6, inc 7, sc 8-11", markers=marked(4, 9)),
        row(5, "division", 1, "sc 0-3, held sc 4-9, ch *2, sc 10-13", markers=side),
        row(6, "hand", 1, "sc 0-9", markers=side),
        row(7, "edging", 1, "sc 0-9"),
        row(8, "edging", 2, "sc 0-9"),
    )
    thumb = (
        row(1, "thumb crook", 1, "sc2tog k0+k1, sc h0-5"),
        row(2, "thumb even", 1, "sc 0-6"),
        row(3, "edging", 1, "sc 0-6"),
    )
    return mitten(CUFF, Piece("hand", "rounds", hand), Piece("thumb", "rounds", thumb))


def thumbless() -> StitchMap:
    """Nine picked up, two increases at the outer edge, sides of a crown half-way round."""
    hand = (
        row(1, "pick-up", 1, "sc t0-8"),
        row(2, "outer edge", 1, "inc 0, sc 1-8"),
        row(3, "outer edge", 2, "inc 0, sc 1-9"),
        row(4, "hand", 1, "sc 0-10"),
        row(
            5, "crown sides", 1, "sc2tog 0+1, sc 2-4, sc2tog 5+6, sc 7-10",
            markers=(("half-way point", 4),),
        ),
        row(6, "crown sides", 2, "sc 0-8", markers=(("half-way point", 4),)),
        row(7, "close", 1, "sc2tog 0+1, sc2tog 2+3, sc2tog 4+5, sc2tog 6+7, sc 8"),
        row(8, "draw shut", 1, "close 0+1+2+3+4"),
    )  # fmt: skip
    return mitten(CUFF, Piece("hand", "rounds", hand))


@pytest.mark.parametrize("obeying", [fingerless(), thumbless()], ids=["open", "thumbless"])
def test_an_open_and_a_thumbless_mitten_that_obey_are_found_faultless(obeying: StitchMap) -> None:
    assert check_map(obeying, "inside") == ()
    assert check_sizes([obeying, obeying]) == ()


def test_one_end_may_be_open_and_the_other_drawn_shut() -> None:
    shut = (
        *fingerless().pieces[2].rounds[:2],
        row(3, "close", 1, "sc2tog 0+1, sc2tog 2+3, sc2tog 4+5, sc 6"),
        row(4, "draw shut", 1, "close 0+1+2+3"),
    )
    cuff, hand, thumb = fingerless().pieces
    assert check_map(mitten(cuff, hand, replace(thumb, rounds=shut)), "inside") == ()


def test_the_edging_may_be_all_of_the_thumb() -> None:
    cuff, hand, thumb = fingerless().pieces
    only = replace(thumb, rounds=(row(1, "edging", 1, "sc k0-1, sc h0-5"),))
    assert check_map(mitten(cuff, hand, only), "inside") == ()
    chained = replace(thumb, rounds=(row(1, "edging", 1, "skip k1, sc k0, sc h0-5"),))
    assert check_map(mitten(cuff, hand, chained), "inside") == ()


Breaking = Callable[[StitchMap], StitchMap]


def hand_round(number: int, /, **changes: object) -> Breaking:
    return lambda stitches: changed(stitches, "hand", number, **changes)


def added(piece: str, *rounds: object) -> Breaking:
    """More rounds at the end of a piece."""

    def break_(stitches: StitchMap) -> StitchMap:
        pieces = tuple(
            replace(p, rounds=(*p.rounds, *rounds)) if p.piece == piece else p
            for p in stitches.pieces
        )
        return replace(stitches, pieces=pieces)

    return break_


def cut(piece: str, rounds: int) -> Breaking:
    """The last rounds of a piece left out."""

    def break_(stitches: StitchMap) -> StitchMap:
        pieces = tuple(
            replace(p, rounds=p.rounds[:-rounds]) if p.piece == piece else p
            for p in stitches.pieces
        )
        return replace(stitches, pieces=pieces)

    return break_


OPEN: list[tuple[str, str, Breaking]] = [
    ("hand not ended", "law-ends", cut("hand", 2)),
    ("thumb not ended", "law-ends", cut("thumb", 1)),
    ("rounds after the edging", "law-edging", added("hand", row(9, "hand", 2, "sc 0-9"))),
    (
        "an edging drawn shut",
        "law-edging",
        added("thumb", row(4, "draw shut", 1, "close 0+1+2+3+4+5+6")),
    ),
    ("an edging that narrows", "law-edging", hand_round(8, work="sc 0-7, sc2tog 8+9", count=9)),
    ("an edging in another stitch", "law-edging", hand_round(8, work="hdc 0-9")),
    (
        "an edging on a crown",
        "law-edging",
        hand_round(6, phase="crown even", work="sc2tog 0+1, sc 2-9", count=9),
    ),
    ("a cuff with an edging", "law-edging", added("cuff", row(2, "edging", 1, "sc 0-8"))),
    ("an edging's stitch left out", "law-tops", hand_round(8, work="sc 0-8", count=9)),
    ("an edging miscounted", "law-counts", hand_round(8, count=9)),
    ("edging steps out of order", "law-rounds", hand_round(8, step=1)),
    ("half-way beside a thumb", "law-sides", hand_round(6, markers=(("half-way point", 5),))),
]
THUMBLESS: list[tuple[str, str, Breaking]] = [
    ("not drawn shut", "law-ends", cut("hand", 1)),
    ("a gusset without a thumb", "law-thumb", hand_round(3, phase="gusset")),
    ("a division without a thumb", "law-thumb", hand_round(4, phase="division")),
    ("stitches set aside for nobody", "law-held", hand_round(4, work="sc 0-9, held sc 10")),
    ("marker off half-way", "law-sides", hand_round(6, markers=(("half-way point", 3),))),
    (
        "second side late",
        "law-sides",
        hand_round(5, work="sc2tog 0+1, sc 2-5, sc2tog 6+7, sc 8-10"),
    ),
    (
        "first side late",
        "law-sides",
        hand_round(5, work="sc 0, sc2tog 1+2, sc 3-4, sc2tog 5+6, sc 7-10"),
    ),
    ("one side alone", "law-sides", hand_round(5, work="sc2tog 0+1, sc 2-10", count=10)),
]


@pytest.mark.parametrize(
    ("whole", "code", "breaking"),
    [(fingerless, c, b) for _, c, b in OPEN] + [(thumbless, c, b) for _, c, b in THUMBLESS],
    ids=[name for name, _, _ in (*OPEN, *THUMBLESS)],
)
def test_a_law_of_the_ends_broken_on_purpose_is_found(
    whole: Callable[[], StitchMap], code: str, breaking: Breaking
) -> None:
    spoilt = breaking(whole())
    assert spoilt != whole()
    assert code in {problem.code for problem in check_map(spoilt)}


def test_the_named_counts_of_an_open_and_a_thumbless_mitten() -> None:
    assert named_counts(fingerless()) == {
        "stitches of the cuff": 9,
        "rounds of the cuff": 1,
        "pick-up": 9,
        "between the markers": 4,
        "hand": 10,
        "rounds to the division": 5,
        "edging start": 10,
        "rounds of the hand": 8,
        "thumb": 8,
        "rounds of the thumb": 3,
    }
    assert named_counts(thumbless()) == {
        "stitches of the cuff": 9,
        "rounds of the cuff": 1,
        "pick-up": 9,
        "hand": 11,
        "crown start": 11,
        "rounds of the hand": 7,
    }


def test_a_thumbless_hand_that_gets_narrower_is_found() -> None:
    wider = changed(thumbless(), "hand", 4, count=12)
    found = [p.message for p in check_sizes([wider, thumbless()])]
    assert any(message.startswith("hand: 12 in size M, but only 11") for message in found)


def test_sizes_that_do_not_end_alike_are_found() -> None:
    cuff, hand, thumb = fingerless().pieces
    shut = (
        *hand.rounds[:6],
        row(7, "close", 1, "sc2tog 0+1, sc2tog 2+3, sc2tog 4+5, sc2tog 6+7, sc2tog 8+9"),
        row(8, "draw shut", 1, "close 0+1+2+3+4"),
    )
    closed = mitten(cuff, replace(hand, rounds=shut), thumb, size="L")
    assert "law-phases" in {p.code for p in check_sizes([fingerless(), closed])}
    assert "law-phases" in {p.code for p in check_sizes([thumbless(), fingerless()])}
