"""Which pieces are to be cut: lengths of sections in the parts list and the user's own, by section and material."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import atan2, hypot

from core.cuts.answer import CutPiece
from core.machine.diagonals import diagonals
from core.machine.layout import Layout
from core.machine.project import Project
from core.machine.saw import OwnPiece
from core.materials import material
from core.parts import PartLine
from core.prices.match import Piece, piece_of, plain
from core.sections import Section, label

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


def wanted_pieces(project: Project, layout: Layout, parts: tuple[PartLine, ...]) -> tuple[Wanted, ...]:
    """Groups in the order of the parts list, then those that only the user's own pieces make. Marks are unique."""
    groups: list[Wanted] = []
    mitres = _mitres(project, layout)
    kinds = 0
    for line in parts:
        if line.section is None or line.length is None or line.length <= 0.0 or line.quantity < 1:
            continue
        at = next(
            (k for k, g in enumerate(groups) if g.section == line.section and g.metal == line.material),
            None,
        )
        if at is None:
            names = piece_of(line.section, line.material)
            words = (label(line.section), material(line.material).name)
            groups.append(Wanted(names, line.section, line.material, words, ()))
            at = len(groups) - 1
        mitre = next((angle for key, angle in mitres.items() if line.key.startswith(key)), 0.0)
        made = _pieces(kinds, line.key, line.what, line.where, line.length, mitre, line.quantity)
        groups[at] = replace(groups[at], pieces=(*groups[at].pieces, *made))
        kinds += 1
    for number, own in enumerate(project.own_pieces):
        if own.quantity < 1:
            continue
        at = next((k for k, g in enumerate(groups) if _same(g, own)), None)
        if at is None:
            names = Piece(None, frozenset({plain(own.section)}), frozenset({plain(own.material)}))
            groups.append(Wanted(names, None, "", (own.section.strip(), own.material.strip()), ()))
            at = len(groups) - 1
        key = f"own_pieces.{number}"
        made = _pieces(kinds, key, own.name, own.where, own.length, own.mitre, own.quantity)
        groups[at] = replace(groups[at], pieces=(*groups[at].pieces, *made))
        kinds += 1
    return tuple(groups)


def letters(number: int) -> str:
    """A, B, … Z, AA, AB, … for 0, 1, …"""
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("A") + rest) + text
    return text


def _pieces(
    kind: int, key: str, what: str, where: str, length: float, mitre: float, count: int
) -> tuple[CutPiece, ...]:
    mark = letters(kind)
    return tuple(CutPiece(f"{mark}{n}", key, what, where, length, mitre) for n in range(1, count + 1))


def _same(group: Wanted, own: OwnPiece) -> bool:
    material_fits = not own.material.strip() or plain(own.material) in group.names.materials
    return plain(own.section) in group.names.sections and material_fits


def _mitres(project: Project, layout: Layout) -> dict[str, float]:
    """Angle from square of the ends of diagonals, rad, by the beginning of their key; legs stand upright."""
    found: dict[str, float] = {}
    for one in diagonals(project.machine, layout):
        level = hypot(one.end[0] - one.start[0], one.end[1] - one.start[1])
        found.setdefault(f"{_DIAGONAL}{one.plane}", atan2(one.end[2] - one.start[2], level))
    return found
