"""The text taken apart: positions, limits, and what no text may do."""

from __future__ import annotations

import errno
import time
import tracemalloc
from pathlib import Path

import pytest

from gussetry.diagnostics import Span
from gussetry.source import (
    MAX_BYTES,
    MAX_DEPTH,
    MAX_PROBLEMS,
    Document,
    Scalar,
    UnreadableSource,
    parse,
    read_source,
)


def codes(text: str | bytes) -> list[str]:
    """The codes of what is wrong with a text."""
    with pytest.raises(UnreadableSource) as found:
        parse(text, "case.yaml")
    return [problem.code for problem in found.value.problems]


def test_values_stay_as_they_are_written() -> None:
    text = 'a: NO\nb: 010\nc: 1:30\nd: 1_0\ne: "2"\nf: ~\ng: 2024-01-02\nh:\ni: [1.0, {j: yes}]\n'
    document = parse(text, "case.yaml")
    assert document.data == {
        "a": "NO", "b": "010", "c": "1:30", "d": "1_0", "e": "2", "f": "~",
        "g": "2024-01-02", "h": "", "i": ["1.0", {"j": "yes"}],
    }  # fmt: skip


def test_quotes_are_remembered() -> None:
    data = parse("a: \"1\"\nb: '1'\nc: 1\nd: |\n  1\n", "case.yaml").data
    assert isinstance(data, dict)
    quoted = {key: value.quoted for key, value in data.items() if isinstance(value, Scalar)}
    assert quoted == {"a": True, "b": True, "c": False, "d": True}


@pytest.mark.parametrize(
    ("path", "span"),
    [
        ((), Span(2, 1, 4)),
        (("cuff",), Span(2, 1, 4)),
        (("cuff", "depth"), Span(3, 11, 4)),
        (("stripes", "plan"), Span(5, 3, 4)),
        (("stripes", "plan", 1), Span(7, 7, 1)),
        (("stripes", "plan", 1, "B"), Span(7, 10, 1)),
        (("size s",), Span(8, 9, 1)),
        (("size s", "S"), Span(8, 13, 2)),
        (("empty",), Span(9, 1, 5)),
        # The deepest part that the text has.
        (("cuff", "rows", "S"), Span(2, 1, 4)),
        (("stripes", "plan", 5), Span(5, 3, 4)),
        (("nothing",), Span(2, 1, 4)),
    ],
)
def test_a_path_is_found_in_the_text(path: tuple[str | int, ...], span: Span) -> None:
    text = (
        "# a comment\ncuff:\n  depth:  6 cm\nstripes:\n  plan:\n    - A: 4\n    - B: 2\n"
        "size s: {S: 30}\nempty:\n"
    )
    assert parse(text, "case.yaml").locate(path) == span


def test_a_key_is_found_beside_its_value() -> None:
    document = parse("cuff: {depth: 6 cm}\n", "case.yaml")
    assert document.locate_key(("cuff", "depth")) == Span(1, 8, 5)
    assert document.locate_key(("cuff", "other")) == Span(1, 7, 1)


def test_lines_are_counted_as_yaml_counts_them() -> None:
    document = parse("a: 1\r\nb: 2\rc: 3\u2028d: 4\x85e: 5\n", "case.yaml")
    places = [document.locate((key,)) for key in "abcde"]
    assert [span.line for span in places if span] == [1, 2, 3, 4, 5]
    assert [document.line(number) for number in (0, 3, 5, 99)] == ["", "c: 3", "e: 5", ""]


def test_a_line_is_shown_without_what_disturbs_a_terminal() -> None:
    document = parse('a: "\u202eb\tc"\n', "case.yaml")
    assert document.line(1) == 'a: "\ufffdb c"'


def test_a_byte_order_mark_is_accepted() -> None:
    assert parse(b"\xef\xbb\xbfa: 1\n", "case.yaml").data == {"a": "1"}
    assert parse("\ufeffa: 1\n", "case.yaml").locate(("a",)) == Span(1, 4, 1)


@pytest.mark.parametrize(
    "content",
    [
        b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR",
        "pattern: Skerry\n".encode("utf-16"),
        "pattern: Skerry\n".encode("utf-32"),
        b"pattern: Sk\xffrry\n",
        b"\xed\xa0\x80",
        b"a: \x07\n",
        "a: \x1b[31m\n",
        "a: \ud800\n",
    ],
)
def test_what_is_no_text_is_refused(content: str | bytes) -> None:
    assert set(codes(content)) == {"not-text"}


def test_a_byte_that_is_not_utf8_is_shown_where_it_stands() -> None:
    with pytest.raises(UnreadableSource) as found:
        parse("a: é\nb: ".encode() + b"\xe9t\xe9\n", "case.yaml")
    assert found.value.problems[0].span == Span(2, 4)


def test_length_is_limited() -> None:
    start = "a: 1\n"
    whole = start + "#" * (MAX_BYTES - len(start))
    assert parse(whole, "case.yaml").data == {"a": "1"}
    assert codes(whole + "#") == ["too-long"]
    assert codes(whole.encode() + b"#") == ["too-long"]
    # Counted in bytes: half as many letters of two bytes are too many, too.
    assert codes(start + "#" + "é" * (MAX_BYTES // 2)) == ["too-long"]


def test_depth_is_limited_in_brackets_and_in_blocks() -> None:
    def brackets(levels: int) -> str:
        return "[" * levels + "1" + "]" * levels

    def blocks(levels: int) -> str:
        return "".join(f"{' ' * level}a:\n" for level in range(levels - 1)) + " " * levels + "a: 1"

    for nested in (brackets, blocks):
        assert isinstance(parse(nested(MAX_DEPTH), "case.yaml"), Document)
        assert codes(nested(MAX_DEPTH + 1)) == ["too-deep"]


@pytest.mark.parametrize(
    "text",
    [
        "[" * 120_000,
        "{a: " * 30_000,
        "- " * 60_000,
        "? " * 60_000,
        "a: " * 40_000,
        "[[[[{" * 25_000,
        "".join(f"{' ' * level}a:\n" for level in range(450)),
        "a: &x [1]\n" + "b: [*x, *x, *x, *x]\n" * 5_000,
        "a: 1\n" * 20_000,
        "\t\n" * 60_000,
        "\x07" * 120_000,
        "!" * 120_000,
        "a: '" + "''" * 60_000,
        "a: |\n" + " x\n" * 40_000,
    ],
    ids=lambda text: repr(text[:12]),
)
def test_hostile_texts_are_refused_soon(text: str) -> None:
    start = time.process_time()
    number = 0
    try:
        parse(text, "case.yaml")
    except UnreadableSource as found:
        number = len(found.problems)
    assert number <= MAX_PROBLEMS + 1
    # Generous: an ordinary machine needs a second for the longest honest text.
    assert time.process_time() - start < 20


def test_an_alias_bomb_is_refused_at_its_first_alias() -> None:
    lines = ["a0: &a0 [x, x]"]
    lines += [f"a{i}: &a{i} [*a{i - 1}, *a{i - 1}]" for i in range(1, 9)]
    found = codes("\n".join(lines))
    assert {"anchor", "alias"} == set(found)
    assert found[0] == "anchor"


def test_a_huge_file_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "huge.yaml"
    with path.open("wb") as file:
        file.truncate(50 * 1024 * 1024)
    tracemalloc.start()
    with pytest.raises(UnreadableSource, match="longer than 128 KiB"):
        read_source(path)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 2 * 1024 * 1024


def test_a_file_is_called_by_its_name(tmp_path: Path) -> None:
    path = tmp_path / "mitten.yaml"
    path.write_text("a: 1\n", encoding="utf-8")
    assert read_source(path).name == str(path)


def test_what_cannot_be_opened_is_said(tmp_path: Path) -> None:
    with pytest.raises(UnreadableSource, match="no such file"):
        read_source(tmp_path / "missing.yaml")
    with pytest.raises(UnreadableSource, match="a folder"):
        read_source(tmp_path)
    with pytest.raises(UnreadableSource, match="cannot be read"):
        read_source(Path("a\0b"))


def test_a_file_that_may_not_be_read_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "locked.yaml"
    path.write_text("a: 1\n", encoding="utf-8")

    # Who runs as root may read all, so that the file's own permissions would not do.
    def closed(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "open", closed)
    with pytest.raises(UnreadableSource, match="may not be read"):
        read_source(path)


def test_all_refusals_come_at_once_in_order() -> None:
    text = "a: &x 1\nb: *x\nc: !t 2\n<<: {d: 1}\na: 3\n[e]: 4\nf: 'open\n"
    assert codes(text) == [
        "anchor", "alias", "tag", "merge-key", "duplicate-key", "key", "not-yaml",
    ]  # fmt: skip
