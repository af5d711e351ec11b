"""How an element is painted: attributes, style attributes and style sheets, in that order of
strength (CSS 2.1, clause 6; SVG 1.1, clause 6.4)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any
from xml.etree.ElementTree import Element

from gussetry.verify.findings import UnreadableError

INHERITED = {
    "fill": "#000000", "stroke": "none", "stroke-width": "1", "stroke-dasharray": "none",
    "fill-opacity": "1", "stroke-opacity": "1", "visibility": "visible", "color": "#000000",
}  # fmt: skip
"""Properties that come down from the parent, with what they are at the root."""
OWN = {"opacity": "1", "display": "inline", "transform": "", "clip-path": "none",
       "mask": "none", "filter": "none"}  # fmt: skip
"""Properties that an element has by itself."""
MOST_RULES = 5000
"""Rules of a style sheet that are read at most."""

_IMPORTANT = re.compile(r"\s*!\s*important\s*$", re.I)
_COMMENT = re.compile(r"/\*.*?\*/", re.S)


def declarations(text: str) -> dict[str, str]:
    """The properties that a style attribute sets, those that paint alone."""
    found = {}
    for part in _COMMENT.sub("", text).split(";"):
        name, colon, value = part.partition(":")
        name = name.strip().lower()
        if colon and (name in INHERITED or name in OWN):
            found[name] = _IMPORTANT.sub("", value).strip()
    return found


class Sheet:
    """The style sheets of a document, asked element by element."""

    def __init__(self, texts: Iterable[str], root: Element) -> None:
        self._by_element: dict[Element, dict[str, str]] = {}
        texts = [text for text in texts if text.strip()]
        if texts:
            self._read(texts, root)

    def _read(self, texts: list[str], root: Element) -> None:
        import cssselect2

        matcher: Any = cssselect2.Matcher()
        rules = 0
        for prelude, block in _rules(texts):
            rules += 1
            if rules > MOST_RULES:
                raise UnreadableError(f"a style sheet has more than {MOST_RULES} rules")
            try:
                selectors = cssselect2.compile_selector_list(prelude)
            except cssselect2.SelectorError:
                continue
            for selector in selectors:
                matcher.add_selector(selector, block)
        wrapped = cssselect2.ElementWrapper.from_xml_root(root)
        for element in wrapped.iter_subtree():
            matched = sorted(matcher.match(element), key=lambda hit: (hit[0], hit[1]))
            own: dict[str, str] = {}
            for _, _, _, block in matched:
                own.update(block)
            if own:
                self._by_element[element.etree_element] = own

    def of(self, element: Element) -> dict[str, str]:
        """The properties that style sheets set on an element."""
        return self._by_element.get(element, {})


def _rules(texts: Iterable[str]) -> Iterator[tuple[Any, dict[str, str]]]:
    """Each rule's selector and what it sets. `UnreadableError` for a rule that fetches."""
    import tinycss2

    for text in texts:
        for rule in tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True):
            if rule.type == "at-rule" and rule.lower_at_keyword in ("import", "font-face"):
                raise UnreadableError(f"a style sheet asks for a file: @{rule.lower_at_keyword}")
            if rule.type == "qualified-rule":
                yield rule.prelude, declarations(tinycss2.serialize(rule.content))


def painted(element: Element, sheet: Sheet) -> dict[str, str]:
    """Every property that an element sets by itself, the strongest source of each."""
    own = {
        name: value for name, value in element.attrib.items() if name in INHERITED or name in OWN
    }
    own.update(sheet.of(element))
    if "style" in element.attrib:
        own.update(declarations(element.attrib["style"]))
    return own
