"""Every drawing and plot of the window, for who saves them all."""

from __future__ import annotations

from app.desk import Desk
from app.widgets.picture_menu import Pictured


def pictures(desk: Desk) -> dict[str, Pictured]:
    """Drawings and plots by the names of their files."""
    return {
        "machine": desk.machine.drawing.view,
        "rail": desk.rails.view,
        "rail-pieces": desk.rails.drill.view,
        "slot": desk.rails.slots.view,
        "interim-fitting": desk.rails.arrived.view,
        "cut-list": desk.cuts.view,
        "clamp-stack": desk.joints.stack,
        "joint-screws": desk.joints.pattern,
        **({"beams": desk.rank.chart} if desk.rank.answer() is not None else {}),
        "section": desk.section.view,
        "tip-deflection-x": desk.deflection.along_x,
        "tip-deflection-y": desk.deflection.along_y,
        "sag": desk.deflection.sag,
        "budget": desk.deflection.budget,
        "carriages": desk.guides.view,
        "heat-path-x": desk.heat.along_x,
        "heat-path-y": desk.heat.along_y,
        "running-cost": desk.money.plot,
        "rail-seats": desk.form.shims.plot,
        "carriage-shares": desk.guides.bars,
        "band-causes": desk.stiffen.swings,
        "band-along-x": desk.stiffen.curve,
        "mode": desk.vibration.panel.view,
        "speeds": desk.vibration.speeds,
        "tip-receptance": desk.vibration.tip,
        "stable-depth": desk.vibration.depth,
        "rail-level": desk.base.level,
        "rail-twist": desk.base.tilt,
        "base-share": desk.base.share,
        "feet": desk.base.plan,
        "cutting-force": desk.cutting.turn,
        "cutting-bite": desk.cutting.bite,
        "drive-stiffness": desk.drives.stiffness,
        "motor-torque": desk.drives.torque,
        "gantry-lag": desk.drives.line,
        "variants-along-x": desk.compare.along_x,
        "variants-sag": desk.compare.sag,
    }
