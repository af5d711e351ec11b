"""Specifications as designers write them, for properties that must hold for every one of them."""

from dataclasses import replace
from fractions import Fraction

from hypothesis import HealthCheck, Phase, settings
from hypothesis import strategies as st

from gussetry.spec import (
    Crown,
    CrownPhase,
    Cuff,
    Division,
    Ease,
    Gauge,
    Gusset,
    LowerHand,
    PerSize,
    Size,
    Spec,
    Stitch,
    Stripe,
    Stripes,
    Thumb,
    Yarn,
)

MADE_UP = settings(
    derandomize=True,
    max_examples=30,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
"""How properties of made-up specifications are tried: on the same ones every time."""

# Height of a stitch over its width, hundredths: twelve printed gauges give sc 0.875 to 0.929, in
# the back loop 0.912 and 1.083, hdc 1.25 and 1.30, dc 1.60 and 1.625.
RATIOS: dict[Stitch, tuple[int, int]] = {"sc": (87, 93), "hdc": (125, 130), "dc": (160, 163)}
RIB_RATIO = (90, 108)

YARNS = (
    Yarn("A", "oatmeal", "#d8c9a7"),
    Yarn("B", "slate", "#44545e"),
    Yarn("C", "rust", "#a4502c"),
)

# Shares of the hand's circumference, hundredths, near the surveyed means.
MEASURES = {
    "wrist_circumference": (78, 95),
    "hand_length": (88, 110),
    "thumb_circumference": (28, 36),
    "thumb_length": (30, 40),
    "crook_height": (26, 42),
}


def hundredths(low: int, high: int) -> st.SearchStrategy[Fraction]:
    """Fractions between `low` and `high` hundredths."""
    return st.integers(low, high).map(lambda n: Fraction(n, 100))


def fabrics(stitch: Stitch) -> st.SearchStrategy[Gauge]:
    """A swatch of the stitch, 5 to 24 stitches to 10 cm."""
    return st.builds(
        lambda count, ratio: Gauge(stitch, Fraction(100, count), Fraction(100, count) * ratio),
        st.integers(5, 24),
        hundredths(*RATIOS[stitch]),
    )


@st.composite
def size_runs(draw: st.DrawFn) -> tuple[Size, ...]:
    """One to four sizes, smallest first, newborn to the largest glove size."""
    girth = draw(st.integers(90, 230))
    given_measures = {
        name: draw(hundredths(*share))
        for name, share in MEASURES.items()
        if draw(st.integers(0, 4)) == 0
    }
    sizes = []
    for number in range(draw(st.integers(1, 4))):
        measures = {name: share * girth for name, share in given_measures.items()}
        months = draw(st.sampled_from((None, 0, 24, 60))) if girth < 165 else None
        sizes.append(Size(f"S{number + 1}", Fraction(girth), age_from_months=months, **measures))
        girth += draw(st.integers(3, 25))
    return tuple(sizes)


def pins(sizes: int, low: int, high: int, growing: bool = False) -> st.SearchStrategy[PerSize]:
    """Mostly no pin; else a count a size, some left free, never smaller in a larger size."""
    one = st.one_of(st.none(), st.integers(low, high))
    each = st.lists(one, min_size=sizes, max_size=sizes).map(
        lambda found: tuple(_ordered(found)) if growing else tuple(found)
    )
    return st.integers(0, 5).flatmap(lambda roll: each if roll == 0 else st.just(()))


def _ordered(found: list[int | None]) -> list[int | None]:
    rising = iter(sorted(n for n in found if n is not None))
    return [None if n is None else next(rising) for n in found]


@st.composite
def cuffs(draw: st.DrawFn, width: Fraction, sizes: int) -> Cuff:
    """A cuff ribbed sideways or round with its gauge, one worked round, or none."""
    style = draw(st.sampled_from(("ribbed", "ribbed", "post", "round", "none")))
    if style == "none":
        return Cuff(style="none")
    depth = draw(st.sampled_from((None, Fraction(30), Fraction(70))))
    if style == "round":
        return Cuff(style="round", depth=depth, rounds=draw(pins(sizes, 2, 12, growing=True)))
    stitch = draw(st.sampled_from(("hdc", "dc") if style == "post" else ("sc", "sc", "hdc", "dc")))
    ratio = RIB_RATIO if stitch == "sc" else RATIOS[stitch]
    rib_width = width * draw(hundredths(85, 105))
    gauge = Gauge(stitch, rib_width, rib_width * draw(hundredths(*ratio)))
    if style == "post":
        return Cuff(style="post", gauge=gauge, depth=depth)
    return Cuff(
        gauge=gauge,
        depth=depth,
        stitches=draw(pins(sizes, 4, 16, growing=True)),
        parity=draw(st.sampled_from(("even", "odd", "any"))),
        seam_counts=draw(st.booleans()),
        above_crease=draw(st.sampled_from((Fraction(0), Fraction(0), Fraction(10)))),
    )


@st.composite
def divisions(draw: st.DrawFn, sizes: int) -> Division:
    """Any bridge, the marked stitches and the held ones treated either way."""
    bridge = draw(st.sampled_from(("join", "chain", "none")))
    return Division(
        bridge=bridge,
        pairs=draw(pins(sizes, 0, 3, growing=True)) if bridge == "join" else (),
        chains=draw(pins(sizes, 1, 5, growing=True)) if bridge == "chain" else (),
        with_marked=draw(st.booleans()),
        worked_again=draw(st.booleans()),
        crook=draw(pins(sizes, 0, 3, growing=True)),
    )


@st.composite
def crowns(draw: st.DrawFn, sizes: int) -> Crown:
    """One to three phases of any kind."""
    phases = []
    for _ in range(draw(st.integers(1, 3))):
        kind = draw(st.sampled_from(("sides", "evenly")))
        phases.append(
            CrownPhase(
                kind,
                rounds=draw(pins(sizes, 0, 3)),
                decreases=2 if kind == "sides" else draw(st.integers(2, 8)),
                plain_after=draw(st.integers(0, 2)),
            )
        )
    return Crown(tuple(phases), last=draw(pins(sizes, 4, 6)))


@st.composite
def stripe_plans(draw: st.DrawFn) -> Stripes:
    """One to four stripes, anchored anywhere."""
    plan = draw(
        st.lists(
            st.builds(Stripe, st.sampled_from("ABC"), st.integers(1, 6)), min_size=1, max_size=4
        )
    )
    return Stripes(
        tuple(plan),
        repeat=draw(st.booleans()),
        anchor=draw(st.sampled_from(("cuff", "crook", "tip"))),
        thumb=draw(st.sampled_from((None, None, "B"))),
    )


def ends(pinned: bool) -> st.SearchStrategy[tuple[str, str]]:
    """How hand and thumb end: mostly both drawn shut, as a sample that is pinned mostly is."""
    closed = [("closed", "closed")] * (4 if pinned else 2)
    others = [("open", "open"), ("open", "closed"), ("closed", "open"), ("closed", "none")]
    return st.sampled_from([*closed, *others])


@st.composite
def ended(draw: st.DrawFn, spec: Spec, pinned: bool) -> Spec:
    """The specification with its hand and its thumb drawn shut, open, or without the thumb."""
    hand, thumb = draw(ends(pinned))
    few = pins(len(spec.sizes), 1, 3) if pinned else st.just(())
    if hand == "open":
        reach = draw(st.sampled_from((None, Fraction(6, 10), Fraction(9, 10))))
        spec = replace(spec, crown=Crown(style="open", reach=reach, edging=draw(few)))
    if thumb == "open":
        reach = draw(st.sampled_from((Fraction(2, 10), Fraction(1, 2), Fraction(1))))
        open_ = replace(spec.thumb, style="open", last=(), reach=reach, edging=draw(few))
        spec = replace(spec, thumb=open_)
    if thumb == "none":
        anchor = "cuff" if spec.stripes.anchor == "crook" else spec.stripes.anchor
        widths = pins(len(spec.sizes), 16, 40, growing=True) if pinned else st.just(())
        spec = replace(
            spec,
            gusset=Gusset(),
            division=Division(hand=draw(widths)),
            thumb=Thumb(style="none"),
            stripes=replace(spec.stripes, anchor=anchor, thumb=None),
        )
    return spec


@st.composite
def specs(draw: st.DrawFn) -> Spec:
    """A specification that obeys its own grammar; its pins may still be unworkable together."""
    sizes = draw(size_runs())
    many = len(sizes)
    gauge = draw(fabrics(draw(st.sampled_from(("sc", "sc", "sc", "hdc", "dc")))))
    spec = Spec(
        pattern="Made up",
        gauge=gauge,
        yarns=YARNS,
        sizes=sizes,
        stripes=draw(stripe_plans()),
        ease=Ease(hand=draw(st.sampled_from((Fraction(0), Fraction(10), Fraction(20))))),
        cuff=draw(cuffs(gauge.width, many)),
        lower_hand=LowerHand(
            pick_up=draw(pins(many, 14, 40, growing=True)),
            increases=draw(pins(many, 0, 3)),
            joined=draw(st.booleans()),
        ),
        gusset=Gusset(
            growth=draw(st.sampled_from(("inside", "first", "second", "alternating"))),
            every=draw(st.integers(1, 3)),
            between_markers=draw(pins(many, 3, 13, growing=True)),
            towards_palm=draw(st.sampled_from((0, 0, 0, 1, 2))),
        ),
        division=draw(divisions(many)),
        crown=draw(crowns(many)),
        thumb=Thumb(
            crook_decreases=draw(pins(many, 0, 2)),
            plain_after=draw(pins(many, 0, 3)),
            side_decreases=draw(pins(many, 0, 2)),
            rounds_to_length=draw(pins(many, 0, 6)),
            last=draw(pins(many, 4, 6)),
        ),
    )
    return draw(ended(spec, pinned=True))


@st.composite
def unpinned_specs(draw: st.DrawFn) -> Spec:
    """A specification without a pin, of hands at least twenty stitches round: it can be worked."""
    sizes = draw(size_runs())
    stitch = draw(st.sampled_from(("sc", "hdc", "dc")))
    width = sizes[0].hand_circumference / draw(st.integers(20, 50))
    gauge = Gauge(stitch, width, width * draw(hundredths(*RATIOS[stitch])))
    rib = Gauge("sc", width, width * draw(hundredths(*RIB_RATIO)))
    post = Gauge("dc", width, width * draw(hundredths(*RATIOS["dc"])))
    spec = Spec(
        pattern="Made up",
        gauge=gauge,
        yarns=YARNS,
        sizes=sizes,
        stripes=draw(stripe_plans()),
        cuff=draw(
            st.sampled_from(
                (Cuff(gauge=rib), Cuff("post", post), Cuff(style="round"), Cuff(style="none"))
            )
        ),
        gusset=Gusset(draw(st.sampled_from(("inside", "alternating"))), draw(st.integers(1, 2))),
        division=Division(bridge=draw(st.sampled_from(("join", "chain", "none")))),
    )
    return draw(ended(spec, pinned=False))
