"""The words of a round taken apart by the grammar, or the place where they cannot be."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from gussetry.manuscripts.text import Spot

if TYPE_CHECKING:
    from lark import Lark, Token, Tree

MOST_DEEP = 12
"""Deepest nesting of brackets that is read."""

MOST_WORDS = 8000
"""Longest text of one round, in characters."""

SIZES = re.compile(
    r"\d+(?:\s*[(\[]\s*(?:\d+|[–—-])(?:\s*[,;:/]\s*(?:\d+|[–—-]))*\s*[)\]])+|\d+(?:/\d+)+"
)
"""A list with one number a size: `14 (15, 16)`, `14 [15, 16]`, `14/15/16`."""

_ENTRY = re.compile(r"\d+|[–—-]|[()\[\],;:/]")


class Unread(Exception):
    """Words that cannot be read: where, which, and why."""

    def __init__(self, code: str, message: str, spot: Spot) -> None:
        self.code, self.message, self.spot = code, message, spot
        super().__init__(message)


class _OneSize:
    """Between scanner and grammar: with one size, `5 (12)` is a number and a bracket."""

    always_accept: tuple[str, ...] = ()

    def __init__(self) -> None:
        self.several = True

    def process(self, stream: Iterator[Token]) -> Iterator[Token]:
        """The tokens, lists of sizes broken up where there is one size only."""
        before = ""
        for token in stream:
            last, before = before, token.type
            if token.type == "RANGE" and last != "RND":
                yield from _pieces(token)
            elif token.type != "SIZES" or self.several or "/" in token:
                yield token
            else:
                yield from _pieces(token)


def _pieces(token: Token) -> Iterator[Token]:
    from lark import Token as Made

    kinds = {"(": "_OPEN", "[": "_OPEN", ")": "_CLOSE", "]": "_CLOSE"}
    for found in _ENTRY.finditer(token):
        text = found.group()
        kind = "NUM" if text.isdigit() else kinds.get(text, "_SEP")
        yield Made(kind, text, (token.start_pos or 0) + found.start())


@lru_cache(maxsize=2)
def _parser(several: bool) -> Lark:
    from lark import Lark

    between = _OneSize()
    between.several = several
    grammar = (files(__package__) / "grammar.lark").read_text(encoding="utf-8")
    return Lark(grammar, parser="lalr", lexer="basic", postlex=between, maybe_placeholders=False)


def parse(words: str, base: int, several: bool) -> Tree[Any]:
    """The tree of a round's words, which begin at `base` in the text.

    `several`: the text serves more than one size. Raises Unread at the first word that does not
    follow.
    """
    from lark.exceptions import UnexpectedCharacters, UnexpectedToken

    if len(words) > MOST_WORDS:
        raise Unread("unread", "the text of the round is too long to be one", Spot(base))
    deep = 0
    for at, letter in enumerate(words):
        deep += (letter in "([{") - (letter in ")]}")
        if deep > MOST_DEEP:
            raise Unread("unread", "brackets stand too deep in each other", Spot(base + at))
    try:
        return _parser(several).parse(words)
    except UnexpectedCharacters as error:
        at = error.pos_in_stream or 0
    except UnexpectedToken as error:
        end = error.token.type == "$END"
        at = len(words.rstrip()) if end else error.token.start_pos or 0
        if end:
            message = "the text of the round breaks off here"
            raise Unread("unread", message, Spot(base + max(0, at - 1))) from None
    word = re.match(r"\w+|\S?", words[at:])
    shown = word.group() if word else ""
    message = f"“{shown}” cannot be read here"
    raise Unread("unread", message, Spot(base + at, max(1, len(shown))))
