"""`gussetry words`, and the text in the output folder."""

import json
from pathlib import Path

import pytest
from cli.program import gussetry

from gussetry.cli.telling import write
from gussetry.diagnostics import Faults

EXAMPLES = Path(__file__).parents[2] / "examples"
PEBBLE = EXAMPLES / "pebble-child.yaml"


def test_the_text_of_all_sizes_is_shown() -> None:
    done = gussetry("words", PEBBLE)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("# Pebble\n")
    assert "**Rnds 9–19 (10–22, 10–24, 11–25):** Sc in each st around." in done.stdout
    assert gussetry("words", PEBBLE, "-o", "-").stdout == done.stdout


def test_terms_form_and_size_may_be_chosen(tmp_path: Path) -> None:
    file = tmp_path / "pebble.txt"
    done = gussetry(
        "words", PEBBLE, "--terms", "UK", "--format", "plain", "--size", "2 years", "-o", file
    )
    assert done.returncode == 0, done.stderr
    text = file.read_text(encoding="utf-8")
    assert text.startswith("PEBBLE, SIZE 2 YEARS\n====================\n")
    assert "\nRnds 10–22: Dc in each st around. 30 sts.\n" in text
    assert "\r" not in file.read_bytes().decode("utf-8")


def test_an_unknown_size_is_wrong_usage_that_names_the_known_ones() -> None:
    done = gussetry("words", PEBBLE, "--size", "XXL")
    assert done.returncode == 2
    assert "'XXL' is none of 18 months, 2 years, 4 years, 6 years" in done.stderr


def test_a_file_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    done = gussetry("words", PEBBLE, "-o", tmp_path)
    assert done.returncode == 1
    assert f"error[cannot-write]: {tmp_path} cannot be written" in done.stderr
    assert "= help: " in done.stderr


def test_what_was_there_stays_until_all_is_written(tmp_path: Path) -> None:
    file = tmp_path / "words.md"
    file.write_text("before\n", encoding="utf-8")
    with pytest.raises(Faults, match="cannot be written"):
        # Half of a pair is no text.
        write(file, "after \ud800\n")
    assert file.read_text(encoding="utf-8") == "before\n"
    write(file, "after\n")
    assert file.read_text(encoding="utf-8") == "after\n"
    assert list(tmp_path.iterdir()) == [file]


@pytest.mark.skipif(not Path("/dev/stdout").exists(), reason="a system without that name")
def test_a_pipe_is_written_as_it_stands() -> None:
    done = gussetry("words", PEBBLE, "-o", "/dev/stdout")
    assert done.stdout.startswith(gussetry("words", PEBBLE).stdout)


def test_a_faulty_specification_is_told(tmp_path: Path) -> None:
    file = tmp_path / "faulty.yaml"
    file.write_text("pattern: Nothing\n", encoding="utf-8")
    assert gussetry("words", file).returncode == 1


def test_the_output_folder_has_the_text_of_all_sizes_and_of_each(drawn: Path) -> None:
    listed = json.loads((drawn / "manifest.json").read_text(encoding="utf-8"))
    words = [entry for entry in listed["assets"] if entry["kind"] == "words"]
    assert words[0] == {"file": "words.md", "kind": "words", "sha256": words[0]["sha256"]}
    sizes = sorted(path.parent.name for path in drawn.glob("*/stitches.json"))
    assert sorted(entry["file"] for entry in words[1:]) == [f"words-{size}.md" for size in sizes]
    for entry in words:
        assert "## Hand" in (drawn / entry["file"]).read_text(encoding="utf-8")
    assert "words.md" not in [entry["file"] for entry in listed["absent"]]
