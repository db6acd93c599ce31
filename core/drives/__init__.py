"""Drives: what screws, racks, belts and their motors allow, and what unequal sides do to the gantry."""

from core.drives.answer import find_drives
from core.drives.results import AxisDrive, DrivesAnswer, Racking, Row

__all__ = ["AxisDrive", "DrivesAnswer", "Racking", "Row", "find_drives"]
