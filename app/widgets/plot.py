"""A live line plot: title, legend strip and a surface that shows new curves at once and new axes a turn
later.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from PySide6.QtCore import QEvent, QPoint, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QHelpEvent, QImage, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QToolTip, QVBoxLayout, QWidget

from app.look.palette import LIGHT, curve_colour
from app.look.theme import Theme
from app.widgets.dates import day_at
from app.widgets.legend import Legend, LegendItem
from app.widgets.picture_menu import Numbers, PictureMenu
from app.widgets.plot_data import Curve, Level, LineData, axes_for
from app.widgets.plot_engine import PlotEngine


class PlotSurface(QWidget):
    """The painted area: a kept picture from matplotlib, or a quiet note until there is one.

    Nothing is drawn while it is hidden. New curves are put on the kept ground when it paints; when the axes
    have to
    change, or the size or the theme did, the engine is asked for a turn and the old axes serve until then.
    """

    def __init__(
        self, theme: Theme, engine: PlotEngine, plot: LineData, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._theme = theme
        self._engine = engine
        self._plot = plot
        self._figure: Any = None
        self._image: QImage | None = None
        self._pixels = b""
        self._stale_curves = True
        self._stale_ground = True
        self._note = "The plot is being prepared."
        self.full_redraws = 0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        theme.changed.connect(self._renew)
        engine.ready.connect(self.update)
        engine.failed.connect(self._say)

    def plot(self) -> LineData:
        return self._plot

    def set_plot(self, plot: LineData) -> None:
        """Show other data; cheap when nothing but the curves differ."""
        labels = (plot.x_label, plot.y_label) != (self._plot.x_label, self._plot.y_label)
        self._plot = plot
        self._stale_curves = True
        self._stale_ground = self._stale_ground or labels
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(420, 240)

    def minimumSizeHint(self) -> QSize:
        return QSize(180, 120)

    def _say(self, note: str) -> None:
        self._note = note
        self.update()

    def _renew(self) -> None:
        self._stale_ground = True
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._renew()

    def redraw_now(self) -> None:
        """Draw in full; called by the engine when this plot's turn has come."""
        if self._engine.module is None or self.width() < 40 or self.height() < 40:
            return
        if self._figure is None:
            self._figure = self._engine.module.LineFigure()
            self._engine.ask(self)  # making and drawing it in one turn would take too long
            return
        limits = axes_for(self._plot, self._figure.limits)
        palette, ratio = self._theme.palette, self.devicePixelRatioF()
        self._figure.redraw(self._plot, limits, palette, self.width(), self.height(), ratio)
        self.full_redraws += 1
        self._stale_ground = self._stale_curves = False
        self._take_image()
        self.update()

    def _take_image(self) -> None:
        self._pixels, width, height = self._figure.pixels()
        self._image = QImage(self._pixels, width, height, 4 * width, QImage.Format.Format_RGBA8888)

    def _bring_up_to_date(self) -> None:
        """Before painting: curves at once, and a turn of the engine when the ground no longer serves."""
        if self._engine.module is None:
            return
        if self._image is None:
            self._engine.ask(self)
        elif self._stale_curves:
            if axes_for(self._plot, self._figure.limits) != self._figure.limits:
                self._stale_ground = True
            self._figure.blit(self._plot)
            self._take_image()
            self._stale_curves = False
        if self._stale_ground:
            self._engine.ask(self)

    def paintEvent(self, event: QPaintEvent) -> None:
        self._bring_up_to_date()
        with QPainter(self) as p:
            p.fillRect(self.rect(), QColor(self._theme.palette.entry))
            if self._image is not None:
                p.drawImage(QRectF(self.rect()), self._image)
            else:
                p.setPen(QColor(self._theme.palette.quiet))
                flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
                p.drawText(self.rect().adjusted(8, 8, -8, -8), flags, self._note)

    def reading(self, at: QPoint) -> str:
        """Every curve's figure at the x under a place in pixels."""
        if self._figure is None or not self._plot.curves:
            return ""
        x = self._figure.place(at.x(), at.y())[0]
        lines = [f"{self._plot.x_label}: {day_at(x) if self._plot.dates else f'{x:.4g}'}"]
        for curve in self._plot.curves:
            if curve.x.size and curve.x.min() <= x <= curve.x.max():
                order = np.argsort(curve.x)
                lines.append(f"{curve.label}: {np.interp(x, curve.x[order], curve.y[order]):.4g}")
        return "\n".join(lines) if len(lines) > 1 else ""

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            QToolTip.showText(event.globalPos() + QPoint(8, 8), self.reading(event.pos()), self)
            return True
        return super().event(event)


class LinePlot(QWidget):
    """A line plot with its title, legend, reading under the pointer, and files.

    Args:
        title, x_label, y_label: words; the labels name the units ("Place along the beam, mm").
        from_zero: keep y = 0 in view. dates: x is days of the calendar (`date.toordinal`), with days on its axis.
    """

    def __init__(
        self,
        theme: Theme,
        engine: PlotEngine,
        title: str,
        x_label: str,
        y_label: str,
        from_zero: bool = False,
        dates: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._theme = theme
        self._engine = engine
        self._title = QLabel(title, self)
        self._legend = Legend(theme, self)
        self.surface = PlotSurface(
            theme, engine, LineData(title, x_label, y_label, from_zero=from_zero, dates=dates), self
        )
        self.files = PictureMenu(self, self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        for widget in (self._title, self._legend):
            column.addWidget(widget)
        column.addWidget(self.surface, 1)
        self.setAccessibleName(title)
        theme.changed.connect(self._refresh_legend)

    def title(self) -> str:
        return self.surface.plot().title

    def set_about(self, sentence: str) -> None:
        """What the plot means, shown on hover over its title and legend."""
        self._title.setToolTip(sentence)
        self._legend.setToolTip(sentence)

    def legend(self) -> Legend:
        return self._legend

    def set_curves(
        self,
        curves: Sequence[Curve],
        limit_line: Level | Sequence[Level] | None = None,
        marker: Level | None = None,
    ) -> None:
        """Show these curves, with limits across in y and a marker upright in x."""
        limits = (
            ()
            if limit_line is None
            else (limit_line,)
            if isinstance(limit_line, Level)
            else tuple(limit_line)
        )
        plot = replace(self.surface.plot(), curves=tuple(curves), limits=limits, marker=marker)
        self.surface.set_plot(plot)
        self._refresh_legend()

    def set_labels(self, x_label: str, y_label: str) -> None:
        """Other words at the axes (other units)."""
        self.surface.set_plot(replace(self.surface.plot(), x_label=x_label, y_label=y_label))

    def set_summary(self, sentence: str) -> None:
        """What the plot says, in words, for a screen reader."""
        self.setAccessibleDescription(sentence)

    def set_numbers(self, numbers: Numbers | None) -> None:
        """Where the figures behind the plot come from, as CSV text, when the user asks for them."""
        self.files.set_numbers(numbers)

    def picture(self, kind: str) -> bytes:
        """The plot with title and legend as the content of a file, always in the light colours of paper."""
        file: bytes = self._engine.load_now().line_plot_file(self.surface.plot(), LIGHT, kind)
        return file

    def _refresh_legend(self) -> None:
        plot, palette = self.surface.plot(), self._theme.palette
        roles = [curve.role for curve in plot.curves]
        ranked = [
            (place, LegendItem(curve.label, curve_colour(curve.role, palette), curve.dash))
            for place, curve in enumerate(plot.curves)
            if curve.label
        ]
        for level in plot.limits:  # each behind the curve whose colour it has
            place = roles.index(level.role) if level.role in roles else len(roles)
            colour = curve_colour(level.role, palette)
            ranked.append((place, LegendItem(level.label, colour, level.dash, 1.6)))
        items = [item for _, item in sorted(ranked, key=lambda pair: pair[0])]
        if plot.marker is not None:
            items.append(LegendItem(plot.marker.label, palette.quiet, "dashdot", 1.8))
        self._legend.set_items(tuple(items))
