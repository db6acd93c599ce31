"""Force and moment on every joint of the base under unit loads: ends of its members as the base's own frame carries them."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from core.fasteners.strength.wrenches import AXES, Wrenches, arm, turned
from core.frame import Frame
from core.frame.assemble import member_axes, member_lengths, weight_per_length
from core.frame.energy import member_forces
from core.frame.interior import fixed_end_forces
from core.guides.forces import COLUMNS, WEIGHT, Chain
from core.machine.base import Legs
from core.machine.diagonals import diagonals, knee_height
from core.model.setting import Setting
from core.model.standing import Standing, stand

Floats = npt.NDArray[np.float64]


def base_wrenches(setting: Setting, chain: Chain) -> Wrenches:
    """(k, p, 6, 7) for each kind of joint of the base: k equal joints in the order of their names, p places, unit loads."""
    standing = stand(setting, chain.gantry.under.base)
    frame = standing.frame
    moved = _movements(setting, standing, chain)
    if not isinstance(setting.machine.base.stand, Legs):
        return {"feet": _supports(frame, moved)}
    ends = _member_ends(frame, moved)
    number = {name: k for k, name in enumerate(frame.members.names)}
    supports = range(setting.machine.base.supports)
    low = knee_height(setting.machine.base.stand) > 0.0
    places = [(side, n) for side in ("left", "right") for n in supports]
    down, up = -AXES["Z"], AXES["Y"]

    def at(name: str, end: int, along: Floats, normal: Floats) -> Floats:
        """The joint at one end of a member: the member is the upper part; `normal` points into it."""
        force, moment = (
            ends[:, number[name], 6 * end : 6 * end + 3],
            ends[:, number[name], 6 * end + 3 : 6 * end + 6],
        )
        return turned(force, moment, along, normal)

    upper, lower = ("upper leg", "lower leg") if low else ("leg", "leg")
    found: Wrenches = {
        "legs": np.stack([at(f"{side} {upper} {n}", 0, up, down) for side, n in places]),
        # The leg's lower end pushes on its foot: what the foot receives is the other way round.
        "feet": np.stack([-at(f"{side} {lower} {n}", 1, up, down) for side, n in places]),
        "cross": np.stack(
            [at(f"cross member {n}", e, up, (1 - 2 * e) * AXES["X"]) for n in supports for e in (0, 1)]
        ),
    }
    if low:
        found["low_cross"] = np.stack(
            [
                at(f"lower cross member {n}", e, AXES["Z"], (1 - 2 * e) * AXES["X"])
                for n in supports
                for e in (0, 1)
            ]
        )
        if setting.machine.base.stand.low_rails:
            found["low_rails"] = np.stack(
                [
                    at(f"{side} lower rail {n}", e, AXES["Z"], (1 - 2 * e) * AXES["Y"])
                    for side in ("left", "right")
                    for n in supports[:-1]
                    for e in (0, 1)
                ]
            )
    every = diagonals(setting.machine, setting.layout)
    if every:
        rows = []
        for d in every:
            axis = 1 if d.plane == "along" else 0
            into = np.sign(d.end[axis] - d.start[axis]) * np.eye(3)[axis]
            rows += [at(d.name, 0, AXES["Z"], into), at(d.name, 1, AXES["Z"], -into)]
        found["diagonals"] = np.stack(rows)
    return found


def _movements(setting: Setting, standing: Standing, chain: Chain) -> Floats:
    """(p, d, 7) movements of the base's nodes under its own weight and what the gantry puts on it."""
    datum = np.array([setting.layout.gantry_y(float(v)) for v in chain.gantry.y])
    points = standing.carriages(datum)
    loads = np.einsum("ysd,yxsr->yxdr", points.reach, chain.y_forces)
    moved = standing.moved @ loads
    moved[..., WEIGHT] += standing.weight
    return np.asarray(moved.reshape(-1, *moved.shape[2:]))


def _member_ends(frame: Frame, moved: Floats) -> Floats:
    """(p, m, 12, 7) forces and moments that the members' ends receive, along the machine's axes."""
    p = len(moved)  # places as further columns, so that the members' stiffness is made once
    flat = np.moveaxis(moved, 0, 1).reshape(frame.dofs, -1)
    every = member_forces(frame, flat, columns=True)
    forces = np.moveaxis(every.reshape(*every.shape[:-1], p, COLUMNS), -2, 0).copy()
    axes = member_axes(frame)
    line = (axes @ weight_per_length(frame)[..., None])[..., 0]
    forces[..., WEIGHT] -= fixed_end_forces(line, member_lengths(frame))
    back = np.swapaxes(axes, -1, -2)[:, None]
    split = forces.reshape(*forces.shape[:-2], 4, 3, COLUMNS)
    return np.asarray((back @ split).reshape(forces.shape))


def _supports(frame: Frame, moved: Floats) -> Floats:
    """Floor supports: the side beam pushes on them as the springs to the ground do."""
    springs, names = frame.springs, {name: k for k, name in enumerate(frame.springs.names)}
    found = []
    sides = [(side, n) for side in ("left", "right") for n in range(len(springs.names) // 12)]
    for side, n in sides:
        rows = [names[f"{side} support {n} {word}{axis}"] for word in ("", "about ") for axis in "XYZ"]
        node = int(springs.i[rows[0]])
        u = moved[:, 6 * node : 6 * node + 6]
        turn = u[:, 3:]
        shift = u[:, :3] - arm(springs.arm_i[rows[0]], turn)  # a turn moves the point at its arm
        k = springs.stiffness[rows]
        force, moment = k[:3, None] * shift, k[3:, None] * turn
        found.append(turned(force, moment, AXES["Y"], -AXES["Z"]))
    return np.stack(found)
