"""What lies between two rounds: the joining slip stitch, the turn, the chain that lifts the hook.

Writers tell it at the end of one round or at the beginning of the next: “ch 1, turn” closes a row
or opens one. So it is held together over the border, and compared apart from the stitches.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import dropwhile

from gussetry.manuscripts.runs import Run


def is_edge(run: Run) -> bool:
    """Whether a run is none of the round's stitches: a turn, or what does not count."""
    return run.do == "turn" or run.place == "hook" or (run.do in ("ch", "slst") and not run.counts)


def core(runs: Sequence[Run]) -> tuple[Run, ...]:
    """The stitches of a round, without what lies at its two ends."""
    front = [*dropwhile(is_edge, runs)]
    return tuple(reversed([*dropwhile(is_edge, reversed(front))]))


def ends(runs: Sequence[Run]) -> tuple[Counter[str], Counter[str]]:
    """What stands before the stitches of a round, and what after them."""
    front = [*dropwhile(is_edge, runs)]
    before = runs[: len(runs) - len(front)]
    after = front[len(core(runs)) :]
    return _counted(before), _counted(after)


def _counted(runs: Iterable[Run]) -> Counter[str]:
    # A chain of the foundation left out at the hook lifts it as a chain does.
    found: Counter[str] = Counter()
    for run in runs:
        found["ch" if run.place == "hook" else run.do] += run.times
    return found


def told(edge: Counter[str]) -> str:
    """What lies between two rounds, to read: `sl st, ch 2`."""
    parts = []
    for do in ("slst", "ch", "turn"):
        if edge[do]:
            name = {"slst": "sl st", "ch": f"ch {edge['ch']}"}.get(do, do)
            parts.append(name)
    return ", ".join(parts) or "nothing"


@dataclass(slots=True)
class Borders:
    """Goes from round to round of a text and of the charts, and holds their borders together.

    `silent`: the text tells nothing of them anywhere; then `differs` is what the charts have.
    """

    silent: bool
    differs: str = ""
    text: Counter[str] | None = field(default_factory=Counter)
    chart: Counter[str] = field(default_factory=Counter)

    def lost(self) -> None:
        """A round that the text does not tell: the next border is not known."""
        self.text = None

    def between(
        self, text: Sequence[Run], chart: Sequence[Run], last: bool
    ) -> tuple[str, str] | None:
        """How the border before a round, or after the last, differs: charts and text."""
        before, after = ends(text)
        wanted_before, wanted_after = ends(chart)
        pairs = []
        if self.text is not None:
            pairs.append((self.chart + wanted_before, self.text + before))
        if last:
            pairs.append((_closing(wanted_after), _closing(after)))
        self.text, self.chart = after, wanted_after
        for wanted, made in pairs:
            if wanted == made:
                continue
            if not self.silent:
                return told(wanted), told(made)
            self.differs = self.differs or told(wanted)
        return None


def _closing(edge: Counter[str]) -> Counter[str]:
    """What closes the last round: to turn or to chain after it is idle."""
    return Counter({"slst": edge["slst"]}) if edge["slst"] else Counter()
