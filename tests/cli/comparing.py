"""Two runs to be compared: the sample's, the worked example's, and drawn folders changed."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result

from gussetry.cli import program
from gussetry.counts import count_table
from gussetry.errata import Output
from gussetry.grading import graded_sizes
from gussetry.read import read_spec
from gussetry.source import parse
from gussetry.spec import Spec

EXAMPLES = Path(__file__).parents[2] / "examples"

SAMPLE = """\
pattern: Trial
gauge: {over: 10 cm, stitches: 18, rounds: 20}
rib gauge: {over: 10 cm, stitches: 17, rows: 20}
yarns: {A: {name: slate, colour: "#44546a"}, B: {name: foam, colour: "#eef2f3"}}
sizes: {S: {hand circumference: 18 cm}, M: {hand circumference: 20 cm}}
stripes: {plan: [A: 4, B: 2]}
lower hand: {rounds: 4}
gusset: {between markers: {S: 9, M: 11}}
division: {round: {S: 12, M: 13}}
crown:
  plain before: {S: 14, M: 15}
  phases: [{sides: 2, plain after: 1}, {evenly: {S: 2, M: 2}, decreases: 4}]
"""

PALM = ("growth: alternating", "growth: alternating, towards palm: 2")
"""What turns the worked example into a left and a right mitten."""


def spec(*changed: tuple[str, str]) -> Spec:
    """The sample, some of its text replaced."""
    text = SAMPLE
    for old, new in changed:
        assert old in text
        text = text.replace(old, new)
    return read_spec(parse(text, "sample.yaml"))


def output(drawn: Spec) -> Output:
    """What a run of the specification would have written, without drawings."""
    graded = graded_sizes(drawn)
    maps = tuple(m for size in graded for m in size.maps)
    table = count_table([size.maps for size in graded])
    cells = {
        (column, row.piece, row.round): count
        for row in table.rows
        for column, count in zip(table.sizes, row.counts, strict=True)
    }
    return Output(Path("out"), drawn.pattern, "default", maps, (), cells)


def compare(old: Path, new: Path, *options: str) -> Result:
    """The program's answer."""
    return CliRunner().invoke(program, ["compare", str(old), str(new), *options])


def edit(path: Path, change: Callable[[Any], object]) -> None:
    data = json.loads(path.read_text(encoding="utf-8"))
    change(data)
    path.write_text(json.dumps(data), encoding="utf-8")


def example(*changed: tuple[str, str]) -> Output:
    """The worked example, its plain rounds pinned like every other count, some text replaced."""
    text = (EXAMPLES / "worked-example.yaml").read_text(encoding="utf-8")
    for old, new in (("  last: 5", "  plain before: 14\n  last: 5"), *changed):
        assert old in text
        text = text.replace(old, new)
    return output(read_spec(parse(text, "example.yaml")))
