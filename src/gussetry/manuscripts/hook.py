"""The maker's hook going through one round in one size, step by step."""

from __future__ import annotations

from dataclasses import dataclass, replace

from gussetry.findings import Sure
from gussetry.manuscripts.bridging import chain, join_pairs, spread
from gussetry.manuscripts.marking import carry, mark
from gussetry.manuscripts.runs import Fault, Mark, Run, There, Worked, merged
from gussetry.manuscripts.text import Spot
from gussetry.manuscripts.tree import (
    Chain,
    Choice,
    Claim,
    Even,
    Evenly,
    Extent,
    Join,
    Loop,
    Marker,
    Pairs,
    Repeat,
    Step,
    Stitches,
    Turn,
    value,
)

MOST_STEPS = 5000
"""Most steps that one round may take, and most stitches that it may have; more is no round."""


@dataclass(slots=True)
class Effort:
    """How many steps may still be worked, all rounds of a manuscript together."""

    left: int = 150_000


class TooMuch(Exception):
    """A round that takes more steps than any real one."""


class Hook:
    """Goes through a round's steps; what it has used and made so far, and what was wrong."""

    def __init__(self, there: There, size: int, choices: tuple[int, ...], effort: Effort) -> None:
        self.there, self.size, self.effort = there, size, effort
        self.choices = list(choices)
        self.places = dict(there.places)
        self.used: dict[str, int] = {}
        self.made = self.aside = self.steps = 0
        # Stitches of unknown number that make one for one: their places are not known.
        self.open = False
        self.exact = True
        self.loop = ""
        self.runs: list[Run] = []
        self.faults: list[Fault] = []
        self.marks: list[Mark] = []
        self.last: tuple[int, int] = (0, 0)
        self.touched: list[Mark] = []
        self.claims: list[tuple[int, Spot]] = []
        self.aside_claims: list[tuple[int, Spot]] = []
        self.sections: list[tuple[tuple[int, ...], Spot]] = []
        self.series: tuple[int, ...] = ()
        self.fixed = False
        self.ended: set[str] = set()

    # --- what is there ----------------------------------------------------------------------

    def kind(self, place: str) -> str:
        """The kind of place that a step without a name for it is worked into."""
        if place or not self.places:
            return place
        return next(iter(self.places)) if len(self.places) == 1 else ""

    def stock(self, kind: str) -> int | None:
        """How many places of a kind there are, None where that is not known."""
        if kind == "":
            return None if self.places else self.there.count
        if kind in self.places:
            return self.places[kind]
        return None if kind != "seam" else 1

    def left(self, kind: str) -> int | None:
        """How many places of a kind are still to be used."""
        stock = self.stock(kind)
        return None if stock is None or self.open else stock - self.used.get(kind, 0)

    def fault(
        self, code: str, message: str, spot: Spot, counts: tuple[str, str] = ("", ""),
        sure: Sure = "certain",
    ) -> None:  # fmt: skip
        """Notes what is wrong; `counts`: what would be right, and what stands there."""
        self.faults.append(Fault(code, message, spot, *counts, sure))

    # --- steps ------------------------------------------------------------------------------

    def work(self, steps: tuple[Step, ...]) -> None:
        """Works the steps, one after the other."""
        for at, step in enumerate(steps):
            self.steps += 1
            self.effort.left -= 1
            if max(self.steps, self.made) > MOST_STEPS or self.effort.left < 0:
                raise TooMuch
            if isinstance(step, Stitches):
                self._stitches(step)
            elif isinstance(step, Repeat):
                self._repeat(step)
            elif isinstance(step, Choice):
                self.work(step.options[self.choices.pop(0) if self.choices else 0])
            elif isinstance(step, Chain):
                rest = steps[at + 1 :]
                chain(self, step, all(isinstance(s, Turn | Join | Claim) for s in rest))
            elif isinstance(step, Marker):
                mark(self, step)
            else:
                self._other(step)

    def _other(self, step: Step) -> None:
        if isinstance(step, Join):
            self.runs.append(Run("slst", uses=0, makes=0, counts=False))
        elif isinstance(step, Turn):
            if not step.no:
                self.runs.append(Run("turn", uses=0, makes=0))
        elif isinstance(step, Loop):
            self.loop = step.loop
        elif isinstance(step, Even):
            stitch = self.there.stitch
            self._stitches(Stitches(stitch, stitch, 1, 1, Extent("end"), step.spot))
        elif isinstance(step, Evenly):
            spread(self, step)
        elif isinstance(step, Pairs):
            join_pairs(self, step)
        elif isinstance(step, Claim):
            self._claim(step)

    def _claim(self, step: Claim) -> None:
        if step.number:
            self.claims.append((value(step.number, self.size), step.spot))
        if step.aside:
            self.aside_claims.append((value(step.aside, self.size), step.spot))
        if step.sections:
            parts = tuple(value(part, self.size) for part in step.sections)
            self.sections.append((parts, step.spot))
        self.series = tuple(value(number, self.size) for number in step.each)

    def _stitches(self, step: Stitches) -> None:
        kind = self.kind(step.place)
        if step.place in ("ring", "same"):
            self._at_once(step)
            return
        if step.place == "hook":
            kind = "chain"
        times = self._times(step.extent, kind, step)
        if times is None:
            self._unknown(step)
            return
        self._checked(step, kind, times)
        self._run(step, kind, times)

    def _times(self, extent: Extent, kind: str, step: Stitches) -> int | None:
        """How often a step is worked; None where that is not known."""
        if extent.kind == "times":
            return value(extent.number, self.size)
        left = self.left(kind)
        if extent.kind == "marker":
            ahead = self._ahead()
            if ahead is None:
                return None
            left = ahead - value(extent.number, self.size)
        elif left is None:
            return None
        elif extent.kind == "last":
            left -= value(extent.number, self.size)
        if left < 0:
            many = "1 stitch" if left == -1 else f"{-left} stitches"
            message = f"the round is {many} past that place here"
            self.fault("past", message, step.spot)
            return 0
        if left % step.uses:
            over = left % step.uses
            message = f"{left} stitches are left here, and {step.uses} are worked together"
            self.fault("uneven", message, step.spot, (f"a multiple of {step.uses}", f"{over} over"))
        return left // step.uses

    def _ahead(self) -> int | None:
        """Stitches before the next marker, None where none is known."""
        if self.open:
            return None
        here = self.used.get("", 0)
        ahead = [m.at - here for m in self.there.marks if not m.name and m.at >= here]
        ahead = [n for n in ahead if n > 0] or ahead
        return min(ahead, default=None)

    def _unknown(self, step: Stitches) -> None:
        """A stretch of unknown length: one stitch for each that is there."""
        self.open, self.exact = True, False
        if step.extent.kind == "marker" and any(not m.name for m in self.there.marks):
            self.fault("marker", "no marker is ahead of this place", step.spot, sure="likely")
        if step.uses != step.makes:
            # Into how many of an unknown number cannot be told.
            self.there = replace(self.there, count=None)
            self.places = dict.fromkeys(self.places)

    def _checked(self, step: Stitches, kind: str, times: int) -> None:
        """Whether the step stands where its words say: in the first, last or a marked stitch."""
        here, left = self.used.get(kind, 0), self.left(kind)
        if kind in self.ended and times:
            self.fault("place", f"the last {kind} stitch is worked already", step.spot)
        if kind and step.where == "last" and step.do != "skip":
            self.ended.add(kind)
        if step.where == "first" and here and not self.open and kind == "":
            self.fault("place", f"{here} stitches are worked before the first", step.spot)
        elif step.where == "last" and left is not None and kind in ("", "row end", "chain"):
            if left != times * step.uses:
                wanted = f"{times * step.uses} left"
                self.fault("place", "these are not the last", step.spot, (wanted, f"{left} left"))
        elif step.where == "rest" and left is not None and left != times * step.uses:
            found = f"{times * step.uses}"
            self.fault("place", "these are not all that are left", step.spot, (f"{left}", found))
        elif step.where == "marked" and not self.open:
            marked = {m.at for m in self.there.marks if not m.between}
            if marked and here not in marked:
                near = min(marked, key=lambda at: abs(at - here))
                self.fault(
                    "marker", "the marked stitch is not the next here", step.spot,
                    (f"after {near} stitches", f"after {here}"),
                )  # fmt: skip

    def _run(self, step: Stitches, kind: str, times: int) -> None:
        here = self.used.get(kind, 0)
        if kind in ("", "cuff"):
            carry(self, here, step, times)
        leaves = 0 if step.held else step.makes
        if times > MOST_STEPS:
            raise TooMuch
        loop = step.loop or self.loop if step.do not in ("skip", "hold") else ""
        uses = step.uses
        if "+" in kind:
            one, other = kind.split("+")
            self.used[one] = self.used.get(one, 0) + 1
            self.used[other] = self.used.get(other, 0) + uses - 1
        else:
            self.used[kind] = here + times * uses
        of = step.of
        do = step.do
        if do == "dec":
            do = f"{self.there.stitch}2tog"
        elif do == "inc":
            of = of or self.there.stitch
        place = "hook" if step.place == "hook" else kind
        self.runs.append(Run(do, of, times, uses, leaves, loop, place, step.held))
        if step.held:
            self.aside += times * max(1, step.makes)
        if times:
            self.last = (self.made + (times - 1) * leaves, self.made + times * leaves)
        self.made += times * leaves

    def _at_once(self, step: Stitches) -> None:
        times = value(step.extent.number, self.size)
        makes = step.makes
        if step.place == "ring":
            self.runs.append(Run(step.do, step.of, times, 0, makes, step.loop, "ring"))
            self.made += times * makes
            return
        before = self.runs[-1] if self.runs else None
        if not self.made and not self.used:
            # “Ch 1, sc in same st (as joined)”: the round's first stitch.
            self._stitches(replace(step, uses=1, place="", where="first"))
            return
        if before is None or before.makes < 1 or before.of != step.of or not before.counts:
            self.fault("place", "there is no stitch to work into again", step.spot)
            return
        many = before.makes + times * makes
        self.runs[-1] = replace(before, times=before.times - 1)
        do = "inc" if many == 2 else f"{many}in1"
        self.runs.append(replace(before, do=do, times=1, makes=many))
        self.last = (self.made - before.makes, self.made + times * makes)
        self.made += times * makes

    def _repeat(self, step: Repeat) -> None:
        if step.one_stitch:
            self._in_one(step)
            return
        choices = list(self.choices)
        if step.extent.kind == "times":
            for _ in range(value(step.extent.number, self.size)):
                self.choices = list(choices)
                self.work(step.steps)
            return
        kind = self.kind("")
        left = self.left(kind)
        if step.extent.kind == "marker":
            ahead = self._ahead()
            left = ahead
        stop = value(step.extent.number, self.size) if step.extent.kind != "end" else 0
        if left is None:
            self._unknown_repeat(step)
            return
        goal = self.used.get(kind, 0) + left - stop
        start = self.used.get(kind, 0)
        while self.used.get(kind, 0) < goal:
            start = self.used.get(kind, 0)
            self.choices = list(choices)
            faults = len(self.faults)
            self.work(step.steps)
            if self.used.get(kind, 0) <= start:
                self.fault("repeat", "what is repeated uses no stitch", step.spot)
                return
            if len(self.faults) > faults:
                return
        each, whole = self.used.get(kind, 0) - start, goal - start
        if each > whole:
            message = (
                f"a repeat of {each} stitches does not go evenly: {whole} "
                f"{'is' if whole == 1 else 'are'} left for the last"
            )
            self.fault("uneven", message, step.spot, (f"{each} left", f"{whole} left"))

    def _unknown_repeat(self, step: Repeat) -> None:
        """A repeat round what is not known: what it makes cannot be told."""
        self.open, self.exact = True, False
        self.there = replace(self.there, count=None)
        self.places = dict.fromkeys(self.places)

    def _in_one(self, step: Repeat) -> None:
        """Several stitches in one place, as often as the step says."""
        inner = Hook(There(1), self.size, tuple(self.choices), self.effort)
        inner.work(step.steps)
        parts = merged(inner.runs)
        makes = sum(run.times * run.makes for run in parts)
        kinds = {(run.do, run.of) for run in parts}
        plain = len(kinds) == 1 and parts[0].makes == 1
        do = f"{makes}in1"
        if plain and makes == 2:
            do = "inc"
        if not plain:
            do = " ".join(f"{run.times} {run.do}" for run in parts) + " in 1"
        self._stitches(Stitches(do, parts[0].of if plain else "", 1, makes, step.extent, step.spot))

    # --- at the end -------------------------------------------------------------------------

    def result(self) -> Worked:
        """What the round came to."""
        count: int | None = self.made
        if self.open and not self.fixed:
            count = self._balance()
        # A round that did not come to a marker leaves it where it was.
        marks = tuple(sorted(self.marks, key=lambda m: (m.at, m.between)))
        return Worked(
            merged(self.runs), count, self.aside, marks if self.exact else (), self.exact,
            tuple(self.faults), tuple(self.claims), tuple(self.aside_claims),
            tuple(self.sections), self.series,
        )  # fmt: skip

    def _balance(self) -> int | None:
        """What is left where stretches of unknown length are worked one for one."""
        kind = self.kind("")
        stock = self.stock(kind)
        if stock is None:
            return None
        return stock + self.made - self.used.get(kind, 0)
