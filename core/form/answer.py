"""Form in one call: what may arrive, what welding adds, what was measured, what takes it out; with findings."""

from __future__ import annotations

from core.fasteners import RailAnswer
from core.findings import Finding, Severity
from core.form.delivered import OWN, automatic_values, find_deviations
from core.form.results import Deviation, FormAnswer, PartBow, Survey
from core.form.shims import find_survey, usable
from core.form.welds import find_weld_bows, sum_bows
from core.machine.layout import Layout
from core.machine.project import Project
from core.materials import material
from core.units import UnitSet, show, show_beside, tell

TODO = {
    "fits": "it fits as it comes",
    "shim": "shim the rails",
    "bed in epoxy or machine": "bed the rails in filled epoxy, or have the seats machined",
    "straighten or machine": "pick a straighter piece, straighten it or have the seats machined",
}


def find_form(project: Project, lay: Layout, rails: tuple[RailAnswer, ...]) -> FormAnswer:
    """Answer what the rails, with their holes, will meet."""
    units = UnitSet(project.display.length, project.display.force)
    wishes = project.straightness
    deviations = find_deviations(project, lay)
    welds = find_weld_bows(project, lay)
    bows = sum_bows(project, deviations, welds)
    surveys, found = [], []
    for axis, heights in (("X", wishes.x_heights), ("Y", wishes.y_heights)):
        pair = tuple(rail for rail in rails if rail.axis == axis.lower())
        survey = find_survey(axis, heights, pair, wishes.shim_step, wishes.across)
        surveys += [] if survey is None else [survey]
        for rail, readings in zip(pair, (heights.first, heights.second), strict=False):
            found += _reading_findings(axis, rail, readings, usable(readings, rail)[0].size)
    findings = (
        *(f for deviation in deviations for f in _deviation_findings(deviation, units)),
        *(f for bow in bows for f in _bow_findings(bow, _is_aluminium(project, bow.part), units)),
        *(f for survey in surveys for f in _survey_findings(survey, project, units)),
        *found,
    )
    return FormAnswer(deviations, welds, bows, tuple(surveys), automatic_values(project, lay), findings)


def _is_aluminium(project: Project, part: str) -> bool:
    machine = project.machine
    metal = machine.gantry.beam.material if part == "gantry beam" else machine.base.material
    return material(metal).family == "aluminium"


def _deviation_findings(out: Deviation, units: UnitSet) -> list[Finding]:
    if out.allowed is None or out.wanted is None or out.remedy in (None, "fits"):
        return []
    code = "form-twist" if out.what.startswith("twist") else "form-straightness"
    text = (
        f"{out.part[:1].upper()}{out.part[1:]}, {out.what}: {out.standard} allows {tell(out.allowed, 'deflection', units)} "
        f"over {show(out.size, 'length', units)}, the rails want {show(out.wanted, 'deflection', units)}. "
        f"At its worst: {TODO[str(out.remedy)]}."
    )
    field = "twist" if code == "form-twist" else "straightness"
    where = {
        "gantry beam": f"straightness.beam_{field}",
        "side beam": f"straightness.side_{field}",
    }.get(out.part, "straightness.welded_flatness")
    grave: Severity = (
        "warning" if out.standard == OWN else "note"
    )  # what a standard allows need not come true
    return [Finding(code, grave, where, text, out.allowed, out.wanted, "deflection")]


def _bow_findings(bow: PartBow, aluminium: bool, units: UnitSet) -> list[Finding]:
    if abs(bow.welded) <= bow.wanted:
        return []
    text = (
        f"The planned welds bow the {bow.part} by about {tell(abs(bow.welded), 'deflection', units)} ({bow.direction}); with "
        f"what its delivery allows up to {tell(bow.worst, 'deflection', units)}. Balance welds about the middle, weld in "
        f"short steps, mount rails after all welding. At its worst: {TODO[bow.remedy]}."
    )
    if aluminium:
        text += " The figure is for steel; aluminium shrinks more."
    grave: Severity = "warning" if bow.remedy == "straighten or machine" else "note"
    return [Finding("weld-bow", grave, "straightness.welds", text, abs(bow.welded), bow.wanted, "deflection")]


def _survey_findings(survey: Survey, project: Project, units: UnitSet) -> list[Finding]:
    wishes, found = project.straightness, []
    where = f"straightness.{survey.axis.lower()}_heights"
    if survey.thickest > wishes.shim_most * (1.0 + 1e-9):
        text = (
            f"{survey.axis} rails: the thickest shim is "
            f"{show_beside(survey.thickest, wishes.shim_most, 'deflection', units)}, more than the "
            f"{show(wishes.shim_most, 'deflection', units)} set for shims. Bed the rails in filled epoxy or machine the seats."
        )
        found.append(
            Finding("shim-thick", "warning", where, text, survey.thickest, wishes.shim_most, "deflection")
        )
    if survey.worst_left > wishes.rail_straightness:
        limit = wishes.rail_straightness
        left = show_beside(survey.worst_left, limit, "deflection", units)
        text = (
            f"{survey.axis} rails: rounding to the shim step leaves {left}, more than the "
            f"{show(limit, 'deflection', units)} that the rails want. Use thinner shims."
        )
        found.append(
            Finding(
                "shim-left", "warning", "straightness.shim_step", text, survey.worst_left, limit, "deflection"
            )
        )
    return found


def _reading_findings(axis: str, rail: RailAnswer, readings: tuple[object, ...], used: int) -> list[Finding]:
    where = f"straightness.{axis.lower()}_heights"
    found = []
    outside = [
        r
        for r in readings
        if (getattr(r, "hole", None) or 0) > len(rail.holes)
        or (getattr(r, "place", None) or 0.0) > rail.length
    ]
    if outside:
        end = f"the rail's {len(rail.holes)} holes or its end"
        text = f"{rail.label}: readings beyond {end} are left out ({len(outside)})."
        found.append(Finding("shim-readings", "warning", where, text))
    if readings and used < 3:
        least = "no line follows" if used < 2 else "the line follows them exactly and shows no error"
        text = (
            f"{rail.label}: readings at fewer than three places ({used}); {least}. One at each hole is best."
        )
        found.append(Finding("shim-readings", "warning", where, text))
    return found
