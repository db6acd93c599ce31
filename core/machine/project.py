"""The whole project: the machine, its load cases and limits, the variants to compare and how to show figures."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from core.errors import BadEntry
from core.fields import Band, Described, Spec, band
from core.machine.base import Base
from core.machine.drives import BallScrew, Drive, RackPinion
from core.machine.fastening import HoleWork
from core.machine.form import Straightness
from core.machine.gantry import Gantry
from core.machine.guides import Guides
from core.machine.head import Cutter, Head, Saddle
from core.machine.heat import Heat
from core.machine.interim import InterimWork
from core.machine.joints import Joints
from core.machine.loads import DirectForce, Limits, LoadCase
from core.machine.motion import Motion
from core.machine.ordering import Budget, OwnPart, Purchase, StockRow
from core.machine.prices import Prices
from core.machine.saw import OwnPiece, Saw, StockBar
from core.machine.sheet import SheetValues, check_sheets
from core.machine.variants import Variant, check_variants
from core.units import UnitSet

# Every component that the model can hold rigid and that appears in the compliance budget, with its words.
COMPONENTS: dict[str, str] = {
    "cutter": "Cutter shank",
    "spindle_mount": "Spindle mount",
    "head_plate": "Head plate",
    "z_guides": "Z carriages",
    "z_drive": "Z drive",
    "saddle": "Saddle plate",
    "x_guides": "X carriages",
    "x_drive": "X drive",
    "beam": "Gantry beam",
    "beam_joint": "Beam to upright joints",
    "uprights": "Uprights",
    "foot_plates": "Foot plates",
    "y_guides": "Y carriages",
    "y_drive": "Y drives",
    "side_beams": "Side beams",
    "stand": "Legs, cross members and feet",
}
Component = Literal[
    "cutter",
    "spindle_mount",
    "head_plate",
    "z_guides",
    "z_drive",
    "saddle",
    "x_guides",
    "x_drive",
    "beam",
    "beam_joint",
    "uprights",
    "foot_plates",
    "y_guides",
    "y_drive",
    "side_beams",
    "stand",
]


class WorkArea(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Where the tool tip can go, and the room under the beam."""

    travel_x: Annotated[
        float, Spec("length", 0.05, 10.0, "Travel along X", "Across the table, along the gantry beam.")
    ] = 1.3
    travel_y: Annotated[
        float, Spec("length", 0.05, 20.0, "Travel along Y", "Along the table, the gantry's travel.")
    ] = 2.5
    clearance: Annotated[
        float,
        Spec(
            "length",
            0.0,
            2.0,
            "Clearance under the beam",
            "From the table's surface to the beam's underside.",
        ),
    ] = 0.18
    margin_x: Annotated[
        float,
        Spec(
            "length",
            0.0,
            1.0,
            "Room beyond the X travel",
            "Between the saddle at its end and the upright, each side.",
        ),
    ] = 0.04
    margin_y: Annotated[
        float,
        Spec(
            "length",
            0.0,
            1.0,
            "Room beyond the Y travel",
            "Between the outer carriage at its end and the rail's end, each side.",
        ),
    ] = 0.03


MOST_DAMPING = 0.3


class Machine(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One moving-gantry router."""

    work: Annotated[WorkArea, Spec("count", None, None, "Work area")] = WorkArea()
    gantry: Annotated[Gantry, Spec("count", None, None, "Gantry")] = Gantry()
    x_guides: Annotated[Guides, Spec("count", None, None, "X guides")] = Guides(
        size=20, carriages=2, spread=0.18, rail_spacing=0.08
    )
    y_guides: Annotated[Guides, Spec("count", None, None, "Y guides")] = Guides(
        size=20, carriages=2, spread=0.25
    )
    saddle: Annotated[Saddle, Spec("count", None, None, "Saddle")] = Saddle()
    head: Annotated[Head, Spec("count", None, None, "Head")] = Head()
    cutter: Annotated[Cutter, Spec("count", None, None, "Cutter")] = Cutter()
    x_drive: Annotated[Drive, Spec("count", None, None, "X drive")] = BallScrew()
    y_drive: Annotated[Drive, Spec("count", None, None, "Y drive, each side")] = RackPinion()
    motion: Annotated[Motion, Spec("count", None, None, "Motion")] = Motion()
    base: Annotated[Base, Spec("count", None, None, "Base")] = Base()
    joints: Annotated[Joints, Spec("count", None, None, "Joints")] = Joints()
    tip_height: Annotated[
        float,
        Spec(
            "length",
            0.0,
            1.0,
            "Tool tip above the table",
            "Height at which the answers are given; 0 is the softest place.",
        ),
    ] = 0.0
    rigid: tuple[Component, ...] = ()
    datasheet: Annotated[
        tuple[SheetValues, ...],
        Spec(
            "count", None, None, "Values of data sheets", "A typed figure counts instead of the computed one."
        ),
    ] = ()
    temperature: Annotated[float, Spec("temperature", -40.0, 60.0, "Shop temperature when set up")] = 20.0
    damping: Annotated[
        Band,
        Spec(
            "share",
            None,
            None,
            "Damping of each mode",
            "Share of critical damping: 1 to 4 % is common practice for bolted and welded machines; a tap test is better.",
        ),
    ] = band(0.01, 0.02, 0.04)

    def check(self) -> None:
        if self.tip_height > self.head.travel:
            raise BadEntry(
                "tip_height",
                f"{self.tip_height * 1000:g} mm",
                "is above the Z travel",
                f"0 to {self.head.travel * 1000:g} mm",
            )
        check_sheets(self.datasheet)
        if self.damping.high > MOST_DAMPING:
            raise BadEntry(
                "damping",
                f"{self.damping.high:g}",
                "is more than a machine has",
                f"up to {MOST_DAMPING:g} (30 %)",
            )


class Display(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The units in which figures are shown and bare numbers are read."""

    length: Annotated[Literal["mm", "in"], Spec("count", None, None, "Lengths in")] = "mm"
    force: Annotated[Literal["N", "lbf"], Spec("count", None, None, "Forces in")] = "N"


class Project(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Everything that a project file holds."""

    name: Annotated[str, Spec("count", None, None, "Project name")] = "New machine"
    note: Annotated[str, Spec("count", None, None, "Note")] = ""
    machine: Annotated[Machine, Spec("count", None, None, "Machine")] = Machine()
    cases: Annotated[tuple[LoadCase, ...], Spec("count", None, None, "Load cases")] = (
        LoadCase(name="Finishing pass", load=DirectForce(x=30.0, z=10.0), limit=0.0001),
        LoadCase(name="Roughing pass", load=DirectForce(x=120.0, z=40.0), limit=0.0005),
    )
    limits: Annotated[Limits, Spec("count", None, None, "Limits")] = Limits()
    variants: Annotated[tuple[Variant, ...], Spec("count", None, None, "Variants to compare")] = ()
    display: Annotated[Display, Spec("count", None, None, "Units")] = Display()
    heat: Annotated[Heat, Spec("count", None, None, "Heat")] = Heat()
    straightness: Annotated[Straightness, Spec("count", None, None, "Straightness")] = Straightness()
    prices: Annotated[Prices, Spec("count", None, None, "Prices")] = Prices()
    own_parts: Annotated[tuple[OwnPart, ...], Spec("count", None, None, "Parts of your own")] = ()
    stock: Annotated[tuple[StockRow, ...], Spec("count", None, None, "Stock")] = ()
    purchases: Annotated[tuple[Purchase, ...], Spec("count", None, None, "Other purchases")] = ()
    budget: Annotated[Budget, Spec("count", None, None, "Budget")] = Budget()
    hole_work: Annotated[HoleWork, Spec("count", None, None, "Work on each hole")] = HoleWork()
    saw: Annotated[Saw, Spec("count", None, None, "Saw")] = Saw()
    stock_bars: Annotated[tuple[StockBar, ...], Spec("count", None, None, "Bars to cut from")] = ()
    own_pieces: Annotated[tuple[OwnPiece, ...], Spec("count", None, None, "Pieces of your own")] = ()
    interim: Annotated[InterimWork, Spec("count", None, None, "While parts are missing")] = InterimWork()

    @property
    def units(self) -> UnitSet:
        """The units that figures are shown in and bare numbers are read in."""
        return UnitSet(self.display.length, self.display.force)

    def check(self) -> None:
        if not self.cases:
            raise BadEntry("cases", "no load case", "leaves nothing to answer", "at least one load case")
        names = [case.name for case in self.cases]
        if len(set(names)) < len(names):
            raise BadEntry(
                "cases", ", ".join(names), "hold one name twice", "a name of its own for each load case"
            )
        check_variants(self.variants)
        for where, keys in (
            ("own_parts", [part.key for part in self.own_parts]),
            ("stock", [row.part for row in self.stock]),
        ):
            if len(set(keys)) < len(keys):
                twice = next(key for key in keys if keys.count(key) > 1)
                raise BadEntry(where, repr(twice), "stands twice", "each part once")


def replace_at(struct: msgspec.Struct, path: str, value: object) -> msgspec.Struct:
    """A copy of `struct` with the entry at a dotted path replaced ("machine.gantry.beam.length", "cases.0.limit").

    Only the structs along the path are copied. Raises BadEntry when the path names nothing or the value is not
    accepted; the error's `where` is the whole path.
    """
    head, _, rest = path.partition(".")
    if head not in struct.__struct_fields__:
        raise BadEntry(path, "this entry", "does not exist", ", ".join(struct.__struct_fields__))
    inner = getattr(struct, head)
    try:
        if rest and isinstance(inner, tuple):
            new: object = _replace_in(inner, rest, value)
        else:
            new = replace_at(inner, rest, value) if rest else value
        made = msgspec.structs.replace(struct, **{head: new})
        made.__post_init__()  # type: ignore[attr-defined]  # replace() does not check by itself
    except BadEntry as error:
        if error.where == path or error.where.startswith(head + "."):
            raise
        where = f"{head}.{error.where}" if rest else path
        raise BadEntry(where, error.value, error.problem, error.accepted) from error
    return made


def _replace_in(items: tuple[object, ...], path: str, value: object) -> tuple[object, ...]:
    index_text, _, rest = path.partition(".")
    if not index_text.isdigit() or int(index_text) >= len(items):
        raise BadEntry(path, "this row", "does not exist", f"rows 0 to {len(items) - 1}")
    index = int(index_text)
    item = items[index]
    new = replace_at(item, rest, value) if rest and isinstance(item, msgspec.Struct) else value
    return (*items[:index], new, *items[index + 1 :])
