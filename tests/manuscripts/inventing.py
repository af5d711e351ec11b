"""Invented texts whose arithmetic is known beforehand: built as numbers, then put into words.

Nothing here comes from the reader: what a part uses and makes is counted below, by itself.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

USES = {"plain": 1, "inc": 1, "dec": 2}
MAKES = {"plain": 1, "inc": 2, "dec": 1}
SHIFTS = (-2, -1, 1, 2)


@dataclass(frozen=True)
class Part:
    """So many of one kind, a number a size."""

    kind: str
    counts: tuple[int, ...]


@dataclass(frozen=True)
class Round:
    """Parts worked so many times; `rest`: plain stitches to the end after them."""

    number: int
    parts: tuple[Part, ...]
    times: int
    rest: bool
    claims: tuple[int, ...]


@dataclass(frozen=True)
class Invented:
    """A text's rounds, from so many stitches a size on."""

    sizes: tuple[str, ...]
    starts: tuple[int, ...]
    rounds: tuple[Round, ...]


def used(one: Round, size: int) -> int:
    """Stitches that the parts use in a size."""
    return one.times * sum(USES[p.kind] * p.counts[size] for p in one.parts)


def made(one: Round, size: int) -> int:
    """Stitches that the parts make in a size."""
    return one.times * sum(MAKES[p.kind] * p.counts[size] for p in one.parts)


def breaks(text: Invented) -> bool:
    """Whether the arithmetic of any round is broken in any size, or a round's number."""
    for size in range(len(text.sizes)):
        before = text.starts[size]
        for place, one in enumerate(text.rounds):
            left = before - used(one, size)
            if one.number != place + 2 or left < 0 or (left > 0 and not one.rest):
                return True
            if made(one, size) + (left if one.rest else 0) != one.claims[size]:
                return True
            before = one.claims[size]
    return False


def invent(random: Random) -> Invented:
    """A text of two to six rounds, in one to three sizes, whose arithmetic is right."""
    sizes = ("S", "M", "L")[: random.randint(1, 3)]
    starts = tuple(random.randint(16, 24) + 8 * at for at in range(len(sizes)))
    rounds, before = [], starts
    for number in range(2, random.randint(4, 8)):
        one = _round(random, number, before)
        rounds.append(one)
        before = one.claims
    return Invented(sizes, starts, tuple(rounds))


def _round(random: Random, number: int, before: tuple[int, ...]) -> Round:
    many = len(before)
    times = random.choice((1, 1, 2))
    kinds = [random.choice(("plain", "inc", "dec")) for _ in range(random.randint(1, 3))]
    parts = []
    for at, kind in enumerate(kinds):
        if at and kind == kinds[at - 1]:
            continue
        if kind == "plain":
            counts = tuple(random.randint(2, 3) for _ in range(many))
        else:
            counts = (random.choice((1, 1, 2)),) * many
        parts.append(Part(kind, counts))
    rest = random.random() < 0.6 or times > 1
    one = Round(number, tuple(parts), times, rest, before)
    left = tuple(before[s] - used(one, s) for s in range(many))
    if min(left) < 1:
        one = Round(number, (Part("inc", (1,) * many),), 1, True, before)
    elif not rest:
        one = replace(one, parts=(*one.parts, Part("plain", left)))
    rest_of = [before[s] - used(one, s) if one.rest else 0 for s in range(many)]
    return replace(one, claims=tuple(made(one, s) + rest_of[s] for s in range(many)))


# --- one change at a time ---------------------------------------------------------------------


def changed(text: Invented, random: Random) -> Invented:
    """The text with one number or one word changed."""
    at = random.randrange(len(text.rounds))
    one = text.rounds[at]
    size = random.randrange(len(text.sizes))
    part = random.randrange(len(one.parts))
    what = random.choice(("count", "kind", "claim", "times", "number"))
    if what == "kind":
        old = one.parts[part]
        new = replace(old, kind=random.choice([k for k in USES if k != old.kind]))
        one = replace(one, parts=(*one.parts[:part], new, *one.parts[part + 1 :]))
    elif what == "count":
        old = one.parts[part]
        counts = _shifted(old.counts, size, random)
        new = replace(old, counts=counts)
        one = replace(one, parts=(*one.parts[:part], new, *one.parts[part + 1 :]))
    elif what == "claim":
        one = replace(one, claims=_shifted(one.claims, size, random))
    elif what == "times":
        one = replace(one, times=max(1, one.times + random.choice((-1, 1))))
    else:
        one = replace(one, number=one.number + random.choice((1, 2)))
    return replace(text, rounds=(*text.rounds[:at], one, *text.rounds[at + 1 :]))


def _shifted(counts: tuple[int, ...], size: int, random: Random) -> tuple[int, ...]:
    new = max(1, counts[size] + random.choice(SHIFTS))
    return (*counts[:size], new, *counts[size + 1 :])


# --- words ------------------------------------------------------------------------------------

LABELS = ("Rnd {n}: ", "Round {n}: ", "R{n}: ", "**Rnd {n}:** ", "Rnd {n}. ", "Round {n} – ")
TOTALS = (" ({n})", " ({n} sts)", ". {n} sts.", " = {n} sts", " – {n} sts", ". [{n} sts]")
PLAIN = ("{s} in next {n} sts", "{n} {s}", "{s} {n}", "1 {s} in each of next {n} sts",
         "{s} in the next {n} stitches", "{s} in each of the next {n} sts")  # fmt: skip
INC = ("2 {s} in each of next {n} sts", "inc x {n}", "{n} inc", "inc in next {n} sts")
ONE_INC = ("2 {s} in next st", "inc", "inc in next st", "{s} in next st, {s} in same st")
DEC = ("{s}2tog {n} times", "dec x {n}", "{n} {s}2tog", "{n} dec")
ONE_DEC = ("{s}2tog", "dec", "{s}2tog over next 2 sts", "{s} next 2 sts tog")
REPEATS = ("[{p}] {n} times", "({p}) x {n}", "*{p}* {n} times", "*{p}; rep from * {m} more times")
RESTS = ("{s} to end", "{s} in each st to end", "{s} in each rem st", "{s} to end of rnd")


def in_words(text: Invented, seed: int, terms: str = "US") -> str:
    """The text in the habits of one writer, who is one and the same for one seed."""
    random = Random(seed)
    stitch = {"US": "sc", "UK": "dc"}[terms]
    habits = {
        "label": random.choice(LABELS), "total": random.choice(TOTALS),
        "plain": random.choice(PLAIN), "inc": random.choice(INC), "dec": random.choice(DEC),
        "one inc": random.choice(ONE_INC), "one dec": random.choice(ONE_DEC),
        "repeat": random.choice(REPEATS), "rest": random.choice(RESTS),
    }  # fmt: skip
    opening = f"{terms} terms\n\nSizes: {_list(text.sizes)}\n\n"
    first = habits["label"].format(n=1)
    number = _list(text.starts)
    lines = [f"{first}{number} {stitch} evenly around" + habits["total"].format(n=number)]
    lines += [_line(one, habits, stitch) for one in text.rounds]
    return opening + "\n".join(lines) + "\n"


def _list(values: tuple[object, ...]) -> str:
    first, *others = (str(value) for value in values)
    if not others or (len({*values}) == 1 and isinstance(values[0], int)):
        return first
    return f"{first} ({', '.join(others)})"


def _line(one: Round, habits: dict[str, str], stitch: str) -> str:
    parts = []
    for part in one.parts:
        single = {*part.counts} == {1}
        form = habits["one " + part.kind if single and part.kind != "plain" else part.kind]
        if single and part.kind == "plain":
            form = "{s} in next st"
        parts.append(form.format(s=stitch, n=_list(part.counts)))
    words = ", ".join(parts)
    if one.times > 1:
        words = habits["repeat"].format(p=words, n=one.times, m=one.times - 1)
    if one.rest:
        words += ", " + habits["rest"].format(s=stitch)
    return (
        habits["label"].format(n=one.number) + words + habits["total"].format(n=_list(one.claims))
    )
