"""Every carriage of the machine with a plain name, its place and which way it presses on its rail."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.machine.layout import Layout
from core.machine.project import Machine

Axis = Literal["X", "Y", "Z"]
PATHS: dict[str, str] = {"X": "machine.x_guides", "Y": "machine.y_guides", "Z": "machine.head.guides"}


@dataclass(frozen=True, slots=True)
class Carriage:
    """One carriage.

    Attributes:
        name: plain name ("Y, left, front"). axis: of its guides.
        point: place with the tool in the middle of the table, table coordinates, m.
        presses: +1 when the frame's spring along its normal shortens the way from carriage to rail under a movement of the
            riding body along the spring's direction, else -1; times the spring's force gives the pressing force.
    """

    name: str
    axis: Axis
    point: tuple[float, float, float]
    presses: float

    @property
    def path(self) -> str:
        """Dotted path of its guides in the project."""
        return PATHS[self.axis]


def _row(count: int, first: str, last: str) -> list[str]:
    """Words for the carriages of one rail in order."""
    if count == 1:
        return [""]
    between = {2: [], 3: ["middle"], 4: [f"next to {first}", f"next to {last}"]}[count]
    return [first, *between, last]


def _name(*words: str) -> str:
    return ", ".join(word for word in words if word)


def carriages(machine: Machine, lay: Layout) -> tuple[Carriage, ...]:
    """All carriages in the order of the model's springs: X rail by rail, Y side by side, Z rail by rail."""
    datum = lay.gantry_y(0.0)
    found = []
    front = machine.gantry.beam.rail_face == "front"
    rails = ("lower rail", "upper rail") if front else ("front rail", "back rail")
    guides = machine.x_guides
    for rail, (y, z) in zip(rails, lay.x_carriages, strict=True):
        for word, place in zip(_row(guides.carriages, "left", "right"), guides.places(), strict=True):
            # In front of the beam the saddle presses along +Y; on top of it along -Z.
            found.append(Carriage(_name("X", rail, word), "X", (place, datum + y, z), 1.0 if front else -1.0))
    guides = machine.y_guides
    top = machine.base.rail_face == "top"
    for side, sign in (("left", -1.0), ("right", 1.0)):
        x = sign * (lay.upright_spacing / 2.0 + lay.y_carriage[0])
        for word, place in zip(_row(guides.carriages, "front", "back"), guides.places(), strict=True):
            # On top the foot plate presses along -Z; outside the side beam towards the machine's middle.
            presses = -1.0 if top else -sign
            found.append(
                Carriage(_name("Y", side, word), "Y", (x, datum + place, lay.y_carriage[1]), presses)
            )
    guides = machine.head.guides
    for rail, sign in (("left rail", -1.0), ("right rail", 1.0)):
        for word, place in zip(_row(guides.carriages, "lower", "upper"), guides.places(), strict=True):
            point = (sign * guides.rail_spacing / 2.0, datum + lay.z_carriage_y, lay.z_carriage_z + place)
            found.append(Carriage(_name("Z", rail, word), "Z", point, 1.0))  # the head stands in front
    return tuple(found)
