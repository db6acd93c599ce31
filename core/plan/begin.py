"""The first stage: a project answered with likely figures, quickly enough to be painted while it is typed."""

from __future__ import annotations

import numpy as np

from core.bill import find_bill
from core.cuts import CutAnswer
from core.cutting import tip_force
from core.fasteners import joints as find_joints
from core.fasteners import rails as find_rails
from core.findings import Finding, ordered
from core.frame import Mechanism, NotTrustworthy
from core.machine.layout import layout
from core.machine.project import Project
from core.model.condensed import Gantry, Under
from core.model.moving import condense_head
from core.model.place import SolvedPlace, solve_place
from core.model.setting import Setting
from core.parts import parts as find_parts
from core.plan.fit import cannot_stand, check_fit
from core.plan.results import Place, Plan
from core.plan.verdict import judge, limit_findings
from core.sag import SagAnswer, find_sag
from core.sections import PropertyBook
from core.stiffness import (
    Budget,
    DeflectedShape,
    StiffnessAnswer,
    find_budget,
    find_shape,
    find_stiffness,
)
from core.stiffness.deflection import deflection, worst_force

# The whole frame merges nodes nearer than 0.1 mm, the condensed answer does not.
AGREE = 1e-3


def begin_plan(
    project: Project,
    book: PropertyBook,
    place: Place | None = None,
    under: Under | None = None,
    cuts: CutAnswer | None = None,
) -> Plan:
    """Answer a project with likely figures; no bands yet.

    Args:
        under: the base as an earlier plan solved it; used where it still fits, which saves a quarter of the time.
        cuts: an earlier plan's cut list; its bars are counted as long as the project still asks for it.

    Errors: NeedsAnalysis when a section is not in the book; BadEntry for an entry that cannot be used. A machine that
        moves freely or cannot stand is a finding, not an error.
    """
    place = place or Place()
    lay = layout(project.machine, book)
    setting = Setting(project.machine, lay, "likely", book)
    rails, rail_findings = find_rails(project, lay)
    joints, joint_findings = find_joints(project, lay)
    case = min(max(place.case, 0), len(project.cases) - 1)
    place = Place(place.x, place.y, case)
    statics: _Statics | None = None
    findings = [*check_fit(project, lay), *rail_findings, *joint_findings]
    blocked = cannot_stand(lay)
    if blocked:
        findings.insert(0, Finding("cannot-stand", "limit", "machine.work.clearance", blocked))
    else:
        try:
            statics = _statics(setting, project, place, under)
            findings += limit_findings(project, *statics[:3])
        except Mechanism as error:
            motions = "; ".join(error.free_motions)
            text = f"The machine moves freely as described: {motions}. Add or stiffen what should hold it."
            findings.insert(0, Finding("moves-freely", "limit", "machine", text))
        except NotTrustworthy as error:
            text = f"No answer can be trusted for this description: {error.problem}."
            findings.insert(0, Finding("not-trustworthy", "limit", "machine", text))
    stiffness, sag, budgets, shape, gantry = statics or (None, None, (), None, None)
    stands = None if gantry is None else gantry.under
    parts = find_parts(project, lay, rails, joints)
    bill = find_bill(project, lay, rails, parts, cuts)
    told = ordered([*findings, *bill.findings])
    verdict = judge(project, stiffness, told)
    return Plan(
        project, lay, place, stiffness, sag, budgets, rails, parts, told, verdict, shape, stands, bill, joints,
        gantry,
    )  # fmt: skip


_Statics = tuple[StiffnessAnswer, SagAnswer, tuple[Budget, ...], DeflectedShape, Gantry]


def _statics(setting: Setting, project: Project, place: Place, under: Under | None) -> _Statics:
    solved = solve_place(setting, place.x, place.y)  # before all else: it names what moves freely
    head = condense_head(setting)
    stiffness, gantry = find_stiffness(setting, project.cases, (solved.x, solved.y), under, head)
    difference = (
        np.abs(stiffness.compliance_place - solved.compliance).max() / np.abs(solved.compliance).max()
    )
    if not difference <= AGREE:
        raise NotTrustworthy("the two ways to the tip's compliance disagree")
    places = {(solved.x, solved.y): solved}
    budgets = []
    for c in stiffness.cases:
        at = (c.worst_x, c.worst_y)
        places[at] = places.get(at) or solve_place(setting, *at)  # cases often share their worst place
        budgets.append(find_budget(places[at], c.name, worst_force(c.force, c.direction, c.any_direction)))
    shape = _chosen_shape(project, place.case, solved)
    return stiffness, find_sag(setting, gantry, head), tuple(budgets), shape, gantry


def _chosen_shape(project: Project, case: int, solved: SolvedPlace) -> DeflectedShape:
    """Shape under the chosen case in its worst direction there."""
    chosen = project.cases[case]
    _, direction = deflection(solved.compliance, tip_force(chosen), chosen.any_direction)
    return find_shape(solved, worst_force(tip_force(chosen), float(direction), chosen.any_direction))
