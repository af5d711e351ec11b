"""Every drawing of folders that `gussetry draw` wrote, written again in every way, and recounted.

    python tests/rewriting_campaign.py FOLDER …

Prints each disagreement and, at the end, how many drawings were recounted how often; exit 1 where
there was any disagreement.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

from verify.rewriting import LOSERS, REWRITERS, arcs_as_curves, everything

from gussetry.check.drawings import asked_of, claimed
from gussetry.check.evidence import gather
from gussetry.verify import recount


def main(folders: list[str]) -> int:
    """Rewrites and recounts; the exit code."""
    done: Counter[str] = Counter()
    wrong = 0
    for folder in folders:
        evidence = gather(Path(folder))
        for drawing in claimed(evidence):
            contents = [(evidence.folder / name).read_bytes() for name in drawing.files]
            asked = asked_of(drawing, evidence.head)
            for rewrite in (*REWRITERS, everything, arcs_as_curves, *LOSERS):
                found = recount([rewrite(content) for content in contents], asked)
                found = tuple(f for f in found if f.kind != "tags")
                done[drawing.kind] += 1
                wrong += bool(found)
                for one in found[:3]:
                    print(folder, drawing.files[0], rewrite.__name__, one, flush=True)
    print(f"{sum(done.values())} recounts, {wrong} with disagreements:", dict(done))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
