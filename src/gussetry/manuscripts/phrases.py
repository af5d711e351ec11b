"""From the words of a round to its steps: the grammar's tree read in the craft's sense."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from gussetry.manuscripts.asides import amended, aside_said, marker_said
from gussetry.manuscripts.parsing import Unread, parse
from gussetry.manuscripts.reading import Reading, branches, kinds
from gussetry.manuscripts.stitches import (
    Sort,
    again_said,
    extent_said,
    loop_said,
    place_said,
    sort_said,
    stitches_said,
    times_said,
)
from gussetry.manuscripts.text import Spot
from gussetry.manuscripts.tree import (
    ONE,
    Again,
    Choice,
    Claim,
    Even,
    Extent,
    Join,
    Loop,
    Number,
    Pairs,
    Repeat,
    Step,
    Stitches,
    Turn,
)

if TYPE_CHECKING:
    from lark import Token, Tree


def steps_said(reading: Reading) -> tuple[Step, ...]:
    """The steps of a round's words, in the order of working. Raises Unread."""
    tree = parse(reading.words, reading.base, reading.sizes > 1)
    return _Phrases(reading).read(tree)


@dataclass(slots=True)
class _Phrases:
    """The steps gathered so far of one round, or of one bracket in it."""

    reading: Reading
    steps: list[Step] = field(default_factory=list)
    open_star: int | None = None
    closed: tuple[int, int] | None = None
    sort: Sort | None = None
    bare: int | None = None
    remark: dict[str, Token] | None = None

    def read(self, tree: Tree[Any]) -> tuple[Step, ...]:
        """The steps of everything in the tree."""
        for entry in branches(tree, "entry"):
            self._entry(entry)
        if self.open_star is not None:
            spot = self.reading.spot(tree)
            raise Unread("unread", "a repeat begins with * here, and is never told again", spot)
        for step in self.steps:
            if isinstance(step, Stitches) and step.part:
                message = f"{step.uses} are worked together, but not over {step.uses} stitches"
                raise Unread("together", message, step.spot)
        if self.remark is not None and self.steps:
            self.steps = amended(self.steps, self.remark, self.reading.spot(tree))
        self._total_at_end()
        return tuple(self.steps)

    def _entry(self, entry: Tree[Any]) -> None:
        from lark import Token as Leaf

        for part in entry.children:
            if isinstance(part, Leaf):
                self._star(entry)
            elif part.data == "closing":
                self._close(part)
            elif part.data == "equals":
                self._claim(part)
            else:
                self._item(part)

    # --- stars ------------------------------------------------------------------------------

    def _star(self, entry: Tree[Any]) -> None:
        if self.open_star is None:
            self.open_star = len(self.steps)
        elif not branches(entry, "again"):
            self.closed, self.open_star = (self.open_star, len(self.steps)), None

    def _close(self, closing: Tree[Any]) -> None:
        if self.open_star is None:
            message = "a * closes no repeat that was opened"
            raise Unread("unread", message, self.reading.spot(closing))
        start, self.open_star = self.open_star, None
        if len(closing.children) == 1:
            self.closed = (start, len(self.steps))
            return
        self._repeat(start, len(self.steps), closing, told=False)

    def _repeat(self, start: int, end: int, tails: Tree[Any], told: bool) -> None:
        """Turns steps into a repeat; `told`: they were told once already, to be repeated."""
        spot = self.reading.spot(tails)
        body = tuple(self.steps[start:end])
        extents, times = branches(tails, "extent"), branches(tails, "times")
        places = [p for p in branches(tails, "place") if place_said(p, self.reading).which]
        if places or len(times) > 1 or not (extents or times):
            raise Unread("unread", "how often it is repeated cannot be told", spot)
        if extents:
            if times:
                raise Unread("unread", "it is told twice how often", spot)
            found = [extent_said(extent, self.reading) for extent in extents]
            extent = next((e for e in found if e.kind != "end"), found[0])
            made: Step = Repeat(body, extent, spot)
        else:
            number, more = times_said(times[0], self.reading)
            total = "total" in "".join(kinds(times[0]).values()).casefold()
            longer = Repeat(body, Extent("times", plus_one(number)), spot)
            exact = Repeat(body, Extent("times", number), spot)
            if more:
                made = longer
            elif told and not total:
                made = Choice(((longer,), (exact,)), spot)
            else:
                made = exact
        self.steps[start:end] = [made]

    def _again(self, tree: Tree[Any]) -> None:
        found, reading = kinds(tree), self.reading
        if "RND" in found or "AS" in found:
            self.steps.append(_rounds_again(tree, reading))
            return
        if "FROM" in found or self.open_star is not None:
            span = (self.open_star, len(self.steps)) if self.open_star is not None else self.closed
            if span is None:
                message = "there is no * from which to repeat"
                raise Unread("unread", message, reading.spot(tree))
        else:
            last = self.steps[-1] if self.steps else None
            grouped = isinstance(last, Repeat) and last.extent == Extent("times", ONE)
            span = (len(self.steps) - 1 if grouped else 0, len(self.steps))
        if span[0] == span[1]:
            raise Unread("unread", "there is nothing to repeat", reading.spot(tree))
        start = span[0] or 0
        self.open_star = self.closed = None
        self._repeat(start, span[1], tree, told=True)

    # --- items ------------------------------------------------------------------------------

    def _item(self, tree: Tree[Any]) -> None:
        reading, name = self.reading, str(tree.data)
        spot = reading.spot(tree)
        if name == "stitches":
            self._stitches(tree)
        elif name == "place_only":
            self._place_only(tree)
        elif name in ("group", "bracketed"):
            self._group(tree)
        elif name == "again":
            self._again(tree)
        elif name == "loop_item":
            self.steps.append(Loop(loop_said(kinds(tree)["LOOP"]), spot))
        elif name == "join":
            places = [place_said(part, reading) for part in branches(tree, "place")]
            if any(place.which != "first" or place.number for place in places):
                raise Unread("join", "a round is joined to its first stitch", spot)
            self.steps.append(Join(spot))
        elif name == "turn":
            self.steps.append(Turn(spot))
        elif name == "note":
            if "turn" in str(kinds(tree)["NOTE"]).casefold():
                self.steps.append(Turn(spot, no=True))
        elif name == "marker":
            self.steps.append(marker_said(tree, reading))
        elif name == "aside":
            self.steps = aside_said(tree, reading, self.steps)
        elif name == "pairs":
            self.steps.append(Pairs(reading.number(branches(tree, "number")[0]), spot))
        elif name == "even":
            self._even(tree)
        elif name == "counts":
            self.remark = kinds(tree)
        else:
            self._claim(tree)

    def _stitches(self, tree: Tree[Any]) -> None:
        found = kinds(tree)
        if not found.keys() & {"CH"}:
            self.sort = sort_said(tree, self.reading)
        made = stitches_said(tree, self.reading)
        self.bare = None
        plain = found.keys() <= {"STITCH", "SLST"} and len(tree.children) == 2
        if plain and branches(tree, "before"):
            self.bare = len(self.steps)
        self.steps += made

    def _place_only(self, tree: Tree[Any]) -> None:
        spot = self.reading.spot(tree)
        last = self.steps[-1] if self.steps else None
        if isinstance(last, Stitches) and last.part:
            rest = place_said(branches(tree, "place")[0], self.reading)
            both = (last.part[0] or 0) + ((rest.number or ONE)[0] or 0)
            if both != last.uses:
                message = f"{last.uses} are worked together, but not over {last.uses} stitches"
                raise Unread("together", message, spot)
            self.steps[-1] = replace(last, place=f"{last.place}+{rest.kind}", part=())
            return
        if self.sort is None:
            raise Unread("unread", "no stitch is named for this place", spot)
        loop = last.loop if isinstance(last, Stitches) else ""
        self.steps += again_said(self.sort, loop, tree, self.reading)

    def _group(self, tree: Tree[Any]) -> None:
        reading, spot = self.reading, self.reading.spot(tree)
        inner = _Phrases(reading)
        inner.sort = self.sort
        steps = inner.read(branches(tree, "start")[0])
        tails = branches(tree, "place", "extent", "times", "closing")
        if not tails and not branches(tree, "number"):
            self._remark(inner, steps, spot)
            return
        self.sort = inner.sort or self.sort
        start = len(self.steps)
        self.steps += steps
        places = [place_said(p, reading) for p in branches(tree, "place")]
        into = [p for p in places if not p.rounds]
        if into and not branches(tree, "extent", "times"):
            whole = into[0].number is None and into[0].each
            extent = Extent("end") if whole else Extent("times", into[0].number or ONE)
            self.steps[start:] = [Repeat(steps, extent, spot, one_stitch=True)]
        elif branches(tree, "number"):
            number = reading.number(branches(tree, "number")[0])
            self.steps[start:] = [Repeat(steps, Extent("times", number), spot)]
        elif len(steps) == 1 and isinstance(steps[0], Again) and branches(tree, "times"):
            number, _ = times_said(branches(tree, "times")[0], reading)
            self.steps[start:] = [replace(steps[0], times=number)]
        else:
            self._repeat(start, len(self.steps), tree, told=False)
        for closing in branches(tree, "closing"):
            self._close(closing)

    def _remark(self, inner: _Phrases, steps: tuple[Step, ...], spot: Spot) -> None:
        """A bracket without a number of times: a total, a remark on a chain, or steps."""
        if inner.remark is not None and not steps:
            self.steps = amended(self.steps, inner.remark, spot)
        elif len(steps) == 1 and inner.bare == 0 and isinstance(steps[0], Stitches):
            self.steps.append(Claim(steps[0].extent.number, spot))
        elif steps and all(isinstance(step, Claim) for step in steps):
            claims = [step for step in steps if isinstance(step, Claim)]
            numbers = tuple(claim.number for claim in claims)
            last = claims[-1]
            self.steps.append(replace(last, each=numbers) if len(claims) > 1 else last)
        elif steps:
            self.steps.append(Repeat(steps, Extent("times", ONE), spot))

    def _even(self, tree: Tree[Any]) -> None:
        numbers = branches(tree, "number")
        for part in branches(tree, "for_rounds"):
            numbers = branches(part, "number")
        rounds = self.reading.number(numbers[0]) if numbers else ()
        self.reading.rounds = rounds
        self.steps.append(Even(self.reading.spot(tree), rounds))

    # --- totals -----------------------------------------------------------------------------

    def _claim(self, tree: Tree[Any]) -> None:
        reading, spot = self.reading, self.reading.spot(tree)
        numbers = tuple(reading.number(part) for part in branches(tree, "number"))
        last = self.steps[-1] if self.steps else None
        claim = last if isinstance(last, Claim) else None
        if tree.data == "aside_claim":
            made = replace(claim, aside=numbers[0]) if claim else Claim((), spot, aside=numbers[0])
        elif tree.data == "sections":
            total = numbers[-1] if "EQ" in kinds(tree) else ()
            parts = numbers[:-1] if total else numbers
            made = replace(claim, sections=parts) if claim else Claim(total, spot, parts)
        else:
            claim = None
            made = Claim(numbers[0], spot)
        if claim:
            self.steps[-1] = made
        else:
            self.steps.append(made)

    def _total_at_end(self) -> None:
        """“36 sc” after a full stop, a dash or a sign of equality at the end is the total."""
        at = len(self.steps) - 1
        if self.bare is None or self.bare != at or at == 0:
            return
        step = self.steps[at]
        if not isinstance(step, Stitches):
            return
        before = self.reading.words[: step.spot.start - self.reading.base].rstrip()[-1:]
        claim = Claim(step.extent.number, step.spot)
        if before in ".=–—-:":
            self.steps[at] = claim
        elif before in ",;":
            self.steps[at] = Choice(((claim,), (step,)), step.spot)


def _rounds_again(tree: Tree[Any], reading: Reading) -> Again:
    """Rounds to be worked again, how often or until when."""
    spot, found = reading.spot(tree), kinds(tree)
    times: Number = ONE
    until: Number = ()
    for part in branches(tree, "times"):
        times, _ = times_said(part, reading)
    for part in branches(tree, "extent"):
        extent = extent_said(part, reading)
        if extent.kind != "last":
            raise Unread("unread", "until when it is repeated cannot be told", spot)
        until = extent.number
    if "LAST" in found:
        numbers = branches(tree, "number")
        return Again((), reading.number(numbers[0]) if numbers else ONE, spot, times, until)
    rounds = branches(tree, "rounds")[0]
    spans = kinds(rounds)
    if "RANGE" in spans:
        ends = [
            int(part[:6]) for part in spans["RANGE"].replace("–", "-").replace("—", "-").split("-")
        ]
        if not 0 <= ends[1] - ends[0] <= 500:
            raise Unread("unread", "the rounds to be repeated are no range", spot)
        listed: tuple[Number, ...] = tuple((n,) for n in range(ends[0], ends[1] + 1))
    else:
        listed = tuple(reading.number(part) for part in branches(rounds, "number"))
    return Again(listed, (), spot, times, until)


def plus_one(number: Number) -> Number:
    """The number and one more, in each size that has one."""
    return tuple(None if n is None else n + 1 for n in number)
