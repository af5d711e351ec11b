"""The words of a folder held against its stitch maps."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from gussetry.check.evidence import Evidence
from gussetry.findings import Finding
from gussetry.manuscripts import check_against
from gussetry.naming import slug
from gussetry.stitchmap import StitchMap

_NAME = re.compile(r"words(?:-(?P<size>.+))?\.md")


def compare_texts(evidence: Evidence) -> Iterator[Finding]:
    """Every line in which the words of all sizes, or of one, make no sense by themselves or make
    another fabric than the maps."""
    maps = [stitches for _, stitches in evidence.maps]
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
        for finding in check_against(content, name, served, only=only).findings:
            yield replace(finding, size=finding.size or only or "")


def _of_size(maps: Sequence[StitchMap], named: str) -> list[StitchMap]:
    return [stitches for stitches in maps if slug(stitches.size) == named]
