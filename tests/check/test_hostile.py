"""Hostile folders: each fault one clear finding, the rest still checked, time and memory bounded.

The check runs in a process of its own, whose largest memory the system measures: since the program
was started, since what a process was before would be reckoned in with it.
"""

from __future__ import annotations

import json
import os
import struct
import subprocess
import sys
import time
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest
from check.folders import MANIFEST, as_bytes, folder, pattern, pictures, write

SECONDS = 10.0
MEGABYTES = 500
DRAWING = "M/cuff.svg"
PICTURE = "M/cuff.png"
MAP = "M/stitches.json"

_CHECK = """
import json, re, resource, sys
from pathlib import Path
from gussetry.check import check_folder
found = [{"kind": one.kind, "file": one.file, "message": one.message}
         for one in check_folder(Path(sys.argv[1])) if one.fault]
own = Path("/proc/self/status")
peak = (int(re.search(r"VmHWM:\\s*(\\d+) kB", own.read_text())[1]) if own.exists()
        else resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
print(json.dumps({"found": found, "kilobytes": peak}))
"""

HEAD = b'<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"'


def sound(place: Path) -> Path:
    """A sound folder of one drawing with its picture."""
    return write(folder(pattern("worked-example"), ["M/cuff"], painted=True), place)


def check(place: Path) -> list[dict[str, object]]:
    """What the check finds, within its bounds."""
    begun = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-c", _CHECK, str(place)], capture_output=True, timeout=12 * SECONDS,
        check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr.decode()
    told = json.loads(done.stdout)
    # On a machine that does other things besides, a process waits: its own time is what counts.
    spent = os.times()
    assert time.perf_counter() - begun < SECONDS or spent.children_user < 60 * SECONDS
    assert told["kilobytes"] < MEGABYTES * 1024
    found: list[dict[str, object]] = told["found"]
    return found


def _sparse(place: Path) -> None:
    with (place / DRAWING).open("wb") as file:
        file.truncate(26_000_000)


def _svg(content: bytes) -> Callable[[Path], None]:
    def spoil(place: Path) -> None:
        (place / DRAWING).write_bytes(content)

    return spoil


def _bomb() -> bytes:
    """A thousand million laughs."""
    lines = ['<!ENTITY a "ha">']
    lines += [f'<!ENTITY {new} "{f"&{old};" * 10}">'
              for old, new in zip("abcdefghi", "bcdefghij", strict=True)]  # fmt: skip
    return f"<!DOCTYPE svg [{''.join(lines)}]>".encode() + HEAD + b"><desc>&j;</desc></svg>"


def _copies() -> bytes:
    """Copies of copies: 2 to the 50th paths."""
    inner = b'<g id="a0"><path d="M0 0L5 5"/></g>'
    for i in range(50):
        inner += b'<g id="a%d"><use href="#a%d"/><use href="#a%d"/></g>' % (i + 1, i, i)
    return HEAD + b">" + inner + b"</svg>"


def _empty_copies() -> bytes:
    """Copies of copies of nothing."""
    return _copies().replace(b'<path d="M0 0L5 5"/>', b"")


def _cut(place: Path) -> None:
    path = place / DRAWING
    path.write_bytes(path.read_bytes()[:9000])


def _encoded(place: Path) -> None:
    path = place / DRAWING
    path.write_bytes(path.read_bytes().replace(b"<title", b"\xff\xfe<title", 1))


def _link(place: Path) -> None:
    (place / DRAWING).unlink()
    (place / DRAWING).symlink_to("/dev/zero")


def _pipe(place: Path) -> None:
    (place / DRAWING).unlink()
    os.mkfifo(place / DRAWING)


def _folder(place: Path) -> None:
    (place / DRAWING).unlink()
    (place / DRAWING).mkdir()


def _json(name: str, content: bytes) -> Callable[[Path], None]:
    def spoil(place: Path) -> None:
        (place / name).write_bytes(content)

    return spoil


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def _png_bomb(place: Path) -> None:
    """Four thousand million pixels in some kilobytes."""
    side = 60_000
    header = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    pack = zlib.compressobj(9)
    data = b"".join(pack.compress(bytes(1 << 20)) for _ in range(300)) + pack.flush()
    png = b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", header) + _chunk(b"IDAT", data)
    (place / PICTURE).write_bytes(png + _chunk(b"IEND", b""))


def _dots(place: Path) -> None:
    """A manifest that says that the picture has very many dots."""
    listed = json.loads((place / MANIFEST).read_bytes())
    listed["assets"][0]["png"]["dpi"] = 10**12
    (place / MANIFEST).write_bytes(as_bytes(listed))


HOSTILE: dict[str, tuple[Callable[[Path], None], str, str]] = {
    "over 25 MB": (_sparse, DRAWING, "unreadable"),
    "entity bomb": (_svg(_bomb()), DRAWING, "unreadable"),
    "outside entity": (
        _svg(b'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>' + HEAD + b">&x;</svg>"),
        DRAWING, "unreadable",
    ),
    "copies of copies": (_svg(_copies()), DRAWING, "unreadable"),
    "copies of nothing": (_svg(_empty_copies()), DRAWING, "unreadable"),
    "nesting": (_svg(HEAD + b">" + b"<g>" * 5000 + b"</g>" * 5000 + b"</svg>"), DRAWING,
                "unreadable"),
    "many elements": (_svg(HEAD + b">" + b"<g/>" * 4_000_000 + b"</svg>"), DRAWING, "unreadable"),
    "a page of kilometres": (_svg(HEAD.replace(b"100mm", b"1e9mm") + b"/>"), DRAWING, "unreadable"),
    "a page of NaN": (_svg(HEAD.replace(b"0 0 100 100", b"0 0 nan nan") + b"/>"), DRAWING,
                      "unreadable"),
    "cut short": (_cut, DRAWING, "unreadable"),
    "another encoding": (_encoded, DRAWING, "unreadable"),
    "nothing in it": (_svg(b""), DRAWING, "unreadable"),
    "noise": (_svg(bytes(range(256)) * 40), DRAWING, "unreadable"),
    "a link": (_link, DRAWING, "link"),
    "a pipe": (_pipe, DRAWING, "link"),
    "a folder like a file": (_folder, DRAWING, "missing"),
    "a manifest of garbage": (_json(MANIFEST, b"\x00garbage"), MANIFEST, "unreadable"),
    "a manifest of brackets": (_json(MANIFEST, b"[" * 200_000), MANIFEST, "unreadable"),
    "a manifest of other things": (
        _json(MANIFEST, b'{"format": "gussetry-manifest", "assets": [{"file": "x.svg", "kind": 1,'
              b' "png": {"dpi": 1e999}}]}'), MANIFEST, "unreadable"),
    "a map of brackets": (_json(MAP, b"[" * 200_000), MAP, "unreadable"),
    "a map of another kind": (_json(MAP, b'{"format": "gussetry-stitches"}'), MAP, "unreadable"),
    "a map of NaN": (_json(MAP, b'{"format": "gussetry-stitches", "version": NaN}'), MAP,
                     "unreadable"),
    "a picture of thousands of millions of pixels": (_png_bomb, PICTURE, "picture"),
    "a picture of very many dots": (_dots, PICTURE, "picture"),
}  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_one_clear_finding(name: str, tmp_path: Path) -> None:
    spoil, file, kind = HOSTILE[name]
    place = sound(tmp_path)
    spoil(place)
    own = [one for one in check(place) if one.get("file") == file]
    kinds = {one["kind"] for one in own}
    assert kinds == {kind}
    assert len(own) == 1


FAULTY = {
    "gigantic coordinates": '<path data-role="rule" stroke="#000000" d="M0 0L1e300 5"/>',
    "NaN": '<path data-role="rule" stroke="#000000" d="M0 0Lnan 5"/>',
    "a script": "<script>alert(1)</script>",
    "an event": '<path data-role="rule" onload="x()" stroke="#000000" d="M2 90L2 92"/>',
    "an outside picture": '<image href="http://example.org/a.png"/>',
    "an outside copy": '<use href="http://example.org/a.svg#a"/>',
    "a loop of copies": '<g id="q"><use href="#q"/></g>',
}


@pytest.mark.parametrize("name", FAULTY)
def test_a_hostile_element_is_found_and_the_rest_is_checked(name: str, tmp_path: Path) -> None:
    place = sound(tmp_path)
    path = place / DRAWING
    path.write_text(path.read_text().replace("</svg>", f"{FAULTY[name]}</svg>"))
    (place / PICTURE).unlink()
    found = [one for one in check(place) if one.get("file") == DRAWING]
    # A copy of what is outside also names nothing within: one kind of finding all the same.
    assert len({one["kind"] for one in found}) == 1, found


def test_an_ordinary_doctype_is_accepted(tmp_path: Path) -> None:
    place = sound(tmp_path)
    path = place / DRAWING
    doctype = ('<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN"'
               ' "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">')  # fmt: skip
    path.write_text(path.read_text().replace("<svg ", f"{doctype}\n<svg ", 1))
    assert check(place) == []


def test_a_broken_drawing_keeps_no_other_from_being_checked(tmp_path: Path) -> None:
    place = write(folder(pattern("worked-example"), ["M/cuff", "M/thumb"]), tmp_path)
    (place / DRAWING).write_bytes(b"<svg")
    other = place / "M" / "thumb.svg"
    other.write_text(other.read_text().replace('data-round="3"', 'data-round="4"', 1))
    files = {one.get("file") for one in check(place)}
    assert files == {DRAWING, "M/thumb.svg"}


def test_nothing_outside_is_opened(tmp_path: Path) -> None:
    place = sound(tmp_path / "in")
    (tmp_path / "secret.svg").write_bytes(pictures("worked-example", "default", "M/cuff")[0])
    listed = json.loads((place / MANIFEST).read_bytes())
    listed["assets"][0]["file"] = "../secret.svg"
    (place / MANIFEST).write_bytes(as_bytes(listed))
    found = [one for one in check(place) if one.get("file") == "../secret.svg"]
    assert [one["kind"] for one in found] == ["missing"]


def test_a_changed_file_is_a_note_where_nothing_is_wrong(tmp_path: Path) -> None:
    from gussetry.check import check_folder

    place = sound(tmp_path)
    path = place / DRAWING
    assert check_folder(place) == []
    path.write_bytes(path.read_bytes() + b"\n<!-- looked at -->\n")
    (note,) = check_folder(place)
    assert (note.file, note.kind, note.fault) == (DRAWING, "changed", False)
