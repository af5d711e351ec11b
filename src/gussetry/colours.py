"""What colours look like to other eyes and in other print: contrast, greys, colour vision,
differences. Pure functions on `#rrggbb`."""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

Sight = Literal["protan", "deutan", "tritan"]
Triple = tuple[float, float, float]

SIGHTS: dict[Sight, tuple[Triple, Triple, Triple]] = {
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
"""Colour vision without one kind of cone, on linear RGB, at severity 1.0 (Machado, Oliveira &
Fernandes 2009)."""

_LUMINANCE: Triple = (0.2126, 0.7152, 0.0722)
"""Shares of linear red, green and blue in relative luminance (WCAG 2.2)."""
_XYZ: tuple[Triple, Triple, Triple] = (
    (0.4124564, 0.3575761, 0.1804375),
    (0.2126729, 0.7151522, 0.0721750),
    (0.0193339, 0.1191920, 0.9503041),
)
"""Linear sRGB to CIE XYZ under D65 (IEC 61966-2-1; the seven places are from memory)."""


class Lab(NamedTuple):
    """A colour in CIELAB: lightness 0 to 100, green to red, blue to yellow."""

    lightness: float
    a: float
    b: float


def _linear(colour: str) -> Triple:
    """Linear red, green and blue, 0 to 1 (sRGB as in WCAG 2.2, with its bound of 0.04045)."""
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return _opened(red), _opened(green), _opened(blue)


def _opened(value: float) -> float:
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def _written(linear: Triple) -> str:
    """Linear red, green and blue as `#rrggbb`, clipped to what a screen can show."""
    shown = []
    for value in linear:
        kept = min(max(value, 0.0), 1.0)
        coded = 12.92 * kept if kept <= 0.0031308 else 1.055 * kept ** (1 / 2.4) - 0.055
        shown.append(f"{round(coded * 255):02x}")
    return "#" + "".join(shown)


def _times(matrix: tuple[Triple, Triple, Triple], v: Triple) -> Triple:
    x, y, z = (row[0] * v[0] + row[1] * v[1] + row[2] * v[2] for row in matrix)
    return x, y, z


def luminance(colour: str) -> float:
    """Relative luminance of `#rrggbb`, 0 for black to 1 for white (WCAG 2.2)."""
    return math.fsum(
        share * value for share, value in zip(_LUMINANCE, _linear(colour), strict=True)
    )


def contrast(one: str, other: str) -> float:
    """The contrast of two colours, 1 to 21 (WCAG 2.2)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def grey(colour: str) -> str:
    """The grey of the same luminance, as a print in black makes it."""
    light = luminance(colour)
    return _written((light, light, light))


def seen(colour: str, sight: Sight) -> str:
    """The colour as an eye of that sight sees it."""
    return _written(_times(SIGHTS[sight], _linear(colour)))


def lab(colour: str) -> Lab:
    """The colour in CIELAB under D65 (CIE 15)."""
    curved = []
    white = _times(_XYZ, (1.0, 1.0, 1.0))
    for value, whole in zip(_times(_XYZ, _linear(colour)), white, strict=True):
        share = value / whole
        cubic = share > (6 / 29) ** 3
        curved.append(math.cbrt(share) if cubic else share / (3 * (6 / 29) ** 2) + 4 / 29)
    x, y, z = curved
    return Lab(116 * y - 16, 500 * (x - y), 200 * (y - z))


def difference(one: str, other: str) -> float:
    """How far two colours look apart: CIEDE2000, 0 where they are the same."""
    return ciede2000(lab(one), lab(other))


def ciede2000(one: Lab, other: Lab) -> float:
    """The difference of two colours after CIE 142-2001, in the steps of Sharma, Wu & Dalal 2005,
    Color Res. Appl. 30:21–30, with all parametric weights 1."""
    mean_chroma = (math.hypot(one.a, one.b) + math.hypot(other.a, other.b)) / 2
    stretch = 1.5 - math.sqrt(mean_chroma**7 / (mean_chroma**7 + 25.0**7)) / 2
    chroma1, hue1 = _polar(one.a * stretch, one.b)
    chroma2, hue2 = _polar(other.a * stretch, other.b)
    turn = hue2 - hue1
    middle = (hue1 + hue2) / 2
    if chroma1 * chroma2 == 0:
        turn, middle = 0.0, hue1 + hue2
    elif abs(turn) > 180:
        turn -= math.copysign(360, turn)
        middle += 180 if middle < 180 else -180
    lightness = (one.lightness + other.lightness) / 2
    chroma = (chroma1 + chroma2) / 2
    weight_l, weight_c, weight_h = _weights(lightness, chroma, middle)
    by_l = (other.lightness - one.lightness) / weight_l
    by_c = (chroma2 - chroma1) / weight_c
    by_h = 2 * math.sqrt(chroma1 * chroma2) * math.sin(math.radians(turn / 2)) / weight_h
    blues = 30 * math.exp(-(((middle - 275) / 25) ** 2))
    rotation = -2 * math.sqrt(chroma**7 / (chroma**7 + 25.0**7)) * math.sin(math.radians(2 * blues))
    return math.sqrt(by_l**2 + by_c**2 + by_h**2 + rotation * by_c * by_h)


def _weights(lightness: float, chroma: float, hue: float) -> Triple:
    """The weighting functions of lightness, chroma and hue at the mean of two colours."""
    tint = (
        1
        - 0.17 * _cos(hue - 30)
        + 0.24 * _cos(2 * hue)
        + 0.32 * _cos(3 * hue + 6)
        - 0.20 * _cos(4 * hue - 63)
    )
    off = (lightness - 50) ** 2
    return 1 + 0.015 * off / math.sqrt(20 + off), 1 + 0.045 * chroma, 1 + 0.015 * chroma * tint


def _cos(degrees: float) -> float:
    return math.cos(math.radians(degrees))


def _polar(a: float, b: float) -> tuple[float, float]:
    """Chroma, and hue in degrees from 0 up to 360; 0 for a grey."""
    return math.hypot(a, b), math.degrees(math.atan2(b, a)) % 360
