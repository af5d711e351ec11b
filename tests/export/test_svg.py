"""SVG: the same bytes every time, well formed, no script, nothing from outside."""

from __future__ import annotations

from pathlib import Path as FilePath
from xml.etree.ElementTree import Element

from defusedxml.ElementTree import fromstring

from gussetry.drawing import Drawing, Group, Path
from gussetry.export.svg import svg_bytes

SVG = "{http://www.w3.org/2000/svg}"


def drawing(**changes: object) -> Drawing:
    stitch = Path("M1 1V3M0 2H2", tags=(("class", "stitch"), ("data-do", "sc")))
    patch = Path("M0 0H9V9H0Z", fill="#c03a2b", pen=0.18, stroke="#000000", dash=(1.0, 0.5))
    values: dict[str, object] = {
        "width": 210.0,
        "height": 297.0,
        "title": "Gusset",
        "description": "Size M, both mittens",
        "groups": (
            Group((patch,)),
            Group((stitch,), stroke="#1a1a1a", pen=0.35, tags=(("data-role", "stitches"),)),
        ),
        "tags": (("data-kind", "gusset"), ("data-size", "M")),
    }
    return Drawing(**{**values, **changes})  # type: ignore[arg-type]


def read(made: Drawing) -> Element:
    root: Element = fromstring(svg_bytes(made), forbid_dtd=True)
    return root


def test_one_unit_is_one_millimetre() -> None:
    root = read(drawing(width=123.4567))
    assert (root.get("width"), root.get("height")) == ("123.457mm", "297mm")
    assert root.get("viewBox") == "0 0 123.457 297"


def test_the_root_says_what_it_holds() -> None:
    root = read(drawing())
    assert root.get("role") == "img"
    assert (root.get("data-kind"), root.get("data-size")) == ("gusset", "M")
    assert [(child.tag, child.text) for child in root[:2]] == [
        (f"{SVG}title", "Gusset"),
        (f"{SVG}desc", "Size M, both mittens"),
    ]


def test_a_screen_reader_is_led_to_title_and_description() -> None:
    root = read(drawing())
    assert root.get("{http://www.w3.org/XML/1998/namespace}lang") == "en"
    assert root[0].get("id") == root.get("aria-labelledby") == "gusset-M-title"
    assert root[1].get("id") == root.get("aria-describedby") == "gusset-M-description"


def test_the_names_of_parts_are_names_whatever_a_size_is_called() -> None:
    for size, name in (("6 to 12 months", "k-6-to-12-months"), ("漢字 'x'", "k-x"), ("…", "k")):
        root = read(drawing(tags=(("data-kind", "k"), ("data-size", size))))
        assert root.get("aria-labelledby") == f"{name}-title"
    assert read(drawing(tags=())).get("aria-labelledby") == "drawing-title"


def test_ink_and_tags_arrive_as_they_are() -> None:
    root = read(drawing())
    paper, patch, stitch = root.iter(f"{SVG}path")
    assert paper.get("d") == "M0 0H210V297H0Z"
    assert paper.get("fill") == "#ffffff"
    assert patch.attrib == {
        "d": "M0 0H9V9H0Z",
        "fill": "#c03a2b",
        "stroke": "#000000",
        "stroke-width": "0.18",
        "stroke-dasharray": "1 0.5",
    }
    assert stitch.attrib == {"d": "M1 1V3M0 2H2", "class": "stitch", "data-do": "sc"}
    (group,) = (g for g in root.iter(f"{SVG}g") if g.get("data-role") == "stitches")
    assert (group.get("stroke"), group.get("stroke-width")) == ("#1a1a1a", "0.35")


def test_caps_and_joins_stand_once() -> None:
    written = svg_bytes(drawing())
    assert written.count(b"stroke-linecap") == written.count(b"stroke-linejoin") == 1


def test_a_transparent_drawing_has_no_ground() -> None:
    assert len(list(read(drawing(paper="")).iter(f"{SVG}path"))) == 2


def test_the_same_drawing_gives_the_same_bytes() -> None:
    assert svg_bytes(drawing()) == svg_bytes(drawing())


def test_strange_names_do_not_break_the_file() -> None:
    title = 'a\x00\x1b\ufffe\ud800<script>alert("1")</script> & ]]> Ø'
    root = read(drawing(title=title, tags=(("data-size", title),)))
    clean = 'a<script>alert("1")</script> & ]]> Ø'
    assert root[0].text == clean
    assert root.get("data-size") == clean


def test_no_script_no_picture_nothing_from_outside(tmp_path: FilePath) -> None:
    root = read(drawing())
    assert {e.tag.removeprefix(SVG) for e in root.iter()} == {"svg", "title", "desc", "g", "path"}
    for element in root.iter():
        for name, value in element.attrib.items():
            assert not name.startswith("on")
            assert "href" not in name
            assert "url(" not in value
