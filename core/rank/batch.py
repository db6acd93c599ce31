"""Candidates that differ in their sections alone, stacked so that one model carries them all: a setting of arrays.

The layout's figures that follow from the beam become arrays (d, 1): the second axis is left to tool places.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

import msgspec
import numpy as np
import numpy.typing as npt

from core.machine.gantry import GantryBeam
from core.machine.layout import Layout, Sections, lay_out
from core.machine.project import Machine
from core.model.setting import SHORT, Setting
from core.rank.candidates import Candidate
from core.sections import PropertyBook, SectionProperties

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
CHUNK = 250
"""Designs at a time: their matrices stay in the processor's nearer memory, and a stop or a bar's step never waits long."""
FIGURES = tuple(f.name for f in fields(SectionProperties) if f.name not in ("name", "method", "source"))


@dataclass(frozen=True, slots=True)
class Batch:
    """Designs with one beam description but for the section.

    Attributes:
        rows: (d,) their numbers among all candidates. machine: the machine with the first of the beams.
        layout: with arrays (d, 1) where a figure follows from the beam. first: layout of the first design, plain figures.
        book: properties that were analysed before.
    """

    rows: Ints
    machine: Machine
    layout: Layout
    first: Layout
    book: PropertyBook

    def setting(self) -> Setting:
        """The model's setting with arrays of designs and likely figures."""
        return Setting(self.machine, self.layout, "likely", self.book)

    def carriage_arms(self) -> tuple[Floats, ...]:
        """Places of the X carriages as seen from the saddle's middle, m, each (d, 1) or plain."""
        lay = self.layout
        return tuple(one for y, z in lay.x_carriages for one in (y - lay.saddle_y, z - lay.saddle_z))  # type: ignore[misc]

    def some(self, rows: Ints) -> Batch:
        """These designs of the batch alone."""
        return replace(self, rows=self.rows[rows], layout=_take(self.layout, rows))

    def distinct(self, names: tuple[str, ...], more: tuple[Floats, ...] = ()) -> tuple[Batch, Ints]:
        """The designs that differ in these figures of the layout, or in some more, one of each; and for every design (d,)
        which of them it is like."""
        every = [*(getattr(self.layout, name) for name in names), *more]
        figures = [np.broadcast_to(one, (self.rows.size, 1))[:, 0].round(12) for one in every]
        _, first, which = np.unique(
            np.stack(figures, axis=-1), axis=0, return_index=True, return_inverse=True
        )
        return self.some(first), np.ravel(which)


def picked(part: Floats, rows: Ints, own: int) -> Floats:
    """Of an array (few, 1, ...), or one that lacks some of the first two axes: these designs (d, 1, ...).

    Args:
        own: how many axes follow after the first two.
    """
    lead = np.broadcast_shapes(part.shape[: part.ndim - own], (1, 1))
    whole = np.broadcast_to(part, (*lead, *part.shape[part.ndim - own :]))
    return np.asarray(whole[rows if lead[0] > 1 else np.zeros(rows.size, dtype=np.int64)])


def _take(value: Any, rows: Ints) -> Any:
    """A layout, or anything in it, of some of the designs."""
    if isinstance(value, np.ndarray):
        return value[rows]
    if isinstance(value, tuple):
        return tuple(_take(one, rows) for one in value)
    if isinstance(value, Layout | Sections | SectionProperties):
        return replace(value, **{f.name: _take(getattr(value, f.name), rows) for f in fields(value)})
    return value


def batches(
    machine: Machine, others: Sections, tried: Sequence[Candidate], shapes: Sequence[SectionProperties | None],
    book: PropertyBook,
) -> list[Batch]:  # fmt: skip
    """Batches of all candidates that have properties.

    Args:
        others: sections of the machine as it is; all but the beam's are used. shapes: of each candidate as it stands.
    """
    groups: dict[tuple[object, ...], list[int]] = {}
    for row, (one, shape) in enumerate(zip(tried, shapes, strict=True)):
        if shape is not None:
            groups.setdefault(_kind(machine, one, shape), []).append(row)
    found = []
    for rows in groups.values():
        for part in _parts(sorted(rows, key=lambda row: _seat(shapes[row]))):
            found.append(_batch(machine, others, part, tried, shapes, book))
    return found


def _seat(shape: SectionProperties | None) -> tuple[float, float]:
    """Designs alike in this stand on uprights and carry heads that are alike: in order, few of these fall to each batch."""
    assert shape is not None
    return shape.height, shape.width


def _parts(rows: list[int]) -> Iterator[list[int]]:
    for start in range(0, len(rows), CHUNK):
        yield rows[start : start + CHUNK]


def _kind(machine: Machine, one: Candidate, shape: SectionProperties) -> tuple[object, ...]:
    """What all designs of a batch have in common; also whether the saddle's middle lies on that of the Z carriages."""
    beam = one.beam
    above = machine.work.clearance + shape.height / 2.0 - machine.head.carriages_above_table
    flush = beam.rail_face == "front" and abs(above) <= SHORT
    top = (one.rail_spacing, shape.height) if beam.rail_face == "top" else None
    seats = (beam.material, beam.length, beam.overhang, beam.rail_face, beam.extra_mass)
    return (*seats, beam.rail_fastening.under_rail, flush, top)


def with_beam_alone(machine: Machine, beam: GantryBeam) -> Machine:
    """The machine with another beam, nothing else changed."""
    return msgspec.structs.replace(machine, gantry=msgspec.structs.replace(machine.gantry, beam=beam))


def _batch(
    machine: Machine, others: Sections, rows: list[int], tried: Sequence[Candidate],
    shapes: Sequence[SectionProperties | None], book: PropertyBook,
) -> Batch:  # fmt: skip
    one = shapes[rows[0]]
    assert one is not None
    changed = with_beam_alone(machine, tried[rows[0]].beam)
    columns: dict[str, Any] = {
        name: np.array([[getattr(shapes[row], name)] for row in rows], dtype=np.float64) for name in FIGURES
    }
    spacing: Any = np.array([[tried[row].rail_spacing] for row in rows])
    every = lay_out(changed, replace(others, beam=replace(one, **columns)), spacing)
    first = lay_out(changed, replace(others, beam=one), tried[rows[0]].rail_spacing)
    return Batch(np.array(rows), changed, every, first, book)
