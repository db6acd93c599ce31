"""Pictures into files: SVG, PDF and PNG from one paint routine, written whole or not at all."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QRect, QSaveFile, QSize, QSizeF, Qt
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter, QPdfWriter
from PySide6.QtSvg import QSvgGenerator

KINDS = ("svg", "pdf", "png")
_PER_INCH = 96
_FINER = 12

Paint = Callable[[QPainter], None]


class CannotSave(Exception):
    """A file that could not be written; the text is a sentence for the user."""


def kind_of(path: Path) -> str:
    """The kind of picture a file name asks for; raises CannotSave for others."""
    kind = path.suffix.lower().lstrip(".")
    if kind not in KINDS:
        raise CannotSave(
            f"{path.name} names no kind of picture. Accepted: a name that ends in .svg, .pdf or .png."
        )
    return kind


def picture_bytes(kind: str, width: int, height: int, paint: Paint, title: str = "") -> bytes:
    """What a picture file holds.

    Args:
        kind: one of `KINDS`.
        width, height: size in logical pixels of 1/96 inch.
        paint: paints into that size.
        title: noted in SVG and PDF.
    """
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    if kind == "svg":
        _svg(buffer, width, height, paint, title)
    elif kind == "pdf":
        _pdf(buffer, width, height, paint, title)
    else:
        picture_image(width, height, paint).save(buffer, "PNG")
    buffer.close()
    return bytes(data.data())


def _svg(buffer: QBuffer, width: int, height: int, paint: Paint, title: str) -> None:
    generator = QSvgGenerator()
    generator.setOutputDevice(buffer)
    generator.setResolution(_PER_INCH)
    generator.setSize(QSize(width, height))
    generator.setViewBox(QRect(0, 0, width, height))
    generator.setTitle(title)
    generator.setDescription(title)
    with QPainter(generator) as p:
        paint(p)


def _pdf(buffer: QBuffer, width: int, height: int, paint: Paint, title: str) -> None:
    writer = QPdfWriter(buffer)
    writer.setTitle(title)
    writer.setResolution(_PER_INCH * _FINER)
    size = QPageSize(QSizeF(width * 72 / _PER_INCH, height * 72 / _PER_INCH), QPageSize.Unit.Point)
    writer.setPageLayout(QPageLayout(size, QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0)))
    with QPainter(writer) as p:
        p.scale(_FINER, _FINER)
        paint(p)


def picture_image(width: int, height: int, paint: Paint, ratio: float = 2.0) -> QImage:
    """The picture as an image of `ratio` device pixels for each logical one."""
    image = QImage(max(1, round(width * ratio)), max(1, round(height * ratio)), QImage.Format.Format_ARGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(Qt.GlobalColor.transparent)
    with QPainter(image) as p:
        paint(p)
    return image


def save_bytes(path: Path, data: bytes) -> None:
    """Write a file whole or not at all; raises CannotSave with the reason."""
    file = QSaveFile(str(path))
    written = file.open(QIODevice.OpenModeFlag.WriteOnly) and file.write(data) == len(data)
    if not (written and file.commit()):
        reason = file.errorString()
        file.cancelWriting()
        raise CannotSave(
            f"{path.name} could not be written: {reason}. Choose a folder that may be written to."
        )
