"""Figures of sections typed in from data sheets: where one is typed, it counts instead of the computed one.

They belong to a section, not to a place in the machine: every part with just this section uses them, and another section
leaves them unused.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Annotated

from core.errors import BadEntry
from core.fields import Described, Spec
from core.sections import Section, SectionProperties, label

FIGURES = ("area", "iyy", "izz", "it", "avy", "avz", "linear_mass")


class SheetValues(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a data sheet says of one section as it is described, before turning; empty where it says nothing."""

    section: Annotated[Section, Spec("count", None, None, "Section")]
    area: Annotated[float | None, Spec("area", 1e-7, 1.0, "Area")] = None
    iyy: Annotated[
        float | None, Spec("second_moment", 1e-15, 1.0, "Iy", "Resists load along the section's height")
    ] = None
    izz: Annotated[
        float | None, Spec("second_moment", 1e-15, 1.0, "Iz", "Resists load along the section's width")
    ] = None
    it: Annotated[
        float | None,
        Spec("torsion_constant", 1e-15, 1.0, "It", "Torsion constant, not the polar second moment"),
    ] = None
    avy: Annotated[float | None, Spec("area", 1e-8, 1.0, "Shear area, along the width")] = None
    avz: Annotated[float | None, Spec("area", 1e-8, 1.0, "Shear area, along the height")] = None
    linear_mass: Annotated[float | None, Spec("linear_density", 1e-3, 1e4, "Mass per length")] = None
    source: Annotated[str, Spec("count", None, None, "Where from", "Maker's sheet, page, date")] = ""

    def check(self) -> None:
        moments = (self.iyy, self.izz, self.it)
        if None not in moments and self.it > self.iyy + self.izz:  # type: ignore[operator]
            raise BadEntry(
                "it",
                f"{self.it:g} m4",
                "is more than Iy and Iz together, which no section has",
                "another column",
            )

    def typed(self) -> tuple[str, ...]:
        """Names of the figures that are typed."""
        return tuple(name for name in FIGURES if getattr(self, name) is not None)


def check_sheets(sheets: tuple[SheetValues, ...]) -> None:
    """Raise BadEntry when two rows are about one section."""
    for number, sheet in enumerate(sheets):
        if any(sheet.section == other.section for other in sheets[:number]):
            raise BadEntry(
                "datasheet", label(sheet.section), "has two rows of values", "one row for each section"
            )


def sheet_of(sheets: tuple[SheetValues, ...], section: Section) -> SheetValues | None:
    """The row about this section; None when there is none or nothing is typed in it."""
    found = next((sheet for sheet in sheets if sheet.section == section), None)
    return found if found is not None and found.typed() else None


def with_sheet(found: SectionProperties, sheet: SheetValues | None, density: float) -> SectionProperties:
    """Properties with the typed figures in place of the computed ones.

    Args:
        density: of the main material, kg/m3. A typed area alone does not change the mass of a section of two materials
            beyond its own share.
    """
    if sheet is None:
        return found
    new = {name: getattr(sheet, name) for name in sheet.typed() if name != "linear_mass"}
    changed = replace(found, **new)
    if found.iyz:  # the main axes stay where they are as far as two typed moments let them
        changed = replace(
            changed, iyz=found.iyz * math.sqrt(changed.iyy * changed.izz / (found.iyy * found.izz))
        )
    if sheet.linear_mass is not None:
        other = sheet.linear_mass - changed.area * density
        changed = replace(changed, other_mass=0.0 if math.isclose(other, 0.0, abs_tol=1e-12) else other)
    words = ", ".join(WORDS[name] for name in sheet.typed())
    source = f"data sheet typed in by the user ({sheet.source or 'not said which'})"
    return replace(
        changed,
        method=f"Typed from the data sheet: {words}. The rest: {found.method}",
        source=f"{source}; {found.source}",
    )


WORDS = {
    "area": "area",
    "iyy": "Iy",
    "izz": "Iz",
    "it": "It",
    "avy": "shear area along the width",
    "avz": "shear area along the height",
    "linear_mass": "mass per length",
}
