"""Findings about drives: what does not hold, in sentences with figure and limit. Codes are listed in DEVELOPERS.md."""

from __future__ import annotations

from core.drives.axis import Setup
from core.drives.results import AxisDrive, Racking, Row
from core.drives.rows import STEP_RESERVE, falls
from core.drives.turning import Train
from core.findings import Finding, Severity
from core.machine.motion import StepMotor
from core.units import UnitSet, show, show_beside, tell


def axis_findings(s: Setup, t: Train, answer: AxisDrive, units: UnitSet) -> list[Finding]:
    """Findings of one axis, read off its rows."""
    rows = {row.key: row for row in answer.rows}
    axis, motion = s.axis.upper(), s.path
    found = [
        *_broken(rows, "screw_speed", "screw-whirl", "limit", f"{motion}.rapid", units,
                 f"{axis}: the screw would turn at {{value}} at rapid speed; keep it to {{limit}} so that it does not whirl."),
        *_broken(rows, "screw_load", "screw-buckling", "limit", f"{s.drive_path}.diameter", units,
                 f"{axis}: the screw is pushed with {{value}}; against buckling keep it to {{limit}}."),
        *_broken(rows, "pretension", "belt-slack", "warning", f"{s.drive_path}.pretension", units,
                 f"{axis}: the belt's pretension of {{value}} lets a strand go slack and teeth jump; set {{limit}} or more."),
        *_torque(rows, s, units),
        *_broken(rows, "step", "coarse-steps", "warning", f"{motion}.motor", units,
                 f"{axis}: one commanded step moves {{value}}, more than a quarter of the tightest limit ({{limit}})."),
        *_broken(rows, "inertia_ratio", "inertia-ratio", "note", f"{motion}.gear_ratio", units,
                 f"{axis}: what is moved has {{value}} times the rotor's inertia; common practice keeps to {{limit}}."),
        *_broken(rows, "stop_planned", "stop-room", "warning", f"{motion}.deceleration", units,
                 f"{axis}: from rapid it takes {{value}} to stop, but only {{limit}} lie beyond the travel."),
        *_broken(rows, "stop_unpowered", "runs-on", "note", f"{motion}.friction", units,
                 f"{axis}: when power fails at rapid it runs on for up to {{value}}, past the {{limit}} beyond the travel: "
                 "fit stops that take the blow, and keep hands out of its way."),
    ]  # fmt: skip
    if rows["motor_speed"].value > 1.0001 * s.motion.motor.fast_speed:
        speed = tell(rows["motor_speed"].value, "rotation_speed", units)
        text = f"{axis}: at rapid the motor turns at {speed}, past its entered torque; the torque there is a guess."
        found.append(Finding("motor-speed", "note", f"{motion}.motor.fast_speed", text))
    drop = falls(s, t)
    if drop is not None:
        text = (
            f"Z: without power the head may sink or fall: {tell(drop[0], 'force', units)} of its weight are left over and "
            f"nothing holds them; after the whole travel it would arrive at {tell(drop[1], 'speed', units)}. Fit a brake or "
            "a balance, and block the head up before hands go below it."
        )
        found.append(Finding("z-falls", "note", f"{motion}.brake", text, drop[0], 0.0, "force"))
    return found


def _broken(
    rows: dict[str, Row], key: str, code: str, severity: Severity, where: str, units: UnitSet, text: str
) -> list[Finding]:
    row = rows.get(key)
    if row is None or row.good is not False or row.limit is None:
        return []
    figures = {name: show(getattr(row, name), row.quantity, units, 3) for name in ("value", "limit")}
    return [Finding(code, severity, where, text.format(**figures), row.value, row.limit, row.quantity)]


def _torque(rows: dict[str, Row], s: Setup, units: UnitSet) -> list[Finding]:
    axis, where = s.axis.upper(), f"{s.path}.motor"
    rapid, cutting, reserve = rows["torque_rapid"], rows["torque_cutting"], rows["torque_reserve"]
    for row, what in ((rapid, "to accelerate at rapid speed"), (cutting, "while cutting")):
        if row.good is False and row.limit is not None:
            text = (
                f"{axis}: {show_beside(row.value, row.limit, 'torque', units)} of motor torque are wanted {what}, but it has "
                f"{tell(row.limit, 'torque', units)} there."
            )
            return [Finding("motor-torque", "limit", where, text, row.value, row.limit, "torque")]
    if reserve.value < 1.0:
        text = (
            f"{axis}: the motor's torque does with likely figures; with all uncertain figures at their unfavourable end it "
            f"has {show(reserve.value, 'ratio', units, 2)} of what is wanted."
        )
        return [Finding("motor-torque", "warning", where, text, reserve.value, 1.0, "ratio")]
    likely = (rapid.limit or 0.0) / rapid.value if rapid.value > 0.0 else STEP_RESERVE
    if isinstance(s.motion.motor, StepMotor) and likely < STEP_RESERVE:
        text = (
            f"{axis}: the step motor has {show(likely, 'ratio', units, 3)} times the torque wanted at rapid speed; common "
            f"practice asks for {STEP_RESERVE:g} so that it loses no steps."
        )
        return [Finding("motor-torque", "warning", where, text, likely, STEP_RESERVE, "ratio")]
    return []


def racking_rows(r: Racking) -> tuple[Row, ...]:
    """The racking as figures."""
    lever = "Lag over the distance between the drives, exact."
    frame = "Verified solve of the whole frame, head at the end of X."
    where = f"{r.case}, head at the end of X"
    return (
        Row("lag", "One side lags by", r.lag, "deflection", source="As entered."),
        Row("angle", "Turn of the gantry by geometry", r.angle, "angle", source=lever),
        Row("offset", "A line over the X travel stands off", r.offset, "deflection", source=lever),
        Row("angle_elastic", "Turn left at the work", r.angle_elastic, "angle", None, None, "",
            "drives, carriages and frame give way", frame),
        Row("offset_elastic", "A line over the X travel really stands off", r.offset_elastic, "deflection", None, None, "",
            "what squareness loses", frame),
        Row("strain", "Drives strain against each other with", r.strain, "force", None, None, "", "while the lag is held", frame),
        Row("share_near", "Share of the drive beside the head", r.share_near, "ratio", None, None, "", where, frame),
        Row("difference_equal", "Sides differ under the cut, equal drives", r.difference_equal, "deflection", None, None, "",
            where, frame),
        Row("difference_unequal", "Sides differ, one drive soft, one stiff", r.difference_unequal, "deflection", None, None, "",
            "ends of the entered band, soft beside the head", frame),
        Row("turn_unequal", "Turn of the gantry under that", r.turn_unequal, "angle", None, None, "", where, frame),
    )  # fmt: skip


def racking_finding(r: Racking, tightest: float, units: UnitSet) -> list[Finding]:
    """A note when the lag shows at the work by more than the tightest deflection limit."""
    if abs(r.offset_elastic) <= tightest:
        return []
    text = (
        f"If one side of the gantry lags by {show(r.lag, 'deflection', units)}, a line along X stands off by "
        f"{tell(abs(r.offset_elastic), 'deflection', units)} over its travel and the drives strain against each other with "
        f"{tell(r.strain, 'force', units)}: home both sides on switches of their own."
    )
    return [
        Finding("racking", "note", "machine.motion.lag", text, abs(r.offset_elastic), tightest, "deflection")
    ]
