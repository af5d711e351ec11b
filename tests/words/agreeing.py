"""What a text must say of every round, held against the stitch maps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from words.plainly import Told, read, used_and_made

from gussetry.stitchmap import Piece, StitchMap, sections


def disagreements(text: str, maps: Sequence[StitchMap]) -> list[str]:
    """Every way in which the text tells another fabric than the maps' counts."""
    found = read(text)
    wrong = []
    for stitches in maps:
        for mitten in ("Left", "Right") if stitches.mitten == "both" else [stitches.mitten.title()]:
            for piece in stitches.pieces:
                own = found.rounds.get((mitten, stitches.size, piece.piece), [])
                once = found.once.get((stitches.size, piece.piece), "")
                where = f"{stitches.size} {mitten} {piece.piece}"
                wrong += [f"{where}: {words}" for words in _piece(piece, stitches, own, once)]
    return wrong


def _piece(piece: Piece, stitches: StitchMap, own: Sequence[Told], once: str) -> Iterator[str]:
    told = [one for one in own if one.number > 0]
    if [one.number for one in told] != [r.number for r in piece.counted]:
        yield f"rounds {[one.number for one in told]}"
        return
    before, between = _begins(piece, stitches), None
    for one, round_ in zip(told, piece.counted, strict=True):
        if one.count != round_.count:
            yield f"round {one.number}: count {one.count}, not {round_.count}"
        if one.sections != (sections(round_) or ()):
            yield f"round {one.number}: sections {one.sections}"
        if one.aside != sum(op.held or op.do == "hold" for op in round_.work):
            yield f"round {one.number}: {one.aside} set aside"
        if one.yarn != "stripes" and (one.yarn or once) != round_.yarn:
            yield f"round {one.number}: yarn {one.yarn or once}, not {round_.yarn}"
        used, made = used_and_made(one.work, before, between)
        if used != before or made != one.count:
            yield f"round {one.number}: {one.work} uses {used} of {before}, makes {made}"
        before = one.count or 0
        between = one.sections[1] if one.sections else None


def _begins(piece: Piece, stitches: StitchMap) -> int:
    """The places that the first counted round of a piece finds."""
    if piece.rounds[0].phase == "foundation":
        return piece.rounds[0].count
    return sum(len(op.into) for op in piece.rounds[0].work)
