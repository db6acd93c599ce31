"""Vibration as curves in the user's units: speed map, dynamic compliance, stable depth over speed."""

from __future__ import annotations

import numpy as np

from app.widgets.plot import LinePlot
from app.widgets.plot_data import Curve, Level
from core.report import csv_text
from core.report.study.vibration import beat_words, lobes_table, receptance_table, speeds_table
from core.units import UnitSet, from_si, show, unit_label
from core.vibration import SpeedMap, Stability, VibrationAnswer

ABOUT_SPEEDS = (
    "Slanting lines: how often the spindle and its teeth beat at each speed. Level lines: modes that the tip feels. Where "
    "they meet the machine resounds; 10 % to each side is marked (common practice)."
)
ABOUT_TIP = (
    "How far the tip moves for each newton that swings at this frequency, sum of modes with viscous damping of each; the "
    "band spans the entered damping. Source: modal superposition, Altintas, Manufacturing Automation, ch. 3."
)
ABOUT_DEPTH = (
    "Depth of cut without chatter, likely figures, in the worst direction: −1 / (2 K z* Re), one averaged edge. Tlusty's "
    "limit, as in Altintas, Manufacturing Automation, ch. 4. Damping by rubbing at low speed is left out, so it errs on the "
    "small side there."
)
HIGHEST = 6.0  # depths beyond this many times the entered one are not drawn
ABOVE = 1.15
"""The speed map reaches this far above the highest mode met."""


def _shown(values: object, quantity: str, units: UnitSet) -> np.ndarray:
    return np.asarray(from_si(np.asarray(values, float), quantity, units), float)


def show_speeds(plot: LinePlot, answer: VibrationAnswer, found: SpeedMap | None, units: UnitSet) -> None:
    """Beats over spindle speed, modes across, and what to avoid."""
    speed, hertz = unit_label("rotation_speed", units), unit_label("frequency", units)
    plot.set_about(ABOUT_SPEEDS)
    plot.set_labels(f"Spindle speed, {speed}", f"Frequency, {hertz}")
    if found is None:
        plot.set_curves([])
        return
    modes = sorted({a.frequency for a in found.avoid})
    ends = np.array([found.slowest, found.fastest])
    x = _shown(ends, "rotation_speed", units)
    highest = ABOVE * modes[-1] if modes else found.fastest * found.teeth
    curves = []
    for harmonic, dash in ((0, "dashdot"), (1, "solid"), (2, "dash"), (3, "dot")):
        beats = max(harmonic * found.teeth, 1)
        run = np.minimum(ends, highest / beats)  # a beat is followed as far as there are modes to meet
        if run[1] > run[0]:
            line = _shown(run, "rotation_speed", units), _shown(run * beats, "frequency", units)
            curves.append(Curve(*line, beat_words(harmonic), str(harmonic or 4), dash))
    for number, mode in enumerate(modes):
        y = _shown([mode, mode], "frequency", units)
        curves.append(Curve(x, y, "mode felt at the tip" if number == 0 else "", "quiet", "solid"))
    across: list[float] = []
    up: list[float] = []
    for a in found.avoid:
        across += [max(a.low, found.slowest), min(a.high, found.fastest), np.nan]
        up += [a.frequency, a.frequency, np.nan]
    if across:
        marked = _shown(across, "rotation_speed", units), _shown(up, "frequency", units)
        curves.append(Curve(*marked, "speeds to avoid", "bad", "solid"))
    at = Level(float(from_si(found.speed, "rotation_speed", units)), "speed in use")
    plot.set_curves(curves, None, at)
    plot.set_summary(quiet_words(found, units))
    plot.set_numbers(lambda: csv_text(speeds_table(answer, units)))


def quiet_words(found: SpeedMap, units: UnitSet) -> str:
    """Which speeds are free, in words."""
    if not found.avoid:
        return f"{found.name}: no mode that the tip feels is met within the spindle's range."
    if not found.quiet:
        return f"{found.name}: no speed within the spindle's range is free of every resonance."
    spans = [
        f"{show(a, 'rotation_speed', units)} to {show(b, 'rotation_speed', units)}" for a, b in found.quiet
    ]
    return f"{found.name}: quiet speeds {'; '.join(spans[:4])}."


def show_receptance(plot: LinePlot, answer: VibrationAnswer, units: UnitSet) -> None:
    """Dynamic compliance of the tip along X, Y and Z with the band of damping."""
    found = answer.receptance
    plot.set_about(ABOUT_TIP)
    plot.set_labels(
        f"Frequency, {unit_label('frequency', units)}", f"Compliance, {unit_label('compliance', units)}"
    )
    x = _shown(found.frequency, "frequency", units)
    curves = []
    for axis, (words, dash) in enumerate((("X", "solid"), ("Y", "dash"), ("Z", "dot"))):
        low, likely, high = (_shown(found.size(axis, side), "compliance", units) for side in (2, 1, 0))
        curves.append(
            Curve(
                x, likely, f"along {words}", str(axis + 1), dash, np.minimum(low, high), np.maximum(low, high)
            )
        )
    plot.set_curves(curves)
    plot.set_summary("Dynamic compliance of the tool tip over frequency.")
    plot.set_numbers(lambda: csv_text(receptance_table(answer, units)))


def show_depth(plot: LinePlot, found: Stability | None, units: UnitSet) -> None:
    """Stable depth over speed, the depth entered, and the depth that is stable at any speed."""
    plot.set_about(ABOUT_DEPTH)
    plot.set_labels(
        f"Spindle speed, {unit_label('rotation_speed', units)}",
        f"Depth of cut, {unit_label('length', units)}",
    )
    if found is None:
        plot.set_curves([])
        return
    x = _shown(found.speeds, "rotation_speed", units)
    low, likely, _ = found.limit
    finite = [d for d in (found.depth, likely) if np.isfinite(d)]
    lobes = np.where(found.lobes <= HIGHEST * max(finite), found.lobes, np.nan)
    curves = [Curve(x, _shown(lobes, "length", units), "stable at this speed, likely", "1", "solid")]
    ends = x[[0, -1]]
    for depth, words, dash in ((likely, "at any speed, likely", "dash"), (low, "at any speed, low", "dot")):
        if np.isfinite(depth):
            curves.append(Curve(ends, _shown([depth, depth], "length", units), words, "2", dash))
    level = Level(float(from_si(found.depth, "length", units)), "depth entered")
    plot.set_curves(curves, level)
    plot.set_summary(depth_words(found, units))
    plot.set_numbers(lambda: csv_text(lobes_table(found, units)))


def depth_words(found: Stability, units: UnitSet) -> str:
    """What the limit is, in words."""
    low, likely, _ = found.limit
    if not np.isfinite(likely):
        return f"{found.name}: no depth chatters with these figures."
    return (
        f"{found.name}: {show(likely, 'length', units)} is stable at any speed with likely figures, "
        f"{show(low, 'length', units)} with little damping and high cutting pressure."
    )
