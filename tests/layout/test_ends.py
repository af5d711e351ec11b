"""Drawings of mittens that end open or have no thumb: what is there, what not, and what it says."""

from dataclasses import replace
from fractions import Fraction

import pytest
from layout.sheets import (
    FINGERLESS,
    OPEN_THUMB,
    SAMPLE,
    THUMBLESS,
    chart,
    mittens,
    tagged,
    touching,
)

from gussetry.chart import Chart
from gussetry.grading import grade
from gussetry.layout import kinds
from gussetry.layout.register import schematic, stripes
from gussetry.plan import plan
from gussetry.spec import Crown, Cuff, LowerHand, Size, Spec
from gussetry.stitchmap import StitchMap
from gussetry.style import load_style

STYLE = load_style("default")


def words(drawn: Chart, role: str) -> str:
    """All that a chart says in labels of a role, in one line."""
    return " ".join(label.text for label in drawn.labels if tagged(label, "role") == role)


def rounds_shown(drawn: Chart) -> set[int]:
    """The rounds of which a stitch is drawn."""
    return {int(tagged(s, "round")) for s in drawn.stitches if tagged(s, "round")}


@pytest.mark.parametrize(
    ("spec", "wanted"),
    [
        (SAMPLE, ("cuff", "gusset", "crown", "thumb", "stripes", "schematic")),
        (FINGERLESS, ("cuff", "gusset", "thumb", "stripes", "schematic")),
        (OPEN_THUMB, ("cuff", "gusset", "crown", "thumb", "stripes", "schematic")),
        (THUMBLESS, ("cuff", "hand", "crown", "stripes", "schematic")),
    ],
    ids=["closed", "fingerless", "open thumb", "thumbless"],
)
def test_a_mitten_has_the_drawings_of_its_pieces(spec: Spec, wanted: tuple[str, ...]) -> None:
    for stitches in mittens(spec):
        assert kinds(stitches) == wanted


def test_what_is_absent_is_named_with_its_reason() -> None:
    gone = plan(THUMBLESS, grade(THUMBLESS), STYLE).absent
    assert [(one.file, one.why) for one in gone] == [
        (f"{size}/{kind}.svg", why)
        for size in ("3-months", "9-months")
        for kind, why in (
            ("gusset", "the pattern has no thumb: the hand chart stands in its place"),
            ("thumb", "the pattern has no thumb"),
        )
    ]
    why = {one.file: one.why for one in plan(FINGERLESS, grade(FINGERLESS), STYLE).absent}
    assert why["M/crown.svg"] == "the hand is open: the gusset chart goes on to its edging"
    assert len(why) == len(FINGERLESS.sizes)


def edging(stitches: StitchMap, name: str) -> list[int]:
    """The numbers of a piece's edging rounds."""
    return [r.number for p in stitches.pieces if p.piece == name for r in p.rounds
            if r.phase == "edging"]  # fmt: skip


def test_the_gusset_chart_of_an_open_hand_goes_on_to_its_top_edge() -> None:
    for stitches in mittens(FINGERLESS):
        drawn = chart("gusset", [stitches], STYLE, "US")
        first, between, last = edging(stitches, "hand")
        assert {first, last} <= rounds_shown(drawn)
        assert f"round {between}: " in words(drawn, "sum")
        assert f"Rounds {first}–{last} are the edging; fasten off after them." in words(
            drawn, "note"
        )
        tops = [s.frame.origin.y for s in drawn.stitches if tagged(s, "round") == str(last)]
        rows = [s.frame.origin.y for s in drawn.stitches if tagged(s, "round")]
        assert max(tops) == min(rows)


@pytest.mark.parametrize("spec", [FINGERLESS, OPEN_THUMB], ids=["fingerless", "open thumb"])
def test_the_thumbs_chart_ends_on_its_edging(spec: Spec) -> None:
    for stitches in mittens(spec):
        drawn = chart("thumb", [stitches], STYLE, "US")
        rounds = edging(stitches, "thumb")
        assert max(rounds_shown(drawn)) == rounds[-1]
        assert not [s for s in drawn.stitches if s.op.do == "close"]
        one = len(rounds) == 1
        told = f"Round {rounds[0]} is" if one else f"Rounds {rounds[0]}–{rounds[-1]} are"
        assert f"{told} the edging; fasten off after" in words(drawn, "note")


def test_a_drawn_shut_end_says_nothing_of_an_edging() -> None:
    (stitches,) = mittens(SAMPLE)
    for kind in ("gusset", "thumb"):
        assert "edging" not in words(chart(kind, [stitches], STYLE, "US"), "note")


def test_the_outer_edges_increases_stand_out_where_a_thumbless_round_begins() -> None:
    for stitches in mittens(THUMBLESS):
        drawn = chart("hand", [stitches], STYLE, "US")
        rows: dict[int, list[float]] = {}
        for s in drawn.stitches:
            if tagged(s, "round"):
                rows.setdefault(int(tagged(s, "round")), []).append(s.frame.origin.x)
        pitch = next(s.pitch for s in drawn.stitches)
        # The rounds end one over the other; each of the two increases reaches further right.
        assert max(min(xs) for xs in rows.values()) - min(min(xs) for xs in rows.values()) < 1e-6
        rights = [max(rows[number]) for number in (1, 2, 3, 4)]
        # An increase stands midway over the two cells that it makes.
        assert rights == sorted(set(rights))
        assert rights[3] - rights[0] == pytest.approx(2 * pitch)


def test_the_hand_chart_of_a_wide_round_shows_its_beginning() -> None:
    broad = replace(THUMBLESS, sizes=(Size("broad", Fraction(190)),), cuff=Cuff(style="round"))
    one = replace(broad, lower_hand=LowerHand(increases=(2,)), crown=Crown())
    drawn = chart("hand", mittens(one), STYLE, "US")
    by_round = {
        number: sum(1 for s in drawn.stitches if tagged(s, "round") == str(number))
        for number in (1, 2, 3)
    }
    # All end in one column: 16 stitches, then 17 of which an increase makes two, then 18.
    assert by_round == {1: 16, 2: 16, 3: 17}
    assert "sc" in words(drawn, "sum")


def test_the_crown_of_a_thumbless_mitten_marks_half_way_at_its_sides_alone() -> None:
    for stitches in mittens(THUMBLESS):
        drawn = chart("crown", [stitches], STYLE, "US")
        hand = stitches.piece("hand")
        assert hand is not None
        sides = [r for r in hand.rounds if r.phase == "crown sides"]
        (ray,) = (line for line in drawn.lines if line.kind == "marker")
        assert len(ray.points) == 2
        assert len(sides) == 4
        assert "A ray marks the half-way point" in words(drawn, "note")


def test_an_open_hand_and_thumb_end_in_a_straight_level_edge() -> None:
    for stitches in mittens(FINGERLESS):
        drawn = schematic([stitches], STYLE)
        scale = float(tagged(drawn, "scale"))
        for name in ("hand", "thumb"):
            piece = stitches.piece(name)
            assert piece is not None
            (line,) = (x for x in drawn.lines if tagged(x, "role") == "outline"
                       and tagged(x, "piece") == name)  # fmt: skip
            top = min(p.y for p in line.points)
            ends = [p.x for p in line.points if p.y == pytest.approx(top)]
            count = piece.rounds[-1].count
            flat = count * float(stitches.fabric.width) / 2 * scale
            assert len(ends) == 2
            assert max(ends) - min(ends) == pytest.approx(flat, abs=1e-3)


def test_a_thumbless_schematic_has_no_thumb_and_no_crook() -> None:
    drawn = schematic(mittens(THUMBLESS), STYLE)
    measures = {tagged(label, "measure") for label in drawn.labels} - {""}
    assert measures == {
        "cuff circumference", "cuff depth", "hand circumference", "hand length", "total length",
    }  # fmt: skip
    assert "rook" not in words(drawn, "note")
    hand = [x for x in drawn.lines if tagged(x, "piece") == "hand"]
    for line in hand:
        middles = {round(a.x + b.x, 6) for a, b in zip(line.points, line.points[::-1], strict=True)}
        assert len(middles) == 1


def test_a_hand_alone_without_thumb_or_cuff_has_its_dimensions() -> None:
    bare = replace(THUMBLESS, cuff=Cuff(style="none"))
    drawn = schematic(mittens(bare), STYLE)
    measures = {tagged(label, "measure") for label in drawn.labels} - {""}
    assert measures == {"hand circumference", "hand length", "total length"}
    assert touching(drawn, STYLE) == []


def test_the_strip_names_the_edging_and_no_tip_or_crown() -> None:
    for stitches in mittens(FINGERLESS):
        drawn = stripes(stitches, STYLE)
        first, _, last = edging(stitches, "hand")
        marks = {tagged(label, "landmark"): label.text for label in drawn.labels}
        marks.pop("")
        assert list(marks) == ["upper edge", "edging", "division", "gusset", "pick-up", "cuff"]
        assert marks["edging"] == f"edging: start of round {first}"
        assert marks["upper edge"] == f"upper edge: end of round {last}"


def test_the_strip_of_a_thumbless_mitten_names_no_gusset_and_no_division() -> None:
    for stitches in mittens(THUMBLESS):
        marks = [tagged(x, "landmark") for x in stripes(stitches, STYLE).labels]
        assert [name for name in dict.fromkeys(marks) if name] == [
            "tip", "crown", "pick-up", "cuff",
        ]  # fmt: skip
