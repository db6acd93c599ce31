"""The parts of a machine: what, how many, how long, how heavy."""

from __future__ import annotations

from core.parts.keys import fastener_key
from core.parts.masses import moving_mass
from core.parts.table import PartLine, parts

__all__ = ["PartLine", "fastener_key", "moving_mass", "parts"]
