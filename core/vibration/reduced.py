"""One machine reduced once, for its modes at any tool place: base, gantry and head by few modes of each."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.model.setting import Setting
from core.model.vibrating import Grips, VibratingParts, grips, vibrating_parts
from core.modes import Joined, Joints, Part, join, make_part

Floats = npt.NDArray[np.float64]
BASE, GANTRY, HEAD = 24, 24, 14
"""Kept modes of each part, rigid ones included; held against the full solve in the tests: the first three
frequencies agree within 0.5 %, all six within 1 %."""


@dataclass(frozen=True, slots=True)
class Reduced:
    """A machine's parts as built and as reduced, in the order base, gantry, head.

    Attributes:
        tip: (3, n) picks the tip's movement from the head's.
    """

    setting: Setting
    frames: VibratingParts
    parts: tuple[Part, Part, Part]
    tip: Floats

    @property
    def weight(self) -> float:
        """Mass of the whole machine as far as it is described, kg."""
        return sum(part.weight for part in self.parts)


def reduce(setting: Setting) -> Reduced:
    """Reduce a machine. Raises Mechanism, NotTrustworthy."""
    frames = vibrating_parts(setting)
    parts = (
        make_part(frames.base, BASE),
        make_part(frames.gantry, GANTRY),
        make_part(frames.head, HEAD, frames.lumps),
    )
    tip = np.zeros((3, frames.head.dofs))
    tip[range(3), 6 * frames.tip + np.arange(3)] = 1.0
    return Reduced(setting, frames, parts, tip)


def modes_at(reduced: Reduced, x: Floats, y: Floats, shaped: int | None = None) -> tuple[Joined, Grips]:
    """Modes with the tool at each of p places x (p,), y (p,), m; shapes at the first `shaped`. Raises NotTrustworthy."""
    held = grips(reduced.setting, reduced.frames, x, y)
    rows = (held.base, held.gantry, held.head)
    return join(reduced.parts, Joints(rows, held.stiffness, held.inner, reduced.tip), shaped), held


def frequencies_at(setting: Setting, x: Floats, y: Floats, count: int = 6) -> Floats:
    """(p, count) slowest frequencies in Hz with the tool at each place; for bands and comparisons."""
    joined, _ = modes_at(reduce(setting), np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64), 0)
    return joined.frequencies[:, :count]
