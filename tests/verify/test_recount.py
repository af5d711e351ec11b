"""The recount finds nothing on a sound drawing, and something on every spoilt one."""

import pytest
from verify.breaking import STITCHES, Spoiler, bytes_of, centre, paths, tree
from verify.breaking_more import REST
from verify.pen import outline, symbol
from verify.scenes import all_scenes

from gussetry.stitchmap import Op
from gussetry.verify import Asked, recount

SCENES = all_scenes()
CHARTS = [name for name, (_, asked) in SCENES.items() if asked.kind in
          ("gusset", "crown", "thumb", "cuff")]  # fmt: skip


@pytest.mark.parametrize("name", SCENES)
def test_a_sound_drawing_has_no_finding(name: str) -> None:
    svg, asked = SCENES[name]
    assert recount(svg, asked) == ()


@pytest.mark.parametrize("name", SCENES)
def test_written_again_it_still_has_none(name: str) -> None:
    svg, asked = SCENES[name]
    assert recount(bytes_of(tree(svg)), asked) == ()


@pytest.mark.parametrize("spoil", STITCHES, ids=lambda spoil: spoil.__name__)
@pytest.mark.parametrize("name", CHARTS)
def test_every_spoilt_stitch_is_found(name: str, spoil: Spoiler) -> None:
    svg, asked = SCENES[name]
    tried = 0
    total = svg.count(b'class="stitch"')
    for n in range(0, total, max(1, total // 6)):
        root = tree(svg)
        if spoil(root, n):
            tried += 1
            assert recount(bytes_of(root), asked), f"stitch {n}"
    assert tried


@pytest.mark.parametrize("spoil", REST, ids=lambda spoil: spoil.__name__)
def test_everything_else_spoilt_is_found(spoil: Spoiler) -> None:
    tried = 0
    for name, (svg, asked) in SCENES.items():
        for n in range(0, 24, 5):
            root = tree(svg)
            if spoil(root, n):
                tried += 1
                assert recount(bytes_of(root), asked), f"{name}, {n}"
    assert tried


def test_a_drawing_is_held_against_the_other_kind() -> None:
    svg, asked = SCENES["gusset"]
    assert recount(svg, Asked("thumb", asked.maps))


@pytest.mark.parametrize("asked", [Asked("poster", SCENES["key"][1].maps), Asked("key", ())])
def test_what_cannot_be_asked_is_refused(asked: Asked) -> None:
    with pytest.raises(ValueError, match="cannot recount"):
        recount(b"<svg/>", asked)


@pytest.mark.parametrize(
    "svg",
    [
        b"",
        b"\x00\xff",
        b"<svg/>",
        b'<html xmlns="http://www.w3.org/1999/xhtml"/>',
        b'<svg xmlns="http://www.w3.org/2000/svg" width="210" height="297" viewBox="0 0 1 1"/>',
        b'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 nan 9"/>',
        b'<!DOCTYPE svg [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg">&a;</svg>',
        b'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">'
        + b"<g>" * 5000
        + b"</g>" * 5000
        + b"</svg>",
    ],
)
def test_what_is_no_drawing_is_one_finding(svg: bytes) -> None:
    assert [f.kind for f in recount(svg, SCENES["key"][1])] == ["unreadable"]


def test_an_ordinary_doctype_is_read() -> None:
    svg, asked = SCENES["crown"]
    doctype = (
        b'<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" '
        b'"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">\n'
    )
    assert recount(doctype + svg, asked) == ()


@pytest.mark.parametrize(
    "text",
    ["rounds 6–7: 7 sc", "rounds 6–7: 7 sc, inc", "rounds 6–8: 8 sc", "round 6: 8 sc", "8 sc"],
)
def test_a_wrong_sum_of_rounds_is_found(text: str) -> None:
    svg, asked = SCENES["gusset"]
    root = tree(svg)
    (label,) = paths(root, data_role="sum", data_says="rounds 6–7: 8 sc")
    label.set("data-says", text)
    label.set("d", outline(text, 90, 150))
    assert recount(bytes_of(root), asked)


def test_uk_terms_are_asked_for() -> None:
    svg, asked = SCENES["gusset"]
    kinds = {f.kind for f in recount(svg, Asked("gusset", asked.maps, "UK"))}
    assert {"rows", "key"} <= kinds


def test_a_finding_says_where() -> None:
    svg, asked = SCENES["thumb"]
    root = tree(svg)
    (one,) = paths(root, class_="stitch", data_round="2", data_index="3")
    one.set("d", symbol(Op("hdc"), centre(one)))
    (found,) = recount(bytes_of(root), asked)
    assert (found.kind, found.piece, found.round, found.index) == ("kind", "thumb", 2, 3)
    assert (found.expected, found.found) == ("dc", "hdc")
    assert found.at == pytest.approx((centre(one).real, centre(one).imag), abs=0.01)
