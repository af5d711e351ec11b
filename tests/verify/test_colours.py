"""Colours measured: each figure typed in from where it is published or from another program."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gussetry.colours import SIGHTS, Lab, Sight, ciede2000, contrast, difference, grey, lab, seen

# W3C's WCAG 2.2 formula; the ratios are what another program (wcag-contrast-ratio 0.9) gives too.
CONTRASTS = (
    ("#000000", "#ffffff", 21.0), ("#ffffff", "#ffffff", 1.0), ("#767676", "#ffffff", 4.5422),
    ("#777777", "#ffffff", 4.4781), ("#949494", "#ffffff", 3.0335), ("#959595", "#ffffff", 2.9953),
    ("#595959", "#ffffff", 7.0047), ("#ff0000", "#ffffff", 3.9985), ("#00ff00", "#ffffff", 1.3722),
    ("#0000ff", "#ffffff", 8.5925), ("#ffff00", "#ffffff", 1.0738), ("#ff0000", "#0000ff", 2.1489),
    ("#808080", "#000000", 5.3172), ("#757575", "#000000", 4.5578), ("#5a5a5a", "#000000", 3.0448),
)  # fmt: skip

# Sharma, Wu & Dalal 2005, Color Res. Appl. 30:21-30, table of test data: both colours in CIELAB,
# and their difference to four places.
SHARMA = (
    ((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485), 2.0425),
    ((50.0, 3.1571, -77.2803), (50.0, 0.0, -82.7485), 2.8615),
    ((50.0, 2.8361, -74.02), (50.0, 0.0, -82.7485), 3.4412),
    ((50.0, -1.3802, -84.2814), (50.0, 0.0, -82.7485), 1.0000),
    ((50.0, -1.1848, -84.8006), (50.0, 0.0, -82.7485), 1.0000),
    ((50.0, -0.9009, -85.5211), (50.0, 0.0, -82.7485), 1.0000),
    ((50.0, 0.0, 0.0), (50.0, -1.0, 2.0), 2.3669),
    ((50.0, -1.0, 2.0), (50.0, 0.0, 0.0), 2.3669),
    ((50.0, 2.49, -0.001), (50.0, -2.49, 0.0009), 7.1792),
    ((50.0, 2.49, -0.001), (50.0, -2.49, 0.001), 7.1792),
    ((50.0, 2.49, -0.001), (50.0, -2.49, 0.0011), 7.2195),
    ((50.0, 2.49, -0.001), (50.0, -2.49, 0.0012), 7.2195),
    ((50.0, -0.001, 2.49), (50.0, 0.0009, -2.49), 4.8045),
    ((50.0, -0.001, 2.49), (50.0, 0.001, -2.49), 4.8045),
    ((50.0, -0.001, 2.49), (50.0, 0.0011, -2.49), 4.7461),
    ((50.0, 2.5, 0.0), (50.0, 0.0, -2.5), 4.3065),
    ((50.0, 2.5, 0.0), (73.0, 25.0, -18.0), 27.1492),
    ((50.0, 2.5, 0.0), (61.0, -5.0, 29.0), 22.8977),
    ((50.0, 2.5, 0.0), (56.0, -27.0, -3.0), 31.9030),
    ((50.0, 2.5, 0.0), (58.0, 24.0, 15.0), 19.4535),
    ((50.0, 2.5, 0.0), (50.0, 3.1736, 0.5854), 1.0000),
    ((50.0, 2.5, 0.0), (50.0, 3.2972, 0.0), 1.0000),
    ((50.0, 2.5, 0.0), (50.0, 1.8634, 0.5757), 1.0000),
    ((50.0, 2.5, 0.0), (50.0, 3.2592, 0.335), 1.0000),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((63.0109, -31.0961, -5.8663), (62.8187, -29.7946, -4.0864), 1.2630),
    ((61.2901, 3.7196, -5.3901), (61.4292, 2.248, -4.962), 1.8731),
    ((35.0831, -44.1164, 3.7933), (35.0232, -40.0716, 1.5901), 1.8645),
    ((22.7233, 20.0904, -46.694), (23.0331, 14.973, -42.5619), 2.0373),
    ((36.4612, 47.858, 18.3852), (36.2715, 50.5065, 21.2231), 1.4146),
    ((90.8027, -2.0831, 1.441), (91.1528, -1.6435, 0.0447), 1.4441),
    ((90.9257, -0.5406, -0.9208), (88.6381, -0.8985, -0.7239), 1.5381),
    ((6.7747, -0.2908, -2.4247), (5.8714, -0.0985, -2.2286), 0.6377),
    ((2.0776, 0.0795, -1.135), (0.9033, -0.0636, -0.5514), 0.9082),
)

# Severity 1.0 as another program (coloraide 8.13.1) clips it: red, lime, blue, yellow.
SEEN: tuple[tuple[Sight, tuple[str, ...]], ...] = (
    ("protan", ("#6d5f00", "#ffe500", "#0059ff", "#fff400")),
    ("deutan", ("#a39000", "#efd63a", "#003dfb", "#fffa31")),
    ("tritan", ("#ff000f", "#00f7d9", "#006b96", "#ffeed9")),
)
PURE = ("#ff0000", "#00ff00", "#0000ff", "#ffff00")

COLOURS = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")


@pytest.mark.parametrize(("one", "other", "ratio"), CONTRASTS)
def test_contrast_is_that_of_the_web_guidelines(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=5e-5)
    assert contrast(other, one) == contrast(one, other)


@pytest.mark.parametrize(("one", "other", "apart"), SHARMA)
def test_differences_are_those_of_the_published_pairs(
    one: tuple[float, float, float], other: tuple[float, float, float], apart: float
) -> None:
    assert ciede2000(Lab(*one), Lab(*other)) == pytest.approx(apart, abs=1e-4)
    assert ciede2000(Lab(*other), Lab(*one)) == pytest.approx(apart, abs=1e-4)


@pytest.mark.parametrize(("sight", "wanted"), SEEN)
def test_colours_are_seen_as_another_program_shows_them(
    sight: Sight, wanted: tuple[str, ...]
) -> None:
    assert tuple(seen(colour, sight) for colour in PURE) == wanted


@pytest.mark.parametrize("sight", SIGHTS)
def test_every_sight_sees_greys_as_they_are(sight: Sight) -> None:
    for row in SIGHTS[sight]:
        assert sum(row) == pytest.approx(1, abs=2e-6)
    for level in range(256):
        shade = f"#{level:02x}{level:02x}{level:02x}"
        assert seen(shade, sight) == grey(shade) == shade


def test_the_primaries_have_their_known_places_in_cielab() -> None:
    # sRGB red and white under D65, from memory.
    assert lab("#ff0000") == pytest.approx((53.24, 80.09, 67.20), abs=0.01)
    assert lab("#ffffff") == pytest.approx((100, 0, 0), abs=1e-9)
    assert lab("#000000") == pytest.approx((0, 0, 0), abs=1e-9)


@given(COLOURS, COLOURS)
@settings(max_examples=200, deadline=None)
def test_differences_are_even_handed(one: str, other: str) -> None:
    there, back = difference(one, other), difference(other, one)
    assert there == pytest.approx(back, abs=1e-9)
    assert there >= 0
    assert (there < 1e-9) == (one == other)


@given(COLOURS)
@settings(max_examples=200, deadline=None)
def test_a_grey_print_keeps_the_contrast(colour: str) -> None:
    # One step in 255 is what a written grey can miss.
    assert contrast(grey(colour), "#ffffff") == pytest.approx(contrast(colour, "#ffffff"), rel=0.02)
