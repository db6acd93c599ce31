"""The base by itself: how its feet, its rails and the points under the Y carriages follow each other's forces.

The base is solved once; every figure for any number of gantry places is then a product of small arrays.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame import Frame, Station, station_uniform
from core.frame.assemble import self_weight, weight_per_length
from core.frame.station import station_blocks, station_dofs, station_pairs
from core.machine.base import Legs
from core.machine.layout import support_places
from core.model.base import SIDES
from core.model.condensed import Base, base_alone, on_side_beams, pieces_under
from core.model.contact import Contact, ContactTable, y_contacts, y_table
from core.model.setting import Setting

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Foot:
    """A foot, or a support on the floor.

    Attributes:
        side: "left" or "right". number: from the front, beginning with one. x, y: place, m.
        gap: how far the floor lies too low under it, m.
    """

    side: str
    number: int
    x: float
    y: float
    gap: float

    @property
    def name(self) -> str:
        """In words: "left foot 2"."""
        return f"{self.side} foot {self.number}"


@dataclass(frozen=True, slots=True)
class Points:
    """Directions at s points on the side beams for n gantry places.

    Attributes:
        reach (n, s, d): movement along each direction by the base's nodes. held (n, s): the same by the side beams' own
            weight with their nodes held, m. member (n, s), xi (n, s), lower (n, s, 6): where they are and how they follow.
    """

    reach: Floats
    held: Floats
    member: Ints
    xi: Floats
    lower: Floats


@dataclass(frozen=True, slots=True)
class Standing:
    """The base, solved.

    Attributes:
        setting, frame: description and frame. moved (d, d): its flexibility. weight (d,): movement under its own weight.
        own_weight: N. feet: every foot. foot_dofs (f,): their vertical degrees of freedom. foot_stiffness: N/m, upright.
        lifts: whether a foot only presses (legs stand, supports are bolted down).
    """

    setting: Setting
    frame: Frame
    moved: Floats
    weight: Floats
    own_weight: float
    feet: tuple[Foot, ...]
    foot_dofs: Ints
    foot_stiffness: float
    lifts: bool

    def carriages(self, datum: Floats) -> Points:
        """The Y springs' points with the gantry's datum at every place (n,)."""
        return self._points(y_contacts(self.setting, float(datum[0])), y_table(self.setting, datum))

    def rails(self, datum: Floats, spread: Floats) -> Points:
        """Height of the left, then the right rail, each at datum + every spread (k,): (n, 2k) points."""
        lay = self.setting.layout
        row = [
            Contact(
                "",
                "",
                0.0,
                float(place),
                (sign * lay.side_x, float(place), lay.side_z),
                (0.0, 0.0, 1.0),
                1.0,
                side,
            )
            for side, sign in SIDES
            for place in spread
        ]
        points = np.array([[c.point for c in row]] * datum.size)
        points[..., 1] += datum[:, None]
        n, s = points.shape[:2]
        up = np.broadcast_to((0.0, 0.0, 1.0), (n, s, 3))
        return self._points(row, ContactTable(points[..., 1].copy(), points, up, np.ones((n, s))))

    def between(self, a: Points, b: Points) -> Floats:
        """(n, sa, sb) flexibility, m/N: movement of the points a by forces along the points b."""
        out = np.asarray(a.reach @ self.moved @ np.swapaxes(b.reach, -1, -2))
        row, one, other = np.nonzero(a.member[:, :, None] == b.member[:, None, :])
        pairs = station_pairs(self.frame, a.member[row, one], a.xi[row, one], b.xi[row, other])
        out[row, one, other] += (a.lower[row, one][:, None] @ pairs @ b.lower[row, other][..., None])[:, 0, 0]
        return out

    def at_feet(self, points: Points) -> Floats:
        """(n, f, s) height of the feet by forces along the points, and the other way round, m/N."""
        return np.asarray(self.moved[self.foot_dofs] @ np.swapaxes(points.reach, -1, -2))

    def sunk(self, points: Points) -> Floats:
        """(n, s) movement of the points under the base's own weight, m."""
        return np.asarray(points.reach @ self.weight + points.held)

    def _points(self, first: list[Contact], table: ContactTable) -> Points:
        frame = self.frame
        member, xi = pieces_under(self.setting, first, table)
        n, s = xi.shape
        lower = table.stretch(on_side_beams(self.setting, first, table))
        stations = Station(member.ravel(), xi.ravel())
        blocks = station_blocks(frame, stations).reshape(n, s, 6, 12)
        reach = np.zeros((n, s, frame.dofs))
        dofs = station_dofs(frame, stations).reshape(n, s, 12)
        np.put_along_axis(reach, dofs, (lower[..., None, :] @ blocks)[..., 0, :], axis=-1)
        line = station_uniform(frame, stations, weight_per_length(frame)).reshape(n, s, 6)
        return Points(reach, np.einsum("nsk,nsk->ns", lower, line), member, xi, lower)


def stand(setting: Setting, solved: Base | None = None) -> Standing:
    """The base with its feet. Raises Mechanism when it moves freely.

    Args:
        solved: the same base as solved before.
    """
    solved = base_alone(setting) if solved is None else solved
    frame, base = solved.frame, setting.machine.base
    legs = isinstance(base.stand, Legs)
    feet, dofs = [], []
    for side, sign in SIDES:
        for number, y in enumerate(support_places(setting.machine, setting.layout), start=1):
            gaps = [u.gap for u in base.uneven if (u.side, u.number) == (side, number)]
            feet.append(Foot(side, number, sign * setting.layout.side_x, y, gaps[-1] if gaps else 0.0))
            spring = frame.spring(f"{side} foot {number - 1} Z" if legs else f"{side} support {number - 1} Z")
            dofs.append(6 * int(frame.springs.i[spring]) + 2)
    found = np.array(dofs)
    return Standing(
        setting=setting, frame=frame, moved=solved.moved, weight=solved.weight,
        own_weight=-float(self_weight(frame)[2::6].sum()),
        feet=tuple(feet), foot_dofs=found, foot_stiffness=float(frame.springs.stiffness[spring]), lifts=legs,
    )  # fmt: skip
