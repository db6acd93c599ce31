"""The drilling and marking list: every hole and joint of every rail from one end, running and from one to the next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from core.fasteners.behind import Stretch, about_behind, behind
from core.fasteners.rails import RailAnswer
from core.fasteners.screws import Screw, screw
from core.fasteners.site import held
from core.findings import Finding
from core.machine.fastening import RailFastening
from core.machine.guides import RAILS
from core.machine.layout import Layout
from core.machine.project import Project
from core.units import UnitSet, show

MarkKind = Literal["start", "hole", "joint", "end"]
ENDS = {"x": ("left", "right"), "y": ("front", "back"), "z": ("lower", "upper")}
"""Words for the start and the end of the rails of each axis."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One line of the list.

    Attributes:
        kind: the rail's end, a hole or a joint of two pieces. number: of the hole or joint, from 1; 0 for ends.
        place: from the rail's start, m. piece: number of the piece it lies on (a joint: the piece before it).
        behind: what lies behind the face there; empty for nothing.
    """

    kind: MarkKind
    number: int
    place: float
    piece: int
    behind: str = ""


@dataclass(frozen=True, slots=True)
class RailMarks:
    """All marks of one rail, rising.

    Attributes:
        beam: what it lies on. beam_length: m. margin: from the beam's end to the rail's, m (the rail lies in the middle);
            negative when the rail sticks out.
        work: what is done at each hole, with the drill. hole, counterbore, width: of the rail, m.
        ends: words for start and end. behind: parts behind the face.
    """

    key: str
    label: str
    axis: str
    length: float
    beam: str
    beam_length: float
    margin: float
    work: str
    width: float
    hole: float
    counterbore: float
    ends: tuple[str, str]
    behind: tuple[Stretch, ...]
    marks: tuple[Mark, ...]

    @property
    def holes(self) -> tuple[Mark, ...]:
        return tuple(mark for mark in self.marks if mark.kind == "hole")


@dataclass(frozen=True, slots=True)
class DrillAnswer:
    """The lists of all rails.

    Attributes:
        rails: their marks. alike: by axis, whether the holes of its two rails stand at the same places.
        findings: nuts that cannot be reached.
    """

    rails: tuple[RailMarks, ...]
    alike: dict[str, bool]
    findings: tuple[Finding, ...]


def find_drilling(project: Project, lay: Layout, rails: tuple[RailAnswer, ...]) -> DrillAnswer:
    """The list for every rail of a project."""
    made = tuple(_marks(project, lay, rail) for rail in rails)
    alike = {
        axis: len({rail.holes for rail in rails if rail.axis == axis}) == 1
        for axis in dict.fromkeys(rail.axis for rail in rails)
    }
    return DrillAnswer(made, alike, tuple(about_behind(project, lay, rails)))


def _marks(project: Project, lay: Layout, rail: RailAnswer) -> RailMarks:
    beam, length = {
        "x": ("gantry beam", lay.beam_length),
        "y": ("side beam", lay.side_beam_length),
        "z": ("head plate", lay.z_rail_length),
    }[rail.axis]
    data, parts = RAILS[rail.size], behind(project, lay, rail.axis)
    marks = tuple(_lines(rail, parts))
    fastening = held(project)[rail.axis][0]
    return RailMarks(
        key=rail.key,
        label=rail.label,
        axis=rail.axis,
        length=rail.length,
        beam=beam,
        beam_length=length,
        margin=(length - rail.length) / 2.0,
        work=_work(project, rail, fastening),
        width=data.rail_width,
        hole=data.hole_diameter,
        counterbore=data.counterbore_diameter,
        ends=ENDS[rail.axis],
        behind=parts,
        marks=marks,
    )


def _work(project: Project, rail: RailAnswer, fastening: RailFastening) -> str:
    """What is done at each hole; where the screws cannot hold yet, that nothing is to be drilled."""
    if rail.screw_length is None or (rail.hold == "T-nut" and not rail.on_slot):
        return "Drill nothing yet: as described no screw holds this rail."
    return work_words(rail.hold, screw(rail.screw), fastening.nut_kind, project.units)


def _lines(rail: RailAnswer, parts: tuple[Stretch, ...]) -> Iterator[Mark]:
    yield Mark("start", 0, 0.0, 1)
    for piece in rail.pieces:
        for number in range(piece.holes[0], piece.holes[1] + 1 if piece.holes[0] else 0):
            place = rail.holes[number - 1]
            names = ", ".join(part.what for part in parts if part.covers(place))
            yield Mark("hole", number, place, piece.number, names)
        if piece.number < len(rail.pieces):
            names = ", ".join(part.what for part in parts if part.covers(piece.end))
            yield Mark("joint", piece.number, piece.end, piece.number, names)
    yield Mark("end", 0, rail.length, len(rail.pieces))


def _drill(diameter: float, units: UnitSet) -> str:
    """A drill for a metric thread is a metric one, whatever the project's unit."""
    metric = f"{round(diameter * 1e4 + 1e-6) / 10.0:g} mm"
    return metric if units.length == "mm" else f"{metric} ({show(diameter, 'length', units)})"


def work_words(hold: str, size: Screw, nut_kind: str, units: UnitSet) -> str:
    """What is done at each hole; the tapping drill is thread less pitch (common practice)."""
    tap, through = (_drill(d, units) for d in (size.diameter - size.pitch, size.hole))
    return {
        "T-nut": f"Nothing is drilled: mark where each {nut_kind} T-nut {size.thread} stands.",
        "tapped wall": f"Drill {tap} and tap {size.thread}.",
        "tapped bar": f"Drill the wall {through}; drill the bar inside {tap} and tap it {size.thread}.",
        "rivet nut": f"Drill for rivet nuts {size.thread} as their data sheet says.",
        "through bolt": f"Drill {through} through both walls, from both sides.",
    }[hold]
