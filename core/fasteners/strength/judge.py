"""What is wrong with the strength of a joint, in words, and what would help."""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.fasteners.strength.margins import Margin
from core.fasteners.strength.preload import USED, allowed_preload, torque_factor
from core.findings import Finding, Severity
from core.machine.project import Project
from core.units import UnitSet, show, tell

if TYPE_CHECKING:
    from core.fasteners.strength.find import JointStrength

HELP = {
    "joint-slips": "More or larger screws, a higher property class, a wider pattern or a dowel would help.",
    "joint-gaps": "A wider pattern, more or larger screws, or a thicker clamped part would help.",
    "weld-weak": "A longer or thicker weld would help.",
    "screw-fatigue": "Larger or more screws, a wider pattern, or longer screws with a sleeve would help.",
    "plate-pries": "A thicker plate, or screws nearer to the bar, would help.",
}
DOES = {
    "joint-slips": "slips",
    "joint-gaps": "opens at its edge",
    "weld-weak": "is at the weld's limit",
    "screw-fatigue": "reaches its screws' fatigue limit",
    "plate-pries": "has its plate bent and its screws levered",
}


def judge(project: Project, found: tuple[JointStrength, ...]) -> tuple[Finding, ...]:
    """Findings of every joint."""
    said: list[Finding] = []
    wanted = project.machine.joints.wanted_margin
    for one in found:
        for code, margin in (
            ("joint-slips", one.slip),
            ("joint-gaps", one.gap),
            ("weld-weak", one.weld),
            ("screw-fatigue", one.fatigue),
            ("plate-pries", one.plate),
        ):
            said += _margin(one, code, margin, wanted)
        if one.entered:
            said += _torque(project, one)
    return tuple(said)


def _margin(one: JointStrength, code: str, margin: Margin | None, wanted: float) -> list[Finding]:
    if margin is None or (margin.likely >= wanted and margin.low >= 1.0):
        return []
    severity: Severity = "limit" if margin.likely < 1.0 else "warning"
    times = (
        "before its loads are reached" if margin.likely < 1.0 else f"at {margin.likely:.3g} times its loads"
    )
    if margin.low < 1.0 <= margin.likely:
        times += f", but at {margin.low:.3g} times with all figures low"
    text = f"{one.joint.label}: {margin.name} {DOES[code]} {times} ({margin.state}); {wanted:g} is wanted. {HELP[code]}"
    return [
        Finding(
            code, severity, one.joint.site.path, text, margin.likely, wanted, "ratio", place=one.joint.label
        )
    ]


def _torque(project: Project, one: JointStrength) -> list[Finding]:
    """An entered torque against what the screw and its partners bear."""
    joint, with_, units = one.joint, project.machine.joints, project.units
    at = f"{joint.site.path}.torque"
    mu = with_.screw_friction.low
    said = []
    own = allowed_preload(joint.size.thread, joint.site.joint.property_class, mu)
    if one.preload.high > own / USED:
        torque = own * torque_factor(joint.size.thread, with_.screw_friction.likely)
        text = (
            f"{joint.label}: {show(one.torque, 'torque', units)} can take the {joint.size.thread} screws, "
            f"{joint.site.joint.property_class}, past their yield point; up to {show(one.own_torque, 'torque', units)} is for "
            "them."
        )
        said.append(
            Finding("screw-yields", "limit", at, text, one.torque, torque, "torque", place=joint.label)
        )
    weakest = one.limits[0] if one.limits else None
    if weakest is not None and one.preload.high > weakest.low:
        severity: Severity = "limit" if one.preload.likely > weakest.likely else "warning"
        text = (
            f"{joint.label}: {show(one.torque, 'torque', units)} can pull with {_force(one.preload.high, units)}; what the "
            f"{weakest.what} can bear is {_force(weakest.low, units)} to {_force(weakest.high, units)} ({weakest.because})."
        )
        said.append(
            Finding(
                "thread-strips", severity, at, text, one.preload.high, weakest.low, "force", place=joint.label
            )
        )
    return said


def _force(value: float, units: UnitSet) -> str:
    return tell(value, "force", units)
