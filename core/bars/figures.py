"""The figures of one section, each with what was computed, what was typed, which counts, and where it comes from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from core.machine.sheet import SheetValues
from core.materials import Material
from core.sections import SectionProperties

ASKEW = 0.02
"""A product of inertia below this share of the second moments' geometric mean is taken for none."""


@dataclass(frozen=True, slots=True)
class BarFigure:
    """One figure, SI.

    Attributes:
        key: short name of its own. words: what it is. symbol: as a data sheet heads its column.
        quantity: name in `core.units`.
        computed: by the program. typed: off the data sheet; None where nothing is typed. used: what counts.
        method: how it was computed, and the source.
    """

    key: str
    words: str
    symbol: str
    quantity: str
    computed: float
    typed: float | None
    used: float
    method: str

    @property
    def difference(self) -> float | None:
        """Typed over computed, less one; None where there is nothing to compare."""
        return None if self.typed is None or self.computed == 0.0 else self.typed / self.computed - 1.0


_PLAIN = (
    ("area", "Area", "A", "area"),
    ("iyy", "Second moment, load along the height", "Iy", "second_moment"),
    ("izz", "Second moment, load along the width", "Iz", "second_moment"),
    ("it", "Torsion constant", "It", "torsion_constant"),
    ("avz", "Shear area, along the height", "Avz", "area"),
    ("avy", "Shear area, along the width", "Avy", "area"),
)


def bar_figures(
    computed: SectionProperties, used: SectionProperties, sheet: SheetValues | None, metal: Material
) -> tuple[BarFigure, ...]:
    """Every figure of a section of this main material."""
    found = [
        BarFigure(
            key,
            words,
            symbol,
            quantity,
            getattr(computed, key),
            None if sheet is None else getattr(sheet, key),
            getattr(used, key),
            _method(computed),
        )
        for key, words, symbol, quantity in _PLAIN
    ]
    mass = computed.linear_mass(metal.density), used.linear_mass(metal.density)
    typed = None if sheet is None else sheet.linear_mass
    way = f"Area times the density of {metal.name}, {metal.density:g} kg/m3 ({metal.source})."
    if computed.other_mass:
        way = "Each piece's area times its own density."
    found.append(
        BarFigure("linear_mass", "Mass per length", "m", "linear_density", mass[0], typed, mass[1], way)
    )
    return (*found, *_moduli(computed, used), *_places(computed, used), *_principal(computed, used))


def _method(p: SectionProperties) -> str:
    return f"{p.method} Source: {p.source}."


def _moduli(computed: SectionProperties, used: SectionProperties) -> tuple[BarFigure, ...]:
    """Elastic section moduli: second moment over the farthest fibre."""
    way = "Second moment over the distance of the farthest fibre from the centroid."
    if computed.other_mass:
        way += " For a plate of another metal, multiply the stress by the ratio of the moduli."
    rows = (
        ("wely", "Section modulus, load along the height", "Wel,y", "iyy", "height", "centroid_z"),
        ("welz", "Section modulus, load along the width", "Wel,z", "izz", "width", "centroid_y"),
    )
    return tuple(
        BarFigure(
            key,
            words,
            symbol,
            "section_modulus",
            _modulus(computed, *names),
            None,
            _modulus(used, *names),
            way,
        )
        for key, words, symbol, *names in rows
    )


def _modulus(p: SectionProperties, moment: str, size: str, place: str) -> float:
    return float(getattr(p, moment) / (getattr(p, size) / 2.0 + abs(getattr(p, place))))


def _places(computed: SectionProperties, used: SectionProperties) -> tuple[BarFigure, ...]:
    """Centroid and shear centre, where they are off the middle of the outer box."""
    rows: tuple[tuple[str, str, str, Callable[[SectionProperties], float]], ...] = (
        ("centroid_z", "Centroid above the middle", "zS", lambda p: p.centroid_z),
        ("centroid_y", "Centroid right of the middle", "yS", lambda p: p.centroid_y),
        ("shear_centre_z", "Shear centre above the middle", "zM", lambda p: p.centroid_z + p.shear_centre_z),
        (
            "shear_centre_y",
            "Shear centre right of the middle",
            "yM",
            lambda p: p.centroid_y + p.shear_centre_y,
        ),
    )
    least = 1e-4 * max(computed.width, computed.height)
    return tuple(
        BarFigure(key, words, symbol, "length", at(computed), None, at(used), _method(computed))
        for key, words, symbol, at in rows
        if abs(at(computed)) > least
    )


def is_askew(p: SectionProperties) -> bool:
    """Whether the section bends sideways under a load along its height or width."""
    return abs(p.iyz) > ASKEW * float((p.iyy * p.izz) ** 0.5)


def _principal(computed: SectionProperties, used: SectionProperties) -> tuple[BarFigure, ...]:
    if not is_askew(computed):
        return ()
    (large, small, angle), (large_used, small_used, angle_used) = computed.principal(), used.principal()
    way = "From Iy, Iz and the product of inertia (Mohr's circle)."
    return (
        BarFigure("iu", "Largest second moment", "Iu", "second_moment", large, None, large_used, way),
        BarFigure("iv", "Smallest second moment", "Iv", "second_moment", small, None, small_used, way),
        BarFigure("angle", "Turn of its axis from level", "α", "angle", angle, None, angle_used, way),
    )
