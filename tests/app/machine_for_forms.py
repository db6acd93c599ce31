"""A small described thing, invented for the tests of forms: every kind of field once."""

from __future__ import annotations

import enum
from dataclasses import dataclass
from typing import Annotated, Literal

import msgspec


@dataclass(frozen=True)
class Spec:
    """Stands in for the engine's own: forms ask for these attributes only."""

    quantity: str
    low: float | None
    high: float | None
    label: str
    help: str = ""


class Side(enum.Enum):
    LEFT = "left"
    RIGHT = "right"


class Base(msgspec.Struct, frozen=True, kw_only=True):
    pass


class Tube(Base, tag_field="kind", tag="hollow_tube"):
    width: Annotated[float, Spec("length", 0.01, 0.5, "Width", "Outer width")] = 0.08
    wall: Annotated[float, Spec("length", 0.001, 0.02, "Wall")] = 0.004


class Bar(Base, tag_field="kind", tag="bar"):
    width: Annotated[float, Spec("length", 0.001, 0.5, "Width")]
    height: Annotated[float, Spec("length", 0.001, 0.5, "Height")]


class Band(Base):
    low: float
    likely: float
    high: float


class Case(Base):
    name: Annotated[str, Spec("", None, None, "Name")] = "finishing"
    force: Annotated[float, Spec("force", -5000.0, 5000.0, "Force")] = 50.0


class Beam(Base):
    section: Annotated[Tube | Bar, Spec("", None, None, "Section")] = Tube()
    material: Annotated[str, Spec("", None, None, "Material")] = "steel"
    length: Annotated[float | None, Spec("length", 0.05, 12.0, "Length", "Over both ends")] = None


class Machine(Base):
    travel: Annotated[float, Spec("length", 0.1, 10.0, "Travel", "How far the head goes")] = 1.5
    blocks: Annotated[int, Spec("count", 1, 8, "Blocks")] = 2
    turned: Annotated[bool, Spec("", None, None, "Turned")] = False
    drive: Literal["ball_screw", "rack"] = "rack"
    side: Side = Side.LEFT
    rigid: tuple[Literal["beam", "blocks", "joints"], ...] = ()
    stiffness: Annotated[Band, Spec("stiffness", 1e5, 1e10, "Stiffness")] = Band(
        low=1e8, likely=2e8, high=3e8
    )
    beam: Annotated[Beam, Spec("", None, None, "Gantry beam")] = Beam()
    plate: Annotated[Bar | None, Spec("", None, None, "Plate")] = None
    cases: tuple[Case, ...] = (Case(), Case(name="roughing", force=200.0))
