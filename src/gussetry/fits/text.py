"""The fit to read: a table a size, whom the sizes fit, and what another gauge makes."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from gussetry.fits import Fit, Passing, Row, SizeFit
from gussetry.fits.coverage import Coverage, Hole, Stretch
from gussetry.fits.gauges import GaugeTable, Outcome, SizeOutcomes
from gussetry.fits.marks import legend, mark, signed
from gussetry.fits.reach import of_children
from gussetry.grading.measures import LEAST_ADULT, LEAST_MAN
from gussetry.survey import ADULTS, HALF_STEP
from gussetry.units import MM_PER_INCH, rounded, text

_WIDE = 96
"""Characters of a line of prose."""
_WIDEST = 110
"""Characters of a line of the gauge table."""
_TENTH = Fraction(1, 10)
_NOBODY = 0.0005
"""A share that would be printed as 0.0 %."""


def fit_text(fit: Fit) -> str:
    """The whole fit as text, lengths in centimetres, differences in millimetres too."""
    blocks = [list(_size(one)) for one in fit.sizes]
    blocks += [list(_coverage(fit)), list(_gauges(fit.gauges)), list(_legend(fit))]
    return "\n\n".join("\n".join(line.rstrip() for line in block) for block in blocks) + "\n"


def _cm(mm: Fraction) -> str:
    return f"{float(rounded(mm / 10, _TENTH)):.1f}"


def _columns(rows: Sequence[Sequence[str]], left: Iterable[int]) -> Iterator[str]:
    """The rows indented, their cells in columns, those in `left` set to the left."""
    wide = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    sides = set(left)
    for row in rows:
        cells = (
            cell.ljust(wide[i]) if i in sides else cell.rjust(wide[i]) for i, cell in enumerate(row)
        )
        yield "  " + "  ".join(cells)


def _prose(words: str) -> list[str]:
    return textwrap.wrap(
        words, _WIDE, initial_indent="  ", subsequent_indent="  ", break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip


# --- a size -------------------------------------------------------------------------------------


def _size(one: SizeFit) -> Iterator[str]:
    yield f"size {one.size.name}: {_whose(one)}"
    head = ("in cm", "body ", "wish ", "finished", "apart   ", "", "")
    yield from _columns([head, *map(_row, one.rows)], left=(0, 6))
    yield from _prose(_passing(one.passing))


def _whose(one: SizeFit) -> str:
    """Whose hands a size is for, and who says so."""
    standard = one.size.standard
    if not one.size.wearer:
        guess = f"taken for {one.wearer}, by the circumference"
        return f"{standard}, {guess}" if standard else guess
    if not standard:
        return one.wearer
    return standard if standard.startswith(one.wearer) else f"{standard}, {one.wearer}"


def _row(row: Row) -> tuple[str, ...]:
    measure = row.measure
    body = " " if measure.body is None else _cm(measure.body)
    behind = mark(measure.origin) if measure.origin != measure.body_origin else ""
    return (
        measure.name,
        body + (mark(measure.body_origin) or " "),
        _cm(measure.wish) + (behind or " "),
        _cm(measure.finished),
        signed(row.apart) + " mm",
        signed(row.apart / row.each),
        row.unit,
    )


def _passing(passing: Passing) -> str:
    """Whether the cuff, or the edge, passes the hand, in words."""
    girth = _cm(passing.girth) + (mark("weak") if passing.girth_weak else "")
    verdict = "it passes" if passing.passes else "it may not pass"
    weak = mark("weak") if passing.opens_weak else ""
    return (
        f"Over the hand with its thumb laid in ({girth} cm round) the {passing.edge} must open to"
        f" {float(passing.needed):.2f} times its width; it opens to"
        f" {float(passing.opens):.2f}{weak} times: {verdict}."
    )


# --- coverage -----------------------------------------------------------------------------------


def _coverage(fit: Fit) -> Iterator[str]:
    coverage = fit.coverage
    women, men = ADULTS["women"].number, ADULTS["men"].number
    yield f"whom the sizes fit: shares of {women} women and {men} men (ANSUR II, 2012)"
    if _nobody(coverage.total):
        yield from _prose(
            f"None of these adults has a hand of {_range(coverage.total)} cm. For children no"
            " survey has the hand's circumference, so that their shares cannot be told."
        )
    else:
        yield from _covered(coverage)
    served = " ".join(_served([of_children(one.size) for one in fit.sizes]))
    if len(coverage.bands) == 1:
        yield from _prose(served)
        return
    for hole in coverage.holes:
        yield from _prose(_hole(hole))
    if not coverage.holes:
        yield from _prose("No holes: every hand between two sizes is served by one of them.")
    yield from _prose(served)


def _nobody(stretch: Stretch) -> bool:
    return max(stretch.women, stretch.men) < _NOBODY


def _covered(coverage: Coverage) -> Iterator[str]:
    rows: list[tuple[str, ...]] = [("", "hands round, cm", "women", "men")]
    rows += [_shares(band.sizes[0], band) for band in coverage.bands]
    if len(coverage.bands) > 1:
        rows.append(_shares("all sizes", coverage.total))
    rows += [_shares("smaller hands", coverage.below), _shares("larger hands", coverage.above)]
    yield from _columns(rows, left=(0, 1))
    reach = (
        "Each size reaches half-way to its neighbours"
        if len(coverage.bands) > 1
        else "The size reaches as far as it serves"
    )
    yield from _prose(
        f"{reach}. Shares of a normal distribution with the survey's mean and deviation; soldiers"
        " of 17 to 58 years, not everybody."
    )


def _hole(hole: Hole) -> str:
    """The hole in words; shares only where adults have such hands."""
    stretch = hole.stretch
    smaller, larger = stretch.sizes
    told = (
        f"Hole: between {smaller} and {larger}, hands of {_range(stretch)} cm: neither serves them"
    )
    if hole.ages:
        told += f", the mean hand of {hole.ages[0]}"
        told += f" to {hole.ages[-1]}" if len(hole.ages) > 1 else ""
    if not _nobody(stretch):
        shares = f"{_percent(stretch.women)} of the women and {_percent(stretch.men)} of the men"
        # No line ends between a figure and its sign.
        told += f"; {shares} have one".replace(" %", "\u00a0%")
    return told + "."


def _served(children: Sequence[bool]) -> Iterator[str]:
    """How far from a size its hands reach, for adults' and for children's sizes as they are."""
    if not all(children):
        yield (
            "A size serves hands within half a European glove step"
            f" ({_hundredths(HALF_STEP)} cm, EN ISO 21420) of its own."
        )
    if any(children):
        yield (
            "A child's size serves hands within a step of the surveyed children's means~: half a"
            " year up to the first birthday, then a year."
        )


def _shares(name: str, stretch: Stretch) -> tuple[str, ...]:
    return name, _range(stretch), _percent(stretch.women), _percent(stretch.men)


def _range(stretch: Stretch) -> str:
    """The stretch in cm, with the sign of what its ends rest on."""
    low, high = (None if end is None else _cm(end) for end in (stretch.low, stretch.high))
    shown = f"{low}–{high}"
    if low is None or high is None:
        shown = f"under {high}" if low is None else f"over {low}"
    return shown + mark(stretch.origin)


def _percent(share: float) -> str:
    return f"{100 * share:.1f} %"


def _hundredths(mm: Fraction) -> str:
    return text(mm / 10, 2)


# --- gauges -------------------------------------------------------------------------------------


def _gauges(table: GaugeTable) -> Iterator[str]:
    yield "at another gauge: hand circumference of each size's counts, cm, and the size to make"
    rows = [(over, *_heads(table, width)) for over, width in _OVER]
    rows += [(one.size, *(_outcome(one, o) for o in one.outcomes)) for one in table.sizes]
    side_by_side = list(_columns(rows, left=range(len(rows[0]))))
    if max(map(len, side_by_side)) <= _WIDEST:
        yield from side_by_side
    else:
        yield from _gauge_by_gauge(table)
    yield from _prose(
        "→ and a size: make that size instead, its counts come nearest to the wish of this one."
        " → hook: no size comes so near that it serves such hands; change the hook, to a smaller"
        " one for fewer stitches than the pattern's, to a larger one for more. Lengths go by"
        " rounds: count yours too."
    )
    yield from _prose(
        "Swatch in the round, in the stitch of the hand, and wash and dry the swatch like the"
        " mitten before you count: worked flat, or unwashed, stitches measure otherwise."
    )


_OVER = (("stitches over 10 cm", Fraction(100)), ("or over 4 in", 4 * MM_PER_INCH))
"""Widths over which a gauge is told, mm."""


def _heads(table: GaugeTable, width: Fraction) -> Iterator[str]:
    """Each gauge of the table in stitches over that width, to a tenth."""
    return (text(stitches * width / 100, 1) for stitches in table.stitches)


def _gauge_by_gauge(table: GaugeTable) -> Iterator[str]:
    """The same where long names would make the table too wide: one gauge under the other."""
    heads = zip(*(_heads(table, width) for _, width in _OVER), strict=True)
    for place, (metric, imperial) in enumerate(heads):
        yield f"  {metric} stitches over 10 cm, {imperial} over 4 in"
        rows = [("  " + one.size, _outcome(one, one.outcomes[place])) for one in table.sizes]
        yield from _columns(rows, left=(0, 1))


def _outcome(one: SizeOutcomes, outcome: Outcome) -> str:
    shown = _cm(outcome.circumference) + mark(one.origin)
    if outcome.make == one.size:
        return shown
    return f"{shown} → {outcome.make or 'hook'}"


# --- legend -------------------------------------------------------------------------------------


def _legend(fit: Fit) -> Iterator[str]:
    measures = [row.measure for one in fit.sizes for row in one.rows]
    origins = {origin for m in measures for origin in (m.origin, m.body_origin)}
    if any(of_children(one.size) for one in fit.sizes):
        origins.add("estimated")
    if any(one.passing.girth_weak or one.passing.opens_weak for one in fit.sizes):
        origins.add("weak")
    yield "no sign: given by the specification, or reckoned from what it gives"
    for meaning in legend(origins, [one.size for one in fit.sizes]):
        yield from textwrap.wrap(meaning, _WIDE, subsequent_indent="  ")
    if any(one.size.wearer is None for one in fit.sizes):
        yield from textwrap.wrap(
            "`taken for` is a guess by the hand's circumference: children under"
            f" {_cm(LEAST_ADULT)} cm, men from {_cm(LEAST_MAN)} cm, else women. `for` in the"
            " specification says whose hand it is.",
            _WIDE,
        )
    if any(" p" in (one.size.standard or "") for one in fit.sizes):
        yield from textwrap.wrap(
            "A percentile fixes the hand's circumference alone: who is at the 95th in one measure"
            " is not at the 95th in another.",
            _WIDE,
        )
