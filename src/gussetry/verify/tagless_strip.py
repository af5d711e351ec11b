"""The tags of a stripe strip told from its shapes: bands, spans, letters, landmarks."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import groupby

from gussetry.stitchmap import StitchMap
from gussetry.verify.heights import EXACT, heights
from gussetry.verify.levels import level
from gussetry.verify.paths import flattened
from gussetry.verify.strip import Band, Cuff, bands, led_from
from gussetry.verify.svg import Shape
from gussetry.verify.tagless_parts import Parts, is_closed, is_rectangle
from gussetry.verify.tagless_scaled import tag_hatches, tag_legend, tag_scale

_FIGURES = re.compile(r"\d+")
_SPAN = re.compile(r"(?:(?:rows?|rounds?) )?[\d–]+")
_LETTERS = re.compile(r"[A-Z](?:, [A-Z])*")
_WIDE = 0.7  # of the widest patch: a band of the strip, no swatch
_NEXT = 1.8  # of a line's height from the top of one line of a landmark to the next, at most


def infer_strip(parts: Parts, stitches: StitchMap) -> None:
    """Tags of a strip's bands and of what stands beside them."""
    tag_scale(parts)
    widest = max((p.box.right - p.box.left for p in parts.patches), default=0.0)
    own = [p for p in parts.patches if p.box.right - p.box.left > _WIDE * widest]
    foot = max((p.box.bottom for p in own), default=0.0)
    # Stripes of a cuff side by side hang from the lowest band.
    own += [p for p in parts.patches if abs(p.box.top - foot) < EXACT and p not in own]
    own.sort(key=lambda s: (-round(level(s), 2), -s.box.centre.real))
    known = {p.order for p in own}
    swatches = [p for p in parts.patches if p.order not in known]
    due = _due(stitches, own)
    for shape, band in zip(own, due, strict=False):
        parts.tag(shape, piece=band.piece, round=band.rounds, yarn=band.yarn)
    for shape in own:
        parts.tag(shape, role="stripe", size=stitches.size)
    tag_legend(parts, stitches, swatches)
    tag_hatches(parts, stitches, [*own, *swatches])
    for shape in (*parts.glyphs, *parts.loops):
        if is_rectangle(shape):
            parts.tag(shape, role="outline", size=stitches.size)
    # A leader that is broken around a number is several stretches.
    for line in (*parts.lines, *parts.glyphs):
        if not parts.role(line) and not any(map(is_closed, line.subs)):
            parts.tag(line, role="rule")
    if not own:
        return
    parts.root |= {"top": f"{own[-1].box.top:.3f}", "foot": f"{own[0].box.bottom:.3f}"}
    pairs = list(zip(own, due, strict=False))
    _tag_left(parts, stitches, pairs)
    _tag_right(parts, stitches, pairs)


def _due(stitches: StitchMap, own: Sequence[Shape]) -> list[Band]:
    """The bands that the strip has: a cuff may be one band or many."""
    cuff = stitches.piece("cuff")
    other: Cuff = "upright" if cuff and cuff.worked == "rows" else "each"
    options = (bands(stitches, "block"), bands(stitches, other))
    return min(options, key=lambda due: abs(len(due) - len(own)))


def _leaders(parts: Parts) -> list[tuple[complex, complex]]:
    return [
        (points[0], points[-1])
        for line in (*parts.lines, *parts.glyphs)
        if parts.role(line) == "rule"
        for points in (flattened(sub) for sub in line.subs)
    ]


def _runs(pairs: Sequence[tuple[Shape, Band]]) -> list[tuple[list[Shape], str, str]]:
    """The runs of bands of one yarn, from the foot up, a cuff's rows as one: their shapes, piece,
    and span."""
    found = []
    for (piece, _), group in groupby(pairs, key=lambda pair: (pair[1].piece, pair[1].letters)):
        run = list(group)
        first = run[0][1].rounds.partition("-")[0]
        last = run[-1][1].rounds.rpartition("-")[2]
        span = first if first == last else f"{first}-{last}"
        found.append(([shape for shape, _ in run], piece, span))
    return found


def _tag_left(parts: Parts, stitches: StitchMap, pairs: Sequence[tuple[Shape, Band]]) -> None:
    """Letters and spans of rounds: each of the run of bands to which its leader leads."""
    edge = min(shape.box.left for shape, _ in pairs)
    foot = pairs[0][0].box.bottom + 2
    left = [s for s in parts.labels if s.box.right < edge and not parts.role(s)]
    letters = [s for s in left if _LETTERS.fullmatch(parts.text(s))]
    spans = [s for s in left if _SPAN.fullmatch(parts.text(s))]
    letters.sort(key=lambda s: -level(s))
    runs, leaders = _runs(pairs), _leaders(parts)
    for place, letter in enumerate(letters):
        start = led_from(letter, leaders)
        at = place if len(letters) == len(runs) else -1
        if start is not None and abs(start.real - edge) < 0.5:
            at = next((i for i, (own, _, _) in enumerate(runs)
                       if own[-1].box.top <= start.imag <= own[0].box.bottom), at)  # fmt: skip
        if not 0 <= at < len(runs):
            continue
        _, piece, span = runs[at]
        beside = [s for s in spans if abs(level(s) - level(letter)) < 1.0]
        for shape, role in ((letter, "yarn"), *((s, "term") for s in beside)):
            parts.tag(shape, role=role, piece=piece, round=span, size=stitches.size)
    for label in left:
        if not parts.role(label) and label.box.top < foot:
            parts.tag(label, role="term", size=stitches.size)


def _tag_right(parts: Parts, stitches: StitchMap, pairs: Sequence[tuple[Shape, Band]]) -> None:
    """Numbers of rounds, each of the band that it stands beside; landmarks by their names."""
    edge = max(shape.box.right for shape, _ in pairs)
    high = pairs[-1][0].box.top - 3, pairs[0][0].box.bottom + 6
    right = [
        label
        for label in parts.labels
        if label.box.left > edge and high[0] < level(label) < high[1] and not parts.role(label)
    ]
    for label in right:
        if not _FIGURES.fullmatch(parts.text(label)):
            continue
        beside = [band for shape, band in pairs
                  if shape.box.top <= level(label) <= shape.box.bottom]  # fmt: skip
        if beside and beside[0].piece == "hand":
            parts.tag(label, role="round", piece="hand", round=beside[0].rounds,
                      size=stitches.size)  # fmt: skip
    _tag_landmarks(parts, stitches, [label for label in right if not parts.role(label)])


def _tag_landmarks(parts: Parts, stitches: StitchMap, labels: Sequence[Shape]) -> None:
    begins = {mark.words.partition(":")[0]: name for name, mark in heights(stitches).items()}
    last: tuple[Shape, str] | None = None
    for label in sorted(labels, key=lambda s: s.box.top):
        name = begins.get(parts.text(label).partition(":")[0], "")
        if not name and last is not None:
            before, owner = last
            close = label.box.top - before.box.top < _NEXT * (before.box.bottom - before.box.top)
            name = owner if close and abs(label.box.left - before.box.left) < 2 else ""
        if name:
            parts.tag(label, role="landmark", landmark=name, size=stitches.size)
            last = label, name
