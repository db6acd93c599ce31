"""Solves an exported frame (the plain data of `core.model.export`) with OpenSees, for the bench and the tests.

Only the data is read: nodes, members, springs, rigid links and supports. Nothing of our own solver takes part.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
SYSTEM, NUMBERER, CONSTRAINTS = "SparseSYM", "RCM", "Transformation"
"""The quickest of its direct solvers that give the right answer here, of seven tried."""
HELD = ("x", "y", "z", "about_x", "about_y", "about_z")


def build(library: Any, data: dict[str, Any]) -> int:
    """Put the frame into the library; returns its number of the tip's node."""
    library.wipe()
    library.model("basic", "-ndm", 3, "-ndf", 6)
    number: dict[str, int] = {}
    place: dict[str, list[float]] = {}
    for tag, node in enumerate(data["nodes"], start=1):
        number[node["name"]], place[node["name"]] = tag, node["place_m"]
        library.node(tag, *node["place_m"])
    carrier: dict[str, str] = {}
    for link in data["rigid_links"]:
        carrier[link["to"]] = link["from"]
        library.rigidLink("beam", number[link["from"]], number[link["to"]])
    for support in data["supports"]:
        library.fix(number[support["node"]], *(int(name in support["held"]) for name in HELD))
    _add_members(library, data["members"], number, place, carrier)
    _add_springs(library, data["springs"], number, place, carrier)
    return number[data["tip"]]


def _add_members(
    library: Any,
    members: list[dict[str, Any]],
    number: dict[str, int],
    place: dict[str, list[float]],
    carrier: dict[str, str],
) -> None:
    keys = (
        "young_Pa", "shear_modulus_Pa", "area_m2", "torsion_constant_m4", "second_moment_about_y_m4",
        "second_moment_about_z_m4", "shear_area_along_y_m2", "shear_area_along_z_m2",
    )  # fmt: skip
    beside = 500_000
    for tag, row in enumerate(members, start=1):
        library.geomTransf("Linear", tag, *row["local_z"])
        ends = [number[row["start"]], number[row["end"]]]
        values = {key: row[key] for key in keys}
        if any(row["shear_centre_from_ends_m"]):
            # The library's members know of no shear centre. So the area stays a bar between the ends, and all else becomes a
            # member without area through the shear centres, held by the same nodes.
            library.uniaxialMaterial("Elastic", beside, row["young_Pa"])
            library.element("Truss", beside, *ends, row["area_m2"], beside)
            values["area_m2"] *= 1e-9
            y, z = row["shear_centre_from_ends_m"]
            shift = y * np.array(row["local_y"]) + z * np.array(row["local_z"])
            for k, end in enumerate((row["start"], row["end"])):
                beside += 1
                library.node(beside, *(np.array(place[end]) + shift).tolist())
                library.rigidLink("beam", number[carrier.get(end, end)], beside)
                ends[k] = beside
            beside += 1
        library.element("ElasticTimoshenkoBeam", tag, *ends, *values.values(), tag)


def _add_springs(
    library: Any,
    springs: list[dict[str, Any]],
    number: dict[str, int],
    place: dict[str, list[float]],
    carrier: dict[str, str],
) -> None:
    count, first = len(number), 10_000
    for tag, row in enumerate(springs, start=first):
        lower, upper = row["from"], row["to"]
        turning = row["kind"] == "turning"
        ends = [number[lower], 0 if upper == "ground" else number[upper]]
        # The library's spring has no length: where its ends lie apart, it gets an end of its own at the lower place. A
        # spring that turns may stand anywhere.
        if upper == "ground" or place[upper] != place[lower]:
            count += 1
            library.node(count, *place[lower])
            if upper == "ground":
                library.fix(count, 1, 1, 1, 1, 1, 1)
            else:
                library.rigidLink("beam", number[carrier.get(upper, upper)], count)
            ends[1] = count
        stiffness = row["stiffness_N_m_per_rad" if turning else "stiffness_N_per_m"]
        library.uniaxialMaterial("Elastic", tag, stiffness)
        x = row["direction"]
        across = (0.0, 0.0, 1.0) if abs(x[2]) < 0.5 else (1.0, 0.0, 0.0)
        orient = ("-orient", *x, *across)
        library.element("zeroLength", tag, *ends, "-mat", tag, "-dir", 4 if turning else 1, *orient)


def tip_compliance(
    library: Any, tip: int, system: str = SYSTEM, numberer: str = NUMBERER, constraints: str = CONSTRAINTS
) -> Floats:
    """(3, 3) movement of the tip under unit loads, m/N, from one factorisation. Raises ArithmeticError."""
    library.constraints(constraints)
    library.numberer(numberer)
    library.system(system)
    library.algorithm("Linear", "-factorOnce")
    library.integrator("LoadControl", 1.0)
    library.analysis("Static", "-noWarnings")
    columns = []
    for axis in range(3):
        library.timeSeries("Constant", axis + 1)
        library.pattern("Plain", axis + 1, axis + 1)
        library.load(tip, *(1.0 if k == axis else 0.0 for k in range(6)))
        if library.analyze(1) != 0:
            raise ArithmeticError(f"OpenSees could not solve the frame with {system}.")
        columns.append(library.nodeDisp(tip)[:3])
        library.remove("loadPattern", axis + 1)
    return np.array(columns).T
