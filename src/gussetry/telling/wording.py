"""Phrases in words: the sizes' numbers in lists, stitches in the reader's terms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from gussetry.telling.atoms import Atom, Phrase, Repeat
from gussetry.telling.lists import counted, listed
from gussetry.telling.names import Terms, named

_OF_THEM = " of them"


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where an atom stands in its round: whether nothing was worked before it, nothing comes after
    it, what going all the way is called (`around`, `across`), and whether a held stitch was worked
    before it."""

    first: bool
    last: bool
    way: str
    held: bool = False


def in_words(phrases: Sequence[Phrase], terms: Terms, way: str) -> str:
    """What the phrases, one a size and all of one form, tell to do; small first letter."""
    told = []
    end = len(phrases[0]) - 1
    for at in range(end + 1):
        parts = [phrase[at] for phrase in phrases]
        held = any(isinstance(p, Atom) and "held" in p.place for p in phrases[0][:at])
        spot = _Spot(at == 0, at == end, way, held)
        atoms = [part for part in parts if isinstance(part, Atom)]
        if atoms:
            told.append(_atom(atoms, terms, spot))
        else:
            told.append(_repeat([p for p in parts if isinstance(p, Repeat)], terms, spot))
    words = ", ".join(told)
    # Told once of what, it need not be told again in the same round.
    head, found, tail = words.partition(_OF_THEM)
    return head + found + tail.replace(_OF_THEM, "")


def _repeat(repeats: Sequence[Repeat], terms: Terms, spot: _Spot) -> str:
    inner = _Spot(False, False, spot.way)
    body = ", ".join(
        _atom([repeat.body[i] for repeat in repeats], terms, inner)
        for i in range(len(repeats[0].body))
    )
    posts = all(a.stitch.startswith(("fp", "bp")) for repeat in repeats for a in repeat.body)
    if spot.first and spot.last and posts:
        return f"[{body}] {spot.way}"
    return f"[{body}] {_times([repeat.times for repeat in repeats])}"


def _times(numbers: Sequence[int]) -> str:
    return "twice" if set(numbers) == {2} else f"{listed(numbers)} times"


def _atom(atoms: Sequence[Atom], terms: Terms, spot: _Spot) -> str:
    """One atom in words, its numbers of every size."""
    one, numbers = atoms[0], [atom.n for atom in atoms]
    stitch = named(one.stitch, terms)
    if one.loop != "both":
        stitch = f"{'BLO' if one.loop == 'back' else 'FLO'} {stitch}"
    match one.kind:
        case "stitch":
            return _stitches(one, numbers, stitch, spot)
        case "inc":
            return _increase(one, numbers, stitch, spot)
        case "tog":
            return _together(one, numbers, stitch, spot)
        case "ch":
            return f"ch {listed(numbers)} over the gap"
        case "aside":
            return f"{stitch} in next {_sts(numbers)} and set {_them(numbers)} aside for the thumb"
        case "hold":
            return f"set next {_sts(numbers)} aside for the thumb without working {_them(numbers)}"
        case "join":
            return f"join {counted(numbers, 'pair')} at the crook"
        case _:
            return _missed(one, numbers, named("skip", terms))


def _sts(numbers: Sequence[int], noun: str = "st") -> str:
    """`5 sts`; `st` alone for one."""
    return noun if set(numbers) == {1} else counted(numbers, noun)


def _them(numbers: Sequence[int]) -> str:
    return "it" if set(numbers) == {1} else "them"


def _stitches(one: Atom, numbers: Sequence[int], stitch: str, spot: _Spot) -> str:
    noun = "st of the cuff" if one.place == "cuff st" else one.place
    single = set(numbers) == {1}
    if one.place == "seam":
        return f"{stitch} in the seam"
    if one.mark == "to marker" and min(numbers) > 0:
        return f"{stitch} to next marker"
    if spot.first and spot.last:
        return f"{stitch} in each {noun} {spot.way}"
    if spot.last and one.place == "held st" and not spot.held and not single:
        return f"{stitch} in each of the {counted(numbers, noun)}"
    if spot.last and one.place == "st" and min(numbers) > 0:
        return f"{stitch} in last st" if single else f"{stitch} to end"
    if spot.first and single and one.place == "st":
        return f"{stitch} in first st"
    return f"{stitch} in next {_sts(numbers, noun)}"


def _increase(one: Atom, numbers: Sequence[int], stitch: str, spot: _Spot) -> str:
    if one.place == "seam":
        return f"2 {stitch} in the seam"
    if one.mark:
        verb, which = one.mark.split()
        if verb == "move":
            return f"2 {stitch} in marked st and move marker to the {which} of them"
        return f"2 {stitch} in next st and place marker in the {which} of them"
    if set(numbers) == {1}:
        at = "first" if spot.first and one.place == "st" else "next"
        return f"2 {stitch} in {at} {one.place}"
    return f"2 {stitch} in each of next {counted(numbers, one.place)}"


def _together(one: Atom, numbers: Sequence[int], stitch: str, spot: _Spot) -> str:
    often = "" if set(numbers) == {1} else f" {_times(numbers)}"
    if one.place == "crook st and held st":
        return f"{stitch} over next crook st and next held st"
    if one.place in ("crook st", "held st"):
        return f"{stitch} over next 2 {one.place}s{often}"
    if spot.first and spot.last and not often:
        return stitch
    if spot.first and spot.last:
        return f"{stitch} {spot.way}"
    return f"{stitch}{often}"


def _missed(one: Atom, numbers: Sequence[int], skip: str) -> str:
    if one.place == "seam":
        return f"{skip} the seam"
    which = "the last" if one.place == "crook st" else "next"
    return f"{skip} {which} {_sts(numbers, one.place)}"
