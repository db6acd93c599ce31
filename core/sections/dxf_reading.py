"""Reads the closed outline of a section from the bytes of a DXF drawing.

Lines, arcs, circles, ellipses, splines and polylines count, blocks are taken apart; curves become chords. How the pieces
are joined to rings is in `dxf_rings`. Files are opened elsewhere: here only bytes come in.
"""

from __future__ import annotations

import io
import logging
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from core.errors import BadEntry
from core.sections.dxf_rings import Chain, rings_of
from core.sections.outline_section import MOST_POINTS, Outline

BINARY, SIGN = b"Binary DXF\r\n\x1a\x00", 22
"""How the first bytes of a binary DXF file end, and how many these are. Source: the DXF reference, "Binary DXF files"."""

MOST_BYTES = 5_000_000
MOST_ENTITIES = 20_000
MOST_DEPTH = 8
"""Blocks within blocks."""

SAGITTA = 5e-6
"""Greatest distance of a chord from its curve, m."""

FLAT = 1e-6
"""Heights that differ by less than this (m) are one plane."""

UNITS = {"mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": 0.0254, "ft": 0.3048}
"""Drawing units that may be told, in m."""

_CODES = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
_CURVES = frozenset({"CIRCLE", "ARC", "ELLIPSE", "SPLINE"})
_LINES = _CURVES | {"LINE", "LWPOLYLINE"}
WHERE = "drawing"


@dataclass(frozen=True, slots=True)
class DrawnOutline:
    """What a drawing holds.

    Attributes:
        outline: the section.
        unit: a key of `UNITS`. told: whether the user told it; else the drawing did.
        header_unit: what the drawing says, empty when it says nothing.
        left_out: kinds of entities that are no outline, with their number ("TEXT": 2).
        doubled: entities drawn twice, which count once.
    """

    outline: Outline
    unit: str
    told: bool
    header_unit: str
    left_out: dict[str, int]
    doubled: int

    def notes(self) -> tuple[str, ...]:
        """Sentences about what was assumed or left out."""
        found = []
        if self.told and self.header_unit and self.header_unit != self.unit:
            found.append(f"The drawing says {self.header_unit}; {self.unit} was told and counts.")
        if self.left_out:
            kinds = ", ".join(f"{kind} ({count})" for kind, count in sorted(self.left_out.items()))
            found.append(f"Left out, being no outline: {kinds}.")
        if self.doubled:
            found.append(f"Drawn twice and counted once: {self.doubled}.")
        return tuple(found)


def read_dxf(data: bytes, name: str, unit: str | None = None) -> DrawnOutline:
    """The outline in a drawing, its points in m from the middle of its outer box.

    Args:
        data: the whole file, text or binary DXF.
        name: what the section is to be called.
        unit: a key of `UNITS`; None takes what the drawing says in $INSUNITS.

    Raises:
        BadEntry: no DXF, too large, no unit, nothing to be an outline, one that is open, crosses or touches itself, or
            several apart.
    """
    if unit is not None and unit not in UNITS:
        raise BadEntry("unit", repr(unit), "is not a unit of a drawing", ", ".join(UNITS))
    document = _document(data)
    header_unit = _CODES.get(int(document.header.get("$INSUNITS", 0) or 0), "")
    used = unit or header_unit
    if not used:
        raise BadEntry(
            "unit",
            "nothing",
            "is said in the drawing about its unit",
            f"one of {', '.join(UNITS)}, told by you",
        )
    scale = UNITS[used]
    chains, left_out, doubled = _chains(document, scale)
    if not chains:
        seen = ", ".join(sorted(left_out))
        raise BadEntry(
            WHERE,
            f"a model space with {seen} only" if seen else "an empty model space",
            "holds no outline",
            "lines, arcs, circles, ellipses, splines or polylines in the model space",
        )
    rings = rings_of(chains)
    try:
        outline = Outline(name=name.strip() or "Outline", rings=rings)
    except BadEntry as error:
        where = "unit" if "size" in error.value else WHERE
        raise BadEntry(where, f"{error.value} (drawn in {used})", error.problem, error.accepted) from error
    return DrawnOutline(outline, used, unit is not None, header_unit, left_out, doubled)


def _document(data: bytes) -> Any:
    if not data.strip():
        raise BadEntry(WHERE, "an empty file", "holds no drawing", "a DXF file")
    if len(data) > MOST_BYTES:
        raise BadEntry(WHERE, f"{len(data)} bytes", "are too many", f"a DXF file of up to {MOST_BYTES} bytes")
    logger = logging.getLogger("ezdxf")
    if not logger.handlers:
        logger.addHandler(logging.NullHandler())  # the library's remarks must not reach the terminal
    from ezdxf import recover
    from ezdxf.document import Drawing
    from ezdxf.lldxf.tagger import binary_tags_loader

    try:
        if data[:SIGN].endswith(BINARY):
            document = Drawing.load(binary_tags_loader(data))
        else:
            document, _ = recover.read(io.BytesIO(data))
        document.modelspace()
    except (
        Exception
    ) as error:  # the library meets foreign bytes in many ways; none of them may end the program
        what = str(error).strip().splitlines()
        raise BadEntry(
            WHERE,
            "the file",
            f"cannot be read as DXF ({what[0] if what else type(error).__name__})",
            "a DXF file, saved again as R2000 or later if this one is very old",
        ) from error
    return document


def _chains(document: Any, scale: float) -> tuple[list[Chain], dict[str, int], int]:
    """Every open or closed chain of points in m, what was left out, and how many were drawn twice."""
    left_out: Counter[str] = Counter()
    chains: list[Chain] = []
    seen: set[tuple[tuple[int, int], ...]] = set()
    heights: list[float] = []
    doubled = points = 0
    for entity in _entities(document.modelspace(), left_out):
        spots = _points(entity, scale)
        heights += [z for _, _, z in spots]
        points += len(spots)
        if points > 2 * MOST_POINTS:
            raise BadEntry(
                WHERE,
                f"more than {2 * MOST_POINTS} points",
                "are too many",
                f"an outline of up to {MOST_POINTS} points",
            )
        chain = Chain(tuple((y, z) for y, z, _ in spots))
        if chain.length() < FLAT:
            continue
        if chain.signature() in seen:
            doubled += 1
            continue
        seen.add(chain.signature())
        chains.append(chain)
    if heights and max(heights) - min(heights) > FLAT:
        raise BadEntry(
            WHERE,
            f"heights from {min(heights):g} to {max(heights):g} m",
            "are not flat",
            "an outline in one plane",
        )
    return chains, dict(left_out), doubled


def _entities(space: Any, left_out: Counter[str]) -> Iterator[Any]:
    """Every entity that may be part of an outline, blocks taken apart."""
    waiting = [(entity, 0) for entity in space]
    met = 0
    while waiting:
        entity, depth = waiting.pop(0)
        met += 1
        if met > MOST_ENTITIES or len(waiting) > MOST_ENTITIES:
            raise BadEntry(
                WHERE,
                f"more than {MOST_ENTITIES} entities",
                "are too many",
                f"up to {MOST_ENTITIES} lines and curves",
            )
        kind = entity.dxftype()
        if kind == "INSERT":
            waiting = [(inner, depth + 1) for inner in _taken_apart(entity, depth)] + waiting
        elif kind in _LINES or (kind == "POLYLINE" and (entity.is_2d_polyline or entity.is_3d_polyline)):
            yield entity
        else:
            left_out[kind] += 1


def _taken_apart(insert: Any, depth: int) -> list[Any]:
    name = str(insert.dxf.name)
    block = insert.block()
    if block is None or block.block.is_xref:
        raise BadEntry(
            WHERE,
            f"the block {name}",
            "is in another file or missing",
            "a drawing with its blocks bound or taken apart",
        )
    if depth >= MOST_DEPTH:
        raise BadEntry(
            WHERE, f"the block {name}", "lies too deep in other blocks", f"up to {MOST_DEPTH} levels"
        )
    copies = list(insert.multi_insert()) if insert.mcount > 1 else [insert]
    return [inner for copy in copies for inner in copy.virtual_entities()]


def _points(entity: Any, scale: float) -> list[tuple[float, float, float]]:
    """The points of an entity in m; curves as chords that stay within `SAGITTA`."""
    distance = SAGITTA / scale
    try:
        spots = list(_spots(entity, distance))
    except (ArithmeticError, ValueError, TypeError, IndexError) as error:
        raise BadEntry(
            WHERE, f"an entity of kind {entity.dxftype()}", f"cannot be drawn ({error})", "a sound drawing"
        ) from error
    return [(float(p.x) * scale, float(p.y) * scale, float(p.z) * scale) for p in spots]


def _spots(entity: Any, distance: float) -> Iterator[Any]:
    kind = entity.dxftype()
    if kind == "LINE":
        yield from (entity.dxf.start, entity.dxf.end)
    elif kind == "SPLINE":
        yield from entity.flattening(distance, segments=8)
    elif kind in _CURVES:
        yield from entity.flattening(min(distance, 0.2 * _radius(entity)))
    else:
        parts = [list(_spots(part, distance)) for part in entity.virtual_entities()]
        yield from _end_to_end(parts)


def _end_to_end(parts: list[list[Any]]) -> Iterator[Any]:
    """Parts of a polyline as one chain. Arcs always run anticlockwise; those met the other way round are turned."""
    if len(parts) > 1:
        first, second = parts[0], parts[1]
        ends = (second[0], second[-1])
        if min(_far(first[0], end) for end in ends) < min(_far(first[-1], end) for end in ends):
            first.reverse()
    last = None
    for spots in parts:
        if last is not None and _far(spots[0], last) > _far(spots[-1], last):
            spots.reverse()
        yield from spots if last is None else spots[1:]
        last = spots[-1]


def _radius(entity: Any) -> float:
    if entity.dxftype() == "ELLIPSE":
        return float(entity.dxf.major_axis.magnitude * entity.dxf.ratio)
    return float(entity.dxf.radius)


def _far(one: Any, other: Any) -> float:
    return float((one - other).magnitude)
