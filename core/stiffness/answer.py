"""Tip compliance over the table and the deflection under every load case, with the worst place and its band."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.cutting import tip_force
from core.machine.loads import LoadCase
from core.model.condensed import Gantry, Under, condense_gantry
from core.model.moving import Head, condense_head, ride, tip_compliance
from core.model.setting import Setting
from core.stiffness.deflection import deflection, worst_force

Floats = npt.NDArray[np.float64]
ALONG_X, ALONG_Y = 33, 17


@dataclass(frozen=True, slots=True)
class CaseAnswer:
    """Deflection of the tip under one load case, m.

    Attributes:
        name, limit, force: the case; force (3,) N in its direction as entered.
        any_direction: whether the horizontal force was turned to its worst direction at every place.
        along_x (nx,), vectors_x (nx, 3): along X at the chosen y. along_y (ny,): along Y at the chosen x.
        worst, worst_x, worst_y, direction: largest deflection on the table, its place, and the force's direction there.
    """

    name: str
    limit: float
    force: Floats
    any_direction: bool
    along_x: Floats
    vectors_x: Floats
    along_y: Floats
    worst: float
    worst_x: float
    worst_y: float
    direction: float


@dataclass(frozen=True, slots=True)
class StiffnessAnswer:
    """Compliance of the tip over the table.

    Attributes:
        x (nx,), y (ny,): places, m. compliance (ny, nx, 3, 3): m/N.
        place_x, place_y: the chosen place; compliance_place (3, 3) there.
        compliance_x (nx, 3, 3) along X at place_y; compliance_y (ny, 3, 3) along Y.
        cases: one answer a load case.
    """

    x: Floats
    y: Floats
    compliance: Floats
    place_x: float
    place_y: float
    compliance_place: Floats
    compliance_x: Floats
    compliance_y: Floats
    cases: tuple[CaseAnswer, ...]

    def force_here(self, case: int) -> Floats:
        """Force (3,) N of a load case at the chosen place, in its worst direction there."""
        found = self.cases[case]
        _, direction = deflection(self.compliance_place, found.force, found.any_direction)
        return worst_force(found.force, float(direction), found.any_direction)


def table_grid(setting: Setting) -> tuple[Floats, Floats]:
    """Places along X and Y that cover the work area."""
    work = setting.machine.work
    return (
        np.linspace(-work.travel_x / 2.0, work.travel_x / 2.0, ALONG_X),
        np.linspace(-work.travel_y / 2.0, work.travel_y / 2.0, ALONG_Y),
    )


def compliance_map(
    setting: Setting, x: Floats, y: Floats, under: Under | None = None, head: Head | None = None
) -> tuple[Floats, Gantry]:
    """(ny, nx, 3, 3) compliance of the tip in m/N at every x and y, and the condensed gantry; `head` as condensed before."""
    gantry = condense_gantry(setting, y, under)
    return tip_compliance(gantry, ride(setting, gantry, x), head or condense_head(setting)), gantry


def find_stiffness(
    setting: Setting,
    cases: tuple[LoadCase, ...],
    place: tuple[float, float],
    under: Under | None = None,
    head: Head | None = None,
) -> tuple[StiffnessAnswer, Gantry]:
    """Answer for a machine with likely figures, and its condensed gantry with the chosen y as its last place.

    Args:
        place: the chosen tool place (x, y), m. under: the base as solved before, used if it still fits.
        head: saddle and head as condensed before.

    Errors: Mechanism when the base moves freely; a whole frame tells of the rest (`find_shape`).
    """
    x, y = table_grid(setting)
    rows, columns = np.append(y, place[1]), np.append(x, place[0])
    every, gantry = compliance_map(setting, columns, rows, under, head)
    table = every[:-1, :-1]
    answers = [_worst(case, every, x, y) for case in cases]
    answer = StiffnessAnswer(
        x=x, y=y, compliance=table, place_x=place[0], place_y=place[1], compliance_place=every[-1, -1],
        compliance_x=every[-1, :-1], compliance_y=every[:-1, -1], cases=tuple(answers),
    )  # fmt: skip
    return answer, gantry


def _worst(case: LoadCase, every: Floats, x: Floats, y: Floats) -> CaseAnswer:
    force = tip_force(case)
    moved, directions = deflection(every, force, case.any_direction)
    size = np.linalg.norm(moved, axis=-1)
    table = size[:-1, :-1]
    row, column = np.unravel_index(int(np.argmax(table)), table.shape)
    worst = float(table[row, column])
    return CaseAnswer(
        name=case.name, limit=case.limit, force=force, any_direction=case.any_direction,
        along_x=size[-1, :-1], vectors_x=moved[-1, :-1], along_y=size[:-1, -1],
        worst=worst, worst_x=float(x[column]), worst_y=float(y[row]), direction=float(directions[row, column]),
    )  # fmt: skip
