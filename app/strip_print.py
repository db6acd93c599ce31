"""Pages of strips at full size as PDF and SVG: paper sizes are true, whatever the screen's resolution."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRectF, QSize, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter, QPdfWriter
from PySide6.QtSvg import QSvgGenerator

from app.look.palette import LIGHT
from app.share_pdf import application
from app.widgets.camera import Camera
from app.widgets.drawing_paint import paint_drawing
from core.drawing.strip import StripPage

PER_METRE = 96.0 / 0.0254
"""Logical pixels of 1/96 inch."""
FINER = 12
LETTERS = 9.0
"""Height of letters, logical pixels: 2.4 mm."""


def _paint(painter: QPainter, page: StripPage) -> None:
    camera = Camera(PER_METRE, 0.0, page.height * PER_METRE)
    paint_drawing(painter, page.drawing, camera, LIGHT, LETTERS)


def strips_pdf(pages: Sequence[StripPage], title: str) -> bytes:
    """All pages in one file; starts Qt without a screen when it is not running yet."""
    running = application()  # held, or it would end before the page is drawn
    data = QByteArray()
    device = QBuffer(data)
    device.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(device)
    writer.setTitle(title)
    writer.setResolution(96 * FINER)
    with QPainter() as painter:
        for number, page in enumerate(pages):
            size = QPageSize(QSizeF(page.width * 1000.0, page.height * 1000.0), QPageSize.Unit.Millimeter)
            writer.setPageLayout(QPageLayout(size, QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0)))
            if number:
                writer.newPage()
            else:
                painter.begin(writer)
                painter.scale(FINER, FINER)
                painter.setFont(running.font())
            _paint(painter, page)
    device.close()
    return bytes(data.data())


def strip_svg(page: StripPage) -> bytes:
    """One page, its size told in millimetres."""
    running = application()
    width, height = page.width * PER_METRE, page.height * PER_METRE
    data = QByteArray()
    device = QBuffer(data)
    device.open(QIODevice.OpenModeFlag.WriteOnly)
    generator = QSvgGenerator()
    generator.setOutputDevice(device)
    generator.setResolution(96)
    generator.setSize(QSize(round(width), round(height)))
    generator.setViewBox(QRectF(0.0, 0.0, round(width), round(height)))
    generator.setTitle(page.drawing.title)
    with QPainter(generator) as painter:
        painter.setFont(running.font())
        _paint(painter, page)
    device.close()
    return bytes(data.data())
