"""Gantry beam and side beams with their steel rails as bonded pairs, and what their bow does to the tool tip's path.

The beam's joints do not hinder it from turning; both are upper bounds.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.fasteners import screw
from core.machine.guides import Guides
from core.machine.layout import support_places
from core.materials import material
from core.model.setting import Setting
from core.sections import SectionProperties
from core.thermal.bimetal import Bar, Floats, Pair
from core.thermal.lines import bow_line
from core.thermal.results import Bow, HeatPath

PLACES = 41
RAIL_METAL = "bearing_steel"


@dataclass(frozen=True, slots=True)
class _Case:
    """A beam with `rails` rails on the face in direction `toward` (+1 or -1 along its axis)."""

    key: str
    label: str
    direction: str
    toward: float
    shape: SectionProperties
    metal: str
    guides: Guides
    rails: int
    packing: float
    length: float


def _cases(setting: Setting) -> tuple[_Case, _Case]:
    machine, lay = setting.machine, setting.layout
    beam, base = machine.gantry.beam, machine.base
    front, top = beam.rail_face == "front", base.rail_face == "top"
    return (
        _Case("beam", "Gantry beam", "Y" if front else "Z", -1.0 if front else 1.0, lay.sections.beam, beam.material,
              machine.x_guides, 2, beam.rail_fastening.under_rail, min(lay.x_rail_length, lay.beam_length)),
        _Case("side_beams", "Side beams", "Z" if top else "X", 1.0, lay.sections.side_beam, base.material,
              machine.y_guides, 1, base.rail_fastening.under_rail, min(lay.y_rail_length, lay.side_beam_length)),
    )  # fmt: skip


def _pair(case: _Case) -> Pair:
    """Rail area from its mass per length, its second moment as of a rectangle of its height."""
    data, metal, steel = case.guides.data, material(case.metal), material(RAIL_METAL)
    upright = case.direction == "Z"
    second = case.shape.iyy if upright else case.shape.izz
    half = (case.shape.height if upright else case.shape.width) / 2.0
    area = case.rails * data.linear_mass / steel.density
    rail = Bar(steel.young, area, area * data.rail_height**2 / 12.0, steel.expansion)
    own = Bar(metal.young, case.shape.area, second, metal.expansion)
    return Pair(own, rail, half + case.packing + data.rail_height / 2.0)


def find_bows(setting: Setting, changes: Floats) -> tuple[tuple[Bow, ...], tuple[HeatPath, ...]]:
    """Bow of the gantry beam and the side beams, and the tip's path along X and Y, for changes (2,) K."""
    beam, side = _cases(setting)
    lay = setting.layout
    beam_supports = np.array([-lay.joint_x, lay.joint_x])
    side_supports = np.array(support_places(setting.machine, lay)) - lay.side_y
    bows, curves = [], []
    for case, supports in ((beam, beam_supports), (side, side_supports)):
        pair = _pair(case)
        curvature = pair.curvature(changes)
        bows.append(_bow(case, pair, changes, supports))
        curves.append((case, curvature, supports))
    return tuple(bows), (_path_x(setting, *curves[0]), _path_y(setting, *curves[1]))


def _bow(case: _Case, pair: Pair, changes: Floats, supports: Floats) -> Bow:
    patch = (-case.length / 2.0, case.length / 2.0)
    x = np.linspace(supports[0], supports[-1], 4 * PLACES + 1)
    curvature = pair.curvature(changes)
    bonded = bow_line(x, curvature, patch, supports[[0, -1]])
    held = bow_line(x, curvature, patch, supports)
    unlike = (pair.beam.expansion - pair.rail.expansion) * changes * case.length / 2.0
    bolt = screw(case.guides.data.screw).diameter
    return Bow(
        case.key, case.label, case.direction, pair.distance, _two(curvature), _two(_largest(bonded)),
        _two(_largest(held)), _two(pair.force(changes) / case.rails), _two(unlike),
        max(0.0, (case.guides.data.hole_diameter - bolt) / 2.0),
    )  # fmt: skip


def _largest(lines: Floats) -> Floats:
    """The figure of largest size of each line, with its sign."""
    at = np.argmax(np.abs(lines), axis=1)
    return np.asarray(lines[np.arange(len(lines)), at])


def _ride(
    at: Floats, places: tuple[float, ...], case: _Case, curvature: Floats, supports: Floats
) -> tuple[Floats, Floats]:
    """Height (2, n) and slope (2, n) of what rides the line on carriages at `places` from `at` (n,)."""
    patch = (-case.length / 2.0, case.length / 2.0)
    offsets = np.array(places if len(places) > 1 else (-0.001, 0.001))
    spots = at[:, None] + offsets[None, :]
    lines = bow_line(spots.ravel(), curvature, patch, supports).reshape(len(curvature), *spots.shape)
    return case.toward * lines.mean(axis=-1), case.toward * (lines @ offsets) / float(offsets @ offsets)


def _path_x(setting: Setting, case: _Case, curvature: Floats, supports: Floats) -> HeatPath:
    """Front rails: the saddle yaws; rails on top: it rolls over the beam. Either way the arm moves the tip along X."""
    machine, lay = setting.machine, setting.layout
    half = machine.work.travel_x / 2.0
    x = np.linspace(-half, half, PLACES)
    height, slope = _ride(x, machine.x_guides.places(), case, curvature, supports)
    contact_y = sum(y for y, _ in lay.x_carriages) / 2.0
    contact_z = sum(z for _, z in lay.x_carriages) / 2.0
    moved = np.zeros((len(curvature), PLACES, 3))
    arm = lay.spindle_y - contact_y if case.direction == "Y" else lay.tip_z - contact_z
    moved[..., 0] = -slope * arm
    moved[..., 1 if case.direction == "Y" else 2] = height
    return _path("X", x, moved, 0)


def _path_y(setting: Setting, case: _Case, curvature: Floats, supports: Floats) -> HeatPath:
    """Rails on top: the gantry rises and pitches. Rails outside: both sides bow apart alike and the tip stays."""
    machine, lay = setting.machine, setting.layout
    half = machine.work.travel_y / 2.0
    y = np.linspace(-half, half, PLACES)
    moved = np.zeros((len(curvature), PLACES, 3))
    if case.direction == "Z":
        gantry = y - lay.spindle_y - lay.side_y
        height, pitch = _ride(gantry, machine.y_guides.places(), case, curvature, supports)
        moved[..., 1] = -pitch * (lay.tip_z - lay.y_carriage[1])
        moved[..., 2] = height + pitch * lay.spindle_y
    return _path("Y", y, moved, 1)


def _path(axis: str, place: Floats, moved: Floats, along: int) -> HeatPath:
    moved = moved - moved[:, PLACES // 2 : PLACES // 2 + 1]
    across = [k for k in range(3) if k != along]
    base = np.stack([place, np.ones_like(place)], axis=1)
    best = np.linalg.lstsq(base, moved[..., across].swapaxes(0, 1).reshape(PLACES, -1), rcond=None)[0]
    fitted = (base @ best).reshape(PLACES, len(moved), 2).swapaxes(0, 1)
    left = np.linalg.norm(moved[..., across] - fitted, axis=-1)
    worst = int(np.argmax(left.max(axis=0)))
    return HeatPath(axis, place, moved, left, float(left.max()), float(place[worst]),
                    _two(moved[:, -1, along] - moved[:, 0, along]))  # fmt: skip


def _two(values: Floats) -> tuple[float, float]:
    return float(values[0]), float(values[1])
