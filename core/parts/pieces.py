"""A bar as it is bought: a built-up one is several pieces, each with its own section, material and mass."""

from __future__ import annotations

from dataclasses import dataclass

from core.materials import material
from core.sections import BUILT_UP, Section, SectionProperties, label, parts_of
from core.sections.figures import moments_of


@dataclass(frozen=True, slots=True)
class BarPiece:
    """Pieces of one kind in a bar.

    Attributes:
        suffix: to be put behind the bar's key; empty for a bar of one piece.
        words: what it is within the bar ("plate, top"); empty for a bar of one piece.
        section: its description. metal: key of its material. count: in one bar.
        linear_mass: of one, kg/m.
    """

    suffix: str
    words: str
    section: Section
    metal: str
    count: int
    linear_mass: float

    @property
    def spec(self) -> str:
        """Section and material in words."""
        return f"{label(self.section)}, {material(self.metal).name}"


def bar_pieces(section: Section, shape: SectionProperties, metal: str) -> tuple[BarPiece, ...]:
    """The pieces of a bar of main material `metal`; their masses add up to that of the whole.

    `shape` is the whole section's properties.
    """
    return pieces_of(section, metal, shape.linear_mass(material(metal).density))


def pieces_of(section: Section, metal: str, total: float) -> tuple[BarPiece, ...]:
    """The pieces of a bar of main material `metal` that weighs `total` kg/m; their masses add up to it."""
    if not isinstance(section, BUILT_UP):
        return (BarPiece("", "", section, metal, 1, total),)
    found: dict[tuple[Section, str], list[str]] = {}
    masses: dict[tuple[Section, str], float] = {}
    for part in parts_of(section):
        kind = (part.piece, part.metal or metal)
        found.setdefault(kind, []).append(part.what)
        masses[kind] = moments_of(part.rings()).area * material(kind[1]).density
    # Rings are drawn with chords at round corners; the exact whole corrects what they lack.
    exact = total / sum(masses[kind] * len(words) for kind, words in found.items())
    return tuple(
        BarPiece(f"_{number}", " and ".join(words), *kind, len(words), masses[kind] * exact)
        for number, (kind, words) in enumerate(found.items(), start=1)
    )
