"""Stitch maps as directed graphs, judged by somebody else's library."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import networkx as nx
import pytest
from grading.test_worked_example import spec

from gussetry.grading import grade
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
)
from gussetry.stitchmap import Op, Place, StitchMap

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
