"""One mode in figures and words: what moves, along what, what gives way, and how much of it the tool feels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.certainty.joined import stiffness_ratios
from core.frame import Frame, member_energy, spring_energy
from core.machine.project import COMPONENTS
from core.model.ratios import spring_ratio
from core.model.setting import Side
from core.model.vibrating import Grips
from core.modes import Joined
from core.stiffness.shape import DeflectedShape
from core.vibration.reduced import Reduced
from core.vibration.shapes import mode_shapes

Floats = npt.NDArray[np.float64]
BODIES = ("base", "gantry", "head")
ENDS: tuple[Side, Side] = ("low", "high")


@dataclass(frozen=True, slots=True)
class ModeAnswer:
    """One mode with the tool at the chosen place.

    Attributes:
        frequency: Hz. low, high: with all uncertain stiffness at its soft and at its stiff end (first estimate).
        words: what moves and what gives way.
        mass_shares: (3,) share of the whole mass that follows the ground along X, Y, Z in this mode.
        tip: (3,) movement of the tip along X, Y, Z, of a modal mass of one, 1/sqrt(kg).
        tip_shares: (3,) share of the tip's static compliance along X, Y, Z that this mode gives.
        bodies: share of the moving energy in "base", "gantry" and "head" (saddle and all below it).
        gives: (component, share of the elastic energy), the largest first.
        shape: lines to draw; the largest movement is one millimetre.
    """

    frequency: float
    low: float
    high: float
    words: str
    mass_shares: tuple[float, float, float]
    tip: tuple[float, float, float]
    tip_shares: tuple[float, float, float]
    bodies: dict[str, float]
    gives: tuple[tuple[str, float], ...]
    shape: DeflectedShape


def find_modes_here(
    reduced: Reduced, joined: Joined, held: Grips, place: tuple[float, float], compliance: Floats, count: int
) -> tuple[ModeAnswer, ...]:
    """The slowest modes at the first place of `joined`, which is `place` (x, y), m; compliance (3, 3) m/N there."""
    moved = joined.shapes(reduced.parts, 0, count)
    moving = _moving(reduced, moved)
    shares, ratios = _elastic(reduced, joined, held, moved)
    built_up = {side: stiffness_ratios(reduced.setting, side) for side in ENDS}
    shapes = mode_shapes(reduced, moved, place)
    found = []
    for k in range(count):
        square = float(joined.squares[0, k])
        tip = joined.tip[0, :, k]
        by_key: dict[str, float] = {}
        for (component, _), share in zip(ratios, shares[:, k], strict=True):
            by_key[component] = by_key.get(component, 0.0) + float(share)
        gives = tuple(sorted(by_key.items(), key=lambda item: -item[1]))
        frequency = float(joined.frequencies[0, k])
        bodies = {name: float(moving.energy[b, k]) for b, name in enumerate(BODIES)}
        found.append(
            ModeAnswer(
                frequency=frequency,
                low=frequency * _change(reduced, ratios, shares[:, k], "low", built_up["low"]),
                high=frequency * _change(reduced, ratios, shares[:, k], "high", built_up["high"]),
                words=_words(moving, k, gives),
                mass_shares=_three(moving.pull[:, k] ** 2 / reduced.weight),
                tip=_three(tip),
                tip_shares=_three(tip**2 / square / np.diag(compliance)),
                bodies=bodies,
                gives=gives,
                shape=shapes[k],
            )
        )
    return tuple(found)


def _three(values: Floats) -> tuple[float, float, float]:
    return float(values[0]), float(values[1]), float(values[2])


@dataclass(frozen=True, slots=True)
class _Moving:
    """Of each mode (k): energy (3, k) by body; axes (3, 3, k) share of a body's energy along X, Y, Z; together
    (3, 3, k) how far a body moves as one along each; pull (3, k) sqrt(kg) that follows the ground."""

    energy: Floats
    axes: Floats
    together: Floats
    pull: Floats


def _moving(reduced: Reduced, moved: list[Floats]) -> _Moving:
    count = moved[0].shape[1]
    energy, pull = np.zeros((3, count)), np.zeros((3, count))
    axes, together = np.zeros((3, 3, count)), np.zeros((3, 3, count))
    for b, (part, shape) in enumerate(zip(reduced.parts, moved, strict=True)):
        carried = part.mass @ shape
        energy[b] = np.einsum("nk,nk->k", shape, carried)
        for axis in range(3):
            alone = np.zeros_like(shape)
            alone[axis::6] = shape[axis::6]
            along = np.einsum("nk,nk->k", alone, part.mass @ alone)
            follows = carried[axis::6].sum(axis=0)
            axes[b, axis] = along
            together[b, axis] = np.abs(follows) / np.sqrt(np.maximum(part.weight * along, 1e-300))
            pull[axis] += follows
    energy /= energy.sum(axis=0)
    return _Moving(energy, axes, together, pull)


def _elastic(
    reduced: Reduced, joined: Joined, held: Grips, moved: list[Floats]
) -> tuple[Floats, list[tuple[str, bool | None]]]:
    """Shares (e, k) of the elastic energy in every component's members (None), springs (False) and turning springs
    (True), and these components."""
    groups: dict[tuple[str, bool | None], Floats] = {}

    def add(key: tuple[str, bool | None], energy: Floats) -> None:
        groups[key] = groups[key] + energy if key in groups else energy

    frames: tuple[Frame, ...] = (reduced.frames.base, reduced.frames.gantry, reduced.frames.head)
    for frame, shape in zip(frames, moved, strict=True):
        members, springs = (
            member_energy(frame, shape, columns=True),
            spring_energy(frame, shape, columns=True),
        )
        for number, component in enumerate(frame.members.component):
            add((component, None), members[number])
        for number, component in enumerate(frame.springs.component):
            add((component, bool(frame.springs.turning[number])), springs[number])
    count = moved[0].shape[1]
    contact = 0.5 * joined.forces[0, :, :count] ** 2 / held.stiffness[0][:, None]
    for number, component in enumerate(held.components):
        add((component, False), contact[number])
    every = np.array(list(groups.values()))
    return every / every.sum(axis=0), list(groups)


def _change(
    reduced: Reduced,
    groups: list[tuple[str, bool | None]],
    shares: Floats,
    side: Side,
    built_up: dict[str, float],
) -> float:
    """Frequency at one side of all bands over the likely one: compliances weighted with the elastic energy.

    Args:
        built_up: stiffness of members with an uncertain joint at this side over the likely one, by component.
    """

    def ratio(component: str, turning: bool | None) -> float:
        if turning is None:
            return 1.0 if reduced.setting.is_rigid(component) else built_up.get(component, 1.0)
        return spring_ratio(reduced.setting, component, turning, side)

    softer = sum(
        float(share) / ratio(component, turning)
        for (component, turning), share in zip(groups, shares, strict=True)
    )
    return float(softer**-0.5)


def _words(moving: _Moving, k: int, gives: tuple[tuple[str, float], ...]) -> str:
    """One sentence: who moves along what, and the two parts that give way most."""
    base, gantry, head = moving.energy[:, k]
    if head > 0.6:
        who, bodies = "The head with its saddle", [2]
    elif gantry > 0.6:
        who, bodies = "The gantry", [1]
    elif base > 0.6:
        who, bodies = "The base", [0]
    elif base < 0.25:
        who, bodies = "The gantry with the head", [1, 2]
    else:
        who, bodies = "The whole machine", [0, 1, 2]
    along = moving.axes[bodies, :, k].sum(axis=0)
    axis = int(np.argmax(along))
    weights = moving.energy[bodies, k]
    together = float(moving.together[bodies, axis, k] @ weights / weights.sum())
    if along[axis] < 0.55 * along.sum():
        verb = "twists and sways"
    else:
        verb = (
            f"swings along {'XYZ'[axis]}" if together > 0.7 else f"bends or turns, mostly along {'XYZ'[axis]}"
        )
    soft = " and ".join(
        f"{COMPONENTS.get(key, key).lower()} ({100 * share:.0f} %)" for key, share in gives[:2]
    )
    return f"{who} {verb}; what gives way: {soft}."
