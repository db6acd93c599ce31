"""An entry and its value in words, for lists of what differs."""

from __future__ import annotations

from typing import Any

import msgspec

from core.errors import BadEntry
from core.fields import Band, specs
from core.machine.project import Project
from core.machine.variants import entries_of
from core.materials import material
from core.sections import label
from core.units import UnitSet, show, show_number

_ENDS = {"low": "low end", "likely": "likely figure", "high": "high end"}
MOST_WORDS = 60


def entry_words(project: Project, path: str) -> str:
    """What an entry is called, with the part that it belongs to ("Gantry beam: Section"); the path when it is none."""
    here: Any = project
    labels: list[str] = []
    for step in path.split("."):
        if isinstance(here, tuple):
            here = here[int(step)] if step.isdigit() and int(step) < len(here) else None
            labels.append(str(getattr(here, "name", "")))
        elif isinstance(here, msgspec.Struct) and step in here.__struct_fields__:
            spec = specs(type(here)).get(step)
            labels.append(spec.label if spec is not None else _ENDS.get(step, step.replace("_", " ")))
            here = getattr(here, step)
        else:
            return path
    told = [words for words in labels if words]
    return ": ".join(told[-2:]) if told else path


def entry_groups(project: Project) -> dict[str, tuple[tuple[str, str], ...]]:
    """(path, words) of all entries that a variant can list, by the words of the part that they belong to."""
    groups: dict[str, list[tuple[str, str]]] = {}
    for path in entries_of(project):
        above, _, _ = path.rpartition(".")
        words = entry_words(project, path)
        group = entry_words(project, above)
        groups.setdefault(group, []).append((path, words.removeprefix(f"{group.split(': ')[-1]}: ")))
    return {group: tuple(rows) for group, rows in groups.items()}


def value_words(project: Project, path: str) -> str:
    """What an entry stands at, in the project's units; "no such entry" when there is none."""
    here: Any = project
    quantity = ""
    for step in path.split("."):
        try:
            if isinstance(here, tuple):
                here = here[int(step)]
                continue
            spec = specs(type(here)).get(step) if isinstance(here, msgspec.Struct) else None
            quantity = spec.quantity if spec is not None else quantity
            here = getattr(here, step)
        except (AttributeError, IndexError, ValueError):
            return "no such entry"
    if isinstance(here, str) and path.endswith("material"):
        return _metal(here)
    return _words(here, quantity, project.units)


def _metal(key: str) -> str:
    try:
        return material(key).name
    except BadEntry:
        return key


def _words(value: Any, quantity: str, units: UnitSet) -> str:
    if value is None:
        return "automatic"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Band):
        low, likely = (show_number(v, quantity, units) for v in (value.low, value.likely))
        return f"{low}, {likely}, {show(value.high, quantity, units)}"
    if isinstance(value, (int, float)):
        return _number(float(value), quantity, units)
    if isinstance(value, tuple):
        names = [str(getattr(item, "name", item)) for item in value]
        return _short(", ".join(names)) if names else "none"
    if isinstance(value, msgspec.Struct):
        return _short(_struct(value))
    return _short(str(value))


def _number(value: float, quantity: str, units: UnitSet) -> str:
    try:
        return show(value, quantity, units)
    except BadEntry:
        return f"{value:g}"


def _struct(value: msgspec.Struct) -> str:
    try:
        return label(value)  # type: ignore[arg-type]
    except (AttributeError, TypeError, KeyError, ValueError):
        tag = value.__struct_config__.tag
        return str(tag if tag is not None else type(value).__name__).replace("_", " ")


def _short(text: str) -> str:
    return text if len(text) <= MOST_WORDS else text[: MOST_WORDS - 1] + "…"
