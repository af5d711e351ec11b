"""Inks that can be read on their ground."""

from __future__ import annotations

TEXT, GRAPHICS = 4.5, 3.0
"""The least contrast of text, and of symbols and lines, with their ground (WCAG 2.2, 1.4.3 and
1.4.11)."""
FAINT = 3.4
"""The contrast of symbols that stand back."""


def luminance(colour: str) -> float:
    """Relative luminance of `#rrggbb` (WCAG 2.2)."""
    values = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in values]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def ratio(one: str, other: str) -> float:
    """The contrast of two colours, 1 to 21 (WCAG 2.2)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def legible(ink: str, ground: str) -> str:
    """The ink where text in it can be read on the ground, else black or white, whichever stands out
    more: one of the two has 4.58 or more on any ground."""
    if ratio(ink, ground) >= TEXT:
        return ink
    return max("#000000", "#ffffff", key=lambda plain: ratio(plain, ground))


def faint(ink: str, ground: str) -> str:
    """The ink mixed with the ground until what is drawn in it can just be seen well; as it is where
    it is black or white through and through, for a printer of one ink."""
    ground = ground or "#ffffff"
    if ink in ("#000000", "#ffffff"):
        return ink
    pairs = [(int(ink[i : i + 2], 16), int(ground[i : i + 2], 16)) for i in (1, 3, 5)]
    for share in range(75, 0, -5):
        mixed = [(a * (100 - share) + b * share + 50) // 100 for a, b in pairs]
        found = "#" + "".join(f"{part:02x}" for part in mixed)
        if ratio(found, ground) >= FAINT:
            return found
    return ink


def edge(inks: tuple[str, ...], ground: str, beside: str) -> str:
    """The first ink, black and white after those given, that shows as a line on the ground and on
    the ground beside it; where none does on both, the first that shows on either: two grounds have
    one edge, whichever is the upper."""
    choice = (*inks, "#000000", "#ffffff")
    shown = [[ratio(ink, on) >= GRAPHICS for on in (ground, beside)] for ink in choice]
    for enough in (all, any):
        found = [ink for ink, shows in zip(choice, shown, strict=True) if enough(shows)]
        if found:
            return found[0]
    return choice[0]
