"""Markers while a round is worked: they go up by themselves, and are put, moved and removed."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from gussetry.manuscripts.runs import Mark
from gussetry.manuscripts.tree import Marker, Stitches, value

if TYPE_CHECKING:
    from gussetry.manuscripts.hook import Hook


def carry(hook: Hook, here: int, step: Stitches, times: int) -> None:
    """Markers go up by themselves into what is worked into the marked stitch."""
    hook.touched = []
    for mark in hook.there.marks:
        if here <= mark.at < here + times * step.uses and not (mark.between and mark.at == here):
            if step.held or step.makes == 0:
                continue
            at = hook.made + (mark.at - here) // step.uses * step.makes
            if mark.between:
                at = hook.made + (mark.at - here) * step.makes // step.uses
            hook.marks.append(replace(mark, at=at))
            hook.touched.append(mark)
        elif mark.between and mark.at == here and times:
            hook.marks.append(replace(mark, at=hook.made))
            hook.touched.append(mark)


def mark(hook: Hook, step: Marker) -> None:
    """Puts, moves or removes a marker."""
    if step.act == "remove":
        names = {step.name} if step.name else {m.name for m in (*hook.marks, *hook.there.marks)}
        if step.name and not any(m.name == step.name for m in hook.marks + list(hook.there.marks)):
            hook.fault("marker", f"there is no {step.name} marker", step.spot, sure="likely")
        hook.marks = [m for m in hook.marks if m.name not in names]
        return
    if step.at:
        at = value(step.at, hook.size) - 1
        hook.marks = [m for m in hook.marks if m.name != step.name or not step.name]
        hook.marks.append(Mark(step.name, at))
        return
    if step.act == "up":
        return
    if not step.which:
        hook.marks.append(Mark(step.name, hook.made, between=True))
        return
    first, end = hook.last
    at = {"first": first, "second": first + 1, "last": end - 1, "next": hook.made}[step.which]
    if step.which == "second" and end - first < 2:
        hook.fault("marker", "only one stitch was made there", step.spot)
    if step.act == "move":
        moved = [m for m in hook.touched if not m.name or m.name == step.name]
        for mark in moved[-1:]:
            hook.marks = [m for m in hook.marks if not (m.name == mark.name and m.at == first)]
        if not moved and hook.there.marks and not hook.open:
            hook.fault("marker", "no marker is in the stitch just worked into", step.spot)
    hook.marks.append(Mark(step.name, at))
