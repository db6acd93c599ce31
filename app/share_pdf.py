"""The list to share as a PDF: the same page as the HTML one, laid out by Qt on landscape paper with numbered pages."""

from __future__ import annotations

import os
import sys

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRectF, QSizeF, Qt
from PySide6.QtGui import (
    QFont,
    QGuiApplication,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QTextDocument,
)

from app.look.fonts import load_fonts, window_font
from core.report.share import Sharing, html_text

DPI = 96
MARGIN_MM = 12.0
STYLE = """
body { color: #000000; } h1 { font-size: 14pt; } h2 { font-size: 11pt; margin-top: 10px; }
table { border-collapse: collapse; border-color: #9aa0a8; } td, th { font-size: 6.5pt; }
th { background-color: #eceff3; text-align: left; } tfoot td { font-weight: bold; }
"""


def pdf_bytes(sharing: Sharing) -> bytes:
    """The file's content; starts Qt without a screen when it is not running yet."""
    running = application()  # held, or it would end before the page is drawn
    data = QByteArray()
    device = QBuffer(data)
    device.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(device)
    writer.setTitle(sharing.title)
    writer.setResolution(DPI)
    size = QPageSize(QPageSize.PageSizeId.A4)
    margins = QMarginsF(MARGIN_MM, MARGIN_MM, MARGIN_MM, MARGIN_MM)
    writer.setPageLayout(
        QPageLayout(size, QPageLayout.Orientation.Landscape, margins, QPageLayout.Unit.Millimeter)
    )
    page = writer.pageLayout().paintRectPixels(DPI)
    body = QSizeF(page.width(), page.height() - 22.0)
    document = QTextDocument()
    document.setDefaultFont(QFont(running.font().family(), 8))
    document.setDefaultStyleSheet(STYLE)
    document.setHtml(html_text(sharing, script=False))
    document.setPageSize(body)
    with QPainter(writer) as painter:
        pages = document.pageCount()
        for number in range(pages):
            if number:
                writer.newPage()
            painter.save()
            painter.translate(0.0, -number * body.height())
            document.drawContents(painter, QRectF(0.0, number * body.height(), body.width(), body.height()))
            painter.restore()
            foot = QRectF(0.0, body.height() + 6.0, body.width(), 16.0)
            painter.drawText(foot, Qt.AlignmentFlag.AlignRight, f"Page {number + 1} of {pages}")
    device.close()
    return bytes(data.data())


def application() -> QGuiApplication:
    """Qt's application: the one that runs, or one without a screen. Whoever paints holds it meanwhile."""
    running = QGuiApplication.instance()
    if isinstance(running, QGuiApplication):
        return running
    if sys.platform not in ("win32", "darwin") and not any(
        os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    ):
        os.environ["QT_QPA_PLATFORM"] = "offscreen"
    made = QGuiApplication(sys.argv[:1])
    made.setFont(window_font(load_fonts()))
    return made
