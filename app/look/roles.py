"""What each drawing role looks like: line, width, dash and filling.

Two roles that must be told apart differ in width, dash or hatching too, never in colour alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QPen

from app.look.palette import Palette

_SOLID = Qt.PenStyle.SolidLine
_FULL = Qt.BrushStyle.SolidPattern
_EMPTY = Qt.BrushStyle.NoBrush


@dataclass(frozen=True, slots=True)
class RoleStyle:
    """Pen and filling of a role; `stroke` and `fill` are field names of the palette, `width` is in logical
    pixels.

    `dash` is a pattern in pen widths (empty: unbroken), `pattern` the brush over the filling.
    """

    stroke: str
    width: float = 1.0
    dash: tuple[float, ...] = ()
    fill: str = ""
    pattern: Qt.BrushStyle = _FULL


STYLES: dict[str, RoleStyle] = {
    "beam": RoleStyle("text", 1.8, fill="aluminium"),
    "aluminium": RoleStyle("text", 1.2, fill="aluminium"),
    "steel": RoleStyle("text", 1.2, fill="steel", pattern=Qt.BrushStyle.BDiagPattern),
    "rail": RoleStyle("text", 0.8, fill="rail"),
    "block": RoleStyle("text", 1.2, fill="block", pattern=Qt.BrushStyle.Dense3Pattern),
    "plate": RoleStyle("text", 1.2, fill="plate"),
    "table": RoleStyle("line", 1.2, fill="table"),
    "head": RoleStyle("text", 1.2, fill="plate", pattern=Qt.BrushStyle.FDiagPattern),
    "sheet": RoleStyle("line", 0.8, fill="sheet"),
    "floor": RoleStyle("line", 2.2),
    "slot": RoleStyle("quiet", 0.8, fill="entry"),
    "screw": RoleStyle("text", 1.0, fill="text"),
    "hole": RoleStyle("text", 1.0, fill="entry"),
    "hidden": RoleStyle("quiet", 1.0, (5.0, 3.0)),
    "axis": RoleStyle("quiet", 0.8, (10.0, 3.0, 2.0, 3.0)),
    "dimension": RoleStyle("quiet", 0.9),
    "note": RoleStyle("text", 0.9),
    "deflected": RoleStyle("accent", 2.4, (4.0, 2.0)),
    "load": RoleStyle("load", 2.6),
    "finding": RoleStyle("bad", 2.6, (1.5, 1.5)),
    "grip": RoleStyle("accent", 1.6, fill="entry"),
}


def pen(role: str, palette: Palette, scale: float = 1.0) -> QPen:
    """The pen of a role; `scale` multiplies the width (a printed page has finer units than a screen)."""
    style = STYLES[role]
    made = QPen(QColor(getattr(palette, style.stroke)), style.width * scale, _SOLID)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    made.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if style.dash:
        made.setDashPattern([float(part) for part in style.dash])
    return made


def brushes(role: str, palette: Palette) -> tuple[QBrush, ...]:
    """The fillings of a role in painting order: a plain ground, then a hatching where the role has one."""
    style = STYLES[role]
    if not style.fill:
        return (QBrush(_EMPTY),)
    colour = QColor(getattr(palette, style.fill))
    if style.pattern == _FULL:
        return (QBrush(colour),)
    hatch = QColor(palette.text)
    hatch.setAlphaF(0.35)
    return (QBrush(colour), QBrush(hatch, style.pattern))
