"""A few built-up sections of stock pieces, so that they stand beside single profiles when beams are ranked.

Combinations are common practice; pieces are those of the size tables and of the invented T-slot profiles.
"""

from __future__ import annotations

from core.sections import (
    BoltedPlate,
    Channel,
    PlatedTube,
    RectangularHollow,
    Section,
    TSlot,
    TwoProfiles,
    WeldedBox,
)
from core.sections.t_slot import STOCK

STEEL, ALUMINIUM = "s235", "en_aw_6060_t66"


def candidates() -> tuple[tuple[str, Section, str], ...]:
    """Key, section and key of the main material of each."""
    return (*_tube_pairs(), *_plated(), *_channels(), *_boxes(), *_slot_pairs(), *_bolted())


def _tube(height: int, width: int, wall: int) -> RectangularHollow:
    return RectangularHollow(height=height / 1e3, width=width / 1e3, wall=wall / 1e3, finish="cold formed")


def _tube_pairs() -> list[tuple[str, Section, str]]:
    found: list[tuple[str, Section, str]] = []
    for h, b, t in ((80, 80, 4), (100, 60, 4), (120, 80, 5), (100, 100, 5)):
        tube = _tube(h, b, t)
        found.append((f"two_{h}x{b}x{t}_stacked", TwoProfiles(first=tube, second=tube), STEEL))
    return found


def _plated() -> list[tuple[str, Section, str]]:
    sizes = ((120, 80, 5, 8), (100, 100, 5, 10), (160, 80, 5, 10))
    return [
        (
            f"plated_{h}x{b}x{t}_{plate}",
            PlatedTube(tube=_tube(h, b, t), plate_width=b / 1e3, plate_thickness=plate / 1e3),
            STEEL,
        )
        for h, b, t, plate in sizes
    ]


def _channels() -> list[tuple[str, Section, str]]:
    found: list[tuple[str, Section, str]] = []
    for h, b, web, flange in ((120, 55, 6, 8), (160, 65, 7, 10)):
        one = Channel(height=h / 1e3, width=b / 1e3, web=web / 1e3, flange=flange / 1e3)
        pair = TwoProfiles(first=one, second=one, way="side by side", mirrored="second")
        found.append((f"channels_{h}x{b}_toe_to_toe", pair, STEEL))
    return found


def _boxes() -> list[tuple[str, Section, str]]:
    sizes = ((160, 100, 6, 5, 0), (200, 150, 8, 6, 10), (250, 150, 8, 6, 10), (300, 200, 10, 6, 12))
    return [
        (
            f"box_{h}x{b}x{flange}x{web}",
            WeldedBox(
                height=h / 1e3, width=b / 1e3, flange=flange / 1e3, web=web / 1e3, inset=round(inset / 1e3, 6)
            ),
            STEEL,
        )
        for h, b, flange, web, inset in sizes
    ]


def _profile(width: float, height: float) -> TSlot:
    return next(s for s in STOCK if abs(s.width - width) < 1e-9 and abs(s.height - height) < 1e-9)


def _slot_pairs() -> list[tuple[str, Section, str]]:
    flat, square = _profile(0.04, 0.08), _profile(0.08, 0.08)
    return [
        (
            "t_slots_80x40_side_by_side",
            TwoProfiles(first=flat, second=flat, way="side by side"),
            ALUMINIUM,
        ),
        ("t_slots_80x80_stacked", TwoProfiles(first=square, second=square), ALUMINIUM),
        (
            "t_slots_80x80_stacked_unjoined",
            TwoProfiles(first=square, second=square, joint="unjoined"),
            ALUMINIUM,
        ),
    ]


def _bolted() -> list[tuple[str, Section, str]]:
    tall = _profile(0.08, 0.16)
    rows = (("steel_top", "s235", "top", 0.08, 0.01), ("aluminium_top", "en_aw_6082_t6", "top", 0.08, 0.015))
    return [
        (
            f"t_slot_160x80_plate_{name}",
            BoltedPlate(profile=tall, plate_width=width, plate_thickness=thick, material=metal, face=face),  # type: ignore[arg-type]
            ALUMINIUM,
        )
        for name, metal, face, width, thick in rows
    ]
