"""What machines are made of: elastic figures, density, expansion and strength, each with source and status.

The figures stand in `materials.csv`, in engineer's units; here they become SI.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import Literal, cast

from core.errors import BadEntry

Family = Literal["aluminium", "steel", "other"]

__all__ = ["Family", "Material", "material", "materials"]


@dataclass(frozen=True, slots=True)
class Material:
    """One material in SI units.

    Attributes:
        key: the word used in project files ("s355").
        name: the words shown to people.
        family: "aluminium", "steel" or "other".
        young, shear: moduli, Pa.
        density: kg/m3.
        expansion: linear thermal expansion, 1/K.
        yield_strength: Rp0.2 or ReH, Pa; for brittle materials and wood the bending strength.
        source: where the figures come from.
        status: how sure they are.
    """

    key: str
    name: str
    family: Family
    young: float
    shear: float
    density: float
    expansion: float
    yield_strength: float
    source: str
    status: str


@cache
def materials() -> tuple[Material, ...]:
    """Every known material, in the order of the table."""
    text = files(__package__).joinpath("materials.csv").read_text(encoding="utf-8")
    return tuple(_material(row) for row in csv.DictReader(text.splitlines()))


@cache
def _by_key() -> dict[str, Material]:
    return {m.key: m for m in materials()}


def material(key: str) -> Material:
    """The material with this key.

    Raises:
        BadEntry: there is none; names the nearest keys.
    """
    known = _by_key()
    if key in known:
        return known[key]
    near = get_close_matches(key.lower(), known, n=3, cutoff=0.5) or list(known)
    raise BadEntry("material", repr(key), "is not a known material", ", ".join(near))


def _material(row: dict[str, str]) -> Material:
    return Material(
        key=row["key"],
        name=row["name"],
        family=cast(Family, row["family"]),
        young=float(row["young_GPa"]) * 1e9,
        shear=float(row["shear_GPa"]) * 1e9,
        density=float(row["density_kg_m3"]),
        expansion=float(row["expansion_per_K"]),
        yield_strength=float(row["yield_MPa"]) * 1e6,
        source=row["source"],
        status=row["status"],
    )
