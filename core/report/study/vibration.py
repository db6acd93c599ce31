"""Vibration as plain JSON (SI, the unit at the end of each key) and as tables in the user's units."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from core.machine.project import COMPONENTS
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet, unit_label
from core.vibration import ModeAnswer, SpeedMap, Stability, VibrationAnswer

AXES = ("X", "Y", "Z")


def vibration_json(answer: VibrationAnswer) -> dict[str, Any]:
    """Frequencies are undamped. Depths without a limit are null."""
    receptance = answer.receptance
    return {
        "x_m": answer.place[0],
        "y_m": answer.place[1],
        "machine_mass_kg": answer.mass,
        "damping": [answer.damping.low, answer.damping.likely, answer.damping.high],
        "modes": [_mode(mode) for mode in answer.modes],
        "places": [
            {"x_m": float(x), "y_m": float(y), "frequencies_Hz": found.tolist()}
            for (x, y), found in zip(answer.places, answer.frequencies, strict=True)
        ],
        "tip_receptance": {
            "frequency_Hz": receptance.frequency.tolist(),
            "size_x_y_z_m_per_N": np.abs(np.diagonal(receptance.tip[1], axis1=1, axis2=2)).tolist(),
            "lowest_real_part_x_y_z_m_per_N": np.diagonal(receptance.tip[1].real, axis1=1, axis2=2)
            .min(axis=0)
            .tolist(),
        },
        "speeds": [_speeds(found) for found in answer.speeds],
        "stability": [_stability(found) for found in answer.stability],
    }


def _mode(mode: ModeAnswer) -> dict[str, Any]:
    return {
        "frequency_Hz": mode.frequency,
        "frequency_all_soft_Hz": mode.low,
        "frequency_all_stiff_Hz": mode.high,
        "words": mode.words,
        "mass_share_x_y_z": list(mode.mass_shares),
        "tip_movement_x_y_z_per_sqrt_kg": list(mode.tip),
        "share_of_tip_compliance_x_y_z": list(mode.tip_shares),
        "moving_energy": dict(mode.bodies),
        "elastic_energy": [{"component": key, "share": share} for key, share in mode.gives if share > 1e-4],
    }


def _speeds(found: SpeedMap) -> dict[str, Any]:
    return {
        "case": found.case,
        "name": found.name,
        "teeth": found.teeth,
        "speed_rev_per_s": found.speed,
        "slowest_rev_per_s": found.slowest,
        "fastest_rev_per_s": found.fastest,
        "avoid": [
            {"mode_Hz": a.frequency, "harmonic_of_tooth_passing": a.harmonic, "centre_rev_per_s": a.centre,
             "from_rev_per_s": a.low, "to_rev_per_s": a.high}
            for a in found.avoid
        ],
        "quiet_rev_per_s": [list(pair) for pair in found.quiet],
    }  # fmt: skip


def _stability(found: Stability) -> dict[str, Any]:
    return {
        "case": found.case,
        "name": found.name,
        "depth_m": found.depth,
        "stable_depth_at_any_speed_low_likely_high_m": [_finite(depth) for depth in found.limit],
        "stable_depth_at_this_speed_low_likely_m": [_finite(depth) for depth in found.here],
        "chatter_frequency_Hz": found.frequency,
        "direction_rad": found.direction,
        "teeth_in_the_cut": found.teeth,
        "speed_rev_per_s": found.speeds.tolist(),
        "stable_depth_likely_m": [_finite(depth) for depth in found.lobes],
    }


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


def modes_table(answer: VibrationAnswer, units: UnitSet) -> Table:
    """The six slowest modes at the chosen place."""
    rows = []
    for n, mode in enumerate(answer.modes, start=1):
        soft = COMPONENTS.get(mode.gives[0][0], mode.gives[0][0])
        figures = [number(f, "frequency", units) for f in (mode.frequency, mode.low, mode.high)]
        # Below a hundredth of a percent there is nothing but rounding.
        shares = [number(round(share, 4), "share", units) for share in (*mode.mass_shares, *mode.tip_shares)]
        rows.append((n, *figures, mode.words, soft, *shares))
    columns = (
        Column("Mode", digits=2),
        figure_column("Frequency", "frequency", units, 3),
        figure_column("All soft", "frequency", units, 3),
        figure_column("All stiff", "frequency", units, 3),
        text_column("What moves"),
        text_column("Softest there"),
        *(figure_column(f"Mass {axis}", "share", units, 2) for axis in AXES),
        *(figure_column(f"Tip {axis}", "share", units, 2) for axis in AXES),
    )
    return Table("Modes of vibration", columns, tuple(rows))


def places_table(answer: VibrationAnswer, units: UnitSet) -> Table:
    """The six slowest frequencies with the tool at nine places."""
    rows = tuple(
        (
            number(float(x), "length", units),
            number(float(y), "length", units),
            *(number(float(f), "frequency", units) for f in found),
        )
        for (x, y), found in zip(answer.places, answer.frequencies, strict=True)
    )
    modes = (
        figure_column(f"Mode {n + 1}", "frequency", units, 3) for n in range(answer.frequencies.shape[1])
    )
    columns = (
        figure_column("At X", "length", units),
        figure_column("At Y", "length", units),
        *modes,
    )
    return Table("Frequencies over the table", columns, rows)


def receptance_table(answer: VibrationAnswer, units: UnitSet) -> Table:
    """Size of the tip's dynamic compliance, with likely and with little damping."""
    found = answer.receptance
    curves = [found.size(axis, side) for side in (1, 0) for axis in range(3)]
    rows = tuple(
        (
            number(float(f), "frequency", units),
            *(number(float(curve[k]), "compliance", units) for curve in curves),
        )
        for k, f in enumerate(found.frequency)
    )
    heads = [f"Along {axis}, {words}" for words in ("likely damping", "little damping") for axis in AXES]
    columns = (
        figure_column("Frequency", "frequency", units),
        *(figure_column(h, "compliance", units) for h in heads),
    )
    return Table("Dynamic compliance of the tip", columns, rows)


def beat_words(harmonic: int) -> str:
    """What beats: the turning spindle, or a multiple of its teeth."""
    return (
        "spindle, once a turn" if harmonic == 0 else "teeth" if harmonic == 1 else f"teeth, {harmonic} times"
    )


def speeds_table(answer: VibrationAnswer, units: UnitSet) -> Table:
    """Speeds to avoid, for each load case that is a cut."""
    return avoid_table(answer.speeds, units)


def avoid_table(speeds: tuple[SpeedMap, ...], units: UnitSet) -> Table:
    """Speeds to avoid of some load cases."""
    rows: list[tuple[Cell, ...]] = []
    for found in speeds:
        for a in found.avoid:
            three = [number(speed, "rotation_speed", units) for speed in (a.low, a.high, a.centre)]
            used = "yes" if a in found.hits else ""
            rows.append(
                (found.name, *three, beat_words(a.harmonic), number(a.frequency, "frequency", units), used)
            )
    rpm = unit_label("rotation_speed", units)
    columns = (
        text_column("Load case"),
        *(Column(word, rpm, digits=3, rough=True) for word in ("From", "To", "Resonance")),
        text_column("What beats"),
        figure_column("Mode", "frequency", units, 3),
        text_column("In use"),
    )
    return Table("Spindle speeds to avoid", columns, tuple(rows))


def stability_table(answer: VibrationAnswer, units: UnitSet) -> Table:
    """Depth of cut without chatter for each load case that is a cut: stable at every speed, and here at its own."""
    rows = tuple(
        (
            found.name,
            number(found.depth, "length", units),
            *(number(depth, "length", units) for depth in (*found.limit, *found.here)),
            number(found.frequency, "frequency", units),
            number(found.direction, "angle", units),
            found.teeth,
        )
        for found in answer.stability
    )
    columns = (
        text_column("Load case"),
        figure_column("Depth of cut", "length", units, 3),
        figure_column("Stable, low", "length", units, 3),
        figure_column("Stable, likely", "length", units, 3),
        figure_column("Stable, high", "length", units, 3),
        figure_column("Here, low", "length", units, 3),
        figure_column("Here, likely", "length", units, 3),
        figure_column("Rings at", "frequency", units, 3),
        figure_column("Edge stands at", "angle", units, 3),
        Column("Teeth in the cut", digits=3),
    )
    return Table("Depth of cut without chatter", columns, rows)


def lobes_table(found: Stability, units: UnitSet) -> Table:
    """Stable depth over spindle speed, likely figures."""
    rows = tuple(
        (number(float(speed), "rotation_speed", units), number(float(depth), "length", units))
        for speed, depth in zip(found.speeds, found.lobes, strict=True)
    )
    columns = (
        Column("Spindle speed", unit_label("rotation_speed", units)),
        figure_column("Stable depth of cut", "length", units),
    )
    return Table(f"Stable depth over speed, {found.name}", columns, rows)
