"""Forces of the whole cutter over one turn: the sum over the teeth in the cut, with its mean and its peak.

A helix is cut into slices along the depth; the teeth share one curve that is shifted by the pitch between them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.cutting.chip import Chip, find_chip
from core.cutting.pressure import Side, edge_force
from core.machine.loads import CutForce

Floats = npt.NDArray[np.float64]
STEPS = 720
SLICES = 24
EDGE = 1.0e-9  # rad; an edge that stands at the very end of its bite still cuts


@dataclass(frozen=True, slots=True)
class Turn:
    """Forces on the cutter over one turn at n equal steps.

    Attributes:
        angle: (n,) how far the cutter has turned, rad, 0 to a full turn.
        tooth: (n,) tangential force of one tooth, N. tangential: (n,) the sum over all teeth.
        along, across: (n,) along the feed and across it in the table's plane, N. axial: (n,) along Z, N.
        resultant: (n,) size of the three together.
    """

    angle: Floats
    tooth: Floats
    tangential: Floats
    along: Floats
    across: Floats
    axial: Floats
    resultant: Floats

    @property
    def peak(self) -> float:
        """Largest resultant, N."""
        return float(self.resultant.max())

    @property
    def mean(self) -> float:
        """Size of the mean force vector, N."""
        parts = (self.along, self.across, self.axial)
        return math.sqrt(sum(float(p.mean()) ** 2 for p in parts))


def find_turn(cut: CutForce, side: Side = "likely") -> Turn:
    """Forces over one turn. The direction of the radial force is from the edge towards the cutter's axis.

    F_along = -F_t cos phi - F_r sin phi, F_across = F_t sin phi - F_r cos phi for each edge at its angle phi. Source:
    Altintas, Manufacturing Automation, chapter on milling forces (from memory); mean values checked in
    `tests/validation`.
    """
    chip = find_chip(cut)
    count = cut.teeth * math.ceil(STEPS / cut.teeth)
    angle = np.linspace(0.0, 2.0 * math.pi, count, endpoint=False)
    # The steps begin where the chip is thickest, so that the peak of a straight edge is met exactly.
    one = _one_tooth(cut, chip, angle + chip.thickest_at, side)
    every = one.reshape(3, cut.teeth, -1).sum(axis=1)
    tangential, along, across = np.tile(every, (1, cut.teeth))
    axial = cut.axial_share * tangential
    resultant = np.sqrt(along**2 + across**2 + axial**2)
    return Turn(angle, one[0], tangential, along, across, axial, resultant)


def _one_tooth(cut: CutForce, chip: Chip, angle: Floats, side: Side) -> Floats:
    """(3, n): tangential force, force along and across the feed of one tooth whose tip stands at `angle` (n,)."""
    lag = 2.0 * cut.depth * math.tan(cut.helix) / cut.diameter
    slices = SLICES if lag > 0.0 else 1
    phi = angle[:, None] - lag * (np.arange(slices) + 0.5 * (lag > 0.0)) / slices
    phi = np.mod(phi + EDGE, 2.0 * math.pi) - EDGE
    inside = (phi >= chip.entry - EDGE) & (phi <= chip.leave + EDGE)
    sine, cosine = np.sin(phi), np.cos(phi)
    tangential = edge_force(cut, np.where(inside, chip.feed_tooth * sine, 0.0), cut.depth / slices, side)
    radial = cut.radial_share * tangential
    along = -tangential * cosine - radial * sine
    across = tangential * sine - radial * cosine
    return np.stack([tangential.sum(axis=1), along.sum(axis=1), across.sum(axis=1)])
