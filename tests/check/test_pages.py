"""The check of a folder with finished pages: sound ones pass, and faults in them are told."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from check.paged import SPEC
from cli.program import gussetry


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that `draw` wrote with pages, since the specification asks for them."""
    made = tmp_path_factory.mktemp("pages")
    text = f"{SPEC}pages: {{paper: Letter, sets: all}}\n"
    (made / "cove.yaml").write_text(text, encoding="utf-8")
    done = gussetry("draw", "-q", made / "cove.yaml", "-o", made / "out")
    assert done.returncode == 0, done.stderr
    return made / "out"


def test_the_manifest_lists_every_page_and_the_document(folder: Path) -> None:
    assets = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))["assets"]
    pages = [entry for entry in assets if entry["kind"] == "page"]
    assert [entry["page"] for entry in pages] == [*range(1, len(pages) + 1)]
    assert {entry["of"] for entry in pages} == {len(pages)}
    assert {entry["paper"] for entry in pages} == {"letter"}
    assert {entry["size"] for entry in pages} == {"S / M"}
    assert {tuple(entry["millimetres"]) for entry in pages} == {(215.9, 279.4)}
    assert {"file": "pages/letter.pdf", "kind": "pages"}.items() <= assets[-1].items()
    listed = {entry["file"] for entry in pages} | {entry["png"]["file"] for entry in pages}
    found = {f"pages/{path.name}" for path in (folder / "pages").iterdir()}
    assert found == listed | {"pages/letter.pdf"}


def test_sound_pages_pass(folder: Path) -> None:
    assert (folder / "pages/letter.pdf").exists()
    done = gussetry("check", folder)
    assert done.returncode == 0, done.stdout


def test_a_stitch_that_a_page_lost_is_told(folder: Path, tmp_path: Path) -> None:
    spoilt = tmp_path / "out"
    shutil.copytree(folder, spoilt)
    page, svg = next(
        (page, text) for page in sorted(spoilt.glob("pages/*.svg"))
        if 'class="stitch"' in (text := page.read_text(encoding="utf-8"))
    )  # fmt: skip
    page.write_text(re.sub(r'\s*<path [^>]*class="stitch"[^>]*/>', "", svg, count=1), "utf-8")
    done = gussetry("check", spoilt)
    assert done.returncode == 1
    assert f"pages/{page.name}" in done.stdout


def test_a_lost_page_is_told(folder: Path, tmp_path: Path) -> None:
    spoilt = tmp_path / "out"
    shutil.copytree(folder, spoilt)
    (spoilt / "pages/letter-all-1.svg").unlink()
    done = gussetry("check", spoilt)
    assert done.returncode == 1
    assert "pages/letter-all-1.svg" in done.stdout
