"""YAML text to located text: nested keys and values that know where they stand.

The only user of PyYAML, and only of its events: positions, equal keys and the text as written
survive, nothing is turned into numbers or dates, and no depth of nesting can exhaust the stack.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeAlias

import yaml

from gussetry.diagnostics import Faults, Problem, Span, Where
from gussetry.misreadings import REMEDIES, TAB, clipped, misread, no_character, safe, unopened

MAX_BYTES = 128 * 1024
"""Longest file that is read at all."""

MAX_DEPTH = 40
"""Deepest nesting, in blocks or in brackets."""

MAX_PROBLEMS = 50
"""Most problems that are shown of one file."""

# The line ends that YAML 1.1 knows; positions are counted by them.
_LINE_END = re.compile("\r\n|[\r\n\x85\u2028\u2029]")
_UNPRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


class Scalar(str):
    """A value as written, without its quotes; `quoted` says whether it had any."""

    __slots__ = ("quoted",)
    quoted: bool

    def __new__(cls, text: str = "", quoted: bool = False) -> Scalar:
        """The text, marked as quoted or plain."""
        made = super().__new__(cls, text)
        made.quoted = quoted
        return made


Value: TypeAlias = "dict[str, Value] | list[Value] | Scalar"


@dataclass(slots=True)
class Source:
    """A named text by lines: enough to show where a problem stands."""

    name: str
    lines: tuple[str, ...] = ()

    def line(self, number: int) -> str:
        """The text of a line, counted from 1, as far as a terminal can show it safely."""
        if not 0 < number <= len(self.lines):
            return ""
        shown = self.lines[number - 1].replace("\t", " ")
        return safe(shown)

    def locate(self, path: Where) -> Span | None:
        """Nothing: the text has not been taken apart."""
        return None


@dataclass(slots=True)
class Document(Source):
    """A text taken apart: `data` holds its keys and values, all scalars still text.

    `spans` says where each path's value stands, `keys` where its key does.
    """

    data: Value = field(default_factory=dict)
    spans: dict[Where, Span] = field(default_factory=dict)
    keys: dict[Where, Span] = field(default_factory=dict)

    def locate(self, path: Where) -> Span | None:
        """Where the deepest part of `path` that the text has stands: a value, or else its key."""
        for end in range(len(path), -1, -1):
            span = self.spans.get(path[:end])
            if span:
                return span
        return None

    def locate_key(self, path: Where) -> Span | None:
        """Where the last key of `path` stands, else what `locate` finds."""
        return self.keys.get(path) or self.locate(path)


class UnreadableSource(Faults):
    """Faults of the text itself, with the `source` whose lines they point at."""

    def __init__(self, problems: list[Problem], source: Source) -> None:
        super().__init__(problems)
        self.source = source


def is_yaml(name: str) -> bool:
    """Whether a file of that name is one of YAML."""
    return name.endswith((".yaml", ".yml"))


@contextmanager
def pointing_into(source: Source) -> Iterator[None]:
    """Gives faults the text that they point into, where they have none yet."""
    try:
        yield
    except UnreadableSource:
        raise
    except Faults as faults:
        raise UnreadableSource(list(faults.problems), source) from None


def read_source(path: Path) -> Document:
    """The file taken apart. Never reads more than the longest allowed length.

    Raises UnreadableSource where there is no such file, or its text is not plain YAML.
    """
    try:
        with Path(path).open("rb") as file:
            content = file.read(MAX_BYTES + 1)
    except (OSError, ValueError) as error:
        raise UnreadableSource([unopened(error)], Source(str(path))) from None
    return parse(content, str(path))


def parse(text: str | bytes, name: str) -> Document:
    """The text taken apart, `name` being what messages call it.

    At most 128 KiB of UTF-8 and 40 levels. Anchors, aliases, tags, merge keys, directives, second
    documents, equal keys, tabs as indentation and keys that are no plain text are refused where
    they stand. Raises UnreadableSource with every problem found.
    """
    plain = _decoded(text, name)
    source = Source(name, tuple(_LINE_END.split(plain)))
    problems = _unprintable(plain) or _tabs(source.lines)
    if problems:
        raise UnreadableSource(capped(problems), source)
    reader = _Reader(source)
    reader.read(plain)
    if reader.problems:
        reader.problems.sort(key=lambda p: p.span or Span(0, 0))
        raise UnreadableSource(capped(reader.problems), source)
    if not reader.root:
        problem = Problem("empty-file", "the file is empty", help="`gussetry new` writes a starter")
        raise UnreadableSource([problem], source)
    return Document(name, source.lines, reader.root[0], reader.spans, reader.keys)


def capped(problems: list[Problem]) -> list[Problem]:
    """The first problems, and one more that says how many were left out."""
    if len(problems) <= MAX_PROBLEMS:
        return problems
    more = len(problems) - MAX_PROBLEMS
    last = problems[MAX_PROBLEMS]
    note = Problem("more", f"and {more} more problems from here on", last.path, span=last.span)
    return [*problems[:MAX_PROBLEMS], note]


def _decoded(text: str | bytes, name: str) -> str:
    if isinstance(text, str):
        # No character takes less than a byte, so a text too long is never encoded.
        size = MAX_BYTES + 1
        if len(text) <= MAX_BYTES:
            size = len(text.encode("utf-8", "surrogatepass"))
        plain = text
    else:
        size = len(text)
        plain = ""
    if size > MAX_BYTES:
        problem = Problem(
            "too-long",
            f"the file is longer than {MAX_BYTES // 1024} KiB, so it is no specification",
            help="check that this is the file you meant",
        )
        raise UnreadableSource([problem], Source(name))
    if isinstance(text, bytes):
        if b"\0" in text or text[:2] in (b"\xff\xfe", b"\xfe\xff"):
            problem = Problem(
                "not-text",
                "the file is not plain text in UTF-8",
                help="save it as a text file with the encoding UTF-8",
            )
            raise UnreadableSource([problem], Source(name))
        try:
            plain = text.decode("utf-8")
        except UnicodeDecodeError as error:
            raise UnreadableSource(*_undecoded(text, error, name)) from None
    return plain.removeprefix("\ufeff")


def _undecoded(
    content: bytes, error: UnicodeDecodeError, name: str
) -> tuple[list[Problem], Source]:
    before = _LINE_END.split(content[: error.start].decode("utf-8").removeprefix("\ufeff"))
    lines = _LINE_END.split(content.decode("utf-8", "replace").removeprefix("\ufeff"))
    problem = Problem(
        "not-text",
        f"byte {content[error.start]:#04x} is not UTF-8",
        help="save the file with the encoding UTF-8",
        span=Span(len(before), len(before[-1]) + 1),
    )
    return [problem], Source(name, tuple(lines))


def _unprintable(text: str) -> list[Problem]:
    problems = []
    for found in _UNPRINTABLE.finditer(text):
        before = _LINE_END.split(text[: found.start()])
        problems.append(
            Problem(
                "not-text",
                f"a control character (U+{ord(found.group()):04X}) stands here",
                help="delete it",
                span=Span(len(before), len(before[-1]) + 1),
            )
        )
        if len(problems) > MAX_PROBLEMS:
            break
    return problems


def _tabs(lines: tuple[str, ...]) -> list[Problem]:
    return [
        Problem("tab", "a tab stands here", help=TAB, span=Span(number, line.index("\t") + 1))
        for number, line in enumerate(lines, 1)
        if line.lstrip(" ").startswith("\t")
    ]


def _place(mark: yaml.Mark | None) -> Span | None:
    return Span(mark.line + 1, mark.column + 1) if mark else None


@dataclass(slots=True)
class _Open:
    """A mapping or a list that is being read. `key` is the key whose value comes next."""

    value: dict[str, Value] | list[Value]
    path: Where
    key: str | None = None


class _Reader:
    """Builds the nested values from PyYAML's events, without recursion.

    After any problem the values are thrown away, so they need not make sense then.
    """

    def __init__(self, source: Source) -> None:
        self.source = source
        self.problems: list[Problem] = []
        self.spans: dict[Where, Span] = {}
        self.keys: dict[Where, Span] = {}
        self.root: list[Value] = []
        self.stack: list[_Open] = []
        self.documents = 0

    def read(self, text: str) -> None:
        """Reads all events; a fault of the scanner or too deep a nesting ends it."""
        try:
            for event in yaml.parse(text, Loader=yaml.SafeLoader):
                if not self._take(event):
                    return
        except yaml.MarkedYAMLError as error:
            begun, at = _place(error.context_mark), _place(error.problem_mark)
            said = error.problem or ""
            self.problems.append(misread(said, at or begun, begun, self.source.lines))
        except (yaml.YAMLError, ValueError, OverflowError):
            # PyYAML lets Python's own error about such an escape through.
            self.problems.append(no_character(self.source.lines))

    def _take(self, event: yaml.Event) -> bool:
        if isinstance(event, yaml.DocumentStartEvent):
            return self._document(event)
        if isinstance(event, yaml.AliasEvent):
            self._refuse(event, "alias", "an alias (a word that begins with *) stands here")
            self._scalar(Scalar(), event)
        elif isinstance(event, yaml.ScalarEvent):
            self._properties(event)
            if _UNPRINTABLE.search(event.value):
                self._refuse(event, "escape", "an escape brings in a control character")
            self._scalar(Scalar(event.value, event.style is not None), event)
        elif isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent):
            self._properties(event)
            if len(self.stack) >= MAX_DEPTH:
                self._refuse(event, "too-deep", f"more than {MAX_DEPTH} levels are nested here")
                return False
            self._open(event)
        elif isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
            self.stack.pop()
        return True

    def _document(self, event: yaml.DocumentStartEvent) -> bool:
        self.documents += 1
        if self.documents > 1:
            self._refuse(event, "second-document", "a second document begins here")
            return False
        if event.version or event.tags:
            self._refuse(event, "directive", "a YAML directive stands here")
        return True

    def _properties(
        self, event: yaml.ScalarEvent | yaml.MappingStartEvent | yaml.SequenceStartEvent
    ) -> None:
        if event.anchor is not None:
            self._refuse(event, "anchor", "an anchor (a word that begins with &) stands here")
        if event.tag is not None:
            self._refuse(event, "tag", "a tag (a word that begins with !) stands here")

    def _refuse(self, event: yaml.Event, code: str, message: str) -> None:
        self.problems.append(
            Problem(code, message, self._path(), REMEDIES[code], span=self._span(event))
        )

    def _path(self) -> Where:
        if not self.stack:
            return ()
        frame = self.stack[-1]
        if isinstance(frame.value, list):
            return (*frame.path, len(frame.value))
        return frame.path if frame.key is None else (*frame.path, frame.key)

    def _span(self, event: yaml.Event) -> Span:
        start, end = event.start_mark, event.end_mark
        if start is None or end is None:  # PyYAML's own type allows it
            return Span(1, 1)
        to = end.column if end.line == start.line else len(self.source.lines[start.line])
        return Span(start.line + 1, start.column + 1, max(1, to - start.column))

    def _awaits_key(self) -> bool:
        frame = self.stack[-1] if self.stack else None
        return frame is not None and isinstance(frame.value, dict) and frame.key is None

    def _open(self, event: yaml.MappingStartEvent | yaml.SequenceStartEvent) -> None:
        made: dict[str, Value] | list[Value]
        made = {} if isinstance(event, yaml.MappingStartEvent) else []
        path = self._path()
        if self._awaits_key():
            self._refuse(event, "key", "a key must be plain text on one line")
            self.stack[-1].key = ""
        else:
            # A block is shown at its key, brackets where they stand.
            at_key = path in self.keys and not event.flow_style
            self.spans[path] = self.keys[path] if at_key else self._span(event)
            self._put(made)
        self.stack.append(_Open(made, path))

    def _scalar(self, value: Scalar, event: yaml.Event) -> None:
        if self._awaits_key():
            self._key(value, event)
            return
        path = self._path()
        absent = not value and not value.quoted
        self.spans[path] = self.keys[path] if absent and path in self.keys else self._span(event)
        self._put(value)

    def _key(self, key: Scalar, event: yaml.Event) -> None:
        frame = self.stack[-1]
        path = (*frame.path, safe(key))
        span = self._span(event)
        if key == "<<" and not key.quoted:
            self._refuse(event, "merge-key", "<< is a merge key")
        elif not key or safe(key) != key:
            self._refuse(event, "key", "a key must be plain text on one line")
        elif path in self.keys:
            message = f"{clipped(key)} stands in line {self.keys[path].line} already"
            self.problems.append(
                Problem("duplicate-key", message, path, REMEDIES["duplicate-key"], span=span)
            )
        elif not frame.value and frame.path not in self.keys:
            # A mapping in a list, or the whole text, is shown at its first key.
            self.spans[frame.path] = span
        self.keys.setdefault(path, span)
        frame.key = safe(key)

    def _put(self, value: Value) -> None:
        if not self.stack:
            self.root.append(value)
            return
        frame = self.stack[-1]
        if isinstance(frame.value, list):
            frame.value.append(value)
        elif frame.key is not None:
            frame.value[frame.key] = value
            frame.key = None
