"""The kinds of value that a specification knows: reader and JSON Schema of each in one place."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import CoreSchema, core_schema

from gussetry import survey
from gussetry.misreadings import clipped
from gussetry.read import values
from gussetry.read.values import WrongError

ALL = ""
"""Stands for every size, in a pin that is one number (no size can have an empty name)."""


@dataclass(frozen=True, slots=True, eq=False)
class Kind:
    """How a value is read (`core`) and what an editor is told about it (`schema`).

    `form` says in a few words what to write, for the table of keys.
    """

    core: CoreSchema
    schema: Mapping[str, Any]
    form: str

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """The reader, in place of any that the annotated type would bring."""
        return self.core

    def __get_pydantic_json_schema__(
        self, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        """The JSON Schema of what may be written."""
        return dict(self.schema)


def _kind(parse: Callable[[object], object], form: str, **schema: Any) -> Kind:
    return Kind(core_schema.no_info_plain_validator_function(parse), schema, form)


def _kind_in_context(
    parse: Callable[[Any, ValidationInfo], object], form: str, **schema: Any
) -> Kind:
    return Kind(core_schema.with_info_plain_validator_function(parse), schema, form)


def count(least: int, most: int) -> Kind:
    """A whole number from `least` to `most`."""
    return _kind(
        lambda value: values.count(value, least, most),
        f"{least} to {most}",
        type="integer",
        minimum=least,
        maximum=most,
    )


def number(least: str, most: str) -> Kind:
    """A number with decimals."""
    low, high = Fraction(least), Fraction(most)
    return _kind(
        lambda value: values.decimal(value, low, high),
        f"{least} to {most}, decimals with a point",
        type="number",
        minimum=float(low),
        maximum=float(high),
    )


def length(least: int, most: int) -> Kind:
    """A length with its unit, bounds in millimetres."""
    pattern = values.SIGNED_LENGTH_PATTERN if least < 0 else values.LENGTH_PATTERN
    return _kind(
        lambda value: values.length(value, least, most),
        f"length, {least} to {most} mm",
        type="string",
        pattern=pattern,
    )


def share(least: int, most: int) -> Kind:
    """A share of the whole, in per cent."""
    return _kind(
        lambda value: values.share(value, least, most),
        f"share, {least} % to {most} %",
        type="string",
        pattern=values.SHARE_PATTERN,
    )


def measure(name: str) -> Kind:
    """A measure of a hand, within the bounds of hands."""
    return length(*values.BOUNDS[name])


def pin(least: int, most: int, fitted: bool = False) -> Kind:
    """A count that the designer fixes: one for all sizes, or one a size."""
    whole: dict[str, Any] = {"type": "integer", "minimum": least, "maximum": most}
    forms = [whole, {"type": "object", "additionalProperties": whole, "minProperties": 1}]
    if fitted:
        forms.append({"const": "fitted"})
    form = f"pin, {least} to {most}" + (", or fitted" if fitted else "")
    each = core_schema.dict_schema(
        core_schema.with_info_plain_validator_function(_size_name),
        core_schema.no_info_plain_validator_function(
            lambda value: values.count(value, least, most)
        ),
    )
    spread = _rounds_or_fitted if fitted else _for_all
    core = core_schema.no_info_before_validator_function(spread, each)
    return Kind(core, {"anyOf": forms}, form)


def choice(*words: str) -> Kind:
    """One of the words."""
    return _kind(
        lambda value: values.choice(value, words), values.listed(words, "or"), enum=list(words)
    )


def line(longest: int) -> Kind:
    """A text of one line. A number is one too, though other readers of YAML take it for none."""
    return _kind(
        lambda value: values.line(value, longest),
        "text",
        type=["string", "number"],
        minLength=1,
        maxLength=longest,
    )


def words(longest: int) -> Kind:
    """A text, which may have several lines, or be empty."""
    return _kind(
        lambda value: values.words(value, longest, empty=True),
        "text",
        type=["string", "number", "null"],
        maxLength=longest,
    )


def _yarn(value: object, info: ValidationInfo) -> str:
    letter = values.letter(value)
    yarns = declared(info, "yarns")
    if yarns is None or letter in yarns:
        return letter
    are = f"only {values.listed(yarns, 'and')} {'are' if len(yarns) > 1 else 'is'} declared"
    use = f", or use {values.listed(yarns, 'or')}" if yarns else ""
    raise WrongError(
        "unknown-yarn",
        f"asks for yarn {letter}, but {are if yarns else 'none is declared'}",
        f"declare {letter} under yarns{use}",
    )


def _thumb_yarn(value: object, info: ValidationInfo) -> str:
    written = values.scalar(value, "match, or the letter of a yarn")
    return written if written == "match" else _yarn(value, info)


def _size_name(value: object, info: ValidationInfo) -> str:
    name = str(value)
    sizes = declared(info, "sizes")
    if name == ALL or sizes is None or name in sizes:
        return name
    near = values.nearest(name, sizes)
    remedy = f"did you mean {near}?" if near else f"the sizes are {values.listed(sizes, 'and')}"
    raise WrongError("unknown-size", f"names a size that is not declared: {clipped(name)}", remedy)


def _declared_size(value: object, info: ValidationInfo) -> str:
    return _size_name(values.line(value, 40), info)


def declared(info: ValidationInfo, what: str) -> tuple[str, ...] | None:
    """The yarn letters or size names that the file declares; None where they cannot be read."""
    found: tuple[str, ...] | None = (info.context or {}).get(what)
    return found


def _for_all(value: object) -> object:
    return value if isinstance(value, Mapping) else {ALL: value}


def _rounds_or_fitted(value: object) -> object:
    return {} if value == "fitted" else _for_all(value)


AGE = _kind(values.months, "age in months or years", type="string", pattern=values.AGE_PATTERN)
YES_NO = _kind(values.yes_no, "yes or no", enum=["yes", "no", True, False])
COLOUR = _kind(values.colour, "colour in quotes", type="string", pattern=values.COLOUR_PATTERN)
LETTER = _kind(values.letter, "capital letter", type="string", pattern=values.LETTER_PATTERN)
YARN = _kind_in_context(_yarn, "letter of a yarn", type="string", pattern=values.LETTER_PATTERN)
THUMB_YARN = _kind_in_context(
    _thumb_yarn, "match, or the letter of a yarn", type="string", pattern="^(?:match|[A-Z])$"
)
AMOUNT = _kind(
    values.amount, "amount of yarn in m, yd, g or oz", type="string", pattern=values.AMOUNT_PATTERN
)
STANDARD = _kind(values.standard, values.STANDARD_FORMS, enum=list(survey.HANDS))
DECLARED_SIZE = _kind_in_context(_declared_size, "name of a size", type="string")
SIZE_NAME = _kind(
    lambda value: values.line(value, 40), "name", type="string", minLength=1, maxLength=40
)
