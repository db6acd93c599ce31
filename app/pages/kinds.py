"""Plain words for the kinds that a selector offers, where the tag in the file alone would be shop-worn or vague."""

from __future__ import annotations

from core.machine.base import Diagonals, Floor, Legs, UnevenFoot
from core.machine.drives import BallScrew, KnownStiffness, RackPinion, ToothedBelt
from core.machine.loads import CutForce, DirectForce
from core.sections import (
    Angle,
    BoltedPlate,
    Channel,
    Datasheet,
    FlatBar,
    Outline,
    PlatedTube,
    RectangularHollow,
    RoundSolid,
    RoundTube,
    TSlot,
    TwoProfiles,
    WeldedBox,
)

KIND_WORDS: dict[type, str] = {
    RectangularHollow: "Rectangular or square hollow section",
    FlatBar: "Flat bar, plate or square bar",
    RoundSolid: "Round bar",
    RoundTube: "Round tube",
    Channel: "Channel (U)",
    Angle: "Angle (L)",
    TSlot: "T-slot profile",
    TwoProfiles: "Two profiles, stacked or side by side",
    PlatedTube: "Hollow tube with plates welded on",
    BoltedPlate: "Profile with a plate bolted on",
    WeldedBox: "Box welded from plate",
    Outline: "Outline from a drawing",
    Datasheet: "Values from a datasheet",
    KnownStiffness: "Known stiffness",
    BallScrew: "Ball screw",
    RackPinion: "Rack and pinion",
    ToothedBelt: "Toothed belt",
    DirectForce: "Direct force",
    CutForce: "Force from a cut",
    Legs: "Legs and cross members",
    Diagonals: "Diagonals",
    UnevenFoot: "Uneven foot",
    Floor: "Supports on the floor",
}
