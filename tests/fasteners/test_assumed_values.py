"""Values that nobody outside confirms: common practice, estimates, memory. Who changes one changes it here too."""

from __future__ import annotations

import math
from importlib import import_module

import pytest

from core.fasteners.joints.tables import carriage_holes, motor_flanges

MM = 1e-3
# Module, name, value in SI, where it comes from.
VALUES: tuple[tuple[str, str, object, str], ...] = (
    ("stack", "ENGAGEMENT", {"steel": 1.0, "aluminium": 1.5, "other": 2.0}, "common practice, diameters of thread"),
    ("stack", "FREE_END", 0.5 * MM, "common practice"),
    ("stack", "SHOWING", 2.0, "common practice, pitches beyond a nut"),
    ("stack", "FEWEST_TURNS", 3.0, "common practice"),
    ("ground", "ON_LINE", 1 * MM, "side play of T-nuts, an estimate"),
    ("joints.layers", "BAR", 12 * MM, "an assumption, can be entered"),
    ("joints.layers", "NUT_PLAY", 1 * MM, "an estimate"),
    ("joints.layers", "NUT_THREAD", {"M3": 3 * MM, "M4": 4 * MM, "M5": 5.5 * MM, "M6": 6.5 * MM, "M8": 8.5 * MM,
                                     "M10": 10 * MM, "M12": 12 * MM}, "from memory, low; can be entered"),
    ("joints.pattern", "EDGE", 1.5, "common practice, diameters"),
    ("joints.pattern", "APART", 3.0, "common practice, diameters"),
    ("joints.axis_sites", "BRACKET", 15 * MM, "an assumption, can be entered"),
    ("joints.axis_sites", "SUPPORT", (50 * MM, 60 * MM, 20 * MM), "an assumption, can be entered"),
    ("joints.axis_sites", "HOUSING", (80 * MM, 80 * MM), "an assumption"),
    ("joints.axis_sites", "MOTOR_PLATE", 12 * MM, "an assumption, can be entered"),
    ("joints.axis_sites", "RACK_PITCH", 60 * MM, "common practice"),
    ("joints.gantry_sites", "SEAT_PLATE", 15 * MM, "an assumption, can be entered"),
    ("joints.gantry_sites", "FLANGE", 80 * MM, "an assumption"),
    ("joints.gantry_sites", "MOUNT", (80 * MM, 20 * MM), "an assumption, can be entered"),
    ("joints.base_sites", "HEAD_PLATE", 10 * MM, "an assumption, can be entered"),
    ("joints.base_sites", "END_PLATE", 10 * MM, "an assumption, can be entered"),
    ("joints.base_sites", "FOOT_PLATE", 8 * MM, "an assumption, can be entered"),
    ("joints.base_sites", "EARS", 40 * MM, "an assumption"),
    ("joints.sites", "PLATE", 12 * MM, "an assumption, can be entered"),
    ("joints.sites", "END_ROOM", 60 * MM, "an assumption"),
    ("strength.find", "SCATTER", {"torque wrench": 0.1, "by feel": 0.35}, "common practice"),
    ("strength.find", "SETTLING", (0.9, 0.95, 1.0), "common practice"),
    ("strength.group", "CONE", math.tan(math.radians(30.0)), "pressure cone of 30 degrees, common practice"),
    ("strength.partners", "PRESSURE", {"steel": 2.1, "aluminium": 1.4, "other": 1.0}, "VDI 2230-1 from memory, low"),
    ("strength.partners", "NUT_BODY", 300e6, "from memory, low"),
    ("strength.partners", "NUT_OUTER", {"M3": 5 * MM, "M4": 6 * MM, "M5": 7 * MM, "M6": 9 * MM, "M8": 11 * MM,
                                        "M10": 13 * MM, "M12": 16 * MM}, "common practice, measure yours"),
    ("strength.partners", "NUT_LENGTH", {"M3": 10 * MM, "M4": 12 * MM, "M5": 15 * MM, "M6": 18 * MM, "M8": 22 * MM,
                                         "M10": 28 * MM, "M12": 30 * MM}, "common practice, measure yours"),
    ("strength.thread", "LOST", 0.8, "VDI 2230-1 from memory, pitches"),
    ("strength.thread", "SHEAR", {"steel": 0.6, "aluminium": 0.65, "other": 0.5}, "VDI 2230-1, memory medium"),
    ("strength.thread", "WEAKER_NUT", 0.897, "Alexander, memory high"),
    ("strength.weld", "SAFETY", 1.25, "EN 1993-1-8 from memory"),
    ("strength.weld", "CORRELATION", {"s235": 0.8, "s355": 0.9}, "EN 1993-1-8 from memory"),
    ("strength.weld", "ALUMINIUM", 160e6, "EN 1999-1-1, memory medium"),
    ("strength.wrenches", "DRIVE_ARM", 30 * MM, "an estimate"),
    ("strength.wrenches", "END_ARM", 25 * MM, "an estimate"),
    ("strength.wrenches", "MOTOR_ARM", 40 * MM, "an estimate"),
    ("strength.wrenches", "MESH", math.tan(math.radians(20.0)), "involute teeth at 20 degrees"),
    ("strength.alternating", "STEEL", 205e9, "VDI 2230-1, memory high"),
    ("strength.alternating", "INTRODUCED", (1.0, 0.7, 0.4), "VDI 2230-1, memory medium"),
    ("strength.alternating", "HEAD", 0.4, "VDI 2230-1, memory high, diameters"),
    ("strength.alternating", "ENGAGED", 0.5, "VDI 2230-1, memory high, diameters"),
    ("strength.alternating", "IN_NUT", 0.4, "VDI 2230-1, memory high, diameters"),
    ("strength.alternating", "IN_HOLE", 0.33, "VDI 2230-1, memory high, diameters"),
    ("strength.prying", "GAMMA", 1.25, "EN 1993-1-8 from memory"),
    ("strength.prying", "BAND", (0.75, 1.0, 1.25), "common practice"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("module", "name", "value", "why"), VALUES, ids=lambda v: v if isinstance(v, str) else ""
)
def test_an_assumed_value_is_the_one_written_down(module: str, name: str, value: object, why: str) -> None:
    ours = getattr(import_module(f"core.fasteners.{module}"), name)
    assert why
    assert ours == (pytest.approx(value, rel=1e-9) if not isinstance(value, str) else value)


def test_depths_of_carriages_and_flanges_of_motors_are_the_ones_written_down() -> None:
    """Depths: memory medium, can be entered as thread offered. Flanges and masses of motors: from memory, low."""
    assert {size: holes.depth for size, holes in carriage_holes().items()} == pytest.approx(
        {15: 8 * MM, 20: 10 * MM, 25: 12 * MM, 30: 14 * MM, 35: 16 * MM, 45: 20 * MM}
    )
    flanges = {name: (flange.flange / MM, flange.mass) for name, flange in motor_flanges().items()}
    assert {name: pytest.approx(pair) for name, pair in flanges.items()} == {
        "NEMA 11": (2, 0.2),
        "NEMA 14": (3, 0.3),
        "NEMA 17": (4.5, 0.4),
        "NEMA 23": (5, 1.2),
        "NEMA 34": (10, 4),
        "NEMA 42": (12, 9),
    }
    for holes in carriage_holes().values():
        assert 1.4 <= holes.depth / (float(holes.thread[1:]) * MM) <= 1.8, "one and a half diameters or so"


def test_rm_of_bodies_that_no_standard_gives() -> None:
    from core.fasteners.strength.partners import RM

    assert (RM["bearing_steel"], RM["steel"]) == (700e6, 360e6)
