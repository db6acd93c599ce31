"""Gantry beam and side beams with their steel rails as bonded pairs, and what their bow does to the tool tip's path.

A plate of another metal bows its beam by itself; what rails that hold add to that is reckoned about the axis of all. Joints do
not hinder a beam from turning; both are upper bounds.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.bars.two_metals import curvature_by_heat, expansion_by_heat
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
    """A beam with `rails` rails on the face in `direction`; `toward` (+1 or -1) is their side of it along that axis.

    Attributes:
        across: the other direction across the beam. beside: how far the centroid is off the middle towards the rails, m.
        expansion: of beam and plate together, 1/K. plate: curvature by the plate alone, its ends towards the rails, 1/(m K);
        plate_across: the same in the other direction, its ends towards + of that axis. rail_length, length: m.
    """

    key: str
    label: str
    direction: str
    across: str
    toward: float
    shape: SectionProperties
    metal: str
    guides: Guides
    rails: int
    packing: float
    rail_length: float
    length: float
    beside: float
    expansion: float
    plate: float
    plate_across: float

    def lines(self, x: Floats, changes: Floats, supports: Floats, hold: bool) -> tuple[Floats, Floats]:
        """Heights (2, n) in both directions at x (n,), ends towards + of each axis, with rails that hold or slide."""
        whole = (-self.length / 2.0, self.length / 2.0)
        along = bow_line(x, self.toward * self.plate * changes, whole, supports)
        if hold:
            along = along + self.toward * self.by_rails(x, changes, supports)
        return along, bow_line(x, self.plate_across * changes, whole, supports)

    def by_rails(self, x: Floats, changes: Floats, supports: Floats) -> Floats:
        """(2, n) what rails that hold add, ends towards the rails."""
        patch = (-self.rail_length / 2.0, self.rail_length / 2.0)
        return bow_line(x, _pair(self).curvature(changes) - self.plate * changes, patch, supports)


def _cases(setting: Setting) -> tuple[_Case, _Case]:
    machine, lay = setting.machine, setting.layout
    beam, base = machine.gantry.beam, machine.base
    front, top = beam.rail_face == "front", base.rail_face == "top"
    # A section's y runs along the machine's Y in the beam; in side beams its left face is the outer one.
    shape, side = lay.sections.beam, lay.sections.side_beam
    y, z = curvature_by_heat(beam.section, beam.material, beam.turned)
    out, up = curvature_by_heat(base.section, base.material, base.turned)
    return (
        _Case(
            "beam", "Gantry beam", *(("Y", "Z", -1.0) if front else ("Z", "Y", 1.0)), shape, beam.material,
            machine.x_guides, 2, beam.rail_fastening.under_rail, min(lay.x_rail_length, lay.beam_length), lay.beam_length,
            -shape.centroid_y if front else shape.centroid_z, expansion_by_heat(beam.section, beam.material),
            *((y, -z) if front else (-z, -y)),
        ),
        _Case(
            "side_beams", "Side beams", *(("Z", "X", 1.0) if top else ("X", "Z", 1.0)), side, base.material,
            machine.y_guides, 1, base.rail_fastening.under_rail, min(lay.y_rail_length, lay.side_beam_length),
            lay.side_beam_length, side.centroid_z if top else -side.centroid_y,
            expansion_by_heat(base.section, base.material), *((-up, out) if top else (out, -up)),
        ),
    )  # fmt: skip


def _pair(case: _Case) -> Pair:
    """Rail area from its mass per length, its second moment as of a rectangle of its height."""
    data, metal, steel = case.guides.data, material(case.metal), material(RAIL_METAL)
    upright = case.direction == "Z"
    second = case.shape.iyy if upright else case.shape.izz
    half = (case.shape.height if upright else case.shape.width) / 2.0
    area = case.rails * data.linear_mass / steel.density
    rail = Bar(steel.young, area, area * data.rail_height**2 / 12.0, steel.expansion)
    own = Bar(metal.young, case.shape.area, second, case.expansion)
    return Pair(own, rail, half - case.beside + case.packing + data.rail_height / 2.0, case.plate)


def find_bows(setting: Setting, changes: Floats) -> tuple[tuple[Bow, ...], tuple[HeatPath, ...]]:
    """Bow of the gantry beam and the side beams, and the tip's path along X and Y, for changes (2,) K."""
    beam, side = _cases(setting)
    lay = setting.layout
    beam_supports = np.array([-lay.joint_x, lay.joint_x])
    side_supports = np.array(support_places(setting.machine, lay)) - lay.side_y
    bows = _bow(beam, changes, beam_supports), _bow(side, changes, side_supports)
    both = (
        [_path_x(setting, beam, changes, beam_supports, hold) for hold in (True, False)],
        [_path_y(setting, side, changes, side_supports, hold) for hold in (True, False)],
    )
    return bows, tuple(
        max(ways, key=lambda path: path.worst) for ways in both
    )  # of two alike the one that holds


def _bow(case: _Case, changes: Floats, supports: Floats) -> Bow:
    pair = _pair(case)
    x, outer = np.linspace(supports[0], supports[-1], 4 * PLACES + 1), supports[[0, -1]]
    plate, across = case.lines(x, changes, outer, False)
    whole, _ = case.lines(x, changes, outer, True)
    held, _ = case.lines(x, changes, supports, True)
    # The end of a rail that slides: by unlike growth, and by the beam's turning under it.
    unlike = (
        (pair.beam.expansion - pair.rail.expansion - pair.distance * case.plate)
        * changes
        * case.rail_length
        / 2.0
    )
    bolt = screw(case.guides.data.screw).diameter
    bows = case.plate != 0.0 or case.plate_across != 0.0
    return Bow(
        case.key, case.label, case.direction, pair.distance, _two(pair.curvature(changes)),
        _two(_largest(case.by_rails(x, changes, outer))), _two(_largest(case.toward * held)),
        _two(pair.force(changes) / case.rails), _two(unlike), max(0.0, (case.guides.data.hole_diameter - bolt) / 2.0),
        _two(_largest(case.toward * plate)), _two(_largest(case.toward * whole)), case.across if bows else "",
        _two(_largest(across)),
    )  # fmt: skip


def _largest(lines: Floats) -> Floats:
    """The figure of largest size of each line, with its sign."""
    at = np.argmax(np.abs(lines), axis=1)
    return np.asarray(lines[np.arange(len(lines)), at])


@dataclass(frozen=True, slots=True)
class _Ride:
    """What rides a beam in both directions: height and slope (2, n) along, height and slope across."""

    height: Floats
    slope: Floats
    height_across: Floats
    slope_across: Floats


def _ride(
    at: Floats, places: tuple[float, ...], case: _Case, changes: Floats, supports: Floats, hold: bool
) -> _Ride:
    """How what rides the lines on carriages at `places` from `at` (n,) is moved, towards + of each axis."""
    offsets = np.array(places if len(places) > 1 else (-0.001, 0.001))
    spots = at[:, None] + offsets[None, :]
    found: list[Floats] = []
    for line in case.lines(spots.ravel(), changes, supports, hold):
        lines = line.reshape(len(changes), *spots.shape)
        found += [lines.mean(axis=-1), (lines @ offsets) / float(offsets @ offsets)]
    return _Ride(*found)


def _path_x(setting: Setting, case: _Case, changes: Floats, supports: Floats, hold: bool) -> HeatPath:
    """A bow to the front: the saddle yaws; a bow upwards: it rolls over the beam. Either way the arm moves the tip along X."""
    machine, lay = setting.machine, setting.layout
    half = machine.work.travel_x / 2.0
    x = np.linspace(-half, half, PLACES)
    ride = _ride(x, machine.x_guides.places(), case, changes, supports, hold)
    arms = {
        "Y": lay.spindle_y - sum(y for y, _ in lay.x_carriages) / 2.0,
        "Z": lay.tip_z - sum(z for _, z in lay.x_carriages) / 2.0,
    }
    moved = np.zeros((len(changes), PLACES, 3))
    both = ((case.direction, ride.height, ride.slope), (case.across, ride.height_across, ride.slope_across))
    for way, height, slope in both:
        moved[..., 0] -= slope * arms[way]
        moved[..., "XYZ".index(way)] += height
    return _path("X", x, moved, 0, hold)


def _path_y(setting: Setting, case: _Case, changes: Floats, supports: Floats, hold: bool) -> HeatPath:
    """A bow upwards: the gantry rises and pitches. Sideways both sides bow apart alike and the tip stays."""
    machine, lay = setting.machine, setting.layout
    half = machine.work.travel_y / 2.0
    y = np.linspace(-half, half, PLACES)
    gantry = y - lay.spindle_y - lay.side_y
    ride = _ride(gantry, machine.y_guides.places(), case, changes, supports, hold)
    up = case.direction == "Z"
    height, pitch = (ride.height, ride.slope) if up else (ride.height_across, ride.slope_across)
    moved = np.zeros((len(changes), PLACES, 3))
    moved[..., 1] = -pitch * (lay.tip_z - lay.y_carriage[1])
    moved[..., 2] = height + pitch * lay.spindle_y
    return _path("Y", y, moved, 1, hold)


def _path(axis: str, place: Floats, moved: Floats, along: int, hold: bool) -> HeatPath:
    moved = moved - moved[:, PLACES // 2 : PLACES // 2 + 1]
    across = [k for k in range(3) if k != along]
    base = np.stack([place, np.ones_like(place)], axis=1)
    best = np.linalg.lstsq(base, moved[..., across].swapaxes(0, 1).reshape(PLACES, -1), rcond=None)[0]
    fitted = (base @ best).reshape(PLACES, len(moved), 2).swapaxes(0, 1)
    left = np.linalg.norm(moved[..., across] - fitted, axis=-1)
    worst = int(np.argmax(left.max(axis=0)))
    return HeatPath(axis, place, moved, left, float(left.max()), float(place[worst]),
                    _two(moved[:, -1, along] - moved[:, 0, along]), "hold" if hold else "slide")  # fmt: skip


def _two(values: Floats) -> tuple[float, float]:
    return float(values[0]), float(values[1])
