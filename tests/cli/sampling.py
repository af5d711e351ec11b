"""Count tables of a sample, and what becomes of them."""

from __future__ import annotations

from pathlib import Path

import pytest

import gussetry.sample as sample
from gussetry.counts import count_table, table_csv
from gussetry.diagnostics import Faults, render
from gussetry.grading import graded_sizes
from gussetry.read import read_spec
from gussetry.source import parse

EXAMPLES = Path(__file__).parents[2] / "examples"


# The worked example: cuff 30 rows of 11, hand and thumb as its first comment has them.
CUFF = [11] * 30

HAND = [30, 31, 32, 33, *range(35, 54, 2), *[36] * 15, 34, 34, 32, 32, 28, 24, 20, 10, 5]

THUMB = [14, 13, 13, 13, 11, 11, 9, 9, 6]


def table(
    hand: list[int] = HAND,
    thumb: list[int] = THUMB,
    cuff: list[int] = CUFF,
    separator: str = ",",
    end: str = "\n",
) -> str:
    """A count table of one size, M."""
    pieces = (("cuff", cuff), ("hand", hand), ("thumb", thumb))
    rows = [("piece", "round", "M")]
    rows += [(p, str(n), str(c)) for p, counts in pieces for n, c in enumerate(counts, 1)]
    return "".join(separator.join(row) + end for row in rows)


def sampled(folder: Path, text: str | bytes, size: str | None = None) -> sample.Sampled:
    """What comes out of a table of that text."""
    path = folder / "counts.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return sample.from_counts(path, size)


def refused(folder: Path, text: str | bytes, size: str | None = None) -> str:
    """How a table of that text is refused: one message."""
    with pytest.raises(Faults) as raised:
        sampled(folder, text, size)
    assert len(raised.value.problems) == 1
    return render(raised.value.problems[0], getattr(raised.value, "source", None))


def counted(text: str) -> str:
    """The count table of a specification."""
    graded = graded_sizes(read_spec(parse(text, "sample.yaml")))
    return table_csv(count_table([size.maps for size in graded]))
