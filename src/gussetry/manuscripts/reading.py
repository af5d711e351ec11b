"""What all readers of phrases share: numbers, terms, places in the text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from gussetry.manuscripts.parsing import SIZES, Unread
from gussetry.manuscripts.terms import Terms, WrongTerm, kind
from gussetry.manuscripts.text import Spot
from gussetry.manuscripts.tree import Number

if TYPE_CHECKING:
    from lark import Token, Tree

MOST = 5000
"""Greatest number that a round may name."""

WORDS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
    "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}  # fmt: skip
"""Numbers in letters."""


@dataclass(slots=True)
class Reading:
    """One round being read: where its words begin, for how many sizes, in which terms.

    `doubts` gathers the names that the terms do not have; `rounds` is how many rounds the words
    themselves ask for.
    """

    base: int
    words: str
    sizes: int
    terms: Terms | None
    doubts: list[tuple[Spot, WrongTerm]] = field(default_factory=list)
    rounds: Number = ()

    def spot(self, node: Token | Tree[Any]) -> Spot:
        """Where a token or the first token of a tree stands."""
        tokens = list(tokens_of(node))
        if not tokens:
            return Spot(self.base)
        first, last = tokens[0], tokens[-1]
        start = first.start_pos or 0
        return Spot(self.base + start, (last.start_pos or 0) + len(last) - start)

    def number(self, node: Tree[Any]) -> Number:
        """The number in a tree, one for all sizes or one a size. Raises Unread."""
        token = next(tokens_of(node))
        return self.numbers(token, self.spot(token))

    def numbers(self, text: str, spot: Spot) -> Number:
        """The number that a text is. Raises Unread where it is none for these sizes."""
        found = tuple(
            None if part in ("–", "—", "-") else int(part) for part in split_sizes(text.casefold())
        )
        if any(part is not None and part > MOST for part in found):
            raise Unread("unread", f"no round has more than {MOST} stitches", spot)
        if len(found) not in (1, self.sizes):
            message = f"{len(found)} numbers stand here, for {self.sizes} sizes"
            raise Unread("size-list", message, spot)
        return found

    def kind(self, token: Token) -> str:
        """The US kind that a stitch's name means; `?dc` where that is not known."""
        try:
            return kind(str(token), self.terms)
        except WrongTerm as wrong:
            self.doubts.append((self.spot(token), wrong))
            return "?" + str(token).casefold().rstrip("s")


def split_sizes(text: str) -> tuple[str, ...]:
    """The entries of a list of sizes, numbers in figures or dashes."""
    if text in WORDS:
        return (str(WORDS[text]),)
    parts = text
    for sign in "()[],;:/":
        parts = parts.replace(sign, " ")
    found = tuple(parts.split())
    return tuple(part[:9] for part in found) if SIZES.fullmatch(text) else found[:1]


def tokens_of(node: Token | Tree[Any]) -> Iterator[Token]:
    """Every token of a tree, in order."""
    from lark import Tree as Branch

    if isinstance(node, Branch):
        for child in node.children:
            yield from tokens_of(child)
    else:
        yield node


def branches(tree: Tree[Any], *names: str) -> list[Tree[Any]]:
    """The branches of those names right below a tree."""
    from lark import Tree as Branch

    return [c for c in tree.children if isinstance(c, Branch) and c.data in names]


def kinds(tree: Tree[Any]) -> dict[str, Token]:
    """The tokens right below a tree, by type."""
    from lark import Token as Leaf

    return {c.type: c for c in tree.children if isinstance(c, Leaf)}
