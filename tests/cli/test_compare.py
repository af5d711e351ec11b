"""Errata: every difference between two output folders is told where it is, and nothing else."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from gussetry.cli import program
from gussetry.counts import count_table
from gussetry.errata import Change, Output, as_text, changes, read_output
from gussetry.errata.folders import Listed
from gussetry.errata.telling import CM_STEP, INCH_STEP
from gussetry.grading import finished, graded_sizes
from gussetry.read import read_spec
from gussetry.source import parse
from gussetry.spec import Spec
from gussetry.style import load_style

EXAMPLES = Path(__file__).parents[2] / "examples"

SAMPLE = """\
pattern: Trial
gauge: {over: 10 cm, stitches: 18, rounds: 20}
rib gauge: {over: 10 cm, stitches: 17, rows: 20}
yarns: {A: {name: slate, colour: "#44546a"}, B: {name: foam, colour: "#eef2f3"}}
sizes: {S: {hand circumference: 18 cm}, M: {hand circumference: 20 cm}}
stripes: {plan: [A: 4, B: 2]}
lower hand: {rounds: 4}
gusset: {between markers: {S: 9, M: 11}}
division: {round: {S: 12, M: 13}}
crown:
  plain before: {S: 14, M: 15}
  phases: [{sides: 2, plain after: 1}, {evenly: {S: 2, M: 2}, decreases: 4}]
"""


def spec(*changed: tuple[str, str]) -> Spec:
    """The sample, some of its text replaced."""
    text = SAMPLE
    for old, new in changed:
        assert old in text
        text = text.replace(old, new)
    return read_spec(parse(text, "sample.yaml"))


def output(drawn: Spec) -> Output:
    """What a run of the specification would have written, without drawings."""
    graded = graded_sizes(drawn)
    maps = tuple(m for size in graded for m in size.maps)
    table = count_table([size.maps for size in graded])
    cells = {
        (column, row.piece, row.round): count
        for row in table.rows
        for column, count in zip(table.sizes, row.counts, strict=True)
    }
    return Output(Path("out"), drawn.pattern, "default", maps, (), cells)


def compare(old: Path, new: Path, *options: str) -> Result:
    """The program's answer."""
    return CliRunner().invoke(program, ["compare", str(old), str(new), *options])


@pytest.fixture
def copy(drawn: Path, tmp_path: Path) -> Path:
    """The drawn folder once more."""
    return Path(shutil.copytree(drawn, tmp_path / "copy"))


def test_equal_folders_have_no_difference(drawn: Path, copy: Path) -> None:
    done = compare(drawn, copy)
    assert done.exit_code == 0
    assert "no difference" in done.stdout
    told = json.loads(compare(drawn, copy, "--json").stdout)
    assert told["equal"] is True
    assert told["changes"] == []


def _edit(path: Path, change: Callable[[Any], object]) -> None:
    data = json.loads(path.read_text(encoding="utf-8"))
    change(data)
    path.write_text(json.dumps(data), encoding="utf-8")


@pytest.mark.parametrize(
    ("size", "piece", "at"),
    [("S", "cuff", 3), ("M", "hand", 0), ("L", "hand", 20), ("S", "hand", 34), ("M", "thumb", 4)],
)
def test_one_changed_count_is_found_in_its_size_piece_and_round(
    drawn: Path, copy: Path, size: str, piece: str, at: int
) -> None:
    found: dict[str, Any] = {}

    def change(data: dict[str, Any]) -> None:
        found.update(next(p for p in data["pieces"] if p["piece"] == piece)["rounds"][at])
        next(p for p in data["pieces"] if p["piece"] == piece)["rounds"][at]["count"] += 1

    _edit(copy / size / "stitches.json", change)
    done = compare(drawn, copy, "--json")
    assert done.exit_code == 0
    told = json.loads(done.stdout)
    counted = [c for c in told["changes"] if c["what"] == "count"]
    assert counted == [
        {
            "what": "count", "size": size, "mitten": "both", "piece": piece,
            "phase": found["phase"], "step": found["step"],
            "worked": "rows" if piece == "cuff" else "rounds", "old round": found["round"],
            "new round": found["round"], "old": found["count"], "new": found["count"] + 1,
        }
    ]  # fmt: skip
    assert {c["what"] for c in told["changes"]} <= {"count", "measure"}
    shown = compare(drawn, copy).stdout
    assert f"size {size}\n" in shown
    word = "row" if piece == "cuff" else "round"
    line = f"{piece} {word} {found['round']}, {found['phase']}: {found['count']} → "
    assert line in shown


def test_a_count_changed_in_the_table_alone_is_found(drawn: Path, copy: Path) -> None:
    table = copy / "counts.csv"
    lines = table.read_text(encoding="utf-8").splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("hand,9,"))
    cells = lines[at].split(",")
    cells[3], was = "99", cells[3]
    lines[at] = ",".join(cells)
    table.write_text("\n".join(lines) + "\n", encoding="utf-8")
    assert f"size M\n  counts.csv alone, hand round 9: {was} → 99\n" in compare(drawn, copy).stdout
    alone = compare(drawn / "counts.csv", table)
    assert f"size M\n  hand round 9: {was} → 99 sts\n" in alone.stdout
    assert compare(drawn / "counts.csv", copy / "manifest.json").stdout.count("→") == 1


@pytest.mark.parametrize("name", ["S/crown.svg", "L/thumb.svg", "key.svg"])
def test_a_changed_drawing_is_named(drawn: Path, copy: Path, name: str) -> None:
    path = copy / name
    path.write_bytes(path.read_bytes().replace(b"</svg>", b"<!-- --></svg>"))
    told = json.loads(compare(drawn, copy, "--json").stdout)["changes"]
    assert [(c["what"], c["name"], c.get("size")) for c in told] == [
        ("drawing", name, name.split("/")[0] if "/" in name else None)
    ]
    assert f"{name}: drawn otherwise" in compare(drawn, copy).stdout


def test_a_round_more_moves_none_above_it() -> None:
    found = changes(output(spec()), output(spec(("S: 14", "S: 15"))))
    rounds = [c for c in found if c.what in ("round", "count", "work")]
    assert [(c.what, c.size, c.phase, c.step, c.old) for c in rounds] == [
        ("round", "S", "hand", 15, None)
    ]
    assert [c.name for c in found if c.what == "measure"] == ["hand length", "total length"]
    shift = [c for c in found if c.what == "colour"]
    assert shift
    assert all(c.new_round == (c.old_round or 0) + 1 for c in shift)


def test_a_round_less_is_told_with_its_old_number() -> None:
    old, new = output(spec()), output(spec(("S: 14", "S: 13")))
    gone = [c for c in changes(old, new) if c.what == "round"]
    hand = old.maps[0].piece("hand")
    assert hand
    last = max(r.number for r in hand.rounds if r.phase == "hand")
    assert [(c.old_round, c.new_round, c.new) for c in gone] == [(last, None, None)]
    assert f"hand round {last}, hand: gone" in as_text(Path("a"), Path("b"), changes(old, new))


def test_all_that_depends_on_a_changed_crown_is_told() -> None:
    found = changes(output(spec()), output(spec(("{S: 2, M: 2}", "{S: 2, M: 3}"))))
    assert {c.size for c in found} == {"M"}
    assert ("round", "crown even", 3) in {(c.what, c.phase, c.step) for c in found}


def test_gauge_and_yarns_are_told_once_for_all_sizes() -> None:
    other = spec(("rounds: 20}", "rounds: 20.5}"), ("foam", "spray"))
    told = as_text(Path("a"), Path("b"), changes(output(spec()), output(other)))
    head = told.partition("\n\nsize S")[0]
    assert "gauge: sc, 18 × 20 over 10 cm → sc, 18 × 20.5 over 10 cm" in head
    assert "yarn B: foam #eef2f3 → spray #eef2f3" in head
    assert told.count("gauge: sc") == 1


def test_a_cuff_that_ends_higher_and_another_style_sheet_are_told() -> None:
    other = replace(
        output(spec(("lower hand", "cuff: {above crease: 1 cm}\nlower hand"))), style="x"
    )
    told = as_text(Path("a"), Path("b"), changes(output(spec()), other))
    assert "  style sheet: default → x\n" in told
    assert "  cuff above the crease: 0 cm (0 in) → 1 cm (0.39 in)\n" in told


def test_files_that_come_go_or_change_are_told() -> None:
    def listed(name: str, content: str, png: str | None = None) -> Listed:
        return Listed(name, name.partition(".")[0], "", "", content, png)

    one, other = output(spec()), output(spec())
    old = (listed("words.md", "1"), listed("key.svg", "1", "1"), listed("schematic.svg", "1", "1"))
    new = (listed("words.md", "2"), listed("key.svg", "1", "2"), listed("gusset.svg", "1"))
    found = changes(replace(one, files=old), replace(other, files=new))
    told = as_text(Path("a"), Path("b"), found).splitlines()
    assert told[3:] == [
        "  words.md: changed",
        "  key.svg: its PNG differs",
        "  gusset.svg: new",
        "  schematic.svg: gone",
    ]


def test_pictures_that_one_run_could_not_paint_are_no_difference() -> None:
    drawing = Listed("key.svg", "key", "", "", "1", "1")
    old = replace(output(spec()), files=(drawing,))
    new = replace(output(spec()), files=(replace(drawing, png=None),))
    assert changes(old, new) == ()


def _example(*changed: tuple[str, str]) -> Output:
    """The worked example, its plain rounds pinned like every other count, some text replaced."""
    text = (EXAMPLES / "worked-example.yaml").read_text(encoding="utf-8")
    for old, new in (("  last: 5", "  plain before: 14\n  last: 5"), *changed):
        assert old in text
        text = text.replace(old, new)
    return output(read_spec(parse(text, "example.yaml")))


def test_runs_of_rounds_are_told_on_a_line() -> None:
    # 36 stitches: 34, 34, then three times four less, then sc2tog all round, 5 drawn shut.
    other = _example(("sides: 2", "sides: 1"))
    told = as_text(Path("a"), Path("b"), changes(_example(), other))
    hand = [line for line in told.splitlines() if line.startswith("  hand round")]
    assert hand == [
        "  hand rounds 32–33, crown sides: gone, 32 sts",
        "  hand rounds 34–36 (now 32–34), crown even: 28, 24, 20 → 30, 26, 22 sts",
        "  hand rounds 37–38 (now 35–36), close: 10, 5 → 11, 6 sts",
        "  hand round 37, close: new, 5 sts",
    ]


def test_what_a_left_and_a_right_share_is_told_once() -> None:
    palm = ("growth: alternating", "growth: alternating, towards palm: 2")
    old, new = _example(palm), _example(palm, ("sides: 2", "sides: 1"))
    found = changes(old, new)
    assert [m.mitten for m in new.maps] == ["left", "right"]
    assert {c.mitten for c in found if c.what in ("count", "round", "measure")} == {"both"}
    plain = changes(_example(), _example(("sides: 2", "sides: 1")))
    for what in ("count", "round", "measure"):
        assert [c for c in found if c.what == what] == [c for c in plain if c.what == what]


PALM = ("growth: alternating", "growth: alternating, towards palm: 2")


def _kinds(found: tuple[Change, ...]) -> set[tuple[str, str]]:
    return {(c.what, c.mitten) for c in found}


def test_a_left_and_a_right_told_apart_are_compared_with_what_served_both() -> None:
    one, other = _example(), _example(PALM)
    for found, before, after in (
        (changes(one, other), "both alike", "a left and a right"),
        (changes(other, one), "a left and a right", "both alike"),
    ):
        assert [(c.size, c.old, c.new) for c in found if c.what == "mittens"] == [
            ("", before, after)
        ]
        assert _kinds(found) == {("mittens", ""), ("work", "both"), ("markers", "both")}
        told = as_text(Path("a"), Path("b"), found)
        assert f"\n\nall sizes\n  mittens: {before} → {after}\n" in told
        assert "is gone" not in told
        assert "is new" not in told


def test_all_else_that_changes_with_left_and_right_is_found() -> None:
    crown = ("sides: 2", "sides: 1")
    apart = changes(_example(), _example(PALM, crown))
    alone = changes(_example(), _example(crown))
    for what in ("count", "round", "measure"):
        assert [c for c in apart if c.what == what] == [c for c in alone if c.what == what]


def test_what_only_the_left_mitten_has_is_told_of_the_left() -> None:
    new = _example(PALM)
    left, right = new.maps
    hand = left.piece("hand")
    assert hand
    slipped = replace(hand.rounds[20], count=hand.rounds[20].count + 1)
    rounds = (*hand.rounds[:20], slipped, *hand.rounds[21:])
    pieces = tuple(replace(p, rounds=rounds) if p.piece == "hand" else p for p in left.pieces)
    new = replace(new, maps=(replace(left, pieces=pieces), right))
    for pair in ((_example(), new), (new, _example())):
        counted = [c for c in changes(*pair) if c.what == "count"]
        assert [(c.mitten, c.old_round) for c in counted] == [("left", slipped.number)]


def test_drawings_of_a_left_and_a_right_are_not_called_new() -> None:
    def listed(kind: str, mitten: str = "both") -> Listed:
        side = "" if mitten == "both" else f"-{mitten}"
        return Listed(f"M/{kind}{side}.svg", kind, "M", mitten, "1", None)

    old = replace(_example(), files=(listed("crown"), listed("cuff")))
    sides = [listed(kind, side) for kind in ("crown", "thumb") for side in ("left", "right")]
    new = replace(_example(PALM), files=tuple(sides))
    found = [(c.name, c.old, c.new) for c in changes(old, new) if c.what == "drawing"]
    assert found == [
        ("M/thumb-left.svg", None, "1"),
        ("M/thumb-right.svg", None, "1"),
        ("M/cuff.svg", "1", None),
    ]


def test_a_new_size_is_new_where_left_and_right_come_too() -> None:
    palm = ("gusset: {", "gusset: {growth: alternating, towards palm: 1, ")
    fewer = ("{S: 9, M: 11}", "{S: 6, M: 7}")
    alternating = (palm[0], "gusset: {growth: alternating, ")
    old, new = output(spec(alternating, fewer)), output(spec(palm, fewer))
    old = replace(old, maps=old.maps[1:])
    for found, fate in ((changes(old, new), "new"), (changes(new, old), "gone")):
        assert [(c.size, c.mitten) for c in found if c.what == "size"] == [("S", "both")]
        assert [c.size for c in found if c.what == "mittens"] == [""]
        assert f"size S\n  is {fate}" in as_text(Path("a"), Path("b"), found)


def test_a_plain_round_whose_marker_moved_is_not_worked_otherwise() -> None:
    found = changes(_example(PALM), _example(("growth: alternating", f"{PALM[1][:-1]}1")))
    moved = {c.phase for c in found if c.what == "markers"}
    assert "hand" in moved
    told = as_text(Path("a"), Path("b"), found)
    # The division is round 15, and 14 plain rounds are pinned.
    assert "  hand rounds 16–29, hand: markers elsewhere" in told.splitlines()
    assert not [c for c in found if c.what == "work" and c.phase == "hand"]
    work, markers = (sum(c.what == what for c in found) for what in ("work", "markers"))
    head = told.partition("\n")[0]
    assert head.endswith(
        f": {work} rounds of the same count worked otherwise; {markers} rounds with markers"
        " elsewhere"
    )


def _with_round(drawn: Output, phase: str, **changed: Any) -> Output:
    """The output, the first hand round of that phase changed in its first size."""
    first, *others = drawn.maps
    hand = first.piece("hand")
    assert hand
    at = next(i for i, r in enumerate(hand.rounds) if r.phase == phase)
    rounds = list(hand.rounds)
    rounds[at] = replace(rounds[at], **changed)
    pieces = tuple(
        replace(p, rounds=tuple(rounds)) if p.piece == "hand" else p for p in first.pieces
    )
    return replace(drawn, maps=(replace(first, pieces=pieces), *others))


def test_other_markers_are_named() -> None:
    old = _with_round(output(spec()), "hand", markers=(("one", 3), ("two", 9)))
    for markers, told in (
        ((("two", 9), ("one", 3)), None),
        ((("one", 4), ("two", 9)), "markers elsewhere"),
        ((("one", 3), ("mid", 9)), "markers one, two → mid, one"),
        ((), "markers one, two → none"),
    ):
        new = _with_round(output(spec()), "hand", markers=markers)
        found = changes(old, new)
        assert [c.what for c in found] == (["markers"] if told else [])
        assert as_text(Path("a"), Path("b"), found).endswith(f", hand: {told}") is bool(told)


def test_rounds_with_moved_markers_share_a_line_though_others_stand_between() -> None:
    every = ("gusset: {", "gusset: {growth: alternating, every: 2, ")
    fewer = (("{S: 9, M: 11}", "{S: 6, M: 7}"), ("{S: 12, M: 13}", "{S: 15, M: 17}"))
    old = output(spec(every, *fewer))
    palm = (every[0], every[1] + "towards palm: 1, ")
    lines = as_text(Path("a"), Path("b"), changes(old, output(spec(palm, *fewer)))).splitlines()
    gusset = [line for line in lines[lines.index("size S") : lines.index("size M")]
              if ", gusset: " in line]  # fmt: skip
    assert len(gusset) == 2
    assert gusset[1] == "  hand rounds 7, 9, 11, 13, gusset: markers elsewhere"


def test_rows_are_called_rows() -> None:
    found = changes(_example(), _example(("stitches: 11", "stitches: 12")))
    told = as_text(Path("a"), Path("b"), found)
    assert "  cuff foundation: 11 → 12 sts\n" in told
    assert "  cuff rows 1–30, ribbing: 11 → 12 sts\n" in told
    assert "round" not in told.replace("rounds changed", "")
    assert {c.worked for c in found if c.piece == "cuff"} == {"rows"}
    # The seam joins one stitch more, which goes without saying.
    assert "seam" not in told


def test_a_row_changed_in_the_table_alone_is_called_a_row() -> None:
    old = _example()
    cells = {key: 12 if key == ("M", "cuff", 7) else count for key, count in old.cells.items()}
    told = as_text(Path("a"), Path("b"), changes(old, replace(old, cells=cells)))
    assert told.endswith("  counts.csv alone, cuff row 7: 11 → 12")


def test_rows_of_ribbing_are_no_rounds_of_ribbing() -> None:
    sideways = ("cuff: {style: ribbed, rows: 30, stitches: 11}", "cuff: {style: post, rounds: 12}")
    rib = ("rib gauge: {over: 10 cm, ", "rib gauge: {over: 10 cm, stitch: dc, ")
    told = as_text(Path("a"), Path("b"), changes(_example(), _example(sideways, rib)))
    assert "  cuff rows 1–30, ribbing: gone, 11 sts\n" in told
    assert "  cuff seam: gone\n" in told
    assert "  cuff rounds 2–12, ribbing: new, 30 sts\n" in told


def test_the_command_explains_itself() -> None:
    done = CliRunner().invoke(program, ["compare", "--help"])
    assert done.exit_code == 0
    assert "Differences are no error" in " ".join(done.stdout.split())


def _crown(*changed: tuple[str, str]) -> str:
    return as_text(Path("a"), Path("b"), changes(_example(), _example(*changed)))


def test_measures_are_told_as_the_schematics_print_them() -> None:
    # Every count of this example is pinned: 36 stitches are 20 cm at 18 to 10 cm, 21.2 at 17.
    told = _crown(("stitch: sc, stitches: 18", "stitch: sc, stitches: 17"))
    assert "  hand circumference: printed 20 cm (7¾ in) → 21 cm (8¼ in)\n" in told
    # 13 stitches, 72.2 mm and 76.5 mm.
    assert "  thumb circumference: printed 7 cm (2¾ in) → 7.5 cm (3 in)" in told
    assert " sts" not in told


def test_a_measure_that_prints_alike_is_told_in_millimetres() -> None:
    # 36 stitches are 198.895 mm at 18.1 to 10 cm: 1.105 mm less, and 20 cm still.
    told = _crown(("stitch: sc, stitches: 18", "stitch: sc, stitches: 18.1"))
    assert "  hand circumference: 1.105 mm less, printed 20 cm (7¾ in) as before\n" in told
    told = _crown(("stitch: sc, stitches: 18", "stitch: sc, stitches: 17.9"))
    assert "  hand circumference: 1.117 mm more, printed 20 cm (8 in)" not in told
    assert "  hand circumference: printed 20 cm (7¾ in) → 20 cm (8 in)\n" in told


def test_a_measure_that_comes_or_goes_is_told_as_printed() -> None:
    bare = ("cuff: {style: ribbed, rows: 30, stitches: 11}", "cuff: {style: none}")
    assert "  cuff depth: gone, printed 6.5 cm (2½ in)" in _crown(bare)
    back = as_text(Path("a"), Path("b"), changes(_example(bare), _example()))
    assert "  cuff depth: new, printed 6.5 cm (2½ in)" in back


@pytest.mark.parametrize("name", ["default", "large-print"])
def test_measures_are_rounded_as_our_style_sheets_round_them(name: str) -> None:
    style = load_style(name)
    assert (style.cm_step, style.inch_step) == (CM_STEP, INCH_STEP)


def test_the_figures_told_are_those_on_the_schematic(drawn: Path) -> None:
    # What compare says that size M has lost is what its schematic shows.
    stitches = next(m for m in read_output(drawn).maps if m.size == "M")
    shown = (drawn / "M" / "schematic.svg").read_text(encoding="utf-8")
    for name, value in finished(stitches).items():
        gone = Change("measure", "M", "both", name, old=value)
        line = as_text(Path("a"), Path("b"), [gone]).splitlines()[-1]
        start, printed = line.split(": gone, printed ")
        assert start == f"  {name}"
        assert f'data-says="{printed}"' in shown


def test_sizes_that_come_and_go_are_told() -> None:
    other = spec(("{S: ", "{XS: "))
    found = changes(output(spec()), output(other))
    assert [(c.size, c.old, c.new) for c in found if c.what == "size"] == [
        ("XS", None, "XS"), ("S", "S", None),
    ]  # fmt: skip
    assert {c.size for c in found} == {"XS", "S"}


def test_the_same_count_worked_otherwise_is_told() -> None:
    old = output(spec())
    first, *others = old.maps
    hand = first.piece("hand")
    assert hand
    at = next(i for i, r in enumerate(hand.rounds) if r.phase == "crown even")
    turned = replace(hand.rounds[at], work=hand.rounds[at].work[::-1])
    rounds = (*hand.rounds[:at], turned, *hand.rounds[at + 1 :])
    pieces = tuple(replace(p, rounds=rounds) if p.piece == "hand" else p for p in first.pieces)
    new = replace(old, maps=(replace(first, pieces=pieces), *others))
    found = changes(old, new)
    assert [(c.what, c.size, c.old_round) for c in found] == [("work", "S", turned.number)]
    assert "the same count, worked otherwise" in as_text(Path("a"), Path("b"), found)


def _names(name: str) -> Callable[[Any], object]:
    def change(data: dict[str, Any]) -> None:
        data["assets"][0]["file"] = name

    return change


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (_names("../secret.svg"), "cannot be in the folder"),
        (_names("/etc/passwd.svg"), "cannot be in the folder"),
        (_names("M/../../x.svg"), "cannot be in the folder"),
        (_names("M\\x.svg"), "cannot be in the folder"),
        (_names(".hidden.svg"), "cannot be in the folder"),
        (_names("gone.svg"), "is missing"),
        (_names(3), "not written by gussetry"),  # type: ignore[arg-type]
        (lambda data: data.update(format="other"), "not written by gussetry"),
        (lambda data: data.update(version=2), "not written by gussetry"),
        (lambda data: data.pop("assets"), "not written by gussetry"),
        (lambda data: data.update(assets=[1]), "not written by gussetry"),
        (lambda data: data.update(assets={}), "lists no stitch map"),
        (lambda data: data.update(assets="abc"), "not written by gussetry"),
        (lambda data: data.update(pattern=None), "not written by gussetry"),
    ],
)
def test_a_strange_manifest_is_told_with_code_1(
    drawn: Path, copy: Path, change: Callable[[Any], object], told: str
) -> None:
    _edit(copy / "manifest.json", change)
    done = compare(copy, drawn)
    assert done.exit_code == 1
    assert told in done.stderr
    assert "nothing was compared" in done.stderr


def _first(data: dict[str, Any]) -> dict[str, Any]:
    round_: dict[str, Any] = data["pieces"][1]["rounds"][2]
    return round_


@pytest.mark.parametrize(
    "change",
    [
        lambda data: data.update(format="x"),
        lambda data: data.update(pieces=5),
        lambda data: data["fabric"].update({"width mm": "1/0"}),
        lambda data: data["fabric"].update({"width mm": "0"}),
        lambda data: data["fabric"].update({"width mm": "1e999999999"}),
        lambda data: data.update(fabric=None),
        lambda data: _first(data).update(count="36"),
        lambda data: _first(data).update(count=-1),
        lambda data: _first(data).update(count=True),
        lambda data: _first(data).update(markers=[1]),
        lambda data: _first(data).update(work=[{"do": "purl"}]),
        lambda data: _first(data).update(work=[{"do": "sc", "into": [[]]}]),
        lambda data: _first(data).update(phase=7),
        lambda data: data["pieces"][0].update(piece="sleeve"),
        lambda data: data["pieces"][1].update(rounds=[]),
    ],
)
def test_a_broken_stitch_map_is_told_with_code_1(
    drawn: Path, copy: Path, change: Callable[[Any], object]
) -> None:
    _edit(copy / "M" / "stitches.json", change)
    done = compare(copy, drawn)
    assert done.exit_code == 1, done.output
    assert "broken-map" in done.stderr


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b"\xff", b"[" * 100_000, b'"a"', b"null"])
def test_what_is_no_json_is_told_with_code_1(drawn: Path, copy: Path, content: bytes) -> None:
    for name in ("M/stitches.json", "manifest.json"):
        (copy / name).write_bytes(content)
        done = compare(copy, drawn)
        assert done.exit_code == 1, done.output
        assert str(copy / name) in done.stderr


@pytest.mark.parametrize(
    "content",
    [b"", b"a,b\n", b"piece,round,S\nhand,x,3\n", b"piece,round,S\nhand,1\n", b"\xff",
     b"piece,round,S\nfoot,1,3\n", b"piece,round,S\nhand,1,-3\n"],
)  # fmt: skip
def test_a_broken_count_table_is_told_with_code_1(drawn: Path, copy: Path, content: bytes) -> None:
    (copy / "counts.csv").write_bytes(content)
    for other in (copy, copy / "counts.csv"):
        done = compare(other, drawn)
        assert done.exit_code == 1, done.output
        assert "broken-table" in done.stderr


def test_what_is_no_output_is_told_with_code_1(drawn: Path, tmp_path: Path, copy: Path) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "note.txt").write_text("x", encoding="utf-8")
    for path, told in (
        (tmp_path / "empty", "not-an-output"),
        (tmp_path / "note.txt", "not-an-output"),
        (tmp_path / "none", "no-folder"),
        (tmp_path / "none.csv", "no-file"),
    ):
        for pair in ((drawn, path), (path, drawn)):
            done = compare(*pair)
            assert done.exit_code == 1
            assert told in done.stderr
    (copy / ".gussetry-unfinished").write_text("{}", encoding="utf-8")
    assert "unfinished" in compare(copy, drawn).stderr


def test_nothing_is_read_through_a_link(drawn: Path, copy: Path, tmp_path: Path) -> None:
    secret = tmp_path / "secret"
    shutil.move(copy / "M", secret)
    (copy / "M").symlink_to(secret, target_is_directory=True)
    done = compare(copy, drawn)
    assert done.exit_code == 1
    assert "is a link" in done.stderr


def test_the_folder_itself_may_be_a_link(drawn: Path, copy: Path, tmp_path: Path) -> None:
    (tmp_path / "latest").symlink_to(copy, target_is_directory=True)
    assert "no difference" in compare(drawn, tmp_path / "latest").stdout


def test_a_name_cannot_disturb_the_terminal(drawn: Path, copy: Path) -> None:
    _edit(copy / "manifest.json", lambda data: data.update(pattern="\x1b[2Jx"))
    done = compare(copy, drawn)
    assert done.exit_code == 0
    assert "\x1b" not in done.stdout


def test_a_name_left_out_is_wrong_usage(drawn: Path) -> None:
    assert CliRunner().invoke(program, ["compare", str(drawn)]).exit_code == 2
