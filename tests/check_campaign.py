"""Breaks correct output folders by one believable fault at a time, and asks the check.

    python tests/check_campaign.py [N] [SEED] [FIRST] [FOLDER]

N mutants (200 unless said) over all examples in four styles, from number FIRST on, two processes.
Prints by kind of fault how many were tried, found, and found at the right file, piece, round and by
the right kind; every miss is told with how to repeat it. With N 0 every folder is checked
untouched instead, its pictures among it. With FOLDER the mutants are written there instead, to be
looked at. The exit code is 1 where anything is missed, or found where nothing is.
"""

from __future__ import annotations

import multiprocessing
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from check.folders import checked, folder, pattern, write
from check.trying import EVERYWHERE, Place, Tried, mutant, tried

from gussetry.findings import told


def untouched(place: Place) -> list[str]:
    """What is found in a folder as it is drawn, its pictures among it."""
    own = pattern(*place)
    with tempfile.TemporaryDirectory() as there:
        made = folder(own, list(own.jobs), painted=True, told=True, maps=own.maps)
        found = [one for one in checked(made, Path(there)) if one.fault]
    return [f"{' '.join(place)} {one.file}: {told(one)}" for one in found]


def table(tries: Sequence[Tried]) -> str:
    """How many mutants of each kind of fault were tried, found and found rightly."""
    rows: dict[str, Counter[str]] = {}
    for one in tries:
        row = rows.setdefault(one.fault, Counter())
        row.update(tried=1, found=one.found, right=one.right, first=one.first)
    lines = [f"{'kind of fault':56} tried found right told first"]
    for name, row in sorted(rows.items()):
        lines.append(f"{name:56} {row['tried']:5} {row['found']:5} {row['right']:5}"
                     f" {row['first']:10}")  # fmt: skip
    every = sum(rows.values(), Counter())
    lines.append(f"{f'{len(rows)} kinds':56} {every['tried']:5} {every['found']:5}"
                 f" {every['right']:5} {every['first']:10}")  # fmt: skip
    return "\n".join(lines)


def main() -> None:
    """Breaks, checks and tells."""
    numbers = [int(text) for text in sys.argv[1:4]]
    many, seed, first = [*numbers, *(200, 1, 0)[len(numbers) :]]
    wanted = range(first, first + many)
    if len(sys.argv) > 4:
        for number in wanted:
            place, made = mutant(seed, number)
            there = write(made.folder, Path(sys.argv[4]) / str(number))
            print(f"{there}: {made.fault}, {' '.join(place)} {made.where}\n  {made.right[:2]}")
        return
    begun = time.perf_counter()
    places = EVERYWHERE if many == 0 else ()
    wrong: list[str] = []
    tries: list[Tried] = []
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(2, mp_context=context) as pool:
        try:
            for lines in pool.map(untouched, places):
                wrong += lines
                print("".join(f"untouched: {line}\n" for line in lines), end="", flush=True)
            for one in pool.map(partial(tried, seed), wanted, chunksize=4):
                tries.append(one)
                print("" if one.right else missed(one, seed), end="", flush=True)
        except KeyboardInterrupt:
            # What has been tried so far is told.
            pool.shutdown(cancel_futures=True)
    print(table(tries) if tries else f"{len(places)} folders untouched, {len(wrong)} findings")
    print(f"seed {seed}, numbers from {first} on; {time.perf_counter() - begun:.0f} s")
    sys.exit(bool(wrong) or not all(one.right for one in tries))


def missed(one: Tried, seed: int) -> str:
    """A mutant that was not found as it must be, and how to repeat it."""
    what = "found elsewhere or otherwise" if one.found else "MISSED"
    again = f"python tests/check_campaign.py 1 {seed} {one.number}"
    return f"{what}: {one.fault}: {one.said}\n    again: {again}\n"


if __name__ == "__main__":
    main()
