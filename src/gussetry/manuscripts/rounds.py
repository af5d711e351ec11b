"""Every round of one size worked: what it finds, what it makes, what the text claims."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import NamedTuple

from gussetry.findings import Finding
from gussetry.manuscripts.made import Budget, ReadPiece, ReadRound, ReadSize
from gussetry.manuscripts.manuscript import Manuscript, Statement, yarns_of
from gussetry.manuscripts.parsing import SIZES, Unread
from gussetry.manuscripts.pieces import Laid, Place, laid, stitch_of
from gussetry.manuscripts.reading import Reading
from gussetry.manuscripts.runs import Fault, Mark, There, Worked
from gussetry.manuscripts.text import Spot
from gussetry.manuscripts.tree import Chain, Number, value
from gussetry.manuscripts.working import worked

MOST_AGAIN = 200
"""Most rounds of one “repeat until”."""

_STS = re.compile(rf"(?P<number>{SIZES.pattern}|\d+)\s*(?:sl\s*)?(?:sts?|stitches|ss)\b", re.I)


def read_size(manuscript: Manuscript, size: int, side: str, budget: Budget) -> ReadSize:
    """One size of a manuscript worked round by round. `side`: blank, `left` or `right`."""
    maker = _Maker(manuscript, size, side, budget)
    pieces = tuple(maker.piece(piece) for piece in maker.laid)
    name = manuscript.sizes[size] if len(manuscript.sizes) > 1 else ""
    return ReadSize(name, side, pieces, tuple(maker.findings))


class _Task(NamedTuple):
    """One round to be worked: where it stands, which statement's words, under which number."""

    piece: Laid
    place: Place
    body: Statement
    number: int


class _Maker:
    """Works one size; what a round leaves is what the next finds."""

    def __init__(self, manuscript: Manuscript, size: int, side: str, budget: Budget) -> None:
        self.manuscript, self.size, self.side, self.budget = manuscript, size, side, budget
        self.findings: list[Finding] = []
        self.before: ReadPiece | None = None
        self.aside: int | None = None
        self.chained = 0
        self.start: int | None = None
        self.piece_name, self.rows = "", False
        # What the last round leaves if the total that the text claims for it is wrong.
        self.other: int | None = None
        self.laid = laid(manuscript, size, side)
        every = [place for piece in self.laid for place in piece.places]
        self.stitch = stitch_of(every) or "sc"

    # --- findings ---------------------------------------------------------------------------

    def find(self, fault: Fault, number: int | None = None) -> None:
        """Notes what is wrong in a round of this size."""
        line, column = self.manuscript.text.place(fault.spot)
        names = self.manuscript.sizes
        size = names[self.size] if len(names) > 1 else ""
        self.findings.append(
            Finding(
                fault.code, fault.message, "", f"{size} {self.side}".strip(), self.piece_name,
                number, line=line, column=column, length=fault.spot.length,
                expected=fault.expected, found=fault.found, sure=fault.sure,
                worked="rows" if self.rows else "rounds",
            )
        )  # fmt: skip

    # --- pieces -----------------------------------------------------------------------------

    def piece(self, piece: Laid) -> ReadPiece:
        """The piece, every round of it worked."""
        self.piece_name, self.rows, self.other = piece.name, piece.rows, None
        for fault in piece.wrong:
            self.find(fault)
        stitch = stitch_of(piece.places) or self.stitch
        base, joined = self._base(piece)
        there = replace(self._start(piece, base), stitch=stitch)
        rounds: list[ReadRound] = []
        last = 0
        for place in piece.places:
            if self.budget.left < 0:
                break
            counts: list[int | None] = []
            while (body := self._body(place, counts, there.count)) is not None:
                number = place.number if place.number is not None else last + 1
                if rounds and number != last + 1:
                    message = f"{_word(piece)} {number} follows {_word(piece)} {last}"
                    spot = place.told.instruction.spot
                    fault = Fault("numbering", message, spot, f"{last + 1}", f"{number}")
                    self.find(fault, number)
                made, there = self._round(_Task(piece, place, body, number), there)
                rounds.append(made)
                counts.append(made.count)
                last = number
        self._ends(piece, rounds)
        done = ReadPiece(piece.name, piece.rows, base, joined, tuple(rounds))
        self.before = done
        return done

    def _base(self, piece: Laid) -> tuple[int | None, bool]:
        if piece.base is None:
            return None, False
        steps = piece.base.steps or ()
        at = piece.base.sizes.index(self.size)
        chains = [value(step.number, at) for step in steps if isinstance(step, Chain)]
        claim = piece.base.claim
        number = sum(chains) if chains else value(claim, at) if claim else None
        return number, len(steps) > len(chains)

    def _start(self, piece: Laid, base: int | None) -> There:
        """What the first round of a piece finds."""
        before = self.before
        if piece.base is not None:
            return There(None, (("chain", base),))
        if piece.name == "thumb" and self.aside is not None:
            return There(None, (("crook", None), ("held", self.aside)))
        if before is None or piece.rows or piece.name == "thumb":
            return There(None)
        if before.rows:
            return There(None, (("row end", len(before.rounds)),))
        if before.name == "cuff" and before.rounds:
            return There(None, (("cuff", before.rounds[-1].count),))
        return There(None)

    def _body(self, place: Place, counts: list[int | None], before: int | None) -> Statement | None:
        """The statement to work next at a place, of which so many rounds are worked; None at its
        end."""
        if place.until is None:
            return None if counts else place.body
        spot = place.told.instruction.spot
        if before == place.until:
            return None
        at = len(counts)
        whole = at % len(place.cycle) == 0
        if before is None or (counts and before == counts[0] and at > len(place.cycle)):
            message = "until when it is repeated cannot be told"
            self.find(Fault("until", message, spot, sure="unclear"))
            return None
        if whole and (before < place.until or at >= MOST_AGAIN):
            message = f"the repeats come to {before} stitches, and never to {place.until}"
            self.find(Fault("until", message, spot, f"{place.until}", f"{before}"))
            return None
        return place.cycle[at % len(place.cycle)]

    def _round(self, task: _Task, there: There) -> tuple[ReadRound, There]:
        """The round worked, and what it leaves."""
        place, told = task.place, task.place.told
        spot = told.instruction.spot
        made, found = self._worked(task.body, there, spot), there.count
        if place.at == 0:
            self.start = found
        claims = self._claims(task, made)
        if self.other is not None and not _right(made, claims):
            second = self._worked(task.body, replace(there, count=self.other), spot)
            if _right(second, claims):
                made, found = second, self.other
        self._tell(task, made, claims, found)
        claimed = claims[-1][0] if claims else None
        count = claimed if claimed is not None else made.count
        self.other = made.count if claimed is not None and made.count != claimed else None
        marks = self._sections(task, made, count)
        if made.aside:
            self.aside = made.aside
            self.chained = sum(r.times for r in made.runs if r.do == "ch" and r.counts)
        line, column = self.manuscript.text.place(spot)
        yarn = self._yarn(told, task.piece, task.number)
        read = ReadRound(task.number, made, found, count, yarn, spot, line, column)
        return read, There(count, (), marks, there.stitch)

    def _worked(self, body: Statement, there: There, spot: Spot) -> Worked:
        if body.steps is None:
            return Worked((), None, 0, (), False, ())
        at = body.sizes.index(self.size)
        self.budget.left -= 1
        if self.budget.left < 0 or self.budget.effort.left < 0:
            return Worked((), None, 0, (), False, ())
        key = (id(body), there, at)
        made = self.budget.known.get(key)
        if made is not None:
            return made
        made = worked(body.steps, there, at, spot, self.budget.effort)
        self.budget.known[key] = made
        return made

    def _claims(self, task: _Task, made: Worked) -> list[tuple[int, Spot]]:
        """The totals that the text names for a round: at the end of several, the last one's."""
        place, body = task.place, task.body
        told, last = place.told, place.at == place.of - 1
        at = told.sizes.index(self.size)
        spot = told.instruction.spot
        if told.claim:
            return [(value(told.claim, at), spot)] if last else []
        if body is told:
            if made.series and len(made.series) == place.of:
                return [(made.series[place.at], made.claims[-1][1])] if made.claims else []
            return list(made.claims) if last else []
        if not last:
            return []
        own = self._worked(told, There(None), spot)
        return list(own.claims)

    def _tell(
        self, task: _Task, made: Worked, claims: list[tuple[int, Spot]], found: int | None
    ) -> None:
        """Finds what is wrong in the working of a round, and claims that it does not bear out."""
        place, number = task.place, task.number
        for fault in made.faults:
            self.find(fault, number)
        for claim, spot in claims:
            if made.count is None or made.count == claim:
                continue
            each, start = made.count - (found or 0), self.start
            if place.of > 1 and found is not None and start == found - each * (place.of - 1):
                sign = "−" if each < 0 else "+"
                message = f"{start} {sign} {place.of} × {abs(each)} = {made.count}, not {claim}"
            else:
                message = f"{_sum(found, made)}, not {claim}"
            self.find(Fault("made", message, spot, f"{made.count} sts", f"{claim} sts"), number)
        for claim, spot in made.aside_claims:
            if claim != made.aside:
                message = f"{made.aside} stitches are set aside, not {claim}"
                self.find(Fault("aside", message, spot, f"{made.aside}", f"{claim}"), number)
        crook = sum(
            1 if run.place.startswith("crook+") else run.times * run.uses
            for run in made.runs
            if run.place.startswith("crook")
        )
        if place.number == 1 and self.piece_name == "thumb" and self.chained > crook > 0:
            message = f"{crook} crook stitches are used or missed, and {self.chained} were chained"
            spot = place.told.instruction.spot
            fault = Fault("used", message, spot, f"{self.chained}", f"{crook}", "likely")
            self.find(fault, number)

    def _sections(self, task: _Task, made: Worked, count: int | None) -> tuple[Mark, ...]:
        """The markers after a round, held to the count by sections where the text gives one."""
        marks = made.marks
        for parts, spot in made.sections:
            gaps = len(parts) - 1
            whole = sum(parts)
            between = whole == count and whole + gaps != count
            if count is not None and not between and whole + gaps != count:
                message = f"the sections and their {gaps} marked stitches are {whole + gaps}"
                fault = Fault("sections", message, spot, f"{count}", f"{whole + gaps}")
                self.find(fault, task.number)
                continue
            claimed = _marks(parts, between)
            own = tuple(m for m in marks if not m.name)
            if own and [m.at for m in own] != [m.at for m in claimed] and made.exact:
                shown = _shown(own, made.count or 0)
                told = " · m · ".join(str(part) for part in parts)
                message = f"the markers part the round {shown}, not {told}"
                self.find(Fault("sections", message, spot, shown, told), task.number)
            marks = (*claimed, *(m for m in marks if m.name))
        if count is not None:
            marks = tuple(m for m in marks if m.at <= count)
        return tuple(sorted(marks, key=lambda m: (m.at, m.between)))

    def _ends(self, piece: Laid, rounds: list[ReadRound]) -> None:
        """Seams and drawings shut: the stitches that they name are those that are there."""
        count = rounds[-1].count if rounds else None
        for one in piece.ends:
            number = self._number_in(one)
            if count is None or number is None or number in (count, self.other):
                continue
            message = f"{count} stitches are there, not {number}"
            spot = one.instruction.spot
            self.find(Fault("used", message, spot, f"{count} sts", f"{number} sts"))

    def _number_in(self, one: Statement) -> int | None:
        found = _STS.search(one.instruction.words)
        if found is None:
            return None
        reading = Reading(one.instruction.base, one.instruction.words, len(one.sizes), None)
        spot = Spot(one.instruction.base + found.start(), len(found["number"]))
        try:
            number: Number = reading.numbers(found["number"], spot)
        except Unread as unread:
            self.find(Fault(unread.code, unread.message, unread.spot))
            return None
        return value(number, one.sizes.index(self.size))

    def _yarn(self, told: Statement, piece: Laid, number: int) -> str:
        """The yarn of a round, as its label or a stripe plan tells it; they must agree."""
        fitting = [
            plan
            for plan in self.manuscript.stripes
            if plan.piece == piece.name and (not plan.sizes or self.size in plan.sizes)
        ]
        planned = dict(fitting[-1].plan).get(number, "") if fitting else ""
        label = told.label
        if label is None or not label.yarn:
            return planned
        spot = told.instruction.spot
        if label.yarn.casefold() == "stripes":
            if not planned:
                message = "no stripe plan tells the yarn of this round"
                self.find(Fault("yarn", message, spot), number)
            return planned
        yarn = yarns_of(label.yarn, len(told.sizes))[told.sizes.index(self.size)]
        if planned and yarn and planned != yarn:
            message = f"the stripe plan says yarn {planned} here, the label {yarn}"
            self.find(Fault("yarn", message, spot, planned, yarn), number)
        return yarn


def _right(made: Worked, claims: list[tuple[int, Spot]]) -> bool:
    return not made.faults and all(made.count in (None, claim) for claim, _ in claims)


def _word(piece: Laid) -> str:
    return "row" if piece.rows else "round"


def _marks(parts: tuple[int, ...], between: bool) -> tuple[Mark, ...]:
    marks, at = [], 0
    for part in parts[:-1]:
        at += part
        marks.append(Mark("", at, between))
        at += 0 if between else 1
    return tuple(marks)


def _shown(marks: tuple[Mark, ...], count: int) -> str:
    """A count by sections: `14 · m · 2 · m · 15`."""
    parts, at = [], 0
    for mark in marks:
        parts.append(str(mark.at - at))
        at = mark.at + (0 if mark.between else 1)
    return " · m · ".join([*parts, str(count - at)])


def _sum(found: int | None, made: Worked) -> str:
    """What a round comes to, as a sum where it can be told as one."""
    if any(fault.code == "used" for fault in made.faults):
        return f"{made.count} stitches are made"
    change = [run for run in made.runs if run.do.endswith("2tog") and run.uses == 0]
    if found is not None and len(change) == 1 and made.count == found - change[0].times:
        return f"{found} − {change[0].times} = {made.count}"
    if found is not None and made.count is not None and made.count != found:
        sign = "−" if made.count < found else "+"
        return f"{found} {sign} {abs(made.count - found)} = {made.count}"
    return f"{made.count} stitches are made"
