"""The base: side beams over their supports, legs or floor mounts, cross members and feet, in table coordinates."""

from __future__ import annotations

import numpy as np

from core.frame import FrameBuilder
from core.machine.base import Floor, Legs
from core.machine.diagonals import diagonals, knee_height
from core.machine.layout import support_places
from core.model.setting import SHORT, Setting, add_member

SIDES: tuple[tuple[str, float], ...] = (("left", -1.0), ("right", 1.0))
ALONG = np.eye(3)


def side_beam_places(setting: Setting, extra: list[float]) -> tuple[list[float], dict[float, int]]:
    """Places of the nodes along a side beam: its ends, supports and the extra places, near ones merged.

    Returns the sorted places and the node number of every wanted place.
    """
    lay = setting.layout
    start, end = lay.side_y - lay.side_beam_length / 2.0, lay.side_y + lay.side_beam_length / 2.0
    wanted = [start, end, *support_places(setting.machine, setting.layout), *extra]
    places: list[float] = []
    for y in sorted(min(max(w, start), end) for w in wanted):
        if not places or y - places[-1] > SHORT:
            places.append(y)
    nearest = {w: int(np.argmin([abs(min(max(w, start), end) - p) for p in places])) for w in wanted}
    return places, nearest


def add_base(setting: Setting, builder: FrameBuilder, extra: list[float]) -> dict[float, int]:
    """Add the base; `extra` are places (m) where something stands on the side beams.

    Nodes along a side beam are called "left side beam 0", "left side beam 1" and so on. Returns their numbers by place.
    """
    lay, base = setting.layout, setting.machine.base
    places, nearest = side_beam_places(setting, extra)
    supports = [nearest[y] for y in support_places(setting.machine, setting.layout)]
    rail = setting.machine.y_guides.data.linear_mass
    for side, sign in SIDES:
        for k, y in enumerate(places):
            builder.add_node(f"{side} side beam {k}", (sign * lay.side_x, y, lay.side_z))
        for k in range(len(places) - 1):
            ends = (f"{side} side beam {k}", f"{side} side beam {k + 1}")
            add_member(
                setting, builder, f"{side} side beam piece {k}", ends, (0, 0, 1), lay.sections.side_beam,
                base.material, "side_beams", other_mass=rail, true_axis=True, mirrored=sign < 0.0,
            )  # fmt: skip
    if isinstance(base.stand, Legs):
        _add_legs(setting, builder, base.stand, supports, places)
    else:
        _add_floor(setting, builder, base.stand, supports)
    return nearest


def _add_floor(setting: Setting, builder: FrameBuilder, floor: Floor, supports: list[int]) -> None:
    arm = (0.0, 0.0, -setting.layout.sections.side_beam.height / 2.0)
    shifting = setting.shifting("stand", floor.support_stiffness)
    turning = setting.turning("stand", floor.support_turning)
    for side, _ in SIDES:
        for number, k in enumerate(supports):
            for axis, direction in zip("XYZ", ALONG, strict=True):
                node = f"{side} side beam {k}"
                builder.add_spring(
                    f"{side} support {number} {axis}", node, -1, direction, shifting, "stand", arm
                )
                builder.add_spring(
                    f"{side} support {number} about {axis}",
                    node,
                    -1,
                    direction,
                    turning,
                    "stand",
                    turning=True,
                )


def _add_legs(
    setting: Setting, builder: FrameBuilder, legs: Legs, supports: list[int], places: list[float]
) -> None:
    lay = setting.layout
    leg, cross, side_beam = lay.sections.leg, lay.sections.cross, lay.sections.side_beam
    assert leg is not None
    assert cross is not None
    down = (0.0, 0.0, -side_beam.height / 2.0)
    low = knee_height(legs) > 0.0
    foot_stiffness = setting.shifting("stand", legs.foot_stiffness)
    for side, sign in SIDES:
        for number, k in enumerate(supports):
            x, y = sign * lay.side_x, places[k]
            top, foot, knee = f"{side} side beam {k}", f"{side} foot {number}", f"{side} knee {number}"
            builder.add_node(foot, (x, y, lay.floor_z))
            if low:
                builder.add_node(knee, (x, y, lay.floor_z + legs.low_cross * legs.height))
                pieces = [("upper leg", top, knee), ("lower leg", knee, foot)]
            else:
                pieces = [("leg", top, foot)]
            for name, a, b in pieces:
                offsets = (down if a == top else (0.0, 0.0, 0.0), (0.0, 0.0, 0.0))
                add_member(
                    setting, builder, f"{side} {name} {number}", (a, b), (0, 1, 0), leg, legs.material, "stand",
                    offsets=offsets,
                )  # fmt: skip
            for axis, direction in zip("XYZ", ALONG, strict=True):
                builder.add_spring(f"{foot} {axis}", foot, -1, direction, foot_stiffness, "stand")
    for number, k in enumerate(supports):
        half = (side_beam.width / 2.0, 0.0, 0.0)
        ends = (f"left side beam {k}", f"right side beam {k}")
        add_member(
            setting, builder, f"cross member {number}", ends, (0, 0, 1), cross, legs.cross_material, "stand",
            offsets=(half, (-half[0], 0.0, 0.0)),
        )  # fmt: skip
        if low:
            ends = (f"left knee {number}", f"right knee {number}")
            add_member(
                setting,
                builder,
                f"lower cross member {number}",
                ends,
                (0, 0, 1),
                cross,
                legs.cross_material,
                "stand",
            )
    if low and legs.low_rails:
        for side, _ in SIDES:
            for number in range(len(supports) - 1):
                ends = (f"{side} knee {number}", f"{side} knee {number + 1}")
                add_member(
                    setting,
                    builder,
                    f"{side} lower rail {number}",
                    ends,
                    (0, 0, 1),
                    cross,
                    legs.cross_material,
                    "stand",
                )
    _add_diagonals(setting, builder, legs, supports, low)


def _add_diagonals(
    setting: Setting, builder: FrameBuilder, legs: Legs, supports: list[int], low: bool
) -> None:
    lay = setting.layout
    section = lay.sections.diagonal
    if section is None or legs.diagonals is None:
        return
    down = (0.0, 0.0, -lay.sections.side_beam.height / 2.0)
    for d in diagonals(setting.machine, lay):
        start = f"{d.low[0]} {'knee' if low else 'foot'} {d.low[1]}"
        end = f"{d.high[0]} side beam {supports[d.high[1]]}"
        add_member(
            setting, builder, d.name, (start, end), (0, 0, 1), section, legs.diagonals.material, "stand",
            offsets=((0.0, 0.0, 0.0), down),
        )  # fmt: skip
