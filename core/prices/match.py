"""Which of the user's price rows is for a piece: every field filled in must fit, the row that says most wins."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from core.errors import BadEntry
from core.machine.prices import PriceRow
from core.machine.stuff import Family
from core.materials import material
from core.sections import Section, label

_FAMILIES: dict[str, Family] = {
    "rectangular_hollow": "rectangular hollow",
    "round_tube": "round tube",
    "t_slot": "T-slot profile",
    "channel": "channel",
    "angle": "angle",
    "flat_bar": "flat bar or plate",
    "round_solid": "round bar",
    "datasheet": "other",
    "outline": "other",
}
_WEIGHTS = {"part": 8, "section": 4, "material": 2, "family": 1}


def family_of(section: Section) -> Family:
    """The kind of section that prices are asked for. A kind made of several pieces is "built-up"."""
    tag = str(type(section).__struct_config__.tag)
    return _FAMILIES.get(tag, "built-up")


@lru_cache(maxsize=4096)
def plain(text: str) -> str:
    """Text for comparing: small letters, single spaces, one way of writing "x"."""
    small = " ".join(text.replace("×", "x").casefold().split())
    return re.sub(r"(?<=\d)\s*x\s*(?=\d)", "x", small)


@dataclass(frozen=True, slots=True)
class Piece:
    """What a price is looked up for, in plain text: words by which a row may call it.

    Attributes:
        family: kind of section; None for what is no length of a section.
        sections, materials, parts: names that fit, each as `plain` writes it.
    """

    family: Family | None = None
    sections: frozenset[str] = frozenset()
    materials: frozenset[str] = frozenset()
    parts: frozenset[str] = frozenset()


def piece_of(section: Section, material_key: str, parts: Iterable[str] = ()) -> Piece:
    """A length of a section; `parts` are further names, as of a line in the parts list."""
    words = plain(label(section))
    family = family_of(section)
    names = {words, words.partition(",")[0], f"{words.partition(' ')[0]}"}
    return Piece(
        family, frozenset(names), materials_of(material_key), frozenset(plain(text) for text in parts)
    )


def materials_of(key: str) -> frozenset[str]:
    """Names of a material: its key, its words and its family."""
    try:
        found = material(key)
    except BadEntry:
        return frozenset({plain(key)})
    return frozenset({plain(found.key), plain(found.name), plain(found.family)})


@dataclass(frozen=True, slots=True)
class Pattern:
    """A price row made ready for many look-ups; `stuff` is its section and material in plain text."""

    row: PriceRow
    index: int
    stuff: tuple[str, str]
    part: str
    weight: int

    def fits(self, piece: Piece) -> bool:
        """Whether the row is for this piece."""
        return stuff_fits(self.row.family, *self.stuff, piece) and (not self.part or self.part in piece.parts)


def stuff_fits(family: Family, section: str, material: str, piece: Piece) -> bool:
    """Whether kind, section and material (plain text, empty for every one) are those of a piece."""
    return (
        family in ("any", piece.family)
        and (not section or section in piece.sections)
        and (not material or material in piece.materials)
    )


def patterns(rows: Sequence[PriceRow]) -> tuple[Pattern, ...]:
    """Rows made ready, those that say most first; of equals the first entered."""
    made = []
    for index, row in enumerate(rows):
        texts = {"section": plain(row.section), "material": plain(row.material), "part": plain(row.part)}
        weight = sum(_WEIGHTS[name] for name, text in texts.items() if text)
        weight += _WEIGHTS["family"] if row.family != "any" else 0
        made.append(Pattern(row, index, (texts["section"], texts["material"]), texts["part"], weight))
    return tuple(sorted(made, key=lambda pattern: (-pattern.weight, pattern.index)))


def target(row: PriceRow) -> tuple[str, str, str, str]:
    """What a row is for; equal for two rows that are for the very same things."""
    return row.family, plain(row.section), plain(row.material), plain(row.part)
