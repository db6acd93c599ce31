"""A view on a drawing: fits it, zooms and pans, tells what lies under the pointer, and lets one thing be
dragged.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QPointF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from app.look.theme import Theme
from app.widgets.camera import Camera, fitted
from app.widgets.drawing_paint import paint_drawing
from app.widgets.picture import picture_bytes
from app.widgets.picture_menu import PictureMenu
from core.drawing.picking import hint_at, topmost
from core.drawing.primitives import Drawing, Text

MARGIN = 34.0
LETTERS_CLEAR, SMALLEST_FIT = 6.0, 0.6
"""Pixels kept beside letters at the edge, and how far a drawing is made smaller for them."""
REACH = 5.0
GRIP_REACH = 12.0
ZOOM_STEP = 1.25
PAN_STEP = 40.0


class DrawingView(QWidget):
    """Paints a `Drawing` to scale in the theme's colours.

    Dragging a thing named by `set_draggable` moves it; dragging elsewhere pans. Wheel, plus and minus zoom; 0
    or a double
    click fits. With something draggable, the left and right keys nudge it.

    Signals:
        dragged_to(x, y): the pointer drags, at this place in metres.
        drag_ended(): it was let go, so the next drag is another step of undo.
        nudged(step): the left (-1) or right (+1) key was pressed.
        picked(key): a named thing was clicked.
    """

    dragged_to = Signal(float, float)
    drag_ended = Signal()
    nudged = Signal(int)
    picked = Signal(str)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._drawing = Drawing()
        self._camera: Camera | None = None
        self._fit = True
        self._draggable: frozenset[str] = frozenset()
        self._drag: str | None = None
        self._pressed_at: QPointF | None = None
        self.files = PictureMenu(self, self)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        theme.changed.connect(self.update)

    def drawing(self) -> Drawing:
        return self._drawing

    def title(self) -> str:
        return self._drawing.title

    def set_drawing(self, drawing: Drawing) -> None:
        """Show another drawing; a fitted view stays fitted, except during a drag, when the ground must not
        move.
        """
        moved = drawing.bounds() != self._drawing.bounds()
        self._drawing = drawing
        self.setAccessibleName(drawing.title)
        if self._fit and moved and self._pressed_at is None:
            self._camera = None
        self.update()

    def set_draggable(self, keys: frozenset[str]) -> None:
        """Let the things of these keys be dragged."""
        self._draggable = keys

    def camera(self) -> Camera:
        """The camera in use."""
        if self._camera is None:
            whole = fitted(self._drawing.bounds(), self.width(), self.height(), MARGIN)
            middle = QPointF(self.width() / 2, self.height() / 2)
            self._camera = whole.zoomed(self._room_for_letters(whole), middle)
        return self._camera

    def _room_for_letters(self, camera: Camera) -> float:
        """How much smaller to draw so that no letters at the sides are cut, for these keep their size."""
        factor, half, metrics = 1.0, self.width() / 2.0, self.fontMetrics()
        for item in self._drawing.items:
            if isinstance(item, Text) and not item.turn and item.anchor != "centre":
                away = camera.pixel(item.at).x() - half
                away = -away if item.anchor == "right" else away
                room = half - metrics.horizontalAdvance(item.text) - LETTERS_CLEAR
                if away > room:
                    factor = min(factor, max(room / away, SMALLEST_FIT))
        return factor

    def fit(self) -> None:
        """Show the whole drawing, and keep it whole when it changes."""
        self._fit, self._camera = True, None
        self.update()

    def zoom(self, factor: float, about: QPointF | None = None) -> None:
        """Scale by a factor about a pixel (the middle when None)."""
        self._look_through(
            self.camera().zoomed(factor, about or QPointF(self.width() / 2, self.height() / 2))
        )

    def pan(self, dx: float, dy: float) -> None:
        """Move the drawing by pixels."""
        self._look_through(self.camera().shifted(dx, dy))

    def picture(self, kind: str) -> bytes:
        """What is in view, as the content of a file of that kind."""
        return picture_bytes(kind, self.width(), self.height(), self._paint, self._drawing.title)

    def sizeHint(self) -> QSize:
        return QSize(480, 320)

    def minimumSizeHint(self) -> QSize:
        return QSize(160, 110)

    def _look_through(self, camera: Camera) -> None:
        self._fit, self._camera = False, camera
        self.update()

    def _paint(self, p: QPainter) -> None:
        p.fillRect(self.rect(), QColor(self._theme.palette.entry))
        p.setFont(self.font())
        paint_drawing(p, self._drawing, self.camera(), self._theme.palette, self.fontInfo().pixelSize())

    def paintEvent(self, event: QPaintEvent) -> None:
        with QPainter(self) as p:
            self._paint(p)
            colours = self._theme.palette
            focused = self.hasFocus()
            p.setPen(QPen(QColor(colours.accent if focused else colours.grid), 2 if focused else 1))
            p.drawRect(self.rect().adjusted(0, 0, -1, -1))

    def resizeEvent(self, event: QResizeEvent) -> None:
        if self._fit:
            self._camera = None

    def wheelEvent(self, event: QWheelEvent) -> None:
        steps = event.angleDelta().y() / 120.0
        if steps:
            self.zoom(ZOOM_STEP**steps, event.position())
        event.accept()

    def _key_under(self, pixel: QPointF, reach: float, keys: frozenset[str] | None = None) -> str:
        camera = self.camera()
        shape = topmost(self._drawing, camera.metres(pixel), reach / camera.scale, keys)
        return shape.key if shape is not None else ""

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() not in (Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton):
            return
        self.camera()
        self._pressed_at = event.position()
        self._drag = None
        if event.button() == Qt.MouseButton.LeftButton and self._draggable:
            self._drag = self._key_under(event.position(), GRIP_REACH, self._draggable) or None
        if self._drag is None and (key := self._key_under(event.position(), REACH)):
            self.picked.emit(key)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        if self._pressed_at is None:
            self._show_pointer(at)
        elif self._drag is not None:
            self.dragged_to.emit(*self.camera().metres(at))
        else:
            self.pan(at.x() - self._pressed_at.x(), at.y() - self._pressed_at.y())
            self._pressed_at = at

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        dragged, self._drag, self._pressed_at = self._drag, None, None
        if dragged is not None:
            self.drag_ended.emit()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.fit()

    def _show_pointer(self, at: QPointF) -> None:
        movable = bool(self._draggable and self._key_under(at, GRIP_REACH, self._draggable))
        self.setCursor(Qt.CursorShape.SizeHorCursor if movable else Qt.CursorShape.ArrowCursor)

    def hint_under(self, pixel: QPointF) -> str:
        """The hover text at a pixel; empty when there is none."""
        camera = self.camera()
        return hint_at(self._drawing, camera.metres(pixel), REACH / camera.scale)

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            hint = self.hint_under(QPointF(event.pos()))
            QToolTip.showText(event.globalPos() + QPoint(8, 8), hint, self)
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        sideways = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(key, 0)
        upright = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(key, 0)
        if key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom(ZOOM_STEP)
        elif key == Qt.Key.Key_Minus:
            self.zoom(1 / ZOOM_STEP)
        elif key == Qt.Key.Key_0:
            self.fit()
        elif sideways and self._draggable:
            self.nudged.emit(sideways)
        elif sideways or upright:
            self.pan(-sideways * PAN_STEP, -upright * PAN_STEP)
        else:
            super().keyPressEvent(event)
