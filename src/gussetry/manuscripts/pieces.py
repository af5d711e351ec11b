"""The rounds of one size in their order: which instruction is worked in which round."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace

from gussetry.manuscripts.manuscript import Manuscript, Statement
from gussetry.manuscripts.runs import Fault
from gussetry.manuscripts.tree import (
    Again,
    Chain,
    Claim,
    Join,
    Stitches,
    Turn,
    value,
    walk,
)

MOST_PLACES = 3000
"""Most rounds that one size is laid out for."""

PLAIN = ("sc", "hdc", "dc", "tr", "?dc", "?tr")


@dataclass(frozen=True, slots=True)
class Place:
    """One round to be worked. `number` None: the next after the one before. `body` is the
    statement whose steps are worked, `told` the one that says so. `at`: which of the statement's
    rounds it is, from 0, `of` how many. `until`: the statements of `cycle` are repeated from here
    on until so many stitches are left."""

    number: int | None
    told: Statement
    body: Statement
    at: int
    of: int
    until: int | None = None
    cycle: tuple[Statement, ...] = ()


@dataclass(slots=True)
class Laid:
    """A piece as laid out for one size."""

    name: str
    rows: bool = False
    base: Statement | None = None
    places: list[Place] = field(default_factory=list)
    ends: list[Statement] = field(default_factory=list)
    wrong: list[Fault] = field(default_factory=list)

    def numbers(self) -> set[int]:
        """The numbers of the rounds so far."""
        return {place.number for place in self.places if place.number is not None}

    def next(self) -> int:
        """The number of the next round, as far as it is known."""
        return max(self.numbers(), default=0) + 1

    def told_as(self, number: int) -> Statement | None:
        """The statement that told the round of that number last."""
        found = [place.body for place in self.places if place.number == number]
        return found[-1] if found else None


def sides(manuscript: Manuscript) -> tuple[str, ...]:
    """`left` and `right` where the text tells some rounds for one of them only, else one blank."""
    told = {_side(one) for one in manuscript.statements} - {""}
    return ("left", "right") if told else ("",)


def _side(one: Statement) -> str:
    return (one.label.mitten if one.label else "") or one.instruction.side


def laid(manuscript: Manuscript, size: int, side: str) -> list[Laid]:
    """The pieces of one size, and of one mitten where they differ, round by round."""
    layout = _Layout(size)
    for one in manuscript.statements:
        if size in one.sizes and _side(one) in ("", side):
            layout.add(one)
    for piece in layout.pieces:
        _sort(piece)
    return layout.pieces


def _sort(piece: Laid) -> None:
    """Puts rounds that were told out of their order (“Rnds 6, 8 and 10”) where they belong."""
    keyed, last = [], 0
    for order, place in enumerate(piece.places):
        last = place.number if place.number is not None else last
        keyed.append((last, order, place))
    piece.places = [place for _, _, place in sorted(keyed, key=lambda key: key[:2])]


class _Layout:
    """Takes statement after statement."""

    def __init__(self, size: int) -> None:
        self.size = size
        self.pieces: list[Laid] = []
        self.many = 0

    def add(self, one: Statement) -> None:
        """Takes one more statement that serves the size."""
        label = one.label
        if self.many > MOST_PLACES:
            return
        if label and label.kind in ("seam", "shut"):
            if self.pieces:
                self.pieces[-1].ends.append(one)
            return
        if _is_base(one):
            self.pieces.append(Laid(one.instruction.piece, base=one))
            return
        numbers = self._numbers(one)
        piece = self._piece(one, numbers)
        again = next((step for step in one.steps or () if isinstance(step, Again)), None)
        if (label and label.rows) or _turns(one):
            piece.rows = True
        if again is not None:
            self._again(piece, one, again, numbers)
            return
        count = len(numbers) or self._many(one)
        listed: list[int | None] = [*numbers] if numbers else [None] * count
        known = piece.numbers()
        for at, number in enumerate(listed):
            if number is not None and number in known:
                word = "row" if piece.rows else "round"
                message = f"{word} {number} is told twice"
                piece.wrong.append(Fault("numbering", message, one.instruction.spot))
                continue
            piece.places.append(Place(number, one, one, at, len(listed)))
        self.many += len(listed)

    def _numbers(self, one: Statement) -> tuple[int, ...]:
        label = one.label
        if label is None or label.kind != "rounds":
            return ()
        spans = label.spans
        at = one.sizes.index(self.size) if len(spans) > 1 else 0
        if at >= len(spans):
            return spans[0] or ()
        span, first = spans[at], spans[0] or ()
        ends = bool(label.open_spans and at and span and self.pieces)
        # “Rnds 9–14 (15)”: the range's other end, unless 15 is the next round anyway.
        if ends and span and span[0] != self.pieces[-1].next() and first[0] <= span[0]:
            return tuple(range(first[0], span[0] + 1))
        return span or ()

    def _many(self, one: Statement) -> int:
        if one.rounds:
            return min(value(one.rounds, self.size_at(one)), 500)
        return one.label.many if one.label else 1

    def size_at(self, one: Statement) -> int:
        """The size's place in the statement's own lists."""
        return one.sizes.index(self.size)

    def _piece(self, one: Statement, numbers: tuple[int, ...]) -> Laid:
        name = one.instruction.piece
        if not self.pieces:
            self.pieces.append(Laid(name))
        piece = self.pieces[-1]
        begins = bool(numbers) and numbers[0] == 1
        if begins and (piece.places or piece.ends) and (1 in piece.numbers() or name != piece.name):
            piece = Laid(name)
            self.pieces.append(piece)
        return piece

    def _again(self, piece: Laid, one: Statement, again: Again, numbers: tuple[int, ...]) -> None:
        at = self.size_at(one)
        wanted = [value(number, at) for number in again.rounds]
        if again.last:
            last = value(again.last, at)
            recent = [place.body for place in piece.places][-last:]
            bodies: list[Statement | None] = [*recent]
            if len(recent) < last:
                bodies = [None]
        else:
            bodies = [piece.told_as(number) for number in wanted]
        found = [body for body in bodies if body is not None]
        spot = again.spot
        more = any(not isinstance(step, Again | Claim) for step in one.steps or ())
        if more or not found or len(found) < len(bodies):
            code, message = "numbering", "there is no such round to repeat"
            if more:
                code, message = "unread", "rounds are repeated within a round"
            piece.wrong.append(Fault(code, message, spot, sure="unclear" if more else "certain"))
            unread = replace(one, steps=None)
            for place, number in enumerate(numbers or (None,)):
                piece.places.append(Place(number, one, unread, place, max(1, len(numbers))))
            return
        if again.until:
            goal = value(again.until, at)
            piece.places.append(Place(None, one, found[0], 0, 1, goal, tuple(found)))
            return
        total = len(numbers) or min(len(found) * value(again.times, at), 1000)
        asked = len(found) * value(again.times, at)
        if numbers and again.times != (1,) and asked != len(numbers):
            message = f"the label has {len(numbers)} rounds, the words ask for {asked}"
            piece.wrong.append(
                Fault("numbering", message, spot, f"{len(numbers)} rounds", f"{asked} rounds")
            )
        self.many += total
        for k in range(total):
            given = numbers[k] if numbers else None
            piece.places.append(Place(given, one, found[k % len(found)], k, total))


def _is_base(one: Statement) -> bool:
    """Whether it is a foundation: chains, and perhaps their joining, and nothing else."""
    if one.label and one.label.kind == "foundation":
        return all(isinstance(step, Chain | Join | Claim) for step in one.steps or ())
    if not one.steps:
        return False
    chains = any(isinstance(step, Chain) for step in one.steps)
    return chains and all(isinstance(step, Chain | Join | Claim) for step in one.steps)


def _turns(one: Statement) -> bool:
    """Whether a statement tells that the work is turned, as rows are: “R5” may be either."""
    return any(isinstance(step, Turn) and not step.no for step in one.steps or ())


def stitch_of(places: list[Place]) -> str:
    """The plain stitch that the rounds name most; blank if they name none."""
    told: Counter[str] = Counter()
    for place in places:
        for step in walk(place.body.steps or ()):
            if isinstance(step, Stitches):
                name = step.of or step.do
                if name in PLAIN:
                    told[name] += 1
    return told.most_common(1)[0][0] if told else ""
