"""The plain verdict: every limit against its figure, and one sentence for the whole."""

from __future__ import annotations

from collections.abc import Mapping

from core.findings import Finding
from core.machine.project import COMPONENTS, Project
from core.plan.results import Verdict
from core.sag import SagAnswer
from core.stiffness import Budget, CaseAnswer, StiffnessAnswer
from core.units import UnitSet, show, show_beside


def _place(x: float, y: float, units: UnitSet) -> str:
    return f"x {show(x, 'length', units)}, y {show(y, 'length', units)}"


def limit_findings(
    project: Project, stiffness: StiffnessAnswer, sag: SagAnswer, budgets: tuple[Budget, ...]
) -> tuple[Finding, ...]:
    """Findings about the user's own limits."""
    units = project.units
    found = []
    for number, (case, budget) in enumerate(zip(stiffness.cases, budgets, strict=True)):
        found += _case_findings(number, case, budget, units)
    for key, value, limit, what in (
        ("path_error", sag.worst_residual, project.limits.path_error, "Path error left after the best line"),
        ("sag", sag.beam_worst, project.limits.sag, "Sag of the gantry beam"),
    ):
        if value > limit:
            figure = show_beside(value, limit, "deflection", units)
            text = f"{what}: {figure}, over the limit of {show(limit, 'deflection', units)}."
            where = f"limits.{key}"
            found.append(
                Finding(f"{key.replace('_', '-')}-limit", "limit", where, text, value, limit, "deflection")
            )
    return tuple(found)


def _case_findings(number: int, case: CaseAnswer, budget: Budget, units: UnitSet) -> list[Finding]:
    softest = ", ".join(f"{COMPONENTS[key].lower()} {100 * share:.0f} %" for key, share in budget.shares[:2])
    where, place = f"cases.{number}.limit", _place(case.worst_x, case.worst_y, units)
    figure = show_beside(case.worst, case.limit, "deflection", units)
    limit = show(case.limit, "deflection", units)
    if case.worst > case.limit:
        text = (
            f"{case.name}: the tool tip gives way by {figure}, over the limit of {limit}. Softest: {softest}."
        )
        return [
            Finding("deflection-limit", "limit", where, text, case.worst, case.limit, "deflection", place)
        ]
    return []


def judge(
    project: Project,
    stiffness: StiffnessAnswer | None,
    findings: tuple[Finding, ...],
    bands: Mapping[str, str] | None = None,
) -> Verdict:
    """One or two sentences with the figure that governs and its limit.

    Args:
        bands: the band of each load case's deflection in words, by its name, once it is known.
    """
    broken = [f for f in findings if f.severity == "limit"]
    if stiffness is None:
        reason = broken[0] if broken else None
        return Verdict(False, reason.message if reason else "No answer.", reason.code if reason else "")
    units = project.units
    if broken:
        first = next((f for f in broken if f.code == "deflection-limit"), broken[0])
        more = f" {len(broken) - 1} more over a limit." if len(broken) > 1 else ""
        return Verdict(False, first.message + more, first.code)
    nearest = max(stiffness.cases, key=lambda c: c.worst / c.limit)

    def figure(value: float) -> str:
        return show_beside(value, nearest.limit, "deflection", units)

    # The band comes last, and a moment after the figure, so that the sentence stands still while it is read.
    band = (bands or {}).get(nearest.name, "")
    nearest_text = (
        f"{nearest.name}: {figure(nearest.worst)} at the tool tip, "
        f"limit {show(nearest.limit, 'deflection', units)}.{' ' * bool(band)}{band}"
    )
    return Verdict(True, f"Every limit holds. {nearest_text}", "", nearest_text)
