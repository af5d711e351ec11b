"""How drawings look: a frozen `Style`, read from the sheets in `styles/`, and the lettering.

The sheet `default` names every property; another sheet may override, never invent.
"""

from __future__ import annotations

from gussetry.style.look import PT, SERIES, Hand, Style, Yarns, step
from gussetry.style.reading import LIMITS, read_style
from gussetry.style.sheets import merged, names, sheet

__all__ = ["LIMITS", "PT", "SERIES", "Hand", "Style", "Yarns", "load_style", "names", "step"]


def load_style(name: str = "default") -> Style:
    """The style of that name, or of a `.yaml` file, laid over `default`. Faults if it is wrong."""
    base = sheet("default")
    own = base if name == "default" else sheet(name)
    assert isinstance(base.data, dict)
    return read_style(name, merged(dict(base.data), own), own)
