"""What a cut asks of machine and spindle: chip, pressure, forces over a turn, power, and the force on the tool tip.

The statics take the mean force from here (`tip_force`); `find_cutting` answers in full.
"""

from core.cutting.answer import CutCase, CuttingAnswer, Plunge, find_cutting
from core.cutting.chip import Chip, find_chip
from core.cutting.force import mean_power, mean_tangential, tip_force
from core.cutting.pressure import pressure_at, pressures_at
from core.cutting.turn import Turn, find_turn

__all__ = [
    "Chip",
    "CutCase",
    "CuttingAnswer",
    "Plunge",
    "Turn",
    "find_chip",
    "find_cutting",
    "find_turn",
    "mean_power",
    "mean_tangential",
    "pressure_at",
    "pressures_at",
    "tip_force",
]
