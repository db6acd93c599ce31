"""How the worst deflection follows each entry, by the adjoint method: no solve beyond the one at the worst place.

With u the movements under the load and v those under a unit load along the tip's deflection, the deflection changes by
-v^T dK u when the stiffness changes by dK. For carriages, joints and drives dK is known exactly; for sizes and lengths it is
the difference of the assembled stiffness a little above and below the entry, nodes moved along.
Source: adjoint sensitivity of linear structures (e.g. Haftka and Guerdal, Elements of Structural Optimization, from memory).
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import msgspec
import numpy as np
import numpy.typing as npt

from core.advice.answer import Slope
from core.advice.candidates import apply
from core.certainty.inputs import uncertain_inputs
from core.certainty.springs import SpringShares
from core.cutting import tip_force
from core.errors import BadEntry, NeedsAnalysis
from core.fields import specs
from core.frame import Frame, member_energy, spring_energy
from core.machine.layout import layout
from core.machine.loads import LoadCase
from core.machine.project import Machine
from core.model.place import solve_place
from core.model.setting import Setting
from core.model.whole import whole_frame
from core.stiffness.deflection import deflection, worst_force

Floats = npt.NDArray[np.float64]
STEP = 1e-5  # of the entry's own size; plates may be cut into members of a few millimetres, so not more
LENGTHS = (
    "gantry.beam.section.height", "gantry.beam.section.width", "gantry.beam.section.wall",
    "gantry.upright.section.height", "gantry.upright.section.width", "gantry.upright.section.wall",
    "gantry.foot_plate.thickness", "base.section.height", "base.section.width", "base.section.wall",
    "base.stand.section.wall", "x_guides.spread", "x_guides.rail_spacing", "y_guides.spread", "head.guides.spread",
    "head.guides.rail_spacing", "saddle.thickness", "head.plate_thickness", "head.reach", "head.mount_above_tip",
    "head.carriages_above_table", "cutter.diameter", "cutter.stick_out", "work.travel_x", "work.clearance",
)  # fmt: skip
"""The sizes and lengths that a builder chooses, below `machine`; those that a machine does not have are passed over."""


def find_slopes(setting: Setting, case: LoadCase, x: float, y: float) -> tuple[Slope, ...]:
    """Slopes of the deflection at x, y under a case, strongest first. Raises Mechanism, NotTrustworthy."""
    place = solve_place(setting, x, y)
    moved, direction = deflection(place.compliance, tip_force(case), case.any_direction)
    force = worst_force(tip_force(case), float(direction), case.any_direction)
    size = float(np.linalg.norm(moved))
    # Both of like size, so that their mixed energy keeps its digits.
    pair = np.column_stack([place.moved @ moved * (np.linalg.norm(force) / size), place.moved @ force])
    scale = float(np.linalg.norm(force))
    pair = np.column_stack([pair, pair.sum(axis=1)])
    found = [
        *_springs(setting, place.frame, pair, x, y, scale, size),
        *_lengths(setting, place.frame, pair, x, y, scale, size),
    ]
    return tuple(sorted(found, key=lambda s: -abs(s.relative)))


def _mixed(frame: Frame, pair: Floats) -> tuple[Floats, Floats]:
    """v^T K u of each member and of each spring; columns v, u and their sum."""
    members = member_energy(frame, pair, columns=True)
    springs = spring_energy(frame, pair, columns=True)
    return tuple(e[:, 2] - e[:, 0] - e[:, 1] for e in (members, springs))  # type: ignore[return-value]


def _springs(
    setting: Setting, frame: Frame, pair: Floats, x: float, y: float, scale: float, size: float
) -> list[Slope]:
    shares = SpringShares(setting, uncertain_inputs(setting.machine))
    parts = {**shares.firm, **shares.stand(y), **shares.ride(x)}
    _, energy = _mixed(frame, pair)
    table = np.array([parts[name] for name in frame.springs.names])
    slopes = -(energy @ table) / scale  # for each relative change of the input
    return [
        Slope(i.path, i.label, i.quantity, i.likely, float(s) / i.likely, float(s) / size)
        for i, s in zip(shares.inputs, slopes, strict=True)
    ]


def _lengths(
    setting: Setting, frame: Frame, pair: Floats, x: float, y: float, scale: float, size: float
) -> list[Slope]:
    found = []
    for path in LENGTHS:
        value, label, quantity = _entry(setting.machine, path)
        if value is None or value <= 0.0:
            continue
        energies = []
        for step in (1.0 + STEP, 1.0 - STEP):
            changed = _frame(setting, path, value * step, x, y)
            if changed is not None and changed.node_names == frame.node_names:
                energies.append(float(sum(e.sum() for e in _mixed(changed, pair))))
        if len(energies) == 2:
            slope = -(energies[0] - energies[1]) / (2.0 * STEP * value) / scale
            found.append(Slope(f"machine.{path}", label, quantity, value, slope, slope * value / size))
    return [s for s in found if s.per_unit != 0.0]


def _frame(setting: Setting, path: str, value: float, x: float, y: float) -> Frame | None:
    try:
        machine = apply(setting.machine, ((f"machine.{path}", value),))
        lay = layout(machine, setting.book)
    except (BadEntry, NeedsAnalysis):
        return None
    return whole_frame(replace(setting, machine=machine, layout=lay), x, y).frame


def _entry(machine: Machine, path: str) -> tuple[float | None, str, str]:
    here: Any = machine
    words = []
    spec = None
    for step in path.split("."):
        if not isinstance(here, msgspec.Struct) or step not in here.__struct_fields__:
            return None, "", ""
        spec = specs(type(here)).get(step)
        words.append(spec.label if spec is not None else step)
        here = getattr(here, step)
    part = (
        f"{words[-3]}: "
        if words[-2] in ("Section", "Side beam section", "Leg section") and len(words) > 2
        else ""
    )
    part = part or (f"{words[-2]}: " if len(words) > 1 else "")
    value = float(here) if isinstance(here, (int, float)) and not isinstance(here, bool) else None
    return value, part + words[-1], spec.quantity if spec is not None else "length"
