"""Grading against what others published: surveys of hands, glove sizes, and graph theory."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import networkx as nx
import pytest
from grading.test_worked_example import spec

from gussetry.grading import grade
from gussetry.grading.measures import (
    CROOK_HEIGHT,
    CROOK_HEIGHT_P95,
    THUMB_LENGTH,
    THUMB_TO_HAND,
    WRIST_TO_HAND,
    body,
)
from gussetry.spec import (
    Crown,
    CrownPhase,
    Cuff,
    Division,
    Gauge,
    Gusset,
    LowerHand,
    Size,
    Spec,
    Thumb,
    Wearer,
)
from gussetry.stitchmap import Op, Place, StitchMap
from gussetry.units import MM_PER_INCH, rounded

# EN 420:2003+A1:2009, kept by EN ISO 21420:2020: glove size, hand circumference and hand length
# in mm.
GLOVE_SIZES = [(6, 152, 160), (7, 178, 171), (8, 203, 182), (9, 229, 192), (10, 254, 204)]


@pytest.mark.parametrize(("glove", "circumference"), [row[:2] for row in GLOVE_SIZES])
def test_a_glove_size_is_the_hand_in_inches(glove: int, circumference: int) -> None:
    assert rounded(glove * MM_PER_INCH, Fraction(1)) == circumference


@pytest.mark.parametrize(("glove", "circumference", "length"), GLOVE_SIZES)
def test_derived_hand_length_lies_near_the_glove_standard(
    glove: int, circumference: int, length: int
) -> None:
    # The survey's hands are a little longer than the standard's: up to half an inch.
    who: Wearer = "women" if glove <= 7 else "men"
    found = body(Size("x", Fraction(circumference), wearer=who)).hand_length
    assert abs(found - length) < MM_PER_INCH * Fraction(11, 20)


# ANSUR II, NATICK/TR-15/007 (Gordon et al. 2014), means in mm: hand circumference, hand length,
# wrist circumference.
@pytest.mark.parametrize(
    ("who", "girth", "length", "wrist"),
    [("men", "212.28", "193.28", "175.92"), ("women", "186.55", "181.08", "154.79")],
)
def test_the_mean_adult_hand_is_derived_from_its_circumference(
    who: Wearer, girth: str, length: str, wrist: str
) -> None:
    found = body(Size("x", Fraction(girth), wearer=who))
    # A least-squares line runs through the means; its printed figures are rounded.
    assert abs(found.hand_length - Fraction(length)) < Fraction(1, 2)
    assert abs(found.wrist_circumference - Fraction(wrist)) < 1
    assert found.origins == ("given", *["derived"] * 5)


def test_ratios_lie_in_the_surveys_ranges() -> None:
    # Means, of ANSUR II (wrist over hand: 0.829 men, 0.830 women) and of Snyder et al. 1977,
    # UM-HSRI-77-17 (ages 2 to 20), with its 95th percentile of the crook's height.
    for ratio, published in (
        (WRIST_TO_HAND, ("0.829", "0.830")),
        (THUMB_TO_HAND, ("0.311",)),
        (THUMB_LENGTH, ("0.352",)),
        (CROOK_HEIGHT, ("0.300",)),
        (CROOK_HEIGHT_P95, ("0.368",)),
    ):
        assert any(abs(ratio - Fraction(mean)) <= Fraction(1, 1000) for mean in published)


# Snyder et al. 1977, UM-HSRI-77-17, means of both sexes by year of age, mm: hand length, thumb
# length, thumb circumference as pi times the diameter, crook above the wrist as the difference of
# two means. Circumference is estimated: hand breadth over 0.417, the adults' share (ANSUR II).
CHILDREN = {
    2: (120, 102, 35, 38, 31),
    4: (133, 118, 40, 42, 37),
    6: (145, 130, 45, 45, 40),
    8: (156, 141, 48, 49, 44),
    10: (167, 153, 54, 51, 45),
    12: (179, 166, 58, 55, 51),
}


@pytest.mark.parametrize("age", CHILDREN)
def test_a_childs_hand_is_derived_from_its_circumference(age: int) -> None:
    girth, length, thumb, around, crook = CHILDREN[age]
    found = body(Size("x", Fraction(girth), wearer="children"))
    # 7.4 mm, one standard deviation of hand length at the ages with the least.
    assert abs(found.hand_length - length) <= Fraction(74, 10)
    assert abs(found.thumb_length - thumb) <= 4
    assert abs(found.thumb_circumference - around) <= 3
    assert abs(found.crook_height - crook) <= 5


# Snyder et al. 1975, UM-HSRI-BI-75-5, both sexes by first month of age: circumference estimated
# as above from the breadth, mean hand length, mm.
INFANTS = {0: (89, 68), 3: (98, 74), 6: (101, 80), 9: (108, 89), 12: (110, 92), 20: (113, 95)}


@pytest.mark.parametrize("month", INFANTS)
def test_an_infants_hand_is_shorter_than_a_childs(month: int) -> None:
    girth, length = INFANTS[month]
    found = body(Size("x", Fraction(girth), wearer="infants"))
    # 6 mm, the standard deviation of hand length in most of these groups.
    assert abs(found.hand_length - length) <= 6


def test_given_measures_are_kept_and_others_rest_on_them() -> None:
    given = Size("x", Fraction(200), hand_length=Fraction(150), wrist_circumference=Fraction(140))
    found = body(given)
    assert (found.hand_length, found.wrist_circumference) == (150, 140)
    assert found.thumb_length == THUMB_LENGTH * 150
    assert found.origin("hand length") == found.origin("wrist circumference") == "given"
    assert found.origin("thumb circumference") == "derived"


# --- the map as a graph ----------------------------------------------------------------------

Node = tuple[object, ...]
IN = {
    "sc": 1, "hdc": 1, "dc": 1, "inc": 1, "sc2tog": 2, "hdc2tog": 2, "dc2tog": 2, "ch": 0,
    "join": 2, "hold": 1, "skip": 1, "seam": 2, "turn": 0,
}  # fmt: skip
OUT = {"inc": 2, "join": 0, "skip": 0, "seam": 0, "turn": 0, "close": 0}


def written(stitches: StitchMap) -> Iterator[tuple[Node, Op]]:
    """Every operation in the order in which the map is written."""
    for piece in stitches.pieces:
        for round_ in piece.rounds:
            for place, op in enumerate(round_.work):
                yield (piece.piece, round_.number, place), op


def as_graph(stitches: StitchMap) -> "nx.DiGraph[Node]":
    """Operations and places as nodes: what an operation uses points to it, it points to what it
    makes. A place that the map gives no maker (a crook's strand of a join) has none."""
    graph: nx.DiGraph[Node] = nx.DiGraph()
    named: dict[tuple[str, int], Node] = {}
    held = 0
    for piece in stitches.pieces:
        left: list[Node] = []
        for round_ in piece.rounds:
            made: list[Node] = []
            aside: set[Node] = set()
            for place, op in enumerate(round_.work):
                node: Node = (piece.piece, round_.number, place)
                graph.add_node(node, op=op)
                sources = [_source(p, left, named) for p in op.into]
                sources += [made[i] for i in op.onto if op.uses]
                graph.add_edges_from((source, node) for source in sources)
                new = [(*node, "stitch", i) for i in range(OUT.get(op.do, 1) if op.counts else 0)]
                graph.add_edges_from((node, one) for one in new)
                aside |= set(new) if op.held or op.do == "hold" else set()
                for one in new if op.held or op.do == "hold" else ():
                    named["held", held] = one
                    held += 1
                made += [] if op.do == "hold" else new
            used = {made[i] for op in round_.work if op.uses for i in op.onto}
            left = [one for one in made if one not in aside and one not in used]
            if round_.phase == "foundation":
                named |= {("chain", i): one for i, one in enumerate(left)}
                left = []
        if piece.piece == "cuff" and piece.worked == "rounds":
            named |= {("cuff", i): one for i, one in enumerate(left)}
    return graph


def _source(place: Place, left: list[Node], named: dict[tuple[str, int], Node]) -> Node:
    if isinstance(place, int):
        return left[place]
    return named.get(place, place)


def graphs() -> dict[str, Spec]:
    """Specifications that between them use every kind of operation."""
    pinned = spec()
    hdc = replace(
        pinned,
        gauge=Gauge("hdc", Fraction(10), Fraction(13)),
        cuff=Cuff(style="round"),
        sizes=(Size("S", Fraction(160)), Size("L", Fraction(220))),
        lower_hand=LowerHand(joined=True),
        gusset=Gusset(growth="inside", every=2),
        division=Division(bridge="chain", with_marked=False, worked_again=False),
        crown=Crown((CrownPhase("evenly", decreases=5),)),
        thumb=Thumb(),
    )
    palm = replace(
        hdc, cuff=Cuff(style="none"), gusset=Gusset(towards_palm=1), lower_hand=LowerHand()
    )
    return {"pinned": pinned, "hdc": hdc, "palm": palm}


@pytest.mark.parametrize("name", ["pinned", "hdc", "palm"])
def test_the_map_is_a_graph_without_cycles_whose_degrees_fit_the_kinds(name: str) -> None:
    for stitches in grade(graphs()[name]).maps:
        graph = as_graph(stitches)
        assert nx.is_directed_acyclic_graph(graph)
        order = {node: at for at, (node, _) in enumerate(written(stitches))}
        for node, op in written(stitches):
            if not op.counts:
                assert graph.degree(node) == 0
                continue
            if op.do in IN:
                assert graph.in_degree(node) == IN[op.do], (node, op)
            assert graph.out_degree(node) == OUT.get(op.do, 1), (node, op)
            for before in nx.ancestors(graph, node) if op.do == "close" else ():
                assert order.get(before, -1) < order[node]
        # Worked in the order in which it is written: every edge points forwards.
        for node in order:
            for stitch in graph.successors(node):
                assert all(order[user] > order[node] for user in graph.successors(stitch))


@pytest.mark.parametrize("name", ["pinned", "hdc", "palm"])
def test_every_stitch_of_the_graph_has_one_maker_and_one_user(name: str) -> None:
    for stitches in grade(graphs()[name]).maps:
        graph = as_graph(stitches)
        operations = {node for node, _ in written(stitches)}
        free = {node for node in graph if node not in operations and graph.out_degree(node) != 1}
        assert not free, sorted(map(str, free))[:5]
        for node in set(graph) - operations:
            assert graph.in_degree(node) <= 1


def test_a_cuff_is_seamed_to_its_chain() -> None:
    (stitches,) = grade(spec()).maps
    graph = as_graph(stitches)
    undersides = {node for node in graph if node[0] == "underside"}
    assert undersides == {("underside", i) for i in range(9)}
