"""The whole machine as one frame at one tool place: for the verified check, the budget, the shape and the export."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.frame import Frame, FrameBuilder
from core.model.base import add_base
from core.model.contact import Contact, x_contacts, y_contacts
from core.model.gantry import add_gantry, foot_places
from core.model.head import add_head
from core.model.setting import Setting, point


@dataclass(frozen=True, slots=True)
class Whole:
    """The frame, its tip node and the contact springs' places (for the export)."""

    frame: Frame
    tip: str
    contacts: tuple[Contact, ...]


def whole_frame(setting: Setting, x: float, y: float) -> Whole:
    """The frame with the tool tip at x, y (table coordinates, m)."""
    datum = setting.layout.gantry_y(y)
    across, along = x_contacts(setting, x, datum), y_contacts(setting, datum)
    builder = FrameBuilder()
    base_nodes = add_base(setting, builder, sorted({c.at for c in along}))
    beam_names = add_gantry(setting, builder, datum, sorted({c.at for c in across}))
    tip = add_head(setting, builder, x, datum)
    _, foot_nodes = foot_places(setting)
    for c in along:
        lower = f"{c.side} side beam {base_nodes[c.at]}"
        upper = f"{c.side} foot plate {foot_nodes[c.rides]}"
        join(builder, c, lower, upper)
    for c in across:
        join(builder, c, beam_names[c.at], "saddle")
    return Whole(builder.build(), tip, (*along, *across))


def join(builder: FrameBuilder, c: Contact, lower: str, upper: str) -> None:
    """Add a contact's spring between two nodes."""
    at = np.asarray(point(*c.point))
    places = [np.asarray(builder.place(name)) for name in (lower, upper)]
    builder.add_spring(
        c.name, lower, upper, c.direction, c.stiffness, c.component, at - places[0], at - places[1]
    )
