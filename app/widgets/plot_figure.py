"""A line plot with matplotlib into a buffer of pixels: the slow part once, the curves alone each time after.

Imported only when the first plot is wanted, off the window's first paint. No Qt here, so files can be made
without a
window; the widget paints the buffer. Layout is by fixed margins, because a layout engine would double the
time.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

import matplotlib
import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes as MplAxes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from app.look.palette import Palette, curve_colour
from app.widgets.dates import LETTER
from app.widgets.plot_data import Axes, Curve, LineData, axes_for, ticks, x_ticks

DPI = 96.0
LEFT, RIGHT, TOP, BOTTOM = 68.0, 24.0, 12.0, 46.0
_POINTS = 8.5
_DASHES: dict[str, Any] = {
    "solid": "-",
    "dash": (0, (6, 2.5)),
    "dot": (0, (1.5, 2)),
    "dashdot": (0, (7, 2, 1.5, 2)),
    "sparse": (0, (9, 6)),
    "sparse dot": (0, (9, 4, 1.5, 4)),
    "sparse dots": (0, (9, 3, 1.5, 3, 1.5, 3)),
}


class LineFigure:
    """One line plot kept ready: `redraw` makes axes and ground, `blit` puts curves on the kept ground."""

    def __init__(self) -> None:
        self._figure = Figure(dpi=DPI, layout="none")
        self._canvas = FigureCanvasAgg(self._figure)
        self._axes = self._figure.add_axes((0.1, 0.1, 0.8, 0.8))
        self._ground: Any = None
        self._ground_size = (0, 0)
        self._palette: Palette | None = None
        self.limits: Axes | None = None

    def redraw(
        self, plot: LineData, limits: Axes, palette: Palette, width: int, height: int, ratio: float
    ) -> None:
        """Draw everything anew for a size in logical pixels; 25 ms or so."""
        self.limits, self._palette = limits, palette
        self._figure.set_dpi(DPI * ratio)
        # A quarter of a pixel more, so that no rounding error takes a whole one off.
        self._figure.set_size_inches(*((side * ratio + 0.25) / (DPI * ratio) for side in (width, height)))
        _dress(self._figure, self._axes, plot, limits, palette, width, height)
        self._canvas.draw()
        self._ground = self._canvas.copy_from_bbox(self._figure.bbox)
        self._ground_size = self._canvas.get_width_height(physical=True)
        self.blit(plot)

    def blit(self, plot: LineData) -> None:
        """Put the plot's curves on the kept ground; 2 ms or so. Needs one `redraw` before."""
        if self._palette is None:
            raise RuntimeError("A plot has to be drawn in full before its curves can be replaced.")
        self._canvas.restore_region(self._ground)
        for artist in _artists(plot, self._axes, self._palette):
            self._axes.draw_artist(artist)
            artist.remove()

    def pixels(self) -> tuple[bytes, int, int]:
        """The picture as RGBA bytes, width and height in device pixels."""
        width, height = self._ground_size
        return bytes(self._canvas.buffer_rgba()), width, height

    def place(self, x: float, y: float) -> tuple[float, float]:
        """Figures at a place in logical pixels from the upper left."""
        ratio = self._figure.dpi / DPI
        height = self._figure.bbox.height
        found = self._axes.transData.inverted().transform((x * ratio, height - y * ratio))
        return float(found[0]), float(found[1])


def _dress(
    figure: Figure, axes: MplAxes, plot: LineData, limits: Axes, colours: Palette, width: float, height: float
) -> None:
    """Everything but the curves: limits, ticks, labels, grid and colours."""
    figure.set_facecolor(colours.entry)
    axes.set_facecolor(colours.entry)
    inner_width, inner_height = max(20.0, width - LEFT - RIGHT), max(20.0, height - TOP - BOTTOM)
    axes.set_position((LEFT / width, BOTTOM / height, inner_width / width, inner_height / height))
    axes.set_xlim(*limits.x)
    axes.set_ylim(*limits.y)
    _days_within(axes, *x_ticks(plot, limits.x, inner_width, 5 if width > 420 else 3), limits.x, inner_width)
    axes.set_yticks(*ticks(limits.y, 4))
    axes.set_xlabel(plot.x_label, color=colours.text, fontsize=_POINTS)
    axes.set_ylabel(plot.y_label, color=colours.text, fontsize=_POINTS)
    axes.tick_params(colors=colours.text, labelsize=_POINTS, color=colours.line, length=3)
    axes.grid(True, color=colours.grid, linewidth=0.8)
    axes.set_axisbelow(True)
    for side, spine in axes.spines.items():
        spine.set_color(colours.line)
        spine.set_visible(side in ("left", "bottom"))


def _days_within(
    axes: MplAxes, places: list[float], labels: list[str], limits: tuple[float, float], room: float
) -> None:
    """Ticks across; a long label at the very end is drawn in, or left out where it would meet the one before it."""
    axes.set_xticks(places, labels)
    for text in axes.get_xticklabels():  # ticks are used again
        text.set_horizontalalignment("center")
    if len(places) < 2:
        return
    pixels, half = room / (limits[1] - limits[0]), 0.5 * LETTER * len(labels[-1])
    if (limits[1] - places[-1]) * pixels + RIGHT >= half:
        return
    if (places[-1] - places[-2]) * pixels < 3.2 * half:
        axes.set_xticks(places, [*labels[:-1], ""])
    else:
        axes.get_xticklabels()[-1].set_horizontalalignment("right")


def _artists(plot: LineData, axes: MplAxes, palette: Palette) -> Iterator[Artist]:
    """The moving parts one by one, each on the axes until the caller removes it."""
    for curve in plot.curves:
        if curve.low is not None and curve.high is not None:
            yield _added(axes, _band(curve, palette))
    for level in plot.limits:
        yield _added(
            axes,
            _straight(axes, level.at, True, curve_colour(level.role, palette), level.dash, 1.3, level.label),
        )
    if plot.marker is not None:
        yield _added(
            axes, _straight(axes, plot.marker.at, False, palette.quiet, "dashdot", 1.4, plot.marker.label)
        )
    for curve in plot.curves:
        colour = curve_colour(curve.role, palette)
        style = _DASHES[curve.dash]
        yield _added(
            axes, Line2D(curve.x, curve.y, color=colour, linestyle=style, linewidth=1.9, label=curve.label)
        )


def _added(axes: MplAxes, artist: Artist) -> Artist:
    """On the axes, but outside their full redraws and their data limits."""
    artist.set_animated(True)
    if isinstance(artist, Line2D):
        axes.add_line(artist)
    elif isinstance(artist, PolyCollection):
        axes.add_collection(artist, autolim=False)
    return artist


def _band(curve: Curve, palette: Palette) -> PolyCollection:
    assert curve.low is not None
    assert curve.high is not None
    good = np.isfinite(curve.low) & np.isfinite(curve.high)
    x = np.concatenate([curve.x[good], curve.x[good][::-1]])
    y = np.concatenate([curve.low[good], curve.high[good][::-1]])
    return PolyCollection([np.column_stack([x, y])], facecolors=curve_colour(curve.role, palette), alpha=0.18)


def _straight(
    axes: MplAxes, at: float, level: bool, colour: str, dash: str, width: float, label: str
) -> Line2D:
    """A line right across the axes: level at y = `at`, or upright at x = `at`."""
    across = [0.0, 1.0]
    x, y = (across, [at, at]) if level else ([at, at], across)
    transform = axes.get_yaxis_transform() if level else axes.get_xaxis_transform()
    return Line2D(
        x, y, transform=transform, color=colour, linestyle=_DASHES[dash], linewidth=width, label=label
    )


def line_plot_file(plot: LineData, palette: Palette, kind: str, width: int = 800, height: int = 500) -> bytes:
    """A line plot with title and legend as the content of an "svg", "pdf" or "png" file.

    The same plot gives the same bytes every time: no date goes in.
    """
    figure = Figure(figsize=(width / DPI, height / DPI), dpi=DPI, layout="none")
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0.1, 0.1, 0.8, 0.8))
    _dress(figure, axes, plot, axes_for(plot, None), palette, width, height)
    for artist in _artists(plot, axes, palette):
        artist.set_animated(False)
    rows = 1 + len(axes.get_lines()) // 4
    position = axes.get_position()
    top = position.y1 - (24 + 18 * rows) / height
    axes.set_position((position.x0, position.y0, position.width, max(0.1, top - position.y0)))
    if axes.get_legend_handles_labels()[1]:  # a plot may wait for its curves, or need no names
        figure.legend(
            loc="upper left",
            bbox_to_anchor=(position.x0, 1.0 - 26 / height),
            bbox_transform=figure.transFigure,
            ncols=4,
            frameon=False,
            fontsize=_POINTS,
            labelcolor=palette.text,
            borderaxespad=0.0,
        )
    figure.text(
        position.x0, 1.0 - 8 / height, plot.title, va="top", color=palette.text, fontsize=_POINTS + 1.5
    )
    into = io.BytesIO()
    undated = {"svg": {"Date": None}, "pdf": {"CreationDate": None}}.get(kind, {})
    with matplotlib.rc_context({"svg.hashsalt": "gantrywright", "svg.fonttype": "path"}):
        figure.savefig(into, format=kind, dpi=2 * DPI if kind == "png" else DPI, metadata=undated)
    return into.getvalue()
