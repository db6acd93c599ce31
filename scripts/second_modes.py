"""Modes of an exported frame by OpenSees, for the bench and the tests: members cut here, their mass in their nodes.

Only the data of `core.model.export` is read. Lumped mass on many short pieces is another way than ours, which spreads
mass with the static shapes; both meet as the pieces shrink.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import numpy.typing as npt

from scripts import second_solver

Floats = npt.NDArray[np.float64]


def build(library: Any, data: dict[str, Any], longest: float) -> int:
    """Put frame and mass into the library, no piece of a member longer than `longest` m; gives the number of pieces."""
    bare = {**data, "members": []}
    second_solver.build(library, bare)
    number = {node["name"]: tag for tag, node in enumerate(data["nodes"], start=1)}
    place = {node["name"]: np.array(node["place_m"]) for node in data["nodes"]}
    heavy: dict[int, Floats] = {}
    tag, made = 50_000, 0
    for line, row in enumerate(data["members"], start=1):
        if any(row["shear_centre_from_ends_m"]):
            raise ValueError(
                f"{row['name']} twists about another line than that of its mass, which is not solved here"
            )
        start, end = place[row["start"]], place[row["end"]]
        length = float(np.linalg.norm(end - start))
        count = max(1, math.ceil(length / longest)) if row["mass_kg_per_m"] > 0.0 else 1
        tags = [number[row["start"]]]
        for n in range(1, count):
            tag += 1
            library.node(tag, *(start + (end - start) * n / count).tolist())
            tags.append(tag)
        tags.append(number[row["end"]])
        _pieces(library, row, line, tags, made)
        made += count
        _spread(row, tags, length / count, heavy)
    for mass in data["vibration"]["masses"]:
        _add(heavy, number[mass["node"]], np.array([mass["mass_kg"]] * 3 + [0.0] * 3))
    for body in data["vibration"]["bodies"]:
        tag += 1
        library.node(tag, *body["place_m"])
        library.rigidLink("beam", number[body["carried_by"]], tag)
        inertia = np.diag(np.array(body["inertia_kg_m2"]))  # boxes and cylinders along the axes: no products
        _add(heavy, tag, np.concatenate([[body["mass_kg"]] * 3, inertia]))
    for node, values in heavy.items():
        library.mass(node, *values.tolist())
    return made


def _pieces(library: Any, row: dict[str, Any], line: int, tags: list[int], first: int) -> None:
    keys = (
        "young_Pa", "shear_modulus_Pa", "area_m2", "torsion_constant_m4", "second_moment_about_y_m4",
        "second_moment_about_z_m4", "shear_area_along_y_m2", "shear_area_along_z_m2",
    )  # fmt: skip
    library.geomTransf("Linear", line, *row["local_z"])
    for n in range(len(tags) - 1):
        values = (row[key] for key in keys)
        library.element("ElasticTimoshenkoBeam", first + n + 1, tags[n], tags[n + 1], *values, line)


def _spread(row: dict[str, Any], tags: list[int], piece: float, heavy: dict[int, Floats]) -> None:
    """Half of each piece's mass and turning inertia to each of its ends (members run along an axis)."""
    half = 0.5 * row["mass_kg_per_m"] * piece
    y, z = (row[f"second_moment_about_{axis}_m4"] / row["area_m2"] for axis in "yz")
    axes = np.array([row["local_x"], row["local_y"], row["local_z"]])
    turning = np.diag(axes.T @ np.diag([y + z, y, z]) @ axes)
    for n in range(len(tags) - 1):
        for tag in (tags[n], tags[n + 1]):
            _add(heavy, tag, half * np.concatenate([[1.0] * 3, turning]))


def _add(heavy: dict[int, Floats], tag: int, values: Floats) -> None:
    heavy[tag] = heavy.get(tag, np.zeros(6)) + values


SYSTEM = "ProfileSPD"
"""The quickest of four that give the right modes here; SparseSYM, quickest in statics, gives wrong ones."""


def frequencies(library: Any, count: int = 6, system: str = SYSTEM) -> Floats:
    """(count,) slowest frequencies in Hz by the library's Arpack solver."""
    library.constraints(second_solver.CONSTRAINTS)
    library.numberer(second_solver.NUMBERER)
    library.system(system)
    values = np.array(library.eigen("-genBandArpack", count))
    return np.asarray(np.sqrt(values) / (2.0 * np.pi))
