"""Rails, carriages, beams and plates that are recorded as not here yet: where one is missing, no screw helps.

A part of which nothing is recorded is taken to be here: not everybody writes down every plate.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from core.fasteners.interim.answer import AxisInterim
from core.fasteners.rails import RailAnswer
from core.machine.project import Project
from core.parts.table import PartLine

SEATS = {"x": ("beam",), "y": ("side_beam",), "z": ("head_plate",)}
"""What the rails of an axis are screwed to."""
GANTRY = ("beam", "upright", "foot_plate", "y_carriage")
NEEDS = {
    "y": ("side_beam", "y_rail", *GANTRY),
    "x": (*GANTRY, "x_rail", "x_carriage", "saddle"),
    "z": ("saddle", "x_carriage", "head_plate", "z_rail", "z_carriage"),
}
"""Parts without which an axis cannot be put together far enough to be moved; rails in pieces begin with the same key."""


@dataclass(frozen=True, slots=True)
class Gone:
    """A part recorded as not all here: its key, words, pieces here and needed."""

    key: str
    what: str
    here: int
    needed: int

    @property
    def words(self) -> str:
        return f"{self.what} ({self.here} of {self.needed})"


def gone_parts(project: Project, parts: Iterable[PartLine]) -> tuple[Gone, ...]:
    """Parts that any axis needs and that are recorded as not all here, in the order of the parts list."""
    keys = {key for needs in NEEDS.values() for key in needs}
    rows = {row.part: row for row in project.stock}
    found = []
    for line in parts:
        row = rows.get(line.key)
        if row is None or _plain(line.key) not in keys:
            continue
        here = max(row.on_hand + row.arrived, row.fitted)
        if (here or row.ordered) and here < line.quantity:
            found.append(Gone(line.key, line.what, here, line.quantity))
    return tuple(found)


def fitting_rails(rails: Sequence[RailAnswer], gone: Sequence[Gone]) -> tuple[RailAnswer, ...]:
    """The rails that can be screwed on: here, with what they are screwed to. Of one rail out of two the first is taken."""
    by_key = {one.key: one for one in gone}
    left: dict[str, int] = {}
    for axis, seats in SEATS.items():
        whole = by_key.get(f"{axis}_rail")
        pieces = any(one.key.startswith(f"{axis}_rail_piece") for one in gone)
        seated = all(by_key[key].here > 0 for key in seats if key in by_key)
        many = len(rails) if whole is None else whole.here
        many = min([many, *(by_key[key].here for key in seats if axis == "y" and key in by_key)])
        left[axis] = 0 if pieces or not seated else many
    found = []
    for rail in rails:
        if left[rail.axis] > 0:
            found.append(rail)
            left[rail.axis] -= 1
    return tuple(found)


def held_by_bodies(axis: AxisInterim, gone: Sequence[Gone]) -> AxisInterim:
    """The state of an axis with the parts that are not here looked at too; never a freer one."""
    own = [one for one in gone if _plain(one.key) in NEEDS[axis.axis]]
    if not own:
        return axis
    text = f"Not here yet: {', '.join(one.words for one in own)}."
    return replace(axis, state="refused", reason=text, acceleration=None)


def _plain(key: str) -> str:
    """The key without the length of a piece."""
    return key.partition("_piece_")[0]
