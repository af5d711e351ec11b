"""The technical editor's check of a manuscript: is every round's arithmetic right?"""

from __future__ import annotations

from dataclasses import dataclass

from gussetry.manuscripts.findings import MOST, Finding
from gussetry.manuscripts.manuscript import Manuscript, read_manuscript
from gussetry.manuscripts.pieces import sides
from gussetry.manuscripts.rounds import ReadSize, new_budget, read_size
from gussetry.manuscripts.terms import Terms
from gussetry.manuscripts.text import Undecoded


@dataclass(frozen=True, slots=True)
class Checked:
    """A manuscript's check: what was read, size by size, and everything that cannot be right."""

    name: str
    manuscript: Manuscript | None
    sizes: tuple[ReadSize, ...]
    findings: tuple[Finding, ...]

    @property
    def rounds(self) -> int:
        """Rounds that were worked, all sizes together."""
        return sum(len(piece.rounds) for size in self.sizes for piece in size.pieces)


def check_text(
    content: str | bytes,
    name: str,
    terms: Terms | None = None,
    sizes: tuple[str, ...] = (),
    only: str | None = None,
) -> Checked:
    """The manuscript checked by itself.

    `terms` overrules what the text says, `sizes` names its sizes, `only` checks one of them.
    """
    try:
        manuscript = read_manuscript(content, name, terms, sizes)
    except Undecoded as error:
        found = Finding(
            error.code, error.line, error.column, 1, error.message, remedy=error.remedy
        )
        return Checked(name, None, (), (found,))
    findings = list(manuscript.findings)
    budget = new_budget()
    read = []
    for at, size in enumerate(manuscript.sizes):
        if only is not None and size.casefold() != only.casefold():
            continue
        for side in sides(manuscript):
            one = read_size(manuscript, at, side, budget)
            read.append(one)
            findings += one.findings
    if budget.left < 0:
        message = "the text asks for more rounds than are worked; the last were not checked"
        findings.append(Finding("too-much", 1, 1, 1, message, sure="unclear"))
    if not manuscript.statements:
        message = "no round is told in this text"
        findings.append(Finding("no-rounds", 1, 1, 1, message, sure="unclear"))
    return Checked(name, manuscript, tuple(read), in_order(findings))


def in_order(findings: list[Finding]) -> tuple[Finding, ...]:
    """The findings as they stand in the text, each once, up to the most that are told."""
    ordered = sorted(dict.fromkeys(findings), key=lambda f: (f.line, f.column))
    return tuple(ordered[:MOST])
