"""Drawings that other programs have written again are the same shapes; bombs are not read."""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest
from verify.rewriting import REWRITERS, everything

from gussetry.verify.findings import UnreadableError
from gussetry.verify.reading import plain, read

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30"'
DRAWING = f"""<?xml version="1.0" encoding="utf-8"?>
{HEAD} data-kind="gusset"><title>T</title><desc>D</desc>
<g fill="none" stroke="#1f1d1a" stroke-width="0.35" stroke-linecap="round">
<path class="stitch" data-do="sc" data-round="1" d="M5 5L5 8M4 6.5L6 6.5"/>
<path class="stitch" data-do="ch" d="M9 5A1.5 1 0 1 1 12 5A1.5 1 0 1 1 9 5"/>
<path data-role="growth" stroke="#5c564e" stroke-width="0.18" stroke-dasharray="1 0.5"
 d="M5 9Q6 10 7 9"/></g>
<g><path data-role="colour" fill="#223344" d="M20 20L24 20L24 24L20 24Z"/></g></svg>""".encode()


def near(one: object, other: object) -> bool:
    return one == pytest.approx(other, abs=2e-3)


@pytest.mark.parametrize("rewrite", [*REWRITERS, everything], ids=lambda f: f.__name__)
def test_rewritten_drawings_are_the_same_shapes(rewrite: Callable[[bytes], bytes]) -> None:
    before, after = read(DRAWING), read(rewrite(DRAWING))
    assert after.findings == ()
    assert near((after.width, after.height), (before.width, before.height))
    assert len(before.shapes) == len(after.shapes) == 4
    for one, other in zip(before.shapes, after.shapes, strict=True):
        assert near(other.box, one.box)
        assert near(other.pen, one.pen)
        assert (one.fill, one.stroke, one.hidden) == (other.fill, other.stroke, other.hidden)
        tags = {k: v for k, v in other.marks.items() if k != "class"}
        assert tags == {k: v for k, v in one.marks.items() if k != "class"}
        assert set(one.classes) <= set(other.classes)
        for a, b in zip(one.subs, other.subs, strict=True):
            assert a.steps == b.steps
            assert near([abs(p - q) for p, q in zip(a.points, b.points, strict=True)],
                        [0] * len(a.points))  # fmt: skip


def test_basic_shapes_are_paths() -> None:
    page = read(
        f"""{HEAD}><rect x="1" y="2" width="3" height="4"/><circle cx="9" cy="9" r="2"/>
        <line x1="0" y1="1" x2="3" y2="1" stroke="black"/><rect x="20" y="5" width="6" height="4"
        rx="1"/><polygon points="1,20 5,20 3,24"/><polyline points="10 20 12 22"/>
        <ellipse cx="30" cy="9" rx="3" ry="1"/></svg>""".encode()
    )
    assert page.findings == ()
    boxes = [(1, 2, 4, 6), (7, 7, 11, 11), (0, 1, 3, 1), (20, 5, 26, 9), (1, 20, 5, 24),
             (10, 20, 12, 22), (27, 8, 33, 10)]  # fmt: skip
    for shape, box in zip(page.shapes, boxes, strict=True):
        assert near(shape.box, box)


@pytest.mark.parametrize(
    ("body", "kind"),
    [
        ("<script>1</script>", "element"),
        ("<image href='a.png'/>", "element"),
        ("<text>7</text>", "text"),
        ("<path d='M0 0L1 1' onclick='x()'/>", "reference"),
        ("<use href='other.svg#a'/>", "reference"),
        ("<use href='#nothing'/>", "reference"),
        ("<path d='M0 0L1 1' fill='url(http://a.example/b#c)'/>", "reference"),
        ("<path d='M0 0L1 1' clip-path='url(#c)'/>", "unread"),
        ("<path d='M0 0L1 nan'/>", "path"),
        ("<path d='M0 0L1e30 1'/>", "path"),
        ("<path d='M0 0L1 1' stroke='url(#g)'/>", "paint"),
        ("<foreignObject/>", "element"),
        ("<svg/>", "element"),
    ],
)
def test_what_has_no_place_is_told(body: str, kind: str) -> None:
    page = read(f"{HEAD}>{body}</svg>".encode())
    assert kind in [finding.kind for finding in page.findings]


BOMB = "".join(f'<g id="b{i}">' + f'<use href="#b{i - 1}"/>' * 10 + "</g>" for i in range(1, 12))
START = HEAD.encode() + b">"
HOSTILE = {
    "entities": b'<!DOCTYPE svg [<!ENTITY a "b">]>' + START + b"&a;</svg>",
    "outside": b'<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]>' + START + b"&a;</svg>",
    "deep": START + b"<g>" * 100 + b"</g>" * 100 + b"</svg>",
    "copies of copies": START
    + f'<defs><path id="b0" d="M0 0L1 1"/>{BOMB}</defs><use href="#b11"/></svg>'.encode(),
    "copy of itself": START + b'<g id="a"><use href="#a"/></g></svg>',
    "many": START + b"<g/>" * 300_000 + b"</svg>",
    "large": START + b" " * 25_000_001 + b"</svg>",
    "much data": START + b'<path d="M0 0' + b"L1 1" * 3_000_000 + b'"/></svg>',
    "truncated": DRAWING[:400],
    "another encoding": DRAWING.decode().replace("<title>T", "<title>\u00e4").encode("latin-1"),
    "no svg": b"<html/>",
    "nothing": b"",
    "far": START + b'<g transform="translate(1e9)"><path d="M0 0L1 1"/></g></svg>',
    "not a number": HEAD.replace("40mm", "nanmm").encode() + b"/>",
    "stretched": HEAD.replace("0 0 40 30", "0 0 40 60").encode() + b"/>",
    "style that fetches": START + b"<style>@import url(http://a.example/x.css);</style></svg>",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_documents_are_refused_at_once(name: str) -> None:
    begun = time.process_time()
    with pytest.raises(UnreadableError):
        read(HOSTILE[name])
    # A bound that only a bomb would miss, by ten times.
    assert time.process_time() - begun < 20


def test_paints_of_style_sheets() -> None:
    assert plain("rgb(0, 128, 128)") == ("#008080", 1.0)
    assert plain("steelblue") == ("#4682b4", 1.0)
    assert plain("#abc") == ("#aabbcc", 1.0)
    assert plain("transparent")[0] == "none"
    assert plain("url(#a)") == ("url(#a)", 1.0)
    assert plain("rgba(0,0,0,.5)") == ("#000000", 0.5)
