"""Every bar of the machine by its section: computed and typed figures, bounds of a joint, bow of two metals.

Figures are those of the section as it is described, before a part turns it.
"""

from core.bars.answer import Bar, BarsAnswer, find_bars
from core.bars.figures import BarFigure

__all__ = ["Bar", "BarFigure", "BarsAnswer", "find_bars"]
