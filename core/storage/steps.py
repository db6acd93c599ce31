"""How files of older versions become projects of today: one function for each version.

Version 1 compared beams only ("alternatives", each a whole beam); they are variants whose changes are what differs.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import msgspec

from core.errors import BadEntry
from core.fasteners import with_beam
from core.fields import Described
from core.machine.gantry import GantryBeam
from core.machine.project import Project
from core.machine.variants import Variant, free_name, with_project

Step = Callable[[dict[str, Any]], Project]


class BadStep(Exception):
    """Something below a field of an older file that is not accepted; the decoder's error is the cause."""

    def __init__(self, path: tuple[str | int, ...], error: msgspec.ValidationError) -> None:
        super().__init__(str(error))
        self.path = path
        self.error = error


class _Beam(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A beam to compare, as version 1 wrote it."""

    name: str
    beam: GantryBeam


def from_version_1(content: dict[str, Any]) -> Project:
    """A project of version 1, read from the file's "project".

    Errors: BadStep with what is not accepted.
    """
    if "variants" in content:
        raise BadStep(
            ("variants",), msgspec.ValidationError("This field belongs to a newer version of the file")
        )
    rest = {name: value for name, value in content.items() if name != "alternatives"}
    project: Project = _read(rest, Project, ())
    beams = _read(content.get("alternatives", []), tuple[_Beam, ...], ("alternatives",))
    variants: tuple[Variant, ...] = ()
    for row, old in enumerate(beams):
        name = free_name(old.name.strip() or f"Beam {row + 1}", variants)
        try:
            machine = with_beam(project.machine, old.beam)
            changed = msgspec.structs.replace(project, machine=machine)
            variants = (*variants, with_project(project, Variant(name=name), changed))
        except (
            BadEntry
        ) as error:  # pragma: no cover  # a beam by itself is good, and its rails only move to its slots
            raise BadStep(("alternatives", row), msgspec.ValidationError(str(error))) from error
    return msgspec.structs.replace(project, variants=variants)


def _read(content: Any, kind: Any, path: tuple[str | int, ...]) -> Any:
    try:
        return msgspec.convert(content, kind)
    except msgspec.ValidationError as error:
        raise BadStep(path, error) from error


STEPS: dict[int, Step] = {1: from_version_1}
"""By the version that the file was written in."""
