"""Manuscripts at length: texts read back, and texts with one change that must be found.

    python tests/manuscript_campaign.py [NUMBER]

tells, for NUMBER (1000) changes each and a third as many specifications, how many were found.
The exit code is 1 where one was not, or where something was found in a sound text.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from itertools import islice
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parent))

from grading.strategies import specs
from hypothesis import HealthCheck, Phase, given, settings
from manuscripts.inventing import breaks, changed, in_words, invent
from manuscripts.mutating import mutants
from manuscripts.readback import graded, read_back, words_of

from gussetry import pipeline
from gussetry.manuscripts import check_text
from gussetry.spec import Spec

EXAMPLES = sorted((Path(__file__).parents[1] / "examples").glob("*.yaml"))


def without_specification(number: int) -> Counter[str]:
    """Invented texts, one change each, judged by arithmetic of their own."""
    told: Counter[str] = Counter()
    for seed in range(number):
        random = Random(seed)
        text = invent(random)
        if check_text(in_words(text, seed), "sound").findings:
            told["WRONG: found in a sound text"] += 1
        mutant = changed(text, random)
        found = bool(check_text(in_words(mutant, seed), "mutant").findings)
        if breaks(mutant):
            told["broken, found" if found else "WRONG: broken, not found"] += 1
        else:
            told["WRONG: sound, found" if found else "sound still, let be"] += 1
    return told


def with_specification(number: int) -> Counter[str]:
    """The words of every example, one change each that alters the fabric or a count."""
    told: Counter[str] = Counter()
    each = -(-number // (2 * len(EXAMPLES)))
    for path in EXAMPLES:
        work = pipeline.graded(path)
        for terms in ("US", "UK"):
            text = words_of(work.spec, work.grading, terms)
            for mutant in islice(mutants(text, Random(path.stem + terms)), each):
                checked = read_back(mutant.text, work.grading)
                alone = check_text(mutant.text, "mutant").findings
                told["found by the text alone" if alone else "found with the maps only"] += 1
                if not checked.findings:
                    told["WRONG: not found"] += 1
                    print(f"  {path.stem}: {mutant.old} → {mutant.new} in: {mutant.line}")
    return told


def read_again(number: int) -> Counter[str]:
    """Words of made-up specifications, read back to their maps in both terms."""
    told: Counter[str] = Counter()

    @settings(
        max_examples=number, deadline=None, database=None, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(specs())
    def one(spec: Spec) -> None:
        grading = graded(spec)
        if grading is None:
            told["cannot be graded"] += 1
            return
        for terms in ("US", "UK"):
            text = words_of(spec, grading, terms)
            start = time.process_time()
            found = read_back(text, grading).findings
            if time.process_time() - start > 2:
                told["WRONG: slower than 2 s"] += 1
            told["WRONG: another fabric" if found else f"the same in {terms} terms"] += 1

    one()
    return told


def main() -> int:
    """Runs all three and tells what came of them."""
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    wrong = 0
    for title, told in (
        ("one change, without a specification", without_specification(number)),
        ("one change, with a specification", with_specification(number)),
        ("specifications read back", read_again(-(-number // 3))),
    ):
        print(title)
        for what, many in sorted(told.items()):
            print(f"  {what}: {many}")
            wrong += many if what.startswith("WRONG") else 0
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
