"""Faults put into drawings whose tags are then thrown away: which of them the recount still finds.

    python tests/tagless_campaign.py FOLDER …

For every fault the number of drawings it was put into, those in which it was found, those with a
finding that names the right round (where it was put into a round), and those missed by name.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

from verify.tagless_faults import FAULTS, spoilt

from gussetry.check.drawings import asked_of, claimed
from gussetry.check.evidence import gather
from gussetry.verify import recount


def main(folders: list[str]) -> int:
    """Spoils and recounts; exit 1 where a fault was missed."""
    tried: Counter[str] = Counter()
    found: Counter[str] = Counter()
    placed: Counter[str] = Counter()
    right: Counter[str] = Counter()
    seed = 3
    for folder in folders:
        evidence = gather(Path(folder))
        for drawing in claimed(evidence):
            if len(drawing.files) > 1:
                continue
            content = (evidence.folder / drawing.files[0]).read_bytes()
            asked = asked_of(drawing, evidence.head)
            for fault in FAULTS:
                seed += 7
                broken = spoilt(content, fault, seed)
                if broken is None:
                    continue
                wrong = [f for f in recount(broken.svg, asked) if f.kind != "tags"]
                name = fault.__name__
                tried[name] += 1
                found[name] += bool(wrong)
                if broken.rounds:
                    placed[name] += 1
                    right[name] += any(str(f.round) in broken.rounds for f in wrong)
                if not wrong:
                    print("missed", name, folder, drawing.files[0], seed, flush=True)
    for name, number in tried.most_common():
        print(
            f"{name:28} {found[name]:4} of {number:4}   round {right[name]:4} of {placed[name]:4}"
        )
    print(f"{sum(found.values())} of {sum(tried.values())} found,"
          f" round right in {sum(right.values())} of {sum(placed.values())}")  # fmt: skip
    return 0 if found == tried else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
