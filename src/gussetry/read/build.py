"""The keys that were read, as a `Spec`."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any, cast

from gussetry import spec, survey
from gussetry.read import given, models
from gussetry.read.checks import implied_bridge
from gussetry.read.kinds import ALL


def build(keys: models.SpecificationKeys) -> spec.Spec:
    """The specification as the grading takes it; what is not written has its usual value."""
    sizes = tuple(_size(name, size) for name, size in keys.sizes.items())
    names = tuple(size.name for size in sizes)
    stripes = _stripes(keys)
    return spec.Spec(
        pattern=keys.pattern,
        gauge=_gauge(keys.gauge, keys.gauge.rounds),
        yarns=tuple(spec.Yarn(letter, **_written(yarn)) for letter, yarn in keys.yarns.items()),
        sizes=sizes,
        stripes=stripes,
        ease=replace(spec.Ease(), **_written(keys.ease)),
        # Where sizes have plans of their own, each one's cuff goes with its own first stripe.
        cuff=_cuff(keys, names, "" if stripes.plans else stripes.plan[0].yarn),
        lower_hand=replace(spec.LowerHand(), **_pinned(keys.lower_hand, names)),
        gusset=replace(spec.Gusset(), **_pinned(keys.gusset, names)),
        division=_division(keys.division, names),
        crown=_crown(keys.crown, names),
        thumb=replace(spec.Thumb(), **_pinned(keys.thumb, names)),
        swatch=_swatch(keys.swatch),
        reserve=spec.RESERVE if keys.reserve is None else keys.reserve,
        terms=cast(Any, keys.terms or "US"),
        credit=keys.credit or "",
        copyright=keys.copyright or "",
        caption=keys.caption or "",
        style=keys.style or "default",
        charts=replace(spec.Charts(), **_written(keys.charts)),
        pages=replace(spec.Pages(), **_written(keys.pages)) if keys.pages else None,
    )


def _written(group: given.Group | None) -> dict[str, Any]:
    if group is None:
        return {}
    return {name: value for name, value in group if value is not None}


def _pinned(group: given.Group | None, sizes: tuple[str, ...]) -> dict[str, Any]:
    return {
        name: _per_size(value, sizes) if isinstance(value, dict) else value
        for name, value in _written(group).items()
    }


def _per_size(pins: models.Pin, sizes: tuple[str, ...]) -> spec.PerSize:
    if not pins:
        return ()
    return tuple(pins.get(size, pins.get(ALL)) for size in sizes)


def _gauge(keys: given.GaugeKeys | given.RibGaugeKeys, up: Fraction) -> spec.Gauge:
    stretch = keys.stretches_to / keys.over if keys.stretches_to else None
    lean = keys.lean if isinstance(keys, given.GaugeKeys) and keys.lean else Fraction(0)
    stitch = cast(Any, keys.stitch or "sc")
    return spec.Gauge(stitch, keys.over / keys.stitches, keys.over / up, stretch, lean)


def _swatch(keys: given.SwatchKeys | None) -> spec.Swatch | None:
    if keys is None:
        return None
    amount, unit = keys.used
    return spec.Swatch(keys.stitches, keys.rounds, **{unit: amount})


def _size(name: str, size: given.SizeKeys) -> spec.Size:
    written = _written(size)
    months = written.pop("age_from", None)
    if size.standard is None:
        return spec.Size(name=name, age_from_months=months, **written)
    hand = survey.hand(size.standard)
    # What the designer measured outranks the table.
    taken = {key: mm for key, mm in hand.measures.items() if key.replace(" ", "_") not in written}
    published: dict[str, Any] = {key.replace(" ", "_"): mm for key, mm in taken.items()}
    written.setdefault("wearer", hand.wearer)
    return spec.Size(
        name=name,
        age_from_months=hand.age_from_months if months is None else months,
        surveyed=frozenset(taken) - hand.estimated,
        estimated=frozenset(taken) & hand.estimated,
        **published,
        **written,
    )


def _plan(plan: list[dict[str, int]] | None) -> tuple[spec.Stripe, ...]:
    return tuple(spec.Stripe(yarn, rounds) for item in plan or () for yarn, rounds in item.items())


def _stripes(keys: models.SpecificationKeys) -> spec.Stripes:
    if keys.stripes is None:
        return spec.Stripes((spec.Stripe(next(iter(keys.yarns)), 1),))
    written = _written(keys.stripes)
    if written.get("thumb") == "match":
        del written["thumb"]
    written["plan"] = _plan(written["plan"])
    own = written.pop("plans", None)
    if own:
        written["plans"] = tuple(_plan(own[s]) if s in own else None for s in keys.sizes)
    return spec.Stripes(**written)


def _cuff(keys: models.SpecificationKeys, sizes: tuple[str, ...], yarn: str) -> spec.Cuff:
    written = _pinned(keys.cuff, sizes)
    stripes = _plan(written.pop("stripes", None))
    if "rows" in written and "parity" not in written:
        # A sample's rows outrank our wish for whole ribs.
        written["parity"] = "any"
    rib = keys.rib_gauge
    ribbed = written.get("style", "ribbed") in ("ribbed", "post")
    gauge = _gauge(rib, rib.rows) if rib and ribbed else None
    written.setdefault("yarn", stripes[0].yarn if stripes else yarn)
    return spec.Cuff(gauge=gauge, stripes=stripes, **written)


def _division(division: models.DivisionKeys | None, sizes: tuple[str, ...]) -> spec.Division:
    written = _pinned(division, sizes)
    written.setdefault("bridge", implied_bridge(written))
    return replace(spec.Division(), **written)


def _crown(crown: models.CrownKeys | None, sizes: tuple[str, ...]) -> spec.Crown:
    written = _pinned(crown, sizes)
    phases = written.pop("phases", None)
    if phases:
        written["phases"] = tuple(_phase(phase, sizes) for phase in phases)
    return replace(spec.Crown(), **written)


def _phase(phase: models.PhaseKeys, sizes: tuple[str, ...]) -> spec.CrownPhase:
    pins = phase.sides if phase.sides is not None else phase.evenly
    return spec.CrownPhase(
        "sides" if phase.sides is not None else "evenly",
        _per_size(pins or {}, sizes),
        phase.decreases or 2,
        phase.plain_after or 0,
    )
