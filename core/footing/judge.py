"""What is to be said of the base: feet in the air, twist and level of the rails, a base that gives most of all."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from core.findings import Finding
from core.machine.project import Project
from core.units import show, show_beside, tell

if TYPE_CHECKING:
    from core.footing.answer import FootingAnswer

SOFT = (
    0.5  # share of the tip's compliance from which on the base is the first thing to stiffen; common practice
)
SLACK = 1.0e-6  # of all weight: a foot that carries less than this carries nothing


def judge(project: Project, answer: FootingAnswer) -> FootingAnswer:
    """The answer with its findings."""
    found = [*_feet(project, answer), *_rails(project, answer), *_soft(project, answer)]
    return replace(answer, findings=tuple(found))


def _feet(project: Project, answer: FootingAnswer) -> list[Finding]:
    units, base = project.units, project.machine.base
    found = []
    for k, foot in enumerate(answer.feet):
        idle = answer.press[..., k] <= SLACK * answer.weight
        if answer.bolted:
            continue
        if idle.any():
            hang = float(answer.hangs[..., k].max())
            where = "at every place of the gantry" if idle.all() else "at some places of the gantry"
            text = (
                f"The {foot.name} carries nothing {where}"
                + (f" and hangs up to {tell(hang, 'deflection', units)} in the air" if hang > 0.0 else "")
                + ". Shim it: all other answers take every foot as standing."
            )
            found.append(
                Finding(
                    "foot-lifts", "warning", "machine.base.uneven", text, hang, 0.0, "deflection", foot.name
                )
            )
    for number, uneven in enumerate(base.uneven):
        if uneven.number > base.supports:
            text = f"There is no {uneven.side} foot {uneven.number}: each side beam has {base.supports} supports."
            found.append(Finding("no-such-foot", "warning", f"machine.base.uneven.{number}.number", text))
    return found


def _rails(project: Project, answer: FootingAnswer) -> list[Finding]:
    units, limit = project.units, project.limits.rail_level
    most = show(limit, "deflection", units)
    found = []
    if answer.twist > limit:
        text = (
            f"The rails twist: the height of the right rail over the left changes by "
            f"{show_beside(answer.twist, limit, 'deflection', units)} as the gantry travels, over {most}. "
            "Level the feet, or stiffen the base."
        )
        found.append(
            Finding("rail-twist", "warning", "limits.rail_level", text, answer.twist, limit, "deflection")
        )
    if answer.level > limit:
        text = (
            f"The {answer.level_side} rail strays by {show_beside(answer.level, limit, 'deflection', units)} from its best "
            f"line as the gantry travels, over {most}. More supports, a taller side beam, or shims over the supports help."
        )
        found.append(
            Finding("rail-level", "warning", "limits.rail_level", text, answer.level, limit, "deflection")
        )
    return found


def _soft(project: Project, answer: FootingAnswer) -> list[Finding]:
    worst = np.unravel_index(int(np.argmax(answer.share)), answer.share.shape)
    share = float(answer.share[worst])
    if share <= SOFT:
        return []
    place = f"y {tell(float(answer.y[worst[0]]), 'length', project.units)}"
    text = (
        f"The base gives {100.0 * share:.0f} % of the tip's deflection along {'XYZ'[worst[2]]} with the tool at {place}: "
        "stiffen it before the gantry (diagonals, taller side beams, stiffer feet)."
    )
    return [Finding("base-soft", "note", "machine.base", text, share, SOFT, "share", place)]
