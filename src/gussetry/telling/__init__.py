"""Rounds of a stitch map in words: the core that pattern text and descriptions of charts share."""

from gussetry.telling.names import Terms, named
from gussetry.telling.rounds import Worked, told, worked

__all__ = ["Terms", "Worked", "named", "told", "worked"]
