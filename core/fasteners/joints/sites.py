"""What every kind of joint is made of: one `JointSite` names the parts that meet, the face and the usual screws.

The sites themselves are listed in `gantry_sites`, `axis_sites` and `base_sites`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.fasteners.ground import find_ground, lines
from core.fasteners.joints.layers import BAR, Layer, Partner
from core.fasteners.joints.pattern import EDGE, Wish
from core.fasteners.screws import screw
from core.fasteners.stack import Ground
from core.machine.joints import Joint
from core.materials import material
from core.sections import FlatBar, RoundSolid, Section, SectionProperties, TSlot, piece_at
from core.sections.outlines import Face

PLATE = 0.012  # m, a flange or bracket that nobody has entered
END_ROOM = 0.06  # m of metal that a hole into the end of a solid bar finds


@dataclass(frozen=True, slots=True)
class JointSite:
    """One kind of joint before its screws are chosen.

    Attributes:
        key, label: "seat", "Uprights to beam". path: of its entries. joint: the entries.
        names: every such joint in the machine.
        clamped: parts under the heads. partner: what holds the thread. lines: slots that rows stand on, m across.
        face: along and across, m. axes: letters of the machine's axes along the rows, across them.
        thread: usual screw. wish: usual pattern. strong: a bar rather than a rivet nut behind a thin wall.
        welds: whether welding is usual here. box: width and height of a weld all round, m. can_weld: whether it is possible.
        offset: the joint's middle from the middle of the face, m across; `lines` count from the joint's middle.
        bar: length along of the bar that stands on the clamped plate, m; 0 where no bar pulls at it from between the screws.
        cut: how many of these joints are cut shorter, and to what length along, m.
        every_line: slots of the whole face from its middle, where `lines` holds only some of them.
        bores, bore: u and v of the core bores that the screws go into, and their diameter, m; 0 where there are none.
        room, clear: width that a part along the rails finds beside carriages, and beside the rails alone, m.
        stock: whether the clamped part is a plate or foot that is described nowhere, so that its thickness may be chosen.
    """

    key: str
    label: str
    path: str
    joint: Joint
    names: tuple[str, ...]
    clamped: tuple[Layer, ...]
    partner: Partner
    face: tuple[float, float]
    axes: tuple[str, str]
    thread: str
    wish: Wish
    lines: tuple[float, ...] = ()
    strong: bool = True
    welds: bool = False
    box: tuple[float, float] = (0.0, 0.0)
    can_weld: bool = True
    stock: bool = False
    offset: float = 0.0
    every_line: tuple[float, ...] = ()
    cut: tuple[int, float] = (0, 0.0)
    bar: float = 0.0
    room: float = math.inf
    clear: float = math.inf
    bores: tuple[tuple[float, ...], tuple[float, ...]] = ((), ())
    bore: float = 0.0

    @property
    def lines_of_face(self) -> tuple[float, ...]:
        """Slots of the whole face, m across from its middle, rising."""
        return self.every_line or tuple(line + self.offset for line in self.lines)


def clamp(joint: Joint, what: str, thickness: float, metal: str) -> tuple[Layer, ...]:
    """The clamped part, as thick as entered or as given."""
    return (Layer(what, joint.plate or thickness, metal, "clamped"),)


def edge_thread(width: float, most: str = "M8") -> str:
    """The largest screw up to `most` that keeps one and a half diameters to both edges of a width, m (common practice)."""
    sizes = ("M8", "M6", "M5", "M4", "M3")
    rest = sizes[sizes.index(most) :]
    return next((thread for thread in rest if 2.0 * EDGE * screw(thread).diameter <= width + 1e-9), "M3")


def solid(section: Section) -> bool:
    """Whether a bar is massive."""
    return isinstance(section, FlatBar | RoundSolid)


def plate_partner(what: str, metal: str, thickness: float) -> Partner:
    """A plate that is tapped."""
    ground = Ground(material(metal).family, thickness, thickness, thickness)
    return Partner(what, metal, ground)


def bar_partner(
    what: str, section: Section, turned: bool, shape: SectionProperties, metal: str, face: Face
) -> tuple[Partner, tuple[float, ...]]:
    """A face of a bar, and the slots in it."""
    ground = find_ground(section, turned, shape, metal, face)
    piece = piece_at(section, turned, face)
    slots = lines(section, turned, face)
    slot = piece.slot_opening if isinstance(piece, TSlot) and slots else 0.0
    return Partner(what, metal, ground, slot=slot, hollow=not solid(section)), slots if slot else ()


def end_partner(what: str, section: Section, metal: str) -> Partner:
    """The end of a bar: massive metal, the core bores of a slotted profile, or a plate welded into a tube."""
    family = material(metal).family
    if solid(section) or isinstance(section, TSlot):
        return Partner(f"end of the {what}", metal, Ground(family, END_ROOM, END_ROOM, END_ROOM))
    plate = Ground(family, BAR, BAR + END_ROOM, BAR)
    return Partner(f"plate in the end of the {what}", metal, plate, hollow=True)


def steel(*metals: str) -> bool:
    """Whether all of these are steel, so that welding is usual."""
    return all(material(metal).family == "steel" for metal in metals)
