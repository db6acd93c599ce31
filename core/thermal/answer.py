"""Heat in one call: temperatures in, growth, bows, paths, scale errors, held screws and findings out."""

from __future__ import annotations

import numpy as np

from core.findings import Finding
from core.machine.project import Project
from core.model.setting import Setting
from core.thermal.bows import find_bows
from core.thermal.growth import find_growths, find_scales, find_screws, find_spread
from core.thermal.results import Bow, HeatAnswer, HeatPath, HeldScrew, Scale
from core.units import UnitSet, show, show_beside, tell

MOST_SPREAD = 1e-4
"""Growth between the sides, m, that carriages and uprights take without being felt (common practice)."""


def find_heat(setting: Setting, project: Project) -> HeatAnswer:
    """Answer what heat does to the machine."""
    heat = project.heat
    changes = np.array([heat.coldest, heat.warmest]) - setting.machine.temperature
    bows, paths = find_bows(setting, changes)
    scales = find_scales(setting, heat, changes, paths)
    screws = find_screws(setting, heat, changes)
    spread = find_spread(setting, changes)
    units = UnitSet(project.display.length, project.display.force)
    findings = (
        *(f for path, bow in zip(paths, bows, strict=True) for f in _bow_findings(path, bow, project, units)),
        *(f for scale in scales for f in _scale_findings(scale, project, units)),
        *(f for screw in screws for f in _screw_findings(screw, units)),
        *_spread_findings(spread, units),
    )
    growths = find_growths(setting, changes)
    return HeatAnswer(
        (float(changes[0]), float(changes[1])), growths, bows, paths, scales, screws, spread, findings
    )


def _bow_findings(path: HeatPath, bow: Bow, project: Project, units: UnitSet) -> list[Finding]:
    found = []
    limit = project.limits.path_error
    where = "machine.gantry.beam.material" if bow.key == "beam" else "machine.base.material"
    if path.worst > limit:
        if path.rails == "slide":
            why, rest = "its plate grows otherwise than the profile, and even with rails that slide", ""
        elif bow.across:
            why, rest = (
                "with its plate, and steel rails that hold without slip,",
                "Rails that slide leave the plate's bow. ",
            )
        else:
            why = "if the steel rails hold without slip,"
            rest = "Rails that slide bend nothing; the truth lies between. "
        text = (
            f"{bow.label}: {why} heat bends the tool's path along {path.axis} by up to "
            f"{show_beside(path.worst, limit, 'deflection', units)} off its best line, over the limit of "
            f"{show(limit, 'deflection', units)}. {rest}Set the machine true near the temperature it works at."
        )
        found.append(Finding("heat-bow", "warning", where, text, path.worst, limit, "deflection"))
    shift = max(abs(value) for value in bow.shift)
    if shift > bow.clearance:
        text = (
            f"{bow.label}: the ends of a rail shift by {show_beside(shift, bow.clearance, 'deflection', units)} on it, "
            f"more than the {show(bow.clearance, 'deflection', units)} that its screws can move in their holes."
        )
        found.append(Finding("heat-rail-shift", "warning", where, text, shift, bow.clearance, "deflection"))
    return found


def _scale_findings(scale: Scale, project: Project, units: UnitSet) -> list[Finding]:
    limit = project.heat.scale_limit
    if scale.worst <= limit * (1.0 + 1e-9):
        return []
    text = (
        f"Over the {scale.axis} travel of {show(scale.travel, 'length', units)} heat makes an error of up to "
        f"{show_beside(scale.worst, limit, 'deflection', units)} against the work, over the limit of "
        f"{show(limit, 'deflection', units)}. Correct the scale at the day's temperature, or keep the shop steadier."
    )
    return [Finding("heat-scale", "warning", "heat.scale_limit", text, scale.worst, limit, "deflection")]


def _screw_findings(screw: HeldScrew, units: UnitSet) -> list[Finding]:
    push = max(screw.push)
    if push <= 0.0:
        return []
    where = f"machine.{screw.axis.lower()}_drive.ends"
    stretch = (
        f"Stretched by {tell(screw.stretch, 'deflection', units)} at set-up, a pull of {tell(screw.pull, 'force', units)}, "
        "it stays tight; its bearings have to carry that."
    )
    if push > 0.5 * screw.buckling:
        text = (
            f"The {screw.axis} screw, fixed at both ends, would push with {tell(push, 'force', units)} when warm, more than "
            f"half of the {tell(screw.buckling, 'force', units)} at which it buckles. {stretch}"
        )
        return [Finding("heat-screw", "warning", where, text, push, 0.5 * screw.buckling, "force")]
    text = f"The {screw.axis} screw, fixed at both ends, pushes with {tell(push, 'force', units)} when warm. {stretch}"
    return [Finding("heat-screw", "note", where, text, push, 0.5 * screw.buckling, "force")]


def _spread_findings(spread: tuple[float, float], units: UnitSet) -> list[Finding]:
    worst = max(abs(value) for value in spread)
    if worst <= MOST_SPREAD:
        return []
    text = (
        f"Between the two sides the gantry beam grows up to {tell(worst, 'deflection', units)} more or less than the base. "
        "The uprights and the Y carriages have to give way by that; let one side float or use one metal for both."
    )
    where = "machine.gantry.beam.material"
    return [Finding("heat-spread", "warning", where, text, worst, MOST_SPREAD, "deflection")]
