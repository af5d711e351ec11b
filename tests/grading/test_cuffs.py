"""Cuffs ribbed round in post stitches, and sideways in tall ones: by hand, by law, and graded."""

from dataclasses import replace
from fractions import Fraction

import pytest
from grading.notation import changed, mitten, ops, row
from grading.test_worked_example import spec as worked
from hypothesis import given, settings
from hypothesis import strategies as st

from gussetry.grading import grade
from gussetry.grading.cuffs import post_cuff, ribbed_cuff
from gussetry.grading.laws import check_kinds, check_map
from gussetry.grading.laws_posts import check_posts
from gussetry.spec import Cuff, Gauge, Size, Spec, Stitch, Stripe, Stripes, Yarn
from gussetry.stitchmap import Piece, StitchMap

RIB = Gauge("dc", Fraction(6), Fraction(10))
POST = Spec(
    pattern="Posts",
    gauge=Gauge("hdc", Fraction(100, 15), Fraction(100, 12)),
    yarns=(Yarn("A", "grey", "#777777"), Yarn("B", "blue", "#0033aa")),
    sizes=tuple(Size(name, Fraction(mm)) for name, mm in (("S", 180), ("M", 195), ("L", 210))),
    stripes=Stripes((Stripe("A", 2), Stripe("B", 1))),
    cuff=Cuff("post", RIB, yarn="B"),
)


def by_hand() -> Piece:
    """Six stitches, four rounds, in a spiral."""
    rib = "fpdc 0, bpdc 1, fpdc 2, bpdc 3, fpdc 4, bpdc 5"
    return Piece(
        "cuff",
        "rounds",
        (
            row(0, "foundation", 1, "ch *6, loose slst ~0"),
            row(1, "cuff", 1, "dc c0-5"),
            row(2, "ribbing", 1, rib),
            row(3, "ribbing", 2, rib),
            row(4, "ribbing", 3, rib),
        ),
    )


def bare(piece: Piece) -> Piece:
    """The piece without its yarns."""
    return replace(piece, rounds=tuple(replace(r, yarn="") for r in piece.rounds))


def test_a_post_cuff_is_what_a_hand_writes_down() -> None:
    assert post_cuff(6, 4, "dc", joined=False) == bare(by_hand())


def test_joined_rounds_are_lifted_and_closed() -> None:
    _, first, second = post_cuff(4, 2, "hdc", joined=True).rounds
    lift, close = "loose ch, loose ch", "loose slst ~0"
    assert first.work == ops(f"{lift}, hdc c0-3, {close}")
    assert second.work == ops(f"{lift}, fphdc 0, bphdc 1, fphdc 2, bphdc 3, {close}")
    assert (first.count, second.count) == (4, 4)


@settings(max_examples=40, derandomize=True)
@given(st.integers(1, 40), st.integers(1, 12), st.sampled_from(["hdc", "dc"]), st.booleans())
def test_ribs_stand_in_columns_whatever_the_size(
    pairs: int, height: int, stitch: str, joined: bool
) -> None:
    cuff = post_cuff(2 * pairs, height, stitch, joined)
    assert check_posts(mitten(cuff)) == check_kinds(mitten(cuff)) == ()
    assert [r.count for r in cuff.rounds] == [2 * pairs] * (height + 1)
    ribs = [[op.do for op in r.work if op.makes] for r in cuff.rounds[2:]]
    for column in zip(*ribs, strict=True):
        assert len(set(column)) == 1


RIBS = {
    "stands over a bpdc": (3, "fpdc 0-5"),
    "do not take turns": (2, "fpdc 0-1, bpdc 2, fpdc 3, bpdc 4-5"),
    "goes round a chain": (1, "fpdc c0, bpdc c1, fpdc c2, bpdc c3, fpdc c4, bpdc c5"),
    "is not set aside": (4, "held fpdc 0, bpdc 1, fpdc 2, bpdc 3, fpdc 4, bpdc 5"),
    "stands over a fpdc": (4, "bpdc 0, fpdc 1, bpdc 2, fpdc 3, bpdc 4, fpdc 5"),
}


@pytest.mark.parametrize("said", RIBS)
def test_a_rib_spoilt_is_told_so(said: str) -> None:
    number, work = RIBS[said]
    sound = mitten(by_hand())
    assert check_posts(sound) == ()
    found = check_posts(changed(sound, "cuff", number, work=work))
    assert any(
        said in problem.message and f"round {number}" in problem.message for problem in found
    )


def test_single_crochet_has_no_post() -> None:
    found = check_posts(changed(mitten(by_hand()), "cuff", 1, work="sc c0-5"))
    assert len(found) == 6
    assert all("goes round a sc" in problem.message for problem in found)


def test_an_odd_count_meets_itself_at_the_start() -> None:
    cuff = post_cuff(7, 3, "dc", joined=False)
    assert {p.code for p in check_posts(mitten(cuff))} == {"law-posts"}


def test_a_post_stitch_goes_round_one_post_in_no_loop() -> None:
    sound = mitten(by_hand())
    two = changed(sound, "cuff", 2, work="fpdc 0+1, bpdc 2, fpdc 3, bpdc 4, fpdc 5, bpdc 5")
    assert any("2 places" in problem.message for problem in check_kinds(two))
    work = sound.pieces[0].rounds[2].work
    loop = changed(sound, "cuff", 2, work=(replace(work[0], loop="back"), *work[1:]))
    assert any("no one loop" in problem.message for problem in check_posts(loop))


def test_sizes_of_a_post_cuff_are_graded_by_the_ribs_gauge() -> None:
    graded = grade(POST)
    for one in graded.sizes:
        (stitches,) = one.maps
        cuff, hand = stitches.piece("cuff"), stitches.piece("hand")
        assert cuff is not None
        assert hand is not None
        around = hand.counted[0].count
        assert around % 2 == 0
        assert {r.count for r in cuff.counted} == {around}
        assert [op.into for op in hand.rounds[0].work] == [(("cuff", i),) for i in range(around)]
        measures = {measure.name: measure.finished for measure in one.measures}
        assert measures["cuff circumference"] == 6 * around
        assert measures["cuff depth"] == 10 * len(cuff.counted)
        assert stitches.rib is not None
        assert stitches.rib.stitch == "dc"
        assert {r.yarn for r in cuff.rounds} == {"B"}


def test_pinned_rounds_of_a_post_cuff_are_obeyed() -> None:
    graded = grade(replace(POST, cuff=replace(POST.cuff, rounds=(4, 5, 9))))
    cuffs = [stitches.piece("cuff") for stitches in graded.maps]
    assert [len(cuff.counted) for cuff in cuffs if cuff] == [4, 5, 9]


@pytest.mark.parametrize(("stitch", "chains"), [("hdc", 2), ("dc", 3)])
def test_tall_stitches_sideways_are_lifted_by_their_height(stitch: str, chains: int) -> None:
    _, first, second, *_, seam = ribbed_cuff(4, 3, stitch).rounds
    lift = ", ".join(["loose ch"] * chains)
    assert [(op.do, op.into, op.counts) for op in first.work] == [
        (op.do, op.into, op.counts) for op in ops(f"{lift}, {stitch} c2-0, turn")
    ]
    assert {op.loop for op in second.work if op.do == stitch} == {"back"}
    assert seam.work == ops("seam 2+u2, seam 1+u1, seam 0+u0")


@pytest.mark.parametrize("stitch", ["hdc", "dc"])
def test_a_sideways_cuff_of_tall_stitches_obeys_every_law(stitch: Stitch) -> None:
    sample = worked()
    rib = Gauge(stitch, Fraction(6), Fraction(9))
    tall = replace(sample, cuff=replace(sample.cuff, gauge=rib, rows=(20,), stitches=(9,)))
    (one,) = grade(tall).sizes
    (stitches,) = one.maps
    assert check_map(stitches) == ()
    measures = {measure.name: measure.finished for measure in one.measures}
    assert measures["cuff circumference"] == 20 * 9
    assert measures["cuff depth"] == 9 * 6
    assert _row_ends(stitches) == list(range(20))


def _row_ends(stitches: StitchMap) -> list[int]:
    """The row ends that the pick-up round uses, each once in the list, those missed among them."""
    hand = stitches.piece("hand")
    assert hand is not None
    places = [p for op in hand.rounds[0].work for p in op.into]
    return [p[1] for p in places if isinstance(p, tuple)]
