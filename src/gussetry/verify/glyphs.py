"""Labels read back from their outlines against the font's own glyphs.

A label is one path. Its contours are compared with the font's free of size, turn and place: point
by point first (a fresh export keeps the font's points), and where a drawing program has rewritten
the curves, by moments of the enclosed area. Glyphs are put together on one baseline at one size,
so that a part of one letter is never taken for another.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from functools import cache, lru_cache
from statistics import median
from typing import NamedTuple

from gussetry.verify.font import (
    LETTERS,
    WEIGHTS,
    Contour,
    Glyph,
    by_steps,
    contour,
    glyphs_of,
    space,
)
from gussetry.verify.paths import Subpath, flattened, subpaths

_NEAR = 0.008  # of an em: how far a point may lie from the font's
_KERN = 0.12  # of an em: how far a letter may be moved along its line
_RIVALS = 12  # contours of a label that are asked for its size
_BLUR = 0.06  # how far the moments of a rewritten contour may lie from the font's


class Seen(NamedTuple):
    """A contour on the page: its start, and its form as if it began at 0, 0. `shape` is not empty
    where many contours share one form."""

    start: complex
    form: Contour
    shape: str


def contours_of(subs: Sequence[Subpath]) -> list[Seen]:
    """The contours of a label's path."""
    seen = []
    for sub in subs:
        if sub.shape:
            form = _form_of(sub.shape)
        else:
            form = contour(sub.steps, [0j, *[point - sub.start for point in sub.points]])
        seen.append(Seen(sub.start, form, sub.shape))
    return seen


@lru_cache(maxsize=4096)
def _form_of(shape: str) -> Contour:
    (model,) = subpaths("M0 0" + shape)
    return contour(model.steps, (0j, *model.points))


class _Fit(NamedTuple):
    """A contour taken for part `part` of `glyph`: `turn` is size and direction as one complex
    number, `origin` the glyph's own origin on the page, `error` how badly it fits."""

    glyph: Glyph
    part: int
    turn: complex
    origin: complex
    error: float


def _lay(form: Contour, model: Contour) -> tuple[complex, complex] | None:
    """The turn and the origin with which a form lies on a glyph's contour of the same steps; None
    where they differ."""
    ours, theirs = form.points, model.points
    if len(ours) != len(theirs):
        return None
    span = theirs[model.far] - theirs[0]
    if not span:
        return None
    turn = (ours[model.far] - ours[0]) / span
    if not turn:
        return None
    origin = ours[0] - turn * theirs[0]
    near = _NEAR * abs(turn) + 0.002
    for p, q in zip(ours, theirs, strict=True):
        if abs(p - origin - turn * q) > near:
            return None
    return turn, origin


@lru_cache(maxsize=8192)
def _lay_shape(
    shape: str, weight: str, letter: str, form: int, part: int
) -> tuple[complex, complex] | None:
    return _lay(_form_of(shape), glyphs_of(weight, letter)[form].contours[part])


def _fit(seen: Seen, glyph: Glyph, part: int) -> _Fit | None:
    """The contour laid on a glyph's contour of the same steps; None where they differ."""
    if seen.shape:
        laid = _lay_shape(seen.shape, glyph.weight, glyph.letter, glyph.form, part)
    else:
        laid = _lay(seen.form, glyph.contours[part])
    return _Fit(glyph, part, laid[0], seen.start + laid[1], 0.0) if laid else None


def shows(contours: Sequence[Seen], text: str) -> bool:
    """True where the contours, in their order, draw just this text in one weight and size."""
    return any(_shows_in(weight, contours, text) for weight in WEIGHTS)


def _shows_in(weight: str, contours: Sequence[Seen], text: str) -> bool:
    used = 0
    before: _Fit | None = None
    ahead = 0.0  # where the next letter's origin is due, ems from the one before
    for letter in text:
        if letter == " ":
            ahead += space(weight)
            continue
        fit = None
        for glyph in glyphs_of(weight, letter):
            fit = _glyph_at(contours, used, glyph)
            if fit is not None:
                break
        if fit is None:
            return False
        used += len(fit.glyph.contours)
        if before is not None:
            # From letter to letter: the turn of a small contour is too rough for a whole line.
            place = (fit.origin - before.origin) / before.turn
            if (
                abs(fit.turn - before.turn) > 0.04 * abs(before.turn)
                or abs(place.imag) > 0.02
                or abs(place.real - ahead) > _KERN
            ):
                return False
        before, ahead = fit, fit.glyph.advance
    return used == len(contours)


def em_of(contours: Sequence[Seen], text: str) -> float | None:
    """The em at which most of the text's letters are drawn, in the unit of the page; None where the
    contours do not draw the text."""
    for weight in WEIGHTS:
        used, sizes = 0, []
        for letter in text.replace(" ", ""):
            found = (_glyph_at(contours, used, glyph) for glyph in glyphs_of(weight, letter))
            fit = next((fit for fit in found if fit is not None), None)
            if fit is None:
                break
            used += len(fit.glyph.contours)
            sizes.append(abs(fit.turn))
        else:
            return median(sizes) if sizes else None
    return None


def _glyph_at(contours: Sequence[Seen], used: int, glyph: Glyph) -> _Fit | None:
    """The whole glyph found in the contours from `used` on."""
    parts = glyph.contours
    if not parts or used + len(parts) > len(contours):
        return None
    first: _Fit | None = None
    for i, model in enumerate(parts):
        if contours[used + i].form.steps != model.steps:
            return None
        fit = _fit(contours[used + i], glyph, i)
        if fit is None:
            return None
        if first is None:
            first = fit
        elif abs(fit.turn - first.turn) > 0.05 * abs(first.turn) or abs(
            fit.origin - first.origin
        ) > 0.03 * abs(first.turn):
            return None
    return first


# --- reading without a text to hope for -------------------------------------------------------


class _Moments(NamedTuple):
    """Area (signed), centre of area, and central moments made free of size."""

    area: float
    centre: complex
    shape: tuple[float, ...]


def _moments(points: Sequence[complex]) -> _Moments | None:
    area = sum(_cross(p, q) for p, q in _edges(points)) / 2
    if abs(area) < 1e-9:
        return None
    base = points[0]
    centre = base + sum(
        (p + q - 2 * base) * _cross(p - base, q - base) for p, q in _edges(points)
    ) / (6 * area)
    m20 = m11 = m02 = m30 = m21 = m12 = m03 = 0.0
    for p, q in _edges([point - centre for point in points]):
        c = _cross(p, q)
        (a, b), (d, e) = (p.real, p.imag), (q.real, q.imag)
        m20 += c * (a * a + a * d + d * d) / 12
        m02 += c * (b * b + b * e + e * e) / 12
        m11 += c * (2 * a * b + a * e + d * b + 2 * d * e) / 24
        m30 += c * (a**3 + a * a * d + a * d * d + d**3) / 20
        m21 += c * (a * a * (3 * b + e) + 2 * a * d * (b + e) + d * d * (b + 3 * e)) / 60
        m12 += c * (b * b * (3 * a + d) + 2 * b * e * (a + d) + e * e * (a + 3 * d)) / 60
        m03 += c * (b**3 + b * b * e + b * e * e + e**3) / 20
    size, sign = abs(area), math.copysign(1, area)
    second, third = sign / size**2, sign / size**2.5
    shape = tuple(m * second for m in (m20, m11, m02)) + tuple(
        m * third for m in (m30, m21, m12, m03)
    )
    return _Moments(area, centre, shape)


def _cross(p: complex, q: complex) -> float:
    return p.real * q.imag - p.imag * q.real


def _edges(points: Sequence[complex]) -> Iterator[tuple[complex, complex]]:
    return zip(points, [*points[1:], points[0]], strict=True)


@cache
def _models(weight: str) -> tuple[tuple[Glyph, int, _Moments], ...]:
    """The moments of every contour of a weight."""
    models = []
    for letter in LETTERS:
        for glyph in glyphs_of(weight, letter):
            for i, part in enumerate(glyph.contours):
                sub = Subpath(part.points[0], part.steps, part.points[1:], True)
                moments = _moments(flattened(sub))
                if moments is not None:
                    models.append((glyph, i, moments))
    return tuple(models)


def _fits(seen: Seen, weight: str, turns: Sequence[complex]) -> list[_Fit]:
    """Every contour of the weight that the seen one may be."""
    if "A" in seen.form.steps:
        # No letter of a font has an arc.
        return []
    exact = [
        fit
        for glyph, part in by_steps(weight).get(seen.form.steps, ())
        if (fit := _fit(seen, glyph, part)) is not None
    ]
    if exact:
        return exact
    points = tuple(seen.start + point for point in seen.form.points)
    outline = flattened(Subpath(points[0], seen.form.steps, points[1:], True))
    fits = []
    for turn in turns:
        ours = _moments([point / turn for point in outline])
        if ours is None:
            return []
        for glyph, part, theirs in _models(weight):
            error = sum(abs(a - b) for a, b in zip(ours.shape, theirs.shape, strict=True))
            size = math.sqrt(abs(ours.area / theirs.area))
            if error < _BLUR:
                origin = ours.centre * turn - theirs.centre * turn * size
                fits.append(_Fit(glyph, part, turn * size, origin, error))
    return sorted(fits, key=lambda fit: fit.error)


def decode(contours: Sequence[Seen]) -> str | None:
    """The text that the contours draw, None where some belong to no letter of the font."""
    best: str | None = None
    for weight in WEIGHTS:
        for turns in ((1 + 0j,), (-1j,), (1j,)):
            found = _assemble(contours, [_fits(c, weight, turns) for c in contours], weight)
            if found is not None and (best is None or len(found) > len(best)):
                best = found
        if best is not None:
            return best
    return best


def _assemble(contours: Sequence[Seen], fits: Sequence[list[_Fit]], weight: str) -> str | None:
    if not contours or not all(fits):
        return None
    # The size that most contours agree on is the label's.
    few = fits[:: max(len(fits) // _RIVALS, 1)]
    rivals = [fit.turn for choices in few for fit in choices[:4]]
    turn = max(rivals, key=lambda t: sum(_agrees(choices, t) for choices in fits))
    level = abs(turn) * 1j ** round(cmath.phase(turn) / (math.pi / 2))
    turn = level if abs(level - turn) < 0.03 * abs(turn) else turn
    agreed = [[f for f in choices if abs(f.turn - turn) < 0.08 * abs(turn)] for choices in fits]
    if not all(agreed):
        return None
    line = _baseline(agreed, turn)
    agreed = [
        [f for f in choices if abs((f.origin / turn).imag - line) < 0.05] for choices in agreed
    ]
    # Letters of many contours first: the dot of an i must not be read as a full stop. Among
    # letters alike in number the one whose worst contour fits best.
    whole: dict[tuple[str, int, frozenset[int]], tuple[int, float, _Fit]] = {}
    matches = _by_part(agreed)
    for choices in agreed:
        for fit in choices:
            parts = _parts(matches, fit, abs(turn))
            if parts is not None:
                key = (fit.glyph.letter, fit.glyph.form, parts[0])
                whole[key] = (-len(parts[0]), parts[1], fit)
    free = set(range(len(contours)))
    letters: list[tuple[float, Glyph]] = []
    for (_, _, used), (_, _, fit) in sorted(whole.items(), key=lambda item: item[1][:2]):
        if used <= free:
            free -= used
            letters.append(((fit.origin / turn).real, fit.glyph))
    return None if free else _spaced(sorted(letters, key=lambda item: item[0]), weight)


def _agrees(choices: list[_Fit], turn: complex) -> bool:
    return any(abs(fit.turn - turn) < 0.08 * abs(turn) for fit in choices)


def _baseline(agreed: Sequence[list[_Fit]], turn: complex) -> float:
    """The height of the line on which most contours can stand."""
    heights = [[(fit.origin / turn).imag for fit in choices] for choices in agreed]
    # As one rounds them, the same height is not counted anew for every letter.
    rivals = dict.fromkeys(round(height, 3) for own in heights for height in own)
    return max(rivals, key=lambda h: sum(any(abs(own - h) < 0.03 for own in o) for o in heights))


_Matches = dict[tuple[str, int, int], list[tuple[int, _Fit]]]


def _by_part(agreed: Sequence[list[_Fit]]) -> _Matches:
    """The contours that may be a part of a glyph, by letter, form and part."""
    found: _Matches = {}
    for i, choices in enumerate(agreed):
        for fit in choices:
            found.setdefault((fit.glyph.letter, fit.glyph.form, fit.part), []).append((i, fit))
    return found


def _parts(matches: _Matches, fit: _Fit, em: float) -> tuple[frozenset[int], float] | None:
    """The contours that make up the fit's whole glyph and the worst of their errors, None where
    one is missing."""
    found: dict[int, float] = {}
    for part in range(len(fit.glyph.contours)):
        near = [
            (other.error, i)
            for i, other in matches.get((fit.glyph.letter, fit.glyph.form, part), ())
            if abs(other.origin - fit.origin) < 0.06 * em
        ]
        if not near:
            return None
        error, i = min(near)
        found[i] = error
    return (
        (frozenset(found), max(found.values())) if len(found) == len(fit.glyph.contours) else None
    )


def _spaced(letters: list[tuple[float, Glyph]], weight: str) -> str:
    text = ""
    due = letters[0][0]
    for at, glyph in letters:
        gap = at - due
        text += " " * max(0, round(gap / space(weight))) if gap > space(weight) / 2 else ""
        text += glyph.letter
        due = at + glyph.advance
    return text
