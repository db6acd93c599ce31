"""The figures of one axis against their limits, each with its source: what the page, the table and the file show."""

from __future__ import annotations

import math

import numpy as np

from core.drives import screw
from core.drives.axis import Setup
from core.drives.results import Row
from core.drives.stiffness import slack_share
from core.drives.turning import Floats, Train, torque_at, values
from core.machine.drives import BallScrew, RackPinion, ToothedBelt
from core.machine.motion import StepMotor

MOST_INERTIA_RATIO = 10.0
"""Common practice for step motors and small servo motors."""
STEP_RESERVE = 1.5
"""Torque over need that common practice asks of a step motor."""
STEP_SHARE = 0.25
"""Share of the tightest deflection limit that one step may take; our own rule."""
HOLDS_ITSELF = 0.5
"""A train of an efficiency below this cannot be driven backwards. Source: textbook of machine elements (screws)."""


def screw_rows(s: Setup, drive: BallScrew, push: float) -> list[Row]:
    """Whirl, buckling and lead of a ball screw; push: its largest axial force, N."""
    rows = []
    whirl = screw.critical_speed(drive.diameter, s.length, drive.ends)
    if drive.turns == "screw":
        wanted, most = s.motion.rapid / drive.lead, screw.SPEED_SHARE * whirl
        rows.append(
            Row(
                "screw_speed", "Screw speed at rapid", wanted, "rotation_speed", most, wanted <= most, "at most",
                "0.8 of its whirling speed",
                "First bending frequency of a shaft with these ends (beam theory); 0.8 is common practice.",
            )
        )  # fmt: skip
    load = screw.LOAD_SHARE * screw.buckling_load(drive.diameter, s.length, drive.ends)
    rows.append(
        Row(
            "screw_load", "Largest push on the screw", push, "force", load, push <= load, "at most",
            "half its buckling load",
            "Euler's load with these ends; one half is common practice.",
        )
    )  # fmt: skip
    error = screw.lead_error(drive.grade, s.travel)
    rows.append(
        Row(
            "lead_error", "Lead error over the travel", error, "deflection", None, None, "",
            f"grade {drive.grade}, by proportion; can be corrected",
            "ISO 3408-3, v300p; in proportion by common practice.",
        )
    )  # fmt: skip
    return rows


def rack_rows(s: Setup, drive: RackPinion) -> list[Row]:
    """Pitch, travel in a turn, and how many racks lie end to end."""
    pitch = math.pi * drive.module
    teeth = math.floor(drive.piece_length / pitch + 1e-9)
    needed = s.travel + 2.0 * (s.room or 0.0)
    source = "Pitch pi times the module (ISO 54 modules, ISO 53 rack)."
    rows = [
        Row("rack_pitch", "Rack pitch", pitch, "length", None, None, "", "straight teeth", source),
        Row("pinion_diameter", "Pinion pitch diameter", drive.module * drive.teeth, "length", source=source),
    ]
    if teeth >= 1:
        count = math.ceil(needed / (teeth * pitch) - 1e-9)
        note = f"{teeth} teeth each; set joints with a third rack"
        rows.append(
            Row("rack_pieces", "Racks end to end, each side" if s.drives > 1 else "Racks end to end", float(count), "count",
                None, None, "", note, "Travel and the room beyond it, in racks cut at whole teeth.")
        )  # fmt: skip
        rows.append(Row("rack_piece", "One rack, whole teeth", teeth * pitch, "length", source=source))
    return rows


def belt_rows(s: Setup, drive: ToothedBelt, push: float) -> list[Row]:
    """Pretension against what keeps the slackening strand tight; push: largest pull on the carriage, N."""
    needed = push * float(np.max(slack_share(drive, s.distance, s.length)))
    return [
        Row(
            "pretension", "Pretension of each strand", drive.pretension, "force", needed, drive.pretension >= needed,
            "at least", "so that no strand goes slack",
            "Strands as springs side by side; one half to the whole of the pull is common practice.",
        )
    ]  # fmt: skip


def torque_rows(s: Setup, t: Train) -> list[Row]:
    """Torque wanted against torque there is, accelerating at rapid speed and cutting."""
    motor = s.motion.motor
    at = np.array([s.motion.rapid, s.cutting[2]]) / t.travel
    have = torque_at(motor, at)
    want, cut = wanted_torque(s, t), cutting_torque(s, t)
    source = "T = J alpha + F p / (2 pi eta), all at the motor; between the entered torques a straight line."
    steady = np.minimum(have[:, 1], values(motor.lasting_torque))
    room = t.acceleration(float(s.friction[1]) + abs(s.hanging), float(have[1, 0]))
    reserve = float(have[0, 0] / want[2])
    return [
        Row("motor_speed", "Motor speed at rapid", float(at[0]), "rotation_speed", source="Rapid speed over travel a turn."),
        Row("torque_rapid", "Torque to accelerate at rapid", float(want[1]), "torque", float(have[1, 0]),
            bool(want[1] <= have[1, 0]), "at most", "likely figures", source),
        Row("torque_reserve", "Motor torque over torque wanted", reserve, "ratio", 1.0, reserve >= 1.0, "at least",
            "both at the unfavourable end", source),
        Row("torque_cutting", f"Torque while cutting, {s.cutting[0]}", float(cut[1]), "torque", float(steady[1]),
            bool(cut[1] <= steady[1]), "at most", "likely figures, steady feed", source),
        Row("acceleration_possible", "Acceleration possible", max(room, 0.0), "acceleration", s.motion.acceleration,
            room >= s.motion.acceleration, "at least", "at rapid speed, likely figures", source),
        Row("moved_mass", "Moved mass of one drive", s.mass, "mass", None, None, "",
            "the side beside the head" if s.drives > 1 else "", "Masses of the parts as the model counts them."),
        Row("inertia_ratio", "Inertia moved over the rotor's", t_ratio(s, t), "ratio", MOST_INERTIA_RATIO,
            t_ratio(s, t) <= MOST_INERTIA_RATIO, "at most", "", "Reflected inertia m (p / 2 pi)^2; 10 is common practice."),
    ]  # fmt: skip


def t_ratio(s: Setup, t: Train) -> float:
    """Inertia of all but the rotor over the rotor's, at the motor's shaft; 0 when no rotor inertia is entered."""
    rotor = s.motion.motor.rotor_inertia
    return (t.inertia - rotor) / rotor if rotor > 0.0 else 0.0


def wanted_torque(s: Setup, t: Train) -> Floats:
    """(3,) torque to accelerate, N m."""
    return t.torque(s.friction + abs(s.hanging), s.motion.acceleration)


def cutting_torque(s: Setup, t: Train) -> Floats:
    """(3,) torque to push against the largest cut at a steady feed, N m."""
    return t.torque(s.cutting[1], 0.0)


def step_rows(s: Setup, t: Train, tightest: float) -> list[Row]:
    """Travel in one commanded step (tightest: smallest deflection limit, m) and in a full step."""
    motor = s.motion.motor
    step, limit = t.travel / motor.counts, STEP_SHARE * tightest
    micro = isinstance(motor, StepMotor)
    words = "Travel in one microstep" if micro else "Travel in one encoder count"
    rows = [
        Row("step", words, step, "deflection", limit, step <= limit, "at most",
            "a quarter of the tightest limit", "Travel of a motor turn over steps; the quarter is our own rule.")
    ]  # fmt: skip
    if isinstance(motor, StepMotor):
        rows.append(
            Row("full_step", "Travel in a full step", t.travel / motor.steps, "deflection", None, None, "",
                "what a loaded motor may be off by", "Common practice: microsteps smooth, they do not add accuracy.")
        )  # fmt: skip
    return rows


def stopping_rows(s: Setup, t: Train) -> list[Row]:
    """Way to a stop from rapid: braked by the motor, and left to friction when power fails."""
    v = s.motion.rapid
    planned = v**2 / (2.0 * s.motion.stopping)
    room, good = s.room, None if s.room is None else planned <= s.room
    rows = [
        Row("stop_planned", "Way to stop from rapid", planned, "length", room, good, "at most" if room is not None else "",
            "room beyond the travel" if room is not None else "", "v^2 / 2a at the entered deceleration.")
    ]  # fmt: skip
    if s.motion.brake or s.hanging > s.friction[0]:
        return rows
    ways = 0.5 * t.felt_mass * v**2 / s.friction
    rows.append(
        Row("stop_unpowered", "Way until friction stops it", float(ways[0]), "length", room,
            None if room is None else bool(ways[0] <= room), "at most" if room is not None else "",
            "power lost at rapid, least friction", "Energy of all that moves and turns over the friction force.")
    )  # fmt: skip
    return rows


def falls(s: Setup, t: Train) -> tuple[float, float] | None:
    """(force left pulling the head down, N; speed at which it arrives after the whole travel, m/s), or None when it stays.

    Motor detent is not counted on; a train that holds by itself, a brake or enough balance keeps the head up.
    """
    pull = s.hanging - float(s.friction[0])
    if s.axis != "z" or s.motion.brake or pull <= 0.0 or t.efficiency[2] <= HOLDS_ITSELF:
        return None
    return pull, math.sqrt(2.0 * pull / t.felt_mass * s.travel)
