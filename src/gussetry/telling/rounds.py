"""One round in words, of one size or of several: what to do, how many there are then, markers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal, NamedTuple

from gussetry.stitchmap import Piece, Round, sections
from gussetry.telling.atoms import Taken, marked_increases, taken_apart
from gussetry.telling.lists import counted, listed
from gussetry.telling.markers import CALLED, Move, moves
from gussetry.telling.names import Terms, named
from gussetry.telling.repeats import shared
from gussetry.telling.wording import in_words


class Worked(NamedTuple):
    """A round where it stands: the round before it in its piece, and how the piece is worked."""

    round: Round
    before: Round | None
    worked: Literal["rows", "rounds"]

    @property
    def set_aside(self) -> int:
        """Stitches that the round sets aside for the thumb."""
        return sum(op.held or op.do == "hold" for op in self.round.work)


def worked(piece: Piece) -> tuple[Worked, ...]:
    """Every round of a piece where it stands."""
    befores = (None, *piece.rounds)
    return tuple(
        Worked(one, before, piece.worked)
        for one, before in zip(piece.rounds, befores[:-1], strict=True)
    )


def told(one: Worked, terms: Terms) -> str:
    """The round in words, as a sentence or two: what to do, and its count."""
    ((_, words),) = instructions([one], terms)
    rest = (count_words([one]), *then_words([one]))
    return " ".join(sentence for sentence in (words, *rest) if sentence)


def signature(one: Worked) -> tuple[object, ...]:
    """What two rounds of a piece share if they are told in the same words."""
    round_ = one.round
    if round_.phase in _WHOLE:
        return (round_.number,)
    then = tuple(then_words([one]))
    return taken_apart(round_, one.before), round_.count, sections(round_), one.set_aside, then


def instructions(rounds: Sequence[Worked], terms: Terms) -> list[tuple[tuple[int, ...], str]]:
    """What the rounds, one a size and all of one phase, tell to do: groups of sizes (their places
    in `rounds`) and the sentence that serves each, from a capital to a full stop."""
    if rounds[0].round.phase in _WHOLE:
        return [(tuple(range(len(rounds))), _WHOLE[rounds[0].round.phase](rounds, terms))]
    taken = [taken_apart(one.round, one.before) for one in rounds]
    alike: dict[tuple[int, str], list[int]] = {}
    for i, parts in enumerate(taken):
        alike.setdefault((parts.lift, parts.end), []).append(i)
    found: list[tuple[tuple[int, ...], str]] = []
    for group in alike.values():
        for phrases in shared([taken[i].atoms for i in group]):
            places = tuple(group[i] for i in phrases)
            way = "across" if rounds[places[0]].worked == "rows" else "around"
            words = in_words(tuple(phrases.values()), terms, way)
            found.append((places, _sentence(taken[places[0]], words, terms)))
    return sorted(found)


def _sentence(taken: Taken, words: str, terms: Terms) -> str:
    parts = [words]
    if taken.lift:
        parts.insert(0, f"ch {taken.lift}")
    if taken.end == "turn":
        parts.append("turn")
    elif taken.end == "join":
        parts.append(f"join with {named('slst', terms)} in first st")
    return capital(", ".join(parts)) + "."


def capital(words: str) -> str:
    """The words with a capital in front, as a sentence begins; brackets are passed over."""
    at = 1 if words.startswith("[") else 0
    return words[:at] + words[at : at + 1].upper() + words[at + 1 :]


def _foundation(rounds: Sequence[Worked], terms: Terms) -> str:
    ring = any(op.do == "slst" for op in rounds[0].round.work)
    end = f", join with {named('slst', terms)} in first ch" if ring else ""
    return f"Ch {listed([one.round.count for one in rounds])}{end}."


def _seam(rounds: Sequence[Worked], terms: Terms) -> str:
    slip = named("slst", terms)
    number = counted([len(one.round.work) for one in rounds], slip, "ss" if slip == "ss" else "")
    return (
        f"{capital(slip)} through one loop of each st of the last row and the free loop of each ch"
        f" of the foundation. {number}."
    )


def _shut(rounds: Sequence[Worked], _: Terms) -> str:
    number = counted([len(one.round.work[0].into) for one in rounds], "st")
    return (
        f"Thread the tail through the front loop of each of the {number}, twice round, and pull"
        " tight."
    )


_WHOLE = {"foundation": _foundation, "seam": _seam, "draw shut": _shut}
"""Phases of one round that is told as a whole."""


def count_words(rounds: Sequence[Worked]) -> str:
    """How many stitches there are after the rounds, one a size: `36 (38) sts.`; by sections where
    there are gusset markers; and how many are set aside. Nothing where a round leaves none to
    count."""
    if any(one.round.phase in _WHOLE for one in rounds):
        return ""
    words = counted([one.round.count for one in rounds], "st")
    parts = [sections(one.round) for one in rounds]
    shown = [part for part in parts if part is not None]
    if len(shown) == len(rounds):
        before, between, after = (listed(numbers) for numbers in zip(*shown, strict=True))
        words += f": {before} · m · {between} · m · {after}"
    aside = [one.set_aside for one in rounds]
    if any(aside):
        words += f", and {listed(aside)} set aside"
    return f"{words}."


def marked_alike(rounds: Sequence[Worked]) -> list[tuple[int, ...]]:
    """The rounds, one a size, in groups (their places) of which the same sentences tell what
    becomes of markers: each is there after all rounds of a group, or removed in all of them."""
    made = [moves(one.round, one.before) for one in rounds]
    groups: dict[tuple[str, ...], list[int]] = {}
    for i, one in enumerate(rounds):
        states = (
            "there" if one.round.marker(name) is not None else _verb(made[i], name)
            for name in _named(made)
        )
        groups.setdefault(tuple(states), []).append(i)
    return [tuple(places) for places in groups.values()]


def then_words(rounds: Sequence[Worked]) -> Iterator[str]:
    """What the maker does after the rounds, one a size and marked alike, a sentence each: markers
    placed, moved or removed; the last row of a sideways cuff not turned."""
    made = [moves(one.round, one.before) for one in rounds]
    names = _named(made)
    gone = [name for name in names if rounds[0].round.marker(name) is None]
    if gone:
        yield f"Remove the {CALLED[gone[0]] if len(gone) == 1 else 'markers'}."
    for name in names:
        if name not in gone:
            yield _moved(rounds, made, name)
    first = rounds[0]
    if not names and sections(first.round) and _kept(first):
        yield "Move the markers up."
    if first.round.phase == "ribbing" and first.worked == "rows":
        yield from _rows(first.round)


def _kept(one: Worked) -> bool:
    """Whether the gusset's markers just move up with plain stitches."""
    return not marked_increases(one.round, one.before)


def _rows(row: Round) -> Iterator[str]:
    """What a row of a sideways cuff needs said: where the first begins, that the last ends it."""
    if row.step == 1:
        lift = sum(not op.counts for op in row.work)
        yield f"(Its first st goes into the {_ORDINALS[lift]} ch from the hook.)"
    if row.work[-1].do != "turn":
        yield "Do not turn."


_ORDINALS = ("first", "second", "third", "fourth")
"""The chain from the hook that the first stitch of a row goes into, by the chains that lift."""


def _named(made: Iterable[tuple[Move, ...]]) -> tuple[str, ...]:
    """The markers that anything is told of in any size."""
    return tuple(dict.fromkeys(move.name for own in made for move in own))


def _moved(rounds: Sequence[Worked], made: Iterable[tuple[Move, ...]], name: str) -> str:
    verbs = {_verb(own, name) for own in made}
    at = [stitch + 1 for one in rounds if (stitch := one.round.marker(name)) is not None]
    verb = "Place" if "place" in verbs else "Move"
    where = "in" if verb == "Place" else "to"
    return f"{verb} the {CALLED[name]} {where} st {listed(at)}."


def _verb(own: Iterable[Move], name: str) -> str:
    return next((move.verb for move in own if move.name == name), "")
