"""Snippets in many writers' habits: what they make was counted by hand."""

from __future__ import annotations

import pytest
from manuscripts.snippets import Snippet, counts_of, found_in, snippets

from gussetry.manuscripts import check_text

SNIPPETS = snippets()


def test_there_are_enough() -> None:
    assert len(SNIPPETS) >= 60
    assert len({snippet.name for snippet in SNIPPETS}) == len(SNIPPETS)


@pytest.mark.parametrize("snippet", SNIPPETS, ids=lambda snippet: snippet.name)
def test_counts_and_findings(snippet: Snippet) -> None:
    checked = check_text(snippet.text, snippet.name)
    counts = snippet.counts or {"": []}
    assert counts_of(checked) == counts, checked.findings
    assert found_in(checked) == snippet.found, checked.findings
