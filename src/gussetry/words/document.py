"""The whole pattern text as blocks, from the title to the cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from itertools import zip_longest

from gussetry.grading import GradedSize
from gussetry.grading.cautions import CAUTIONS, cautioned
from gussetry.spec import Spec
from gussetry.stitchmap import Piece, PieceName, StitchMap
from gussetry.telling.lists import enumerated
from gussetry.telling.rounds import capital
from gussetry.words import events, front, yarns
from gussetry.words.blocks import Block, Heading, Instruction, Prose
from gussetry.words.events import Scene
from gussetry.words.lines import Line, lines
from gussetry.words.special import abbreviations, special_stitches

_LABELS = {"foundation": "Foundation", "seam": "Seam", "draw shut": "Draw shut"}


def document(spec: Spec, graded: Sequence[GradedSize], scene: Scene) -> tuple[Block, ...]:
    """Every block of the text for these sizes."""
    making = tuple(_making(spec, scene))
    used = " ".join(block.text for block in making)
    special = tuple(special_stitches(scene.maps, scene.terms))
    used = " ".join([used, *special, *front.gauge(spec, scene.terms)])
    return (
        *_front(spec, graded, scene),
        *_list("Abbreviations", abbreviations(used, scene.terms)),
        *_list("Special stitches", special),
        *_list("Notes", front.notes(scene, spec)),
        *making,
        *_list("Finishing", front.finishing(scene, spec)),
        *_cautions(graded),
    )


def _list(title: str, items: Iterator[str] | Sequence[str]) -> Iterator[Block]:
    """A heading over a list; nothing where the list is empty."""
    shown = tuple(items)
    if shown:
        yield Heading(2, title)
        yield from (Prose(item, item=True) for item in shown)


def _front(spec: Spec, graded: Sequence[GradedSize], scene: Scene) -> Iterator[Block]:
    own = "" if len(graded) == len(spec.sizes) else f", size {graded[0].size.name}"
    yield Heading(1, f"{spec.pattern}{own}")
    yield Prose(front.subtitle(scene, spec))
    for line in (spec.credit, spec.copyright):
        if line:
            yield Prose(line)
    yield Heading(2, "Sizes" if len(graded) > 1 else "Size")
    yield from (Prose(one) for one in front.sizes(scene, graded))
    yield from _list("Materials", front.materials(scene, spec, graded))
    yield Prose(front.reserve(spec))
    yield from _list(front.gauge_name(scene.terms), front.gauge(spec, scene.terms))
    yield from _list("Finished measures", front.measures(scene))


def _cautions(graded: Sequence[GradedSize]) -> Iterator[Block]:
    young = [one.size.name for one in graded if cautioned(one.size)]
    if not young:
        return
    yield Heading(2, "For children under three")
    if len(young) < len(graded):
        yield Prose(f"{'Size' if len(young) == 1 else 'Sizes'} {enumerated(young)}:")
    yield from (Prose(caution, item=True) for caution in CAUTIONS)


def _making(spec: Spec, scene: Scene) -> Iterator[Block]:
    """Stripes, cuff, hand and thumb."""
    carry = spec.stripes.carry
    yield from _list("Stripes", yarns.stripes(scene.firsts, carry))
    sides = [[m for m in scene.maps if m.mitten == side] for side in ("both", "left", "right")]
    mittens = [side for side in sides if side]
    for piece in mittens[0][0].pieces:
        yield Heading(2, piece.piece.capitalize())
        each = [tuple(_piece(scene, maps, piece.piece, carry)) for maps in mittens]
        yield from each[0] if len(each) == 1 else _two(*each)


def _two(left: Sequence[Block], right: Sequence[Block]) -> Iterator[Block]:
    """What serves both mittens once; where they differ, the left one's lines and the right's."""
    matcher = SequenceMatcher(None, left, right, autojunk=False)
    for same, a, b, c, d in matcher.get_opcodes():
        if same == "equal":
            yield from left[a:b]
            continue
        yield from (_of("Left mitten", block) for block in left[a:b])
        yield from (_of("Right mitten", block) for block in right[c:d])


def _of(mitten: str, block: Block) -> Block:
    if isinstance(block, Instruction):
        return Instruction(f"{mitten}: {block.label}", block.text)
    return Prose(f"{mitten}: {block.text}")


def _piece(scene: Scene, maps: Sequence[StitchMap], name: PieceName, carry: int) -> Iterator[Block]:
    """One piece: what opens it, then its lines with what is told between them."""
    pieces = [piece for m in maps if (piece := m.piece(name))]
    plain = yarns.throughout(pieces)
    if plain is not None:
        yield Prose(f"Yarn: {plain} throughout.")
    yield from (Prose(text) for text in events.opening(scene, name))
    known = yarns.known_changes(maps, name, carry)
    head = ""
    made = tuple(lines(pieces, scene.terms))
    for line, following in zip_longest(made, made[1:]):
        if line.phase != head:
            if name == "hand" and (title := _title(line.phase, head)):
                yield Heading(3, title)
            yield from (Prose(text) for text in events.before(scene, name, line.phase, head))
            head = line.phase
        colour = "" if plain is not None or line.phase in _LABELS else yarns.label(line)
        change = "" if plain is not None else yarns.change(line, [m.size for m in maps], known)
        yield _instruction(line, [m.size for m in maps], pieces[0], (colour, change))
        last = following is None or following.phase != line.phase
        yield from (Prose(text) for text in events.after(scene, name, line, last))


def _title(phase: str, before: str) -> str:
    """The heading that a phase of the hand begins; none where it goes on in the same part."""
    title = events.HEADS.get(phase, "")
    return "" if title == events.HEADS.get(before) else title


def _instruction(
    line: Line, sizes: Sequence[str], piece: Piece, colour: tuple[str, str]
) -> Instruction:
    label = _LABELS.get(line.phase, "")
    if not label:
        kind = "Row" if piece.worked == "rows" else "Rnd"
        label = f"{kind}{'s' if line.many else ''} {line.numbers}{colour[0]}"
    if len(line.runs) < len(sizes):
        names = [sizes[i] for i in line.runs]
        label = f"{'Size' if len(names) == 1 else 'Sizes'} {enumerated(names)} only: {label}"
    parts = (line.work, *line.after, colour[1])
    if line.phase == "draw shut":
        # What is drawn shut holds its marker fast.
        parts = (*line.after, line.work)
    text = " ".join(part for part in parts if part)
    return Instruction(label, capital(text))
