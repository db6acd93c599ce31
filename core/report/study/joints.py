"""Joints as plain JSON (SI, the unit at the end of each key) and as tables in the user's units."""

from __future__ import annotations

import math
from typing import Any

from core.fasteners.joints import FittedJoint
from core.fasteners.strength import JointsAnswer, JointStrength, Margin
from core.fasteners.strength.alternating import fatigue_limit
from core.fasteners.strength.prying import MODES, Stub
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet, show

MADE = {
    "washer": "washer",
    "clamped": "clamped",
    "passed": "passed",
    "thread": "holds the thread",
    "nut": "nut",
}


def joints_json(answer: JointsAnswer) -> dict[str, Any]:
    """Every joint with its stack, pattern, torque and margins; a margin without end is null."""
    tightest = answer.tightest
    return {
        "wanted_margin": answer.wanted,
        "tightest": None if tightest is None else answer.joints[tightest].joint.key,
        "balance": answer.balance,
        "joints": [_one(strength) for strength in answer.joints],
    }


def _one(strength: JointStrength) -> dict[str, Any]:
    joint = strength.joint
    return {
        "key": joint.key,
        "label": joint.label,
        "entry": joint.site.path,
        "joints": joint.count,
        "names": list(joint.site.names),
        "counted_here": strength.counted,
        "welded": joint.welded,
        "weld_length_m": joint.weld_length,
        "weld_throat_m": joint.weld_throat,
        "screws": joint.screws,
        "washers": joint.washers,
        "nuts": joint.nuts,
        "bolted": None if joint.stack is None else _bolted(joint),
        "torque_N_m": strength.torque,
        "torque_entered": strength.entered,
        "torque_of_the_screw_alone_N_m": strength.own_torque,
        "torque_set_by": strength.governs,
        "limits": [
            {"what": x.what, "low_N": x.low, "likely_N": x.likely, "high_N": x.high, "because": x.because}
            for x in strength.limits
        ],
        "preload_low_N": strength.preload.low,
        "preload_likely_N": strength.preload.likely,
        "preload_high_N": strength.preload.high,
        "pressed_zone_radius_m": strength.radius,
        "slip": _margin(strength.slip),
        "gap": _margin(strength.gap),
        "weld": _margin(strength.weld),
        "fatigue": _margin(strength.fatigue),
        "fatigue_amplitude_Pa": None if joint.welded else fatigue_limit(joint.size.diameter),
        "load_factor": strength.load_factor,
        "plate": _margin(strength.plate),
        "plate_bends": None if strength.stub is None else _stub(strength.stub),
    }


def _stub(stub: Stub) -> dict[str, Any]:
    return {
        "mode": stub.mode,
        "words": MODES[stub.mode],
        "screw_pull_N": stub.bears,
        "prying_N": stub.levered,
        "lever_m": stub.lever,
        "edge_m": stub.edge,
    }


def _bolted(joint: FittedJoint) -> dict[str, Any]:
    stack, pattern = joint.stack, joint.pattern
    assert stack is not None
    assert pattern is not None
    return {
        "screw": joint.screw_text,
        "thread": joint.size.thread,
        "length_m": stack.length,
        "shortest_m": stack.shortest,
        "longest_m": None if math.isinf(stack.longest) else stack.longest,
        "hold": joint.hold,
        "engagement_m": stack.engagement,
        "engagement_wanted_m": stack.needed,
        "free_beyond_the_end_m": stack.free,
        "stack": [
            {"what": x.what, "thickness_m": x.thickness, "material": x.metal, "role": x.kind}
            for x in stack.layers
        ],
        "places_m": [list(place) for place in pattern.places],
        "rows_along": joint.site.axes[0],
        "rows_across": joint.site.axes[1],
        "face_m": list(pattern.face),
    }


def _margin(margin: Margin | None) -> dict[str, Any] | None:
    if margin is None:
        return None
    return {
        "low": _finite(margin.low),
        "likely": _finite(margin.likely),
        "high": _finite(margin.high),
        "state": margin.state,
        "joint": margin.name,
        "x_m": margin.x,
        "y_m": margin.y,
        "force_along_across_pull_N": list(margin.wrench[:3]),
        "moment_about_along_across_normal_N_m": list(margin.wrench[3:]),
    }


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def joints_table(answer: JointsAnswer, units: UnitSet) -> Table:
    """A row for each kind of joint: screws, torque, margins."""
    columns = (
        text_column("Joint"),
        Column("Joints"),
        text_column("Screw, ISO 4762"),
        text_column("Into"),
        Column("Screws"),
        Column("Nuts"),
        Column("Washers"),
        figure_column("Torque", "torque", units, 3),
        text_column("Torque set by"),
        figure_column("Preload", "force", units, 3),
        *(Column(f"Slips at, {side}", digits=3) for side in ("low", "likely", "high")),
        *(Column(f"Opens at, {side}", digits=3) for side in ("low", "likely", "high")),
        Column("Weld at", digits=3),
        Column("Fatigue limit at, low", digits=3),
        Column("Fatigue limit at", digits=3),
        Column("Plate bends at", digits=3),
        text_column("Least when"),
    )
    return Table("Joints", columns, tuple(_row(strength, units) for strength in answer.joints))


def _row(strength: JointStrength, units: UnitSet) -> tuple[Cell, ...]:
    joint, least, welded = strength.joint, strength.least, strength.joint.welded
    return (
        joint.label,
        joint.count,
        f"welded, {show(joint.weld_length, 'length', units)}"
        if welded
        else joint.screw_text.removeprefix("ISO 4762 "),
        "" if welded else joint.hold,
        joint.screws,
        joint.nuts,
        joint.washers,
        None if welded else number(strength.torque, "torque", units),
        "" if welded else strength.governs,
        None if welded else number(strength.preload.likely, "force", units),
        *_sides(strength.slip),
        *_sides(strength.gap),
        None if strength.weld is None else strength.weld.likely,
        None if strength.fatigue is None else strength.fatigue.low,
        None if strength.fatigue is None else strength.fatigue.likely,
        None if strength.plate is None else strength.plate.likely,
        "" if least is None else f"{least.name}: {least.state}",
    )


def _sides(margin: Margin | None) -> tuple[Cell, ...]:
    return (None, None, None) if margin is None else (margin.low, margin.likely, margin.high)


def stacks_table(answer: JointsAnswer, units: UnitSet) -> Table:
    """What each screw passes, part by part from its head, and how long it may be."""
    columns = (
        text_column("Joint"),
        text_column("Part"),
        text_column("Role"),
        text_column("Material"),
        figure_column("Thickness", "length", units),
        figure_column("Shortest screw", "length", units),
        figure_column("Longest screw", "length", units),
        figure_column("Screw", "length", units),
        figure_column("Thread engaged", "length", units),
        figure_column("Free beyond the end", "length", units),
    )
    rows: list[tuple[Cell, ...]] = []
    for strength in answer.joints:
        stack = strength.joint.stack
        if stack is None:
            continue
        ends = (stack.shortest, stack.longest, stack.length, stack.engagement, stack.free)
        lengths = tuple(
            number(v, "length", units) if v is not None and math.isfinite(v) else None for v in ends
        )
        for k, layer in enumerate(stack.layers):
            rest = lengths if k == 0 else (None,) * len(lengths)
            thick = number(layer.thickness, "length", units)
            rows.append(
                (
                    strength.joint.label,
                    layer.what,
                    MADE.get(layer.kind, layer.kind),
                    layer.metal,
                    thick,
                    *rest,
                )
            )
    return Table("Clamp stacks", columns, tuple(rows))


def patterns_table(answer: JointsAnswer, units: UnitSet) -> Table:
    """Place of every screw from the middle of its joint."""
    columns = (
        text_column("Joint"),
        text_column("Along, across"),
        Column("Screw"),
        figure_column("Along", "length", units),
        figure_column("Across", "length", units),
    )
    rows: list[tuple[Cell, ...]] = []
    for strength in answer.joints:
        joint = strength.joint
        for k, (u, v) in enumerate(joint.pattern.places if joint.pattern is not None else (), start=1):
            places = (number(u, "length", units), number(v, "length", units))
            rows.append((joint.label, ", ".join(joint.site.axes), k, *places))
    return Table("Screws of each joint", columns, tuple(rows))


def limits_table(answer: JointsAnswer, units: UnitSet, key: str = "") -> Table:
    """What the partners of every screw bear, weakest first; of one kind of joint when its key is given."""
    columns = (
        text_column("Joint"),
        text_column("Part"),
        figure_column("Bears at least", "force", units, 3),
        figure_column("Likely", "force", units, 3),
        figure_column("At most", "force", units, 3),
        text_column("Assumption"),
    )
    rows = tuple(
        (
            strength.joint.label,
            x.what,
            *(number(v, "force", units) for v in (x.low, x.likely, x.high)),
            x.because,
        )
        for strength in answer.joints
        if key in ("", strength.joint.key)
        for x in strength.limits
    )
    return Table("What the parts of joints bear", columns, rows)
