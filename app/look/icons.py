"""Icons from `assets/icons`, recoloured for the theme: one drawing serves light, dark and disabled alike."""

from __future__ import annotations

import re
from pathlib import Path

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from app import paths
from app.look.palette import Palette

_INK = re.compile(rb"currentColor|#000000\b|#000\b|\bblack\b", re.IGNORECASE)
_SIZES = (16, 20, 24, 32, 48)


def recoloured(svg: bytes, colour: str) -> bytes:
    """The same picture with its ink (currentColor or black) in the given colour "#rrggbb"."""
    return _INK.sub(colour.encode("ascii"), svg)


def svg_pixmap(svg: bytes, size: int) -> QPixmap:
    """The picture painted on a clear square of `size` device pixels; clear throughout when the SVG is
    unreadable.
    """
    pixmap = QPixmap(QSize(size, size))
    pixmap.fill(Qt.GlobalColor.transparent)
    renderer = QSvgRenderer(QByteArray(svg))
    if renderer.isValid():
        with QPainter(pixmap) as painter:
            renderer.render(painter, QRectF(0, 0, size, size))
    return pixmap


def icon(name: str, palette: Palette, ink: str = "text", folder: Path | None = None) -> QIcon:
    """The icon `name` in the palette's colours, greyed when disabled; an empty icon when there is no such
    file.

    Args:
        name: file name without ".svg".
        palette: the colours in use.
        ink: the field of the palette that gives the colour ("text", "accent", "bad").
        folder: where to look; `assets/icons` when None.
    """
    made = QIcon()
    try:
        file = paths.icon(name) if folder is None else folder / f"{name}.svg"
    except FileNotFoundError:
        return made
    if not file.is_file():
        return made
    svg = file.read_bytes()
    for mode, colour in ((QIcon.Mode.Normal, getattr(palette, ink)), (QIcon.Mode.Disabled, palette.line)):
        coloured = recoloured(svg, colour)
        for size in _SIZES:
            made.addPixmap(svg_pixmap(coloured, size), mode)
    return made
