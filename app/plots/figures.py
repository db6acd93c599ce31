"""The three figures of a plan, drawn off screen and handed over as SVG and PNG bytes.

Curves differ in dash and marker as well as in colour; a limit is a dotted line with its words beside it.
"""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator
from typing import TYPE_CHECKING

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from app.look.palette import LIGHT
from core.machine.project import COMPONENTS
from core.units import UnitSet, from_si, show, unit_label

if TYPE_CHECKING:
    from core.plan import Plan

_COLOURS = LIGHT.curves
_DASHES = ("-", "--", "-.", (0, (6, 1, 1, 1, 1, 1)), (0, (1, 1)), (0, (8, 2)))
_MARKERS = ("o", "s", "^", "D", "v", "P")
# Names are the user's: a dollar sign in one must not start a formula.
_SETTINGS = {
    "svg.hashsalt": "gantrywright",
    "svg.fonttype": "path",
    "font.size": 9.0,
    "text.parse_math": False,
}
_MOST_LETTERS = 60


def plot_files(plan: Plan) -> dict[str, bytes]:
    """Each figure's files by name ("tip_deflection.svg", "tip_deflection.png"); none without an answer."""
    files: dict[str, bytes] = {}
    with mpl.rc_context(_SETTINGS), warnings.catch_warnings():
        # A letter that the plot's font lacks is drawn as a box.
        warnings.filterwarnings("ignore", message="Glyph .* missing")
        for name, figure in _figures(plan):
            FigureCanvasAgg(figure)
            for kind, metadata in (("svg", {"Date": None}), ("png", {"Software": None})):
                stream = io.BytesIO()
                figure.savefig(stream, format=kind, metadata=metadata)
                files[f"{name}.{kind}"] = stream.getvalue()
    return files


def _figures(plan: Plan) -> Iterator[tuple[str, Figure]]:
    units = plan.project.units
    if plan.stiffness is not None:
        yield "tip_deflection", _deflection(plan, units)
    if plan.sag is not None:
        yield "sag_and_path_error", _sag(plan, units)
    if plan.budgets:
        yield "compliance_budget", _budget(plan)


def _words(name: str) -> str:
    """A name on one line and short enough; a leading underscore would keep it out of the legend."""
    line = " ".join(name.split())
    short = line if len(line) <= _MOST_LETTERS else line[: _MOST_LETTERS - 1] + "…"
    return f" {short}" if short.startswith("_") else short


def _start(plan: Plan, title: str, height: float = 4.2) -> tuple[Figure, Axes]:
    figure = Figure(figsize=(7.2, height), dpi=150, layout="constrained")
    axes = figure.add_subplot()
    figure.suptitle(f"{_words(plan.project.name)}\n{title}", x=0.01, ha="left")
    axes.grid(True, color=LIGHT.grid, linewidth=0.6)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    return figure, axes


def _curve(axes: Axes, place: int, x: object, y: object, label: str) -> str:
    colour = _COLOURS[place % len(_COLOURS)]
    axes.plot(
        x,  # type: ignore[arg-type]
        y,  # type: ignore[arg-type]
        color=colour,
        linestyle=_DASHES[place % len(_DASHES)],
        marker=_MARKERS[place % len(_MARKERS)],
        markevery=0.12,
        markersize=4,
        label=label,
    )
    return colour


def _limit(axes: Axes, value: float, colour: str, label: str) -> None:
    axes.axhline(value, color=colour, linestyle=":", linewidth=1.2, label=label)


def _deflection(plan: Plan, units: UnitSet) -> Figure:
    assert plan.stiffness is not None
    figure, axes = _start(plan, "Tip deflection along X")
    x = from_si(plan.stiffness.x, "length", units)
    for place, (case, result) in enumerate(zip(plan.project.cases, plan.stiffness.cases, strict=True)):
        colour = _curve(axes, place, x, from_si(result.along_x, "deflection", units), _words(case.name))
        limit = float(from_si(case.limit, "deflection", units))
        _limit(axes, limit, colour, f"Limit, {_words(case.name)}: {show(case.limit, 'deflection', units)}")
    _axes_words(axes, units, "Deflection at the tip")
    axes.set_ylim(bottom=0.0)
    return figure


def _sag(plan: Plan, units: UnitSet) -> Figure:
    assert plan.sag is not None
    sag = plan.sag
    figure, axes = _start(plan, "Sag and path error")
    x = from_si(sag.x, "length", units)
    curves = (
        ("Beam's own sag", sag.beam),
        ("Tip's height under weight, from the middle", sag.path[:, 2]),
        ("Path error after the best line", sag.residual),
    )
    for place, (label, values) in enumerate(curves):
        _curve(axes, place, x, from_si(values, "deflection", units), label)
    _axes_words(axes, units, "Height")
    return figure


def _axes_words(axes: Axes, units: UnitSet, what: str) -> None:
    axes.set_xlabel(f"X ({unit_label('length', units)})")
    axes.set_ylabel(f"{what} ({unit_label('deflection', units)})")
    axes.legend(frameon=False, fontsize=8)


def _budget(plan: Plan) -> Figure:
    keys = [
        key
        for key in COMPONENTS
        if any(dict(budget.shares).get(key, 0.0) > 0.0005 for budget in plan.budgets)
    ]
    figure, axes = _start(plan, "Where the deflection comes from", 1.2 + 0.34 * max(len(keys), 4))
    depth = 0.8 / len(plan.budgets)
    for place, budget in enumerate(plan.budgets):
        shares = dict(budget.shares)
        bars = axes.barh(
            [row + place * depth for row in range(len(keys))],
            [100.0 * shares.get(key, 0.0) for key in keys],
            height=depth * 0.9,
            color=_COLOURS[place % len(_COLOURS)],
            hatch=("", "///", "...", "xxx")[place % 4],
            edgecolor="white",
            label=_words(budget.case),
        )
        axes.bar_label(bars, fmt="%.0f %%", padding=2, fontsize=7)
    axes.set_yticks([row + 0.4 - depth / 2 for row in range(len(keys))], [COMPONENTS[key] for key in keys])
    axes.invert_yaxis()
    axes.margins(x=0.12)
    axes.set_xlabel("Share of the deflection (%)")
    axes.legend(frameon=False, fontsize=8, loc="lower right")
    return figure
