"""The solved frame of a project at one tool place, as plain data in SI for another program to solve again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from core.errors import BadEntry
from core.machine.layout import layout
from core.units import show

if TYPE_CHECKING:
    from core.machine.project import Project
    from core.plan import Place
    from core.sections import PropertyBook


def frame_json(project: Project, book: PropertyBook, place: Place) -> dict[str, Any]:
    """Nodes, members, springs, links, supports, masses, loads and our own tip compliance.

    Raises:
        BadEntry: the place lies outside the travels. NeedsAnalysis: a section is not in the book yet.
        Mechanism: the machine moves freely as described.
    """
    from core.model.export import frame_data
    from core.model.setting import Setting

    work = project.machine.work
    units = project.units
    for name, value, travel in (("x", place.x, work.travel_x), ("y", place.y, work.travel_y)):
        if abs(value) > travel / 2.0 + 1e-9:
            ends = f"{show(-travel / 2.0, 'length', units)} to {show(travel / 2.0, 'length', units)}"
            raise BadEntry(name, show(value, "length", units), "is outside the travel", ends)
    setting = Setting(project.machine, layout(project.machine, book), "likely", book)
    return frame_data(setting, project, place.x, place.y)
