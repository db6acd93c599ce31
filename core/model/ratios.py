"""By how much the stiffness of every uncertain spring may differ from its likely figure."""

from __future__ import annotations

from core.fields import Band
from core.machine.base import Legs
from core.model.setting import Setting, Side


def spring_ratio(setting: Setting, component: str, turning: bool, side: Side) -> float:
    """Stiffness at one side of its band over the likely one, for the springs of a component; 1 where it is held rigid.

    Drives count with their whole band at the middle of their travel, guides with the normal one of a carriage.
    """
    if setting.is_rigid(component):
        return 1.0
    found = _band(setting, component, turning)
    return 1.0 if found is None else float(getattr(found, side)) / found.likely


def _band(setting: Setting, component: str, turning: bool) -> Band | None:
    machine = setting.machine
    head, upright, stand = machine.head, machine.gantry.upright, machine.base.stand
    guides = {"x_guides": machine.x_guides, "y_guides": machine.y_guides, "z_guides": head.guides}
    drives = {"x_drive": machine.x_drive, "y_drive": machine.y_drive, "z_drive": head.drive}
    if component in guides:
        return guides[component].normal
    if component in drives:
        return drives[component].stiffness_at(0.5, 1.0)
    if component == "beam_joint":
        return upright.joint_turning if turning else upright.joint_stiffness
    if component == "spindle_mount":
        return head.mount_turning if turning else head.mount_stiffness
    if component == "stand":
        if isinstance(stand, Legs):
            return stand.foot_stiffness
        return stand.support_turning if turning else stand.support_stiffness
    return None
