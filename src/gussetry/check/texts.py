"""The words of a folder held against its stitch maps."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from gussetry.check.evidence import Evidence
from gussetry.findings import Finding
from gussetry.manuscripts import Against, Checked, Needs, check_against, unlike_amounts
from gussetry.naming import slug
from gussetry.stitchmap import StitchMap

_NAME = re.compile(r"words(?:-(?P<size>.+))?\.md")


def compare_texts(evidence: Evidence, needs: Needs | None = None) -> Iterator[Finding]:
    """Every line in which the words of all sizes, or of one, make no sense by themselves, make
    another fabric than the maps, or name another figure; `needs` has what a pair takes of yarn, by
    size. Else the amounts of all texts are held against each other."""
    maps = [stitches for _, stitches in evidence.maps]
    texts: list[Checked] = []
    for name in evidence.files:
        told = _NAME.fullmatch(name)
        if told is None or not maps:
            continue
        served = maps if told["size"] is None else _of_size(maps, told["size"])
        if not served:
            message = "the folder has no stitch map of the size that these words are for"
            yield Finding("missing", message, name)
            continue
        content = evidence.content(name)
        if content is None:
            continue
        names = {stitches.size for stitches in served}
        only = served[0].size if len(names) == 1 else None
        against = Against(served, _steps(evidence), needs or {})
        checked = check_against(content, name, against, only=only)
        texts.append(checked)
        for finding in checked.findings:
            yield replace(finding, size=finding.size or only or "")
    if not needs:
        yield from unlike_amounts(texts)


def _steps(evidence: Evidence) -> tuple[Fraction, Fraction] | None:
    """To how many millimetres and inches the manifest says that measures are rounded."""
    head = evidence.head or {}
    try:
        cm, inch = (Fraction(str(head[name])) for name in ("centimetres", "inches"))
    except (ArithmeticError, ValueError, KeyError):
        return None
    return (cm * 10, inch) if cm > 0 and inch > 0 else None


def _of_size(maps: Sequence[StitchMap], named: str) -> list[StitchMap]:
    return [stitches for stitches in maps if slug(stitches.size) == named]
