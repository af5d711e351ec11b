"""Faults in the words of a folder."""

from __future__ import annotations

import random
import re
from collections.abc import Callable

from check.folders import WORDS, Pattern, folder, renewed
from check.mutating import Mutant, Right, another, enter_file

KINDS = frozenset({"made", "together", "sections", "fabric", "marker", "missing", "rounds"})
"""Kinds of finding that a changed line is rightly found by: what it counts, and what it then says
of markers, sections and the round after it."""
_LINE = re.compile(r"^\*\*[^*]*?(?:Rnds?|Rows?) (?P<label>[^*:a-z]*)[^*]*:\*\* .*$", re.MULTILINE)
_PIECE = re.compile(r"^## (Cuff|Hand|Thumb)", re.MULTILINE)

Reword = Callable[[str, random.Random], "str | None"]


def reworded(name: str) -> Callable[[Reword], Reword]:
    """Enters a way to spoil a line of the words among the faults; "" deletes it."""

    def enter(spoil: Reword) -> Reword:
        @enter_file(name)
        def make(own: Pattern, chance: random.Random) -> Mutant | None:
            made = folder(own, told=True, maps=own.maps)
            text = made[WORDS].decode()
            line = chance.choice(list(_LINE.finditer(text)))
            new = spoil(line[0], chance)
            if new is None or new == line[0]:
                return None
            made[WORDS] = (text[: line.start()] + new + text[line.end() :]).encode()
            piece = [found[1].lower() for found in _PIECE.finditer(text, 0, line.start())][-1]
            named = list(map(int, re.findall(r"\d+", line["label"])))
            # What goes wrong in a round shows in it or in the next.
            rounds = frozenset(range(min(named), max(named) + 2))
            right = [Right(WORDS, KINDS, piece, rounds)]
            if not new:
                # Where a piece begins or ends, what is left over of the one before tells, or of it.
                right.append(Right(WORDS, frozenset({"used", "numbering"})))
            return Mutant(name, WORDS, renewed(made), tuple(right))

        return spoil

    return enter


@reworded("a count changed in the words")
def count(line: str, chance: random.Random) -> str | None:
    """A number of the list before `sts.`, which ends an instruction."""
    found = re.search(r"\. (\d+(?: \([^)]*\))?) sts", line)
    if found is None:
        return None
    return line[: found.start(1)] + another(found[1], chance) + line[found.end(1) :]


@reworded("a number of stitches changed in the words")
def stitches(line: str, chance: random.Random) -> str | None:
    found = list(re.finditer(r"next (\d+)", line))
    if not found:
        return None
    one = chance.choice(found)
    return line[: one.start(1)] + str(int(one[1]) + 1) + line[one.end(1) :]


@reworded("an increase left out of the words")
def increase(line: str, chance: random.Random) -> str | None:
    new = re.sub(r"2 ((?:sc|hdc|dc) in (?:next|first|marked) st)", r"\1", line, count=1)
    return None if new == line else new


@reworded("a line deleted from the words")
def deleted(line: str, chance: random.Random) -> str:
    return ""
