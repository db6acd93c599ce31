"""The solved frame as plain data in SI, enough for anyone to solve it again with another program and compare.

Members may end on rigid arms or have their centroid beside their axis, and springs may take hold away from nodes; here each
such end becomes a node of its own, tied to the machine's node by a rigid link, so that no program needs to know of arms.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from core.cutting import tip_force
from core.frame import Frame, self_weight, solve
from core.frame.assemble import member_axes
from core.frame.subdivide import subdivide
from core.machine.project import Project
from core.model.masses import with_lumps
from core.model.setting import Setting
from core.model.vibrating import pieces_for
from core.model.whole import whole_frame
from core.modes import find_modes

Floats = npt.NDArray[np.float64]
FORMAT = "gantrywright-frame"
MODES_UP_TO = 300.0  # Hz; members are cut fine enough for waves of this frequency


class _Nodes:
    """Collects nodes and rigid links while ends are written out."""

    def __init__(self, frame: Frame) -> None:
        self.frame = frame
        self.places: list[dict[str, Any]] = []
        self.links: list[dict[str, str]] = []
        for name, place in zip(frame.node_names, frame.nodes, strict=True):
            self.places.append({"name": name, "place_m": _list(place)})

    def end(self, node: int, arm: Floats, name: str) -> str:
        """The node at the end of an arm; makes it, with its rigid link, when the arm has length."""
        if float(np.linalg.norm(arm)) < 1e-12:
            return self.frame.node_names[node]
        self.places.append({"name": name, "place_m": _list(self.frame.nodes[node] + arm)})
        self.links.append({"from": self.frame.node_names[node], "to": name})
        return name


def frame_data(setting: Setting, project: Project, x: float, y: float) -> dict[str, Any]:
    """The frame with the tool tip at x, y (m) and our own answer for its tip. Raises Mechanism."""
    whole = whole_frame(setting, x, y)
    frame = whole.frame
    nodes = _Nodes(frame)
    members, springs = _members(frame, nodes), _springs(frame, nodes)
    tip = frame.node(whole.tip)
    weight = self_weight(frame)
    loads = np.zeros((frame.dofs, 7))
    loads[6 * tip : 6 * tip + 6, :6] = np.eye(6)
    loads[:, 6] = weight
    moved = solve(frame, loads, columns=True).displacements[6 * tip : 6 * tip + 6]
    return {
        "format": FORMAT,
        "version": 1,
        "units": "SI: m, N, kg, rad, Pa; axes X along the gantry beam, Y along its travel, Z up",
        "project": project.name,
        "tool_place_m": [x, y, setting.layout.tip_z],
        "nodes": nodes.places,
        "members": members,
        "springs": springs,
        "rigid_links": nodes.links,
        "supports": _supports(frame),
        "masses": [
            {"node": name, "mass_kg": float(m)}
            for name, m in zip(frame.node_names, frame.node_mass, strict=True)
            if m > 0.0
        ],
        "vibration": _vibration(setting, frame),
        "gravity_m_per_s2": [0.0, 0.0, -9.80665],
        "loads": [
            {"name": case.name, "node": whole.tip, "force_N": _list(tip_force(case))}
            for case in project.cases
        ],
        "tip": whole.tip,
        "tip_compliance_m_per_N": _list(moved[:3, :3]),
        "tip_under_weight_m": _list(moved[:3, 6]),
    }


def _members(frame: Frame, nodes: _Nodes) -> list[dict[str, Any]]:
    m, axes = frame.members, member_axes(frame)
    rows = []
    for k, name in enumerate(m.names):
        beside = m.centroid[k] @ axes[k, 1:]
        rows.append(
            {
                "name": name,
                "component": m.component[k],
                "start": nodes.end(int(m.i[k]), m.offset_i[k] + beside, f"{name} start"),
                "end": nodes.end(int(m.j[k]), m.offset_j[k] + beside, f"{name} end"),
                "local_x": _list(axes[k, 0]),
                "local_y": _list(axes[k, 1]),
                "local_z": _list(axes[k, 2]),
                "young_Pa": float(m.young[k]),
                "shear_modulus_Pa": float(m.shear[k]),
                "area_m2": float(m.area[k]),
                "second_moment_about_y_m4": float(m.iyy[k]),
                "second_moment_about_z_m4": float(m.izz[k]),
                "torsion_constant_m4": float(m.it[k]),
                "shear_area_along_y_m2": float(m.avy[k]),
                "shear_area_along_z_m2": float(m.avz[k]),
                "mass_kg_per_m": float(m.linear_weight[k]),
                "shear_centre_from_ends_m": _list(m.shear_centre[k] - m.centroid[k]),
            }
        )
    return rows


def _springs(frame: Frame, nodes: _Nodes) -> list[dict[str, Any]]:
    s = frame.springs
    rows = []
    for k, name in enumerate(s.names):
        turning, ground = bool(s.turning[k]), int(s.j[k]) < 0
        none = np.zeros(3)
        arm_i, arm_j = (none, none) if turning else (s.arm_i[k], s.arm_j[k])
        unit = "stiffness_N_m_per_rad" if turning else "stiffness_N_per_m"
        rows.append(
            {
                "name": name,
                "component": s.component[k],
                "kind": "turning" if turning else "shifting",
                "from": nodes.end(int(s.i[k]), arm_i, f"{name} lower end"),
                "to": "ground" if ground else nodes.end(int(s.j[k]), arm_j, f"{name} upper end"),
                "place_m": _list(frame.nodes[int(s.i[k])] + arm_i),
                "direction": _list(s.direction[k]),
                unit: float(s.stiffness[k]),
            }
        )
    return rows


def _vibration(setting: Setting, frame: Frame) -> dict[str, Any]:
    """Where the mass of saddle and head stands for modes, instead of in nodes, and our own six frequencies.

    Members turn with the radius of gyration of their section, all that rides on them included.
    """
    kept, lumps = with_lumps(setting, frame)
    fine = subdivide(kept, pieces_for(kept, MODES_UP_TO))
    return {
        "masses": [
            {"node": name, "mass_kg": float(m)}
            for name, m in zip(kept.node_names, kept.node_mass, strict=True)
            if m > 0.0
        ],
        "bodies": [
            {"name": name, "carried_by": kept.node_names[int(lumps.node[k])],
             "place_m": _list(kept.nodes[int(lumps.node[k])] + lumps.arm[k]), "mass_kg": float(lumps.mass[k]),
             "inertia_kg_m2": _list(lumps.inertia[k])}
            for k, name in enumerate(lumps.names)
        ],
        "frequencies_Hz": _list(find_modes(fine, 6, lumps).frequencies),
    }  # fmt: skip


def _supports(frame: Frame) -> list[dict[str, Any]]:
    names = ("x", "y", "z", "about_x", "about_y", "about_z")
    return [
        {"node": name, "held": [n for n, fixed in zip(names, held, strict=True) if fixed]}
        for name, held in zip(frame.node_names, frame.held, strict=True)
        if held.any()
    ]


def _list(values: Floats) -> list[Any]:
    found: list[Any] = np.asarray(values, dtype=float).tolist()
    return found
