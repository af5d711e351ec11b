"""The technical editor's check of a manuscript: is every round's arithmetic right?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from gussetry.manuscripts.fabric import compare
from gussetry.manuscripts.findings import MOST, Finding
from gussetry.manuscripts.made import Budget, ReadSize
from gussetry.manuscripts.manuscript import Manuscript, read_manuscript
from gussetry.manuscripts.pieces import sides
from gussetry.manuscripts.rounds import read_size
from gussetry.manuscripts.terms import Terms
from gussetry.manuscripts.text import Undecoded
from gussetry.stitchmap import StitchMap


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

    @property
    def uncounted(self) -> int:
        """Rounds of those that could not be counted: unread, or after what nobody can know."""
        return sum(
            made.worked.count is None
            for size in self.sizes
            for piece in size.pieces
            for made in piece.rounds
        )


def check_text(
    content: str | bytes,
    name: str,
    terms: Terms | None = None,
    sizes: tuple[str, ...] = (),
    only: str | None = None,
) -> Checked:
    """The manuscript checked by itself.

    `terms` overrules what the text says, `sizes` names its sizes, smallest first, `only` checks one
    of them. Any text and any bytes are read.
    """
    try:
        manuscript = read_manuscript(content, name, terms, sizes, only)
    except Undecoded as error:
        found = Finding(error.code, error.line, error.column, 1, error.message, remedy=error.remedy)
        return Checked(name, None, (), (found,))
    findings = list(manuscript.findings)
    budget = Budget()
    read = []
    for at, size in enumerate(manuscript.sizes):
        if only is not None and len(manuscript.sizes) > 1 and size.casefold() != only.casefold():
            continue
        for side in sides(manuscript):
            one = read_size(manuscript, at, side, budget)
            read.append(one)
            findings += one.findings
    if budget.left < 0 or budget.effort.left < 0:
        message = "the text asks for more rounds than are worked; the last were not checked"
        findings.append(Finding("too-much", 1, 1, 1, message, sure="unclear"))
    if only is None:
        findings += _plans(manuscript, read)
    if not manuscript.statements:
        message = "no round is told in this text"
        findings.append(Finding("no-rounds", 1, 1, 1, message, sure="unclear"))
    return Checked(name, manuscript, tuple(read), in_order(findings))


def _plans(manuscript: Manuscript, read: list[ReadSize]) -> list[Finding]:
    """Stripe plans that end before or after the piece does in its longest size."""
    findings = []
    for plan in manuscript.stripes:
        several = len(manuscript.sizes) > 1 and plan.sizes
        served = {manuscript.sizes[at] for at in plan.sizes} if several else None
        rounds = [
            piece.rounds[-1].number
            for size in read
            for piece in size.pieces
            if piece.name == plan.piece and piece.rounds and (not served or size.size in served)
        ]
        last = plan.plan[-1][0]
        if plan.spot is None or not rounds or last == max(rounds):
            continue
        line, column = manuscript.text.place(plan.spot)
        message = f"the stripe plan ends with round {last}, the {plan.piece} with {max(rounds)}"
        findings.append(
            Finding(
                "yarn", line, column, plan.spot.length, message, plan.piece, "",
                f"{max(rounds)}", f"{last}",
            )
        )  # fmt: skip
    return findings


def check_against(
    content: str | bytes,
    name: str,
    maps: Sequence[StitchMap],
    terms: Terms | None = None,
    only: str | None = None,
) -> Checked:
    """The manuscript checked by itself and against the stitch maps of a specification's sizes."""
    names = tuple(dict.fromkeys(stitches.size for stitches in maps))
    checked = check_text(content, name, terms, names, only)
    if checked.manuscript is None:
        return checked
    findings = list(checked.findings)
    told = checked.manuscript.sizes
    for read in checked.sizes:
        size = read.size or (told[0] if told[0] in names else "")
        if not size and len(names) == 1:
            size = names[0]
        if not size:
            message = "the text is for one size, and the specification has several"
            findings.append(
                Finding(
                    "sizes", 1, 1, 1, message, sure="unclear",
                    remedy="say which it is in the text, “Size: M”, or with --size",
                )
            )  # fmt: skip
            break
        for stitches in maps:
            if stitches.size == size and (not read.side or stitches.mitten in (read.side, "both")):
                findings += compare(replace(read, size=size), stitches)
    return replace(checked, findings=in_order(findings))


def in_order(findings: list[Finding]) -> tuple[Finding, ...]:
    """The findings as they stand in the text, each once, up to the most that are told."""
    ordered = sorted(dict.fromkeys(findings), key=lambda f: (f.line, f.column))
    return tuple(ordered[:MOST])
