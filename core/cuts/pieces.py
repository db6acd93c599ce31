"""Which pieces are to be cut: lengths of sections in the parts list and the user's own, by section and material.

What is on hand or ordered as a piece, cut to length, is not cut again; spares that the user wants are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import atan2, hypot

from core.cuts.answer import CutPiece
from core.machine.diagonals import diagonals
from core.machine.layout import Layout
from core.machine.ordering import StockRow
from core.machine.project import Project
from core.machine.saw import OwnPiece
from core.materials import material
from core.parts import PartLine
from core.parts.keys import slug, told_apart
from core.prices.match import Piece, piece_of, plain
from core.sections import Section, label

OWN_GROUP = "Own pieces"
_DIAGONAL = "diagonal_"


@dataclass(frozen=True, slots=True)
class Wanted:
    """Pieces of one section and material.

    Attributes:
        names: by which a row may call it. section: its description; None for a section in the user's own words.
        metal: key of the material; empty when only the user's own word for it is known.
        words: section and material for people.
    """

    names: Piece
    section: Section | None
    metal: str
    words: tuple[str, str]
    pieces: tuple[CutPiece, ...]


def own_lines(project: Project, parts: Iterable[PartLine]) -> tuple[PartLine, ...]:
    """The user's own pieces to cut as lines of the bill; those of a section of the machine carry it, and their mass."""
    if not project.own_pieces:
        return ()
    kinds: list[tuple[Piece, PartLine]] = []
    for line in parts:
        known = ((other.section, other.material) for _, other in kinds)
        if _is_length(line) and line.section is not None and (line.section, line.material) not in known:
            kinds.append((piece_of(line.section, line.material), line))
    taken = {line.key for line in parts}
    made = (_own_line(own, kinds) for own in project.own_pieces if own.quantity)
    return tuple(line for line in told_apart([*parts, *made]) if line.key not in taken)


def _own_line(own: OwnPiece, kinds: list[tuple[Piece, PartLine]]) -> PartLine:
    like = next((line for names, line in kinds if _same(names, own)), None)
    key = f"own_piece_{slug(own.name)}_{slug(own.section)}"
    if like is None or like.section is None or not like.length:
        spec = ", ".join(word for word in (own.section.strip(), own.material.strip()) if word)
        return PartLine(
            key, OWN_GROUP, own.name, spec, own.quantity, own.length, None, None, where=own.where
        )  # fmt: skip
    each = None if like.mass_each is None else like.mass_each / like.length * own.length
    return PartLine(
        key, OWN_GROUP, own.name, f"{label(like.section)}, {material(like.material).name}", own.quantity, own.length,
        each, None if each is None else each * own.quantity, where=own.where, section=like.section, material=like.material,
    )  # fmt: skip


def wanted_pieces(project: Project, layout: Layout, parts: tuple[PartLine, ...]) -> tuple[Wanted, ...]:
    """Groups in the order of the parts list, then those that only the user's own pieces make. Marks are unique.

    A group of which everything is there or ordered has no pieces; marks do not change when something is.
    """
    records = {row.part: row for row in project.stock}
    groups: list[Wanted] = []
    mitres = _mitres(project, layout)
    for kind, (line, own) in enumerate(_lines(project, parts)):
        at = _group_of(groups, line, own)
        if own is not None:
            mitre = own.mitre
        else:
            mitre = next((angle for key, angle in mitres.items() if line.key.startswith(key)), 0.0)
        made = _pieces(kind, line, mitre, to_cut(line, records.get(line.key)))
        groups[at] = replace(groups[at], pieces=(*groups[at].pieces, *made))
    return tuple(groups)


def to_cut(line: PartLine, record: StockRow | None) -> int:
    """How many pieces of a line are to be cut: needed and spare, less those on hand or ordered as pieces."""
    row = StockRow(part=line.key) if record is None else record
    spare = row.spares(line.quantity, line.spare)
    return max(0, line.quantity + spare - row.on_hand - max(row.ordered, row.arrived))


def letters(number: int) -> str:
    """A, B, … Z, AA, AB, … for 0, 1, …"""
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def _is_length(line: PartLine) -> bool:
    return line.section is not None and line.length is not None and line.length > 0.0


def _lines(project: Project, parts: tuple[PartLine, ...]) -> Iterator[tuple[PartLine, OwnPiece | None]]:
    """Lines that are lengths to cut, the user's own with what they were entered as."""
    yield from ((line, None) for line in parts if _is_length(line) and line.quantity)
    entered = (own for own in project.own_pieces if own.quantity)
    yield from zip(own_lines(project, parts), entered, strict=True)


def _group_of(groups: list[Wanted], line: PartLine, own: OwnPiece | None) -> int:
    """The place of a line's group, which is made when it is not there yet."""
    if line.section is not None:
        at = next(
            (k for k, g in enumerate(groups) if g.section == line.section and g.metal == line.material), None
        )
        made = Wanted(
            piece_of(line.section, line.material), line.section, line.material,
            (label(line.section), material(line.material).name), (),
        )  # fmt: skip
    else:
        assert own is not None  # every other line has a section
        at = next((k for k, g in enumerate(groups) if g.section is None and _same(g.names, own)), None)
        names = Piece(None, frozenset({plain(own.section)}), frozenset({plain(own.material)}))
        made = Wanted(names, None, "", (own.section.strip(), own.material.strip()), ())
    if at is None:
        groups.append(made)
        return len(groups) - 1
    return at


def _pieces(kind: int, line: PartLine, mitre: float, count: int) -> tuple[CutPiece, ...]:
    mark, length = letters(kind), line.length or 0.0
    return tuple(
        CutPiece(f"{mark}{n}", line.key, line.what, line.where, length, mitre) for n in range(1, count + 1)
    )


def _same(names: Piece, own: OwnPiece) -> bool:
    material_fits = not own.material.strip() or plain(own.material) in names.materials
    return plain(own.section) in names.sections and material_fits


def _mitres(project: Project, layout: Layout) -> dict[str, float]:
    """Angle from square of the ends of diagonals, rad, by the beginning of their key; legs stand upright."""
    found: dict[str, float] = {}
    for one in diagonals(project.machine, layout):
        level = hypot(one.end[0] - one.start[0], one.end[1] - one.start[1])
        found.setdefault(f"{_DIAGONAL}{one.plane}", atan2(one.end[2] - one.start[2], level))
    return found
