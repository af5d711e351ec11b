"""Manuscripts at length: texts read back, and texts with one change that must be found.

    python tests/manuscript_campaign.py [NUMBER [SEED [PROCESSES]]]

tells, for NUMBER (1000) changes each and a third as many specifications, how many were found.
The exit code is 1 where one was not, or where something was found in a sound text. Specifications
whose pins cannot be worked together have no words: they are passed over, and told how many.
"""

from __future__ import annotations

import os
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from itertools import islice
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parent))

from grading.strategies import specs
from hypothesis import HealthCheck, Phase, assume, given, seed, settings
from manuscripts.inventing import breaks, changed, in_words, invent
from manuscripts.mutating import Mutant, figure_mutants, mutants
from manuscripts.readback import graded, read_back, words_of

from gussetry import pipeline
from gussetry.findings import told as told_as
from gussetry.grading import Grading
from gussetry.manuscripts import check_text
from gussetry.spec import Spec
from gussetry.telling.names import Terms

EXAMPLES = sorted((Path(__file__).parents[1] / "examples").glob("*.yaml"))
SECONDS = 2
TERMS: tuple[Terms, ...] = ("US", "UK")


def without_specification(number: int, start: int) -> Counter[str]:
    """Invented texts, one change each, judged by arithmetic of their own in either terms."""
    told: Counter[str] = Counter()
    for at in range(start, start + number):
        random = Random(at)
        text = invent(random)
        mutant = changed(text, random)
        for terms in ("US", "UK"):
            if check_text(in_words(text, at, terms), "sound").findings:
                told[f"WRONG: found in a sound text in {terms} terms"] += 1
            found = bool(check_text(in_words(mutant, at, terms), "mutant").findings)
            if breaks(mutant):
                told[f"{'' if found else 'WRONG: not '}found in {terms} terms, broken"] += 1
            else:
                told[f"{'WRONG: found' if found else 'let be'} in {terms} terms, still sound"] += 1
    return told


def with_specification(number: int, start: int) -> Counter[str]:
    """The words of every example, one change each that alters the fabric or a count."""
    told: Counter[str] = Counter()
    for text, work, changes in _texts(number, start, mutants):
        for mutant in changes:
            checked = read_back(mutant.text, work.spec, work.grading)
            alone = check_text(mutant.text, "mutant").findings
            told["found by the text alone" if alone else "found with the maps only"] += 1
            if not checked.findings:
                told["WRONG: not found"] += 1
                print(f"  {text}: {mutant.old} → {mutant.new} in: {mutant.line}")
    return told


def figures(number: int, start: int) -> Counter[str]:
    """The words of every example, one finished measure or amount of yarn changed each."""
    told: Counter[str] = Counter()
    for text, work, changes in _texts(number, start, figure_mutants):
        for mutant in changes:
            kinds = {one.kind for one in read_back(mutant.text, work.spec, work.grading).findings}
            told["found" if kinds and kinds <= {"measure", "amount"} else "WRONG: not found"] += 1
            if not kinds:
                print(f"  {text}: {mutant.old} → {mutant.new} in: {mutant.line}")
    return told


def _texts(
    number: int, start: int, change: Callable[[str, Random], Iterator[Mutant]]
) -> Iterator[tuple[str, pipeline.Graded, Iterator[Mutant]]]:
    """The words of every example in both terms, each with its share of so many changes."""
    each = -(-number // (2 * len(EXAMPLES)))
    for path in EXAMPLES:
        work = pipeline.graded(path)
        for terms in TERMS:
            name = f"{path.stem}{terms}{start}"
            text = words_of(work.spec, work.grading, terms)
            yield name, work, islice(change(text, Random(name)), each)


def read_again(number: int, start: int) -> Counter[str]:
    """The words of so many made-up specifications, read back to their maps in both terms."""
    told: Counter[str] = Counter()

    @seed(start)
    @settings(
        max_examples=number, deadline=None, database=None, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(specs())
    def one(spec: Spec) -> None:
        grading = graded(spec)
        if grading is None:
            told["passed over: cannot be worked"] += 1
        assume(grading is not None)
        assert grading is not None
        told["specifications"] += 1
        for terms in TERMS:
            told[_again(spec, grading, terms)] += 1

    one()
    return told


def _again(spec: Spec, grading: Grading, terms: Terms) -> str:
    text = words_of(spec, grading, terms)
    start = time.process_time()
    found = read_back(text, spec, grading).findings
    if time.process_time() - start > SECONDS:
        print(f"  slow in {terms} terms: {spec!r}")
        return f"WRONG: slower than {SECONDS} s"
    if not found:
        return f"the same in {terms} terms"
    print(f"  another fabric in {terms} terms: {spec!r}")
    for finding in found:
        line = text.split("\n")[finding.line - 1] if finding.line else ""
        print(f"    {told_as(finding)}\n      {line}")
    return "WRONG: another fabric"


PARTS = {
    "one change, without a specification": (without_specification, 1),
    "one change, with a specification": (with_specification, 1),
    "one figure changed, with a specification": (figures, 3),
    "specifications read back": (read_again, 3),
}
"""What is tried, and of how many changes one is tried so."""
SHARES = 4
"""Into how many tasks each part is cut, of other seeds."""


def main() -> int:
    """Runs all parts and tells what came of them."""
    asked = [int(word) for word in sys.argv[1:]]
    number, start, processes = (*asked, *(1000, 0, os.cpu_count() or 1)[len(asked) :])
    wrong = 0
    with ProcessPoolExecutor(processes) as pool:
        tasks = {
            title: [
                pool.submit(part, -(-number // (many * SHARES)), start + share * number)
                for share in range(SHARES)
            ]
            for title, (part, many) in PARTS.items()
        }
        for title, shares in tasks.items():
            told = sum((task.result() for task in shares), Counter())
            print(title)
            for what, often in sorted(told.items()):
                print(f"  {what}: {often}", flush=True)
                wrong += often if what.startswith("WRONG") else 0
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
