"""The technical editor's check of a manuscript: is every round's arithmetic right?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from gussetry.findings import Finding
from gussetry.manuscripts.fabric import compare
from gussetry.manuscripts.figures import value_said
from gussetry.manuscripts.made import Budget, ReadSize
from gussetry.manuscripts.manuscript import Manuscript, read_manuscript
from gussetry.manuscripts.pieces import sides
from gussetry.manuscripts.promises import Against, broken_promises, placed, shown
from gussetry.manuscripts.rounds import read_size
from gussetry.manuscripts.terms import Terms
from gussetry.manuscripts.text import Undecoded
from gussetry.stitchmap import StitchMap

MOST = 500
"""Most findings that are told of one manuscript."""


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
        found = Finding(
            error.code, error.message, line=error.line, column=error.column, length=1,
            remedy=error.remedy,
        )  # fmt: skip
        return Checked(name, None, (), in_order([found], name))
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
        findings.append(at_start("too-much", message))
    if only is None:
        findings += _plans(manuscript, read)
    if not manuscript.statements:
        message = "no round is told in this text"
        findings.append(at_start("no-rounds", message))
    return Checked(name, manuscript, tuple(read), in_order(findings, name))


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
                "yarn", message, piece=plan.piece, line=line, column=column,
                length=plan.spot.length, expected=f"{max(rounds)}", found=f"{last}",
            )
        )  # fmt: skip
    return findings


def check_against(
    content: str | bytes,
    name: str,
    against: Against,
    terms: Terms | None = None,
    only: str | None = None,
) -> Checked:
    """The manuscript checked by itself and against the stitch maps of a specification's sizes:
    rounds stitch by stitch, and figures as far as they are known."""
    names = tuple(dict.fromkeys(stitches.size for stitches in against.maps))
    checked = check_text(content, name, terms, names, only)
    if checked.manuscript is None:
        return checked
    findings = list(checked.findings)
    told = checked.manuscript.sizes
    served: dict[int, StitchMap] = {}
    for read in checked.sizes:
        size = read.size or (told[0] if told[0] in names else "")
        if not size and len(names) == 1:
            size = names[0]
        if not size:
            message = "the text is for one size, and the specification has several"
            remedy = "say which it is in the text, “Size: M”, or with --size"
            findings.append(at_start("sizes", message, remedy))
            break
        own = [m for m in against.maps if m.size == size]
        for stitches in own:
            if not read.side or stitches.mitten in (read.side, "both"):
                findings += compare(replace(read, size=size), stitches)
        if own:
            served[told.index(read.size) if read.size else 0] = own[0]
    findings += broken_promises(checked.manuscript, served, against)
    return replace(checked, findings=in_order(findings, name))


def unlike_amounts(texts: Sequence[Checked]) -> Iterator[Finding]:
    """Where texts of one pattern name different amounts of yarn for a size: told in the later."""
    told: dict[tuple[str, str, str], tuple[str, str]] = {}
    for checked in texts:
        manuscript = checked.manuscript
        for figure in manuscript.figures if manuscript else ():
            if manuscript is None or len(figure.said) not in (1, len(manuscript.sizes)):
                continue
            for at, size in enumerate(manuscript.sizes):
                said, spot = figure.at(at)
                first, where = told.setdefault((size, figure.of, figure.unit), (said, checked.name))
                if value_said(first) == value_said(said) or not figure.of.startswith("yarn"):
                    continue
                found = Finding(
                    "amount", f"{where} names another amount of {figure.of}", checked.name, size,
                    expected=shown(first, figure.unit), found=shown(said, figure.unit),
                )  # fmt: skip
                yield placed(found, manuscript, spot)


def at_start(kind: str, message: str, remedy: str = "") -> Finding:
    """A finding of the text as a whole."""
    return Finding(kind, message, line=1, column=1, length=1, sure="unclear", remedy=remedy)


def in_order(findings: Iterable[Finding], name: str) -> tuple[Finding, ...]:
    """The findings of a text as they stand in it, each once, up to the most that are told."""
    own = dict.fromkeys(replace(finding, file=name) for finding in findings)
    return tuple(sorted(own, key=lambda f: (f.line or 1, f.column or 1))[:MOST])
