"""The figures and words of one machine, out of the rooms that answer for them."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from core.certainty import find_bands
from core.certainty.answer import Spread
from core.certainty.joined import at_end
from core.comparison.answer import Ends
from core.comparison.build import build_facts, price_values
from core.form import FormAnswer, find_form
from core.frame import Mechanism, NotTrustworthy
from core.machine.project import Project
from core.materials import material
from core.model.setting import Setting, Side
from core.parts import moving_mass
from core.parts.masses import beam_mass
from core.plan import Plan
from core.sag import SagAnswer, find_sag
from core.sections import PropertyBook
from core.stiffness.answer import compliance_map
from core.thermal import find_heat
from core.vibration import find_vibration

Floats = npt.NDArray[np.float64]


def values_of(plan: Plan, book: PropertyBook) -> tuple[dict[str, Ends], dict[str, str]]:
    """Every value by the key of its row, and facts, of a plan."""
    project, lay = plan.project, plan.layout
    setting = Setting(project.machine, lay, "likely", book)
    form = find_form(project, lay, plan.rails)
    found: dict[str, Ends] = {}
    found |= _statics(setting, plan, book)
    found |= {key: _one(value) for key, value in _beam(project, plan).items()}
    found |= {key: _one(value) for key, value in _form(form).items()}
    found |= {key: _one(value) for key, value in _heat(setting, project).items()}
    found["first_mode"] = _first_mode(setting, project, plan)
    found |= {key: _one(value) for key, value in _rails(plan).items()}
    found |= {key: _one(value) for key, value in price_values(plan).items()}
    return found, build_facts(plan, form)


def _one(value: float | None) -> Ends:
    return Ends(value)


def _statics(setting: Setting, plan: Plan, book: PropertyBook) -> dict[str, Ends]:
    stiffness, sag = plan.stiffness, plan.sag
    if stiffness is None or sag is None:
        return {}
    bands = find_bands(setting, plan)
    assert bands is not None  # a plan with stiffness and sag has bands
    found = {f"case_{case.number}": _spread(case.spread, case.worst, case.best) for case in bands.cases}
    soft, stiff = (_corner(plan, book, side) for side in ("low", "high"))
    # The middle of the travels is a place of the table's own grid.
    middle = np.diag(stiffness.compliance[stiffness.y.size // 2, stiffness.x.size // 2])
    for k, axis in enumerate("xyz"):
        low, high = float(1.0 / soft[0][k]), float(1.0 / stiff[0][k])
        found[f"stiffness_{axis}"] = Ends(float(1.0 / middle[k]), low, high, low, high)
    found["sag"] = _spread(bands.sag, soft[1].beam_worst, stiff[1].beam_worst)
    found["path_error"] = _spread(bands.path_error, soft[1].worst_residual, stiff[1].worst_residual)
    budget = plan.budgets[0]
    found["joint_give"] = _one(dict(budget.shares).get("beam_joint", 0.0) * budget.deflection)
    return found


def _spread(spread: Spread, soft: float, stiff: float) -> Ends:
    return Ends(spread.likely, soft, stiff, spread.low, spread.high)


def _corner(plan: Plan, book: PropertyBook, side: Side) -> tuple[Floats, SagAnswer]:
    """Tip compliance (3,) along the axes in the middle, and sag, with every uncertain stiffness at one end."""
    assert plan.stiffness is not None
    corner = at_end(Setting(plan.project.machine, plan.layout, side, book), side)
    every, gantry = compliance_map(corner, np.array([0.0]), np.array([0.0, plan.stiffness.place_y]))
    return np.asarray(np.diag(every[0, 0])), find_sag(corner, gantry)


def _beam(project: Project, plan: Plan) -> dict[str, float | None]:
    lay, beam = plan.layout, plan.project.machine.gantry.beam
    shape, metal, span = lay.sections.beam, material(beam.material), 2.0 * lay.joint_x
    return {
        "beam_vertical": 48.0 * metal.young * shape.iyy / span**3,
        "beam_horizontal": 48.0 * metal.young * shape.izz / span**3,
        "beam_torsion": metal.shear * shape.it / span,
        "beam_mass": beam_mass(project.machine, lay),
        "moving_mass": moving_mass(project, lay),
        "height": shape.height,
        "rail_spacing": project.machine.x_guides.rail_spacing,
    }


def _form(form: FormAnswer) -> dict[str, float | None]:
    mine = [d for d in form.deviations if d.part == "gantry beam"]
    bow = next((d.allowed for d in mine if d.what == "bow"), None)
    twist = next((d.allowed for d in mine if d.what.startswith("twist")), None)
    bows = [b for b in form.bows if b.part == "gantry beam"]
    welded = max((abs(b.welded) for b in bows), default=0.0)
    together = None if bow is None else max((b.worst for b in bows), default=bow)
    return {"straightness": bow, "twist": twist, "weld_bow": welded, "seat_error": together}


def _heat(setting: Setting, project: Project) -> dict[str, float | None]:
    heat = find_heat(setting, project)
    pairs = list(zip(heat.bows, heat.paths, strict=True))
    mine = [(bow, path) for bow, path in pairs if bow.key == "beam"]
    return {
        "heat_bow": max((bow.worst for bow, _ in mine), default=0.0),
        "heat_path": max((path.worst for _, path in mine), default=0.0),
    }


def _first_mode(setting: Setting, project: Project, plan: Plan) -> Ends:
    if plan.stiffness is None:
        return Ends()
    try:
        mode = find_vibration(setting, project, plan).modes[0]
    except (Mechanism, NotTrustworthy):
        return Ends()
    return Ends(mode.frequency, mode.low, mode.high, mode.low, mode.high)


def _rails(plan: Plan) -> dict[str, float | None]:
    mine = [rail for rail in plan.rails if rail.axis == "x"]
    screws = sum(rail.screws for rail in mine)
    hold = plan.project.machine.gantry.beam.rail_fastening.hold
    return {
        "screws": float(screws),
        "nuts": float(sum(rail.nuts for rail in mine)),
        "hole_hours": screws * plan.project.hole_work.minutes(hold) / 60.0,
    }
