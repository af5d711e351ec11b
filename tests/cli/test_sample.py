"""A sample's count table turned into a specification: what is read, and never guessed."""

from __future__ import annotations

from pathlib import Path

import pytest
from cli.program import gussetry
from cli.sampling import EXAMPLES, counted, refused, sampled, table
from click.testing import CliRunner

from gussetry.cli import program
from gussetry.counts import count_table, table_csv
from gussetry.grading import graded_sizes
from gussetry.read import read_spec
from gussetry.source import parse, read_source


def test_the_worked_example_comes_back_stitch_by_stitch(tmp_path: Path) -> None:
    made = graded_sizes(read_spec(parse(sampled(tmp_path, table()).text, "sample.yaml")))
    asked = graded_sizes(read_spec(read_source(EXAMPLES / "worked-example.yaml")))
    for one, other in zip(made[0].maps[0].pieces, asked[0].maps[0].pieces, strict=True):
        assert one.worked == other.worked
        assert one.rounds == other.rounds


def test_the_table_that_counts_writes_is_read(tmp_path: Path) -> None:
    done = gussetry("counts", EXAMPLES / "worked-example.yaml", "--csv")
    (tmp_path / "counts.csv").write_text(done.stdout, encoding="utf-8")
    made = gussetry("new", tmp_path / "mine.yaml", "--from", tmp_path / "counts.csv")
    assert made.returncode == 0, made.stderr
    again = gussetry("counts", tmp_path / "mine.yaml", "--csv")
    assert again.stdout == done.stdout


def _columns() -> list[tuple[str, str]]:
    found = []
    for path in sorted(EXAMPLES.glob("*.yaml")):
        sizes = read_spec(read_source(path)).sizes
        found += [(path.name, size.name) for size in sizes]
    return found


@pytest.mark.parametrize(("name", "size"), _columns())
def test_every_size_of_the_examples_comes_back(tmp_path: Path, name: str, size: str) -> None:
    graded = graded_sizes(read_spec(read_source(EXAMPLES / name)))
    whole = table_csv(count_table([one.maps for one in graded]))
    own = table_csv(count_table([one.maps for one in graded if one.size.name == size]))
    made = sampled(tmp_path, whole, size)
    assert counted(made.text) == own


def test_what_the_table_cannot_tell_is_named_in_the_file_and_on_the_terminal(
    tmp_path: Path,
) -> None:
    (tmp_path / "counts.csv").write_text(table(), encoding="utf-8")
    done = gussetry("new", tmp_path / "mine.yaml", "--from", tmp_path / "counts.csv")
    text = (tmp_path / "mine.yaml").read_text(encoding="utf-8")
    for untold in ("gauge", "gauge of the ribbing", "hand that it fits", "yarns", "joined",
                   "which side the markers move", "worked again"):  # fmt: skip
        assert any(untold in line for line in text.splitlines() if "# not in the table" in line)
        assert any(untold in line for line in done.stdout.splitlines() if line.startswith("- "))
    other = "growth: alternating, between markers: 11, pairs: 3, with marked: no, crook stitches: 4"
    assert other in done.stdout
    assert other in text
    assert "growth: alternating" in text


@pytest.mark.parametrize(
    "text",
    [
        table(separator=";"),
        table(separator="\t"),
        table(separator=" , "),
        table(end="\r\n"),
        table(end="\r"),
        table(end="\n\n"),
        table(end=",,\n"),
        table().removesuffix("\n"),
        "\ufeff" + table(),
        table().replace("piece,round", " Piece , ROUND"),
        table().replace("hand", "Hand").replace("cuff", '"cuff"'),
        table().splitlines()[0] + "\n" + "\n".join(table().splitlines()[:0:-1]),
        "\n".join(",".join(line.split(",")[::-1]) for line in table().splitlines()),
    ],
)
def test_the_ways_of_spreadsheets_are_forgiven(tmp_path: Path, text: str) -> None:
    assert counted(sampled(tmp_path, text).text) == table()


@pytest.mark.parametrize("name", ['6", wide', "38", "no", "3 years", "#1: x", "a\\b", "Größe"])
def test_any_name_of_a_size_survives(tmp_path: Path, name: str) -> None:
    head = name.replace('"', '""')
    made = sampled(tmp_path, table().replace("M", f'"{head}"', 1))
    assert made.size == name
    assert read_spec(parse(made.text, "sample.yaml")).sizes[0].name == name


def test_a_size_is_chosen_by_name(tmp_path: Path) -> None:
    two = table().replace("M", "S,M", 1).replace("\n", ",\n").replace("S,M,", "S,M")
    wide = "".join(
        f"{line},{line.rpartition(',')[2]}\n" if n else "piece,round,S,M\n"
        for n, line in enumerate(table().splitlines())
    )
    assert counted(sampled(tmp_path, wide, " m ").text) == table()
    assert "it has S, M" in refused(tmp_path, wide, "XL")
    assert "no-hand" in refused(tmp_path, two, "M")


@pytest.mark.parametrize(
    ("cuff", "pinned"),
    [
        ([], "cuff: {style: none}"),
        ([30] * 12, "rounds: 12"),
        ([30] * 30, "ribbed sideways, instead of rounds"),
        ([11] * 29, "seam counts: yes"),
        ([11] * 26, "spread evenly"),
    ],
)
def test_the_cuff_is_what_its_counts_say(tmp_path: Path, cuff: list[int], pinned: str) -> None:
    made = sampled(tmp_path, table(cuff=cuff))
    assert pinned in made.text
    assert counted(made.text) == table(cuff=cuff)


def test_a_hand_that_the_division_leaves_as_it_was_is_understood(tmp_path: Path) -> None:
    # Three stitches set aside, three chained in their place.
    hand = [19, 20, 20, 20, 21, 23, 25, *[25] * 8]
    made = sampled(tmp_path, table(hand, [5, 4, 4, 4, 4]))
    assert counted(made.text) == table(hand, [5, 4, 4, 4, 4])
    assert "which round sets the thumb aside" in made.text
    assert "round: 8" in made.text


def test_a_file_that_is_there_stays(tmp_path: Path) -> None:
    (tmp_path / "counts.csv").write_text(table(), encoding="utf-8")
    (tmp_path / "mine.yaml").write_text("mine", encoding="utf-8")
    arguments = ["new", str(tmp_path / "mine.yaml"), "--from", str(tmp_path / "counts.csv")]
    done = CliRunner().invoke(program, arguments)
    assert done.exit_code == 1
    assert "is there already" in done.stderr
    assert (tmp_path / "mine.yaml").read_text(encoding="utf-8") == "mine"


def test_a_size_without_a_table_is_wrong_usage(tmp_path: Path) -> None:
    done = CliRunner().invoke(program, ["new", str(tmp_path / "mine.yaml"), "--size", "M"])
    assert done.exit_code == 2
    assert not (tmp_path / "mine.yaml").exists()


def test_a_table_that_is_not_there_is_told(tmp_path: Path) -> None:
    for path in (tmp_path / "none.csv", tmp_path):
        done = CliRunner().invoke(program, ["new", "-", "--from", str(path)])
        assert done.exit_code == 1
        assert "no-file" in done.stderr


def test_it_can_be_shown(tmp_path: Path) -> None:
    (tmp_path / "counts.csv").write_text(table(), encoding="utf-8")
    done = CliRunner().invoke(program, ["new", "-", "--from", str(tmp_path / "counts.csv")])
    assert done.exit_code == 0
    assert counted(done.stdout) == table()
    assert "could not tell" in done.stderr
