"""The parts of a machine: what, how many, how long, how heavy."""

from __future__ import annotations

from core.parts.masses import moving_mass
from core.parts.table import PartLine, parts

__all__ = ["PartLine", "moving_mass", "parts"]
