"""Findings about carriages: for each axis the worst one of each kind, so that one cause is told once."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from core.findings import Finding
from core.guides.names import PATHS, Carriage
from core.machine.project import Project
from core.units import UnitSet, show, show_beside, tell

Floats = npt.NDArray[np.float64]
LEAST_PULL = 1.0  # N; a pull below it is rounding or nothing to speak of


def judge(
    project: Project,
    carriages: tuple[Carriage, ...],
    life: Floats,
    wanted_life: Floats,
    safety: Floats,
    wanted_safety: Floats,
    largest: Floats,
    states: tuple[str, ...],
    pull: Floats,
    holds: Floats,
) -> tuple[Finding, ...]:
    """Findings, all arrays (c,) as in `GuidesAnswer`."""
    units = project.units
    axes = np.array([c.axis for c in carriages])
    found = []
    for axis, path in PATHS.items():
        rows = np.flatnonzero(axes == axis)
        if not rows.size:
            continue
        k = int(rows[np.argmin(safety[rows])])
        if safety[k] < wanted_safety[k]:
            load = tell(largest[k], "force", units)
            text = (
                f"Carriage {carriages[k].name}: static safety {safety[k]:.3g}, wanted {wanted_safety[k]:.3g}; "
                f"its largest load is {load} ({states[k]}). Spread the carriages, shorten the arm, or take a larger size."
            )
            found.append(
                Finding("carriage-static-safety", "limit", f"{path}.rating.wanted_static_safety", text,
                         float(safety[k]), float(wanted_safety[k]), "ratio", carriages[k].name)
            )  # fmt: skip
        k = int(rows[np.argmin(life[rows])])
        if life[k] < wanted_life[k]:
            found.append(_short_life(units, carriages[k].name, path, float(life[k]), float(wanted_life[k])))
        k = int(rows[np.argmax(pull[rows] - holds[rows])])
        if pull[k] > max(holds[k], LEAST_PULL):
            text = (
                f"Carriage {carriages[k].name} is pulled off its rail with {tell(pull[k], 'force', units)}; its preload "
                f"is gone at about {tell(holds[k], 'force', units)}, and it is softer from there than the model takes it."
            )
            found.append(
                Finding("carriage-uplift", "note", f"{path}.rating.preload", text,
                         float(pull[k]), float(holds[k]), "force", carriages[k].name)
            )  # fmt: skip
    return tuple(found)


def _short_life(units: UnitSet, name: str, path: str, life: float, wanted: float) -> Finding:
    text = (
        f"Carriage {name}: life {show_beside(life, wanted, 'distance_run', units)}, "
        f"wanted {show(wanted, 'distance_run', units)}. "
        "Spread the carriages, take a larger size, or check the ratings against the datasheet."
    )
    where = f"{path}.rating.wanted_life"
    return Finding("carriage-life", "limit", where, text, life, wanted, "distance_run", name)
