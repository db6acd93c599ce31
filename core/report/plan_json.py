"""The plan as plain JSON data: SI throughout, the unit at the end of each key, nothing that JSON cannot hold.

The keys are described in DEVELOPERS.md; a change of meaning raises `version`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from core.machine.project import COMPONENTS
from core.report.bill_json import bill_json
from core.report.cuts_json import cuts_json
from core.report.findings_json import finding_json
from core.report.study import study_json
from core.report.study.comparison import alternatives_json, variants_json

if TYPE_CHECKING:
    from core.certainty import BandsAnswer
    from core.machine.loads import LoadCase
    from core.plan import Plan
    from core.stiffness.answer import CaseAnswer, StiffnessAnswer
    from core.study import Study

POSITIONS = 9
"""Number of x-positions at which the tip compliance is listed."""


def plan_json(plan: Plan, study: Study | None = None) -> dict[str, Any]:
    """Everything that plan and study say, ready for `json.dumps`."""
    verdict = (plan if study is None else study).verdict
    compared = None if study is None else study.comparison
    return {
        "format": "gantrywright-plan",
        "version": 1,
        "project": plan.project.name,
        "note": plan.project.note,
        "verdict": {"good": bool(verdict.good), "text": verdict.text, "code": verdict.code},
        "place": {"x_m": plan.place.x, "y_m": plan.place.y, "case": plan.place.case},
        **_stiffness(plan, None if study is None else study.bands),
        **_sag(plan),
        "budgets": [_budget(budget) for budget in plan.budgets],
        "rails": [_rail(rail) for rail in plan.rails],
        "parts": [_part(part) for part in plan.parts],
        "bill": bill_json(plan.bill),
        "cut_list": _cut_list(plan),
        "alternatives": [] if compared is None else alternatives_json(compared),
        "variants": [] if compared is None else variants_json(compared, plan.project.units),
        "findings": [finding_json(finding) for finding in (plan if study is None else study).findings],
        "study": None if study is None else study_json(study),
    }


def _cut_list(plan: Plan) -> dict[str, Any] | None:
    cuts = None if plan.bill is None else plan.bill.cuts
    return None if cuts is None else cuts_json(cuts, plan.project)


def _stiffness(plan: Plan, bands: BandsAnswer | None) -> dict[str, Any]:
    answer = plan.stiffness
    if answer is None:
        return {"x_m": [], "y_m": None, "tip_compliance_m_per_N": [], "cases": []}
    chosen = np.unique(np.round(np.linspace(0, len(answer.x) - 1, POSITIONS)).astype(int))
    described = zip(plan.project.cases, answer.cases, strict=True)
    corners = {} if bands is None else {case.name: (case.best, case.worst) for case in bands.cases}
    return {
        "x_m": answer.x[chosen].tolist(),
        "y_m": float(answer.place_y),
        "tip_compliance_m_per_N": answer.compliance_x[chosen].tolist(),
        "cases": [
            _case(case, result, answer, chosen, corners.get(case.name, (None, None)))
            for case, result in described
        ],
    }


def _case(
    case: LoadCase,
    result: CaseAnswer,
    answer: StiffnessAnswer,
    chosen: Any,
    corners: tuple[float | None, float | None],
) -> dict[str, Any]:
    return {
        "name": case.name,
        "force_N": np.asarray(result.force).tolist(),
        "any_direction": case.any_direction,
        "worst_direction_rad": _plain(result.direction),
        "limit_m": case.limit,
        "worst_m": float(result.worst),
        "worst_x_m": float(result.worst_x),
        "worst_y_m": float(result.worst_y),
        "worst_when_all_stiff_m": corners[0],
        "worst_when_all_soft_m": corners[1],
        "within_limit": bool(result.worst <= case.limit),
        "deflection_along_x_m": result.along_x[chosen].tolist(),
        "deflection_vector_along_x_m": result.vectors_x[chosen].tolist(),
        "curve_x": {"x_m": answer.x.tolist(), "deflection_m": result.along_x.tolist()},
        "curve_y": {"y_m": answer.y.tolist(), "deflection_m": result.along_y.tolist()},
    }


def _sag(plan: Plan) -> dict[str, Any]:
    sag = plan.sag
    if sag is None:
        return {"sag": None, "path_error": None}
    return {
        "sag": {
            "x_m": sag.x.tolist(),
            "beam_m": sag.beam.tolist(),
            "beam_worst_m": float(sag.beam_worst),
            "limit_m": plan.project.limits.sag,
        },
        "path_error": {
            "x_m": sag.x.tolist(),
            "tip_travel_m": sag.path.tolist(),
            "tilt_about_x_rad": sag.tilt.tolist(),
            "line_slope_m_per_m": float(sag.slope),
            "line_offset_m": float(sag.offset),
            "removable_m": float(sag.removable),
            "residual_m": sag.residual.tolist(),
            "worst_m": float(sag.worst_residual),
            "worst_x_m": float(sag.worst_residual_x),
            "limit_m": plan.project.limits.path_error,
        },
    }


def _budget(budget: Any) -> dict[str, Any]:
    shares = [
        {"component": key, "label": COMPONENTS.get(key, key), "share": float(share)}
        for key, share in budget.shares
    ]
    return {
        "case": budget.case,
        "x_m": float(budget.x),
        "y_m": float(budget.y),
        "deflection_m": float(budget.deflection),
        "shares": shares,
    }


def _rail(rail: Any) -> dict[str, Any]:
    return {
        "key": rail.key,
        "label": rail.label,
        "axis": rail.axis,
        "size": rail.size,
        "length_m": rail.length,
        "pitch_m": rail.pitch,
        "first_hole_m": rail.first,
        "last_hole_to_end_m": rail.last,
        "holes_m": list(rail.holes),
        "hole_count": rail.count,
        "screws": rail.screws,
        "nuts": rail.nuts,
        "t_nuts": rail.nuts if rail.hold == "T-nut" else 0,
        "screw": rail.screw,
        "screw_text": rail.screw_text,
        "screw_length_m": rail.screw_length,
        "shortest_screw_m": rail.shortest,
        "longest_screw_m": rail.longest,
        "hold": rail.hold,
        "engagement_m": rail.engagement,
        "on_slot": rail.on_slot,
        "slot": rail.slot,
        "note": rail.note,
        "parked_nuts": rail.parked,
        "pieces": [
            {
                "start_m": piece.start,
                "end_m": piece.end,
                "length_m": piece.length,
                "first_hole": piece.holes[0],
                "last_hole": piece.holes[1],
                "first_hole_to_start_m": piece.first,
                "last_hole_to_end_m": piece.last,
            }
            for piece in rail.pieces
        ],
    }


def _part(part: Any) -> dict[str, Any]:
    return {
        "key": part.key,
        "group": part.group,
        "what": part.what,
        "spec": part.spec,
        "quantity": part.quantity,
        "length_m": part.length,
        "mass_each_kg": part.mass_each,
        "mass_kg": part.mass,
        "spare": part.spare,
        "pack_size": part.pack_size,
        "packs": part.packs,
        "where": part.where,
    }


def _plain(value: Any) -> float | None:
    """The number, or None when there is none that JSON can hold."""
    return float(value) if value is not None and np.isfinite(value) else None
