"""From metres of a drawing to pixels of a picture and back: one uniform scale, y turned upside down."""

from __future__ import annotations

from dataclasses import dataclass, replace

from PySide6.QtCore import QPointF

from core.drawing.primitives import Bounds, Point

SMALLEST, LARGEST = 1.0, 2.0e5
"""Limits of the scale, pixels per metre."""


@dataclass(frozen=True, slots=True)
class Camera:
    """Pixels per metre, and the pixel at which the drawing's origin lies."""

    scale: float
    left: float
    top: float

    def pixel(self, at: Point) -> QPointF:
        return QPointF(self.left + at[0] * self.scale, self.top - at[1] * self.scale)

    def metres(self, pixel: QPointF) -> Point:
        return (pixel.x() - self.left) / self.scale, (self.top - pixel.y()) / self.scale

    def shifted(self, dx: float, dy: float) -> Camera:
        """Moved by pixels."""
        return replace(self, left=self.left + dx, top=self.top + dy)

    def zoomed(self, factor: float, about: QPointF) -> Camera:
        """Scaled by `factor` so that what lies under the pixel `about` stays there."""
        scale = min(LARGEST, max(SMALLEST, self.scale * factor))
        real = scale / self.scale
        return Camera(
            scale, about.x() + (self.left - about.x()) * real, about.y() + (self.top - about.y()) * real
        )


def fitted(bounds: Bounds | None, width: float, height: float, margin: float) -> Camera:
    """The camera that shows `bounds` whole and centred in width by height pixels, with `margin` pixels
    around.
    """
    if bounds is None:
        return Camera(100.0, width / 2, height / 2)
    room_x, room_y = max(1.0, width - 2 * margin), max(1.0, height - 2 * margin)
    scales = [room / size for room, size in ((room_x, bounds.width), (room_y, bounds.height)) if size > 0.0]
    scale = min(LARGEST, max(SMALLEST, min(scales, default=100.0)))
    middle_x, middle_y = (bounds.left + bounds.right) / 2, (bounds.bottom + bounds.top) / 2
    return Camera(scale, width / 2 - middle_x * scale, height / 2 + middle_y * scale)
