"""Sums on a stitch chart: of stitches within a row, and of whole rounds that are not drawn."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from gussetry.stitchmap import Round
from gussetry.verify.findings import Disagreement
from gussetry.verify.labels import found_at
from gussetry.verify.svg import Page, Shape
from gussetry.verify.words import RoundSum, round_sum, shown_work

_MOST = 4


class Sums(NamedTuple):
    """The sums that stand within rows, those of whole rounds with what they say, the numbers of
    the rounds that these stand for, and what is wrong with them."""

    within: tuple[Shape, ...]
    whole: tuple[tuple[Shape, RoundSum], ...]
    rounds: frozenset[int]
    findings: tuple[Disagreement, ...]


def read_sums(page: Page, terms: str, rounds: Sequence[Round], texts: dict[int, str]) -> Sums:
    """The sums of a chart that must cover the rounds, told apart by what they say."""
    within: list[Shape] = []
    whole: list[tuple[Shape, RoundSum]] = []
    findings: list[Disagreement] = []
    summed: set[int] = set()
    by_number = {r.number: r for r in rounds}
    for shape in page.shapes:
        if shape.tag("role") != "sum":
            continue
        said = round_sum(texts.get(shape.order, ""), terms)
        if said is None:
            within.append(shape)
            continue
        findings += _whole_rounds(shape, said, by_number, summed)
        summed |= set(range(said.first, said.last + 1))
        whole.append((shape, said))
    return Sums(tuple(within), tuple(whole), frozenset(summed), tuple(findings))


def _whole_rounds(
    shape: Shape, whole: RoundSum, by_number: dict[int, Round], summed: set[int]
) -> list[Disagreement]:
    findings = []
    span = f"{whole.first}-{whole.last}" if whole.last > whole.first else f"{whole.first}"
    tag = shape.tag("round")
    if tag != span and tag != f"{whole.first}-{whole.last}":
        findings.append(found_at("tag", "a sum of rounds names others than it says", shape,
                                 span, tag))  # fmt: skip
    for number in range(whole.first, whole.last + 1):
        round_ = by_number.get(number)
        if round_ is None or number in summed:
            findings.append(found_at("sum", f"round {number} is not there to be summed", shape))
            continue
        work = tuple(op.do for _, op in shown_work(round_))
        if work != whole.work:
            findings.append(
                found_at("sum", f"round {number} is not what the sum says", shape,
                         _told(work), _told(whole.work))
            )  # fmt: skip
    return findings[:_MOST]


def _told(work: Sequence[str]) -> str:
    """Operations as a sum tells them, in the map's own terms: `inc, 11 sc`."""
    runs: list[tuple[str, int]] = []
    for do in work:
        if runs and runs[-1][0] == do:
            runs[-1] = (do, runs[-1][1] + 1)
        else:
            runs.append((do, 1))
    return ", ".join(do if times == 1 else f"{times} {do}" for do, times in runs)
