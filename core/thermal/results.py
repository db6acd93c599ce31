"""The frozen answers about heat. Pairs of figures are for the coldest and the warmest shop, in this order."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.findings import Finding

Floats = npt.NDArray[np.float64]
Pair2 = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Growth:
    """A part that grows by itself: length m, expansion 1/K, change m at the coldest and the warmest."""

    key: str
    label: str
    length: float
    material: str
    expansion: float
    change: Pair2


@dataclass(frozen=True, slots=True)
class Bow:
    """A beam with rails of another metal on one face.

    Attributes:
        key: "beam" or "side_beams". direction: "X", "Y" or "Z", across the beam.
        distance: between the centroids of beam and rails, m. curvature: 1/m, bonded, positive turns the ends to the rails.
        bonded: height of the bow that the rails add, between the outer supports, m, positive towards the rails' side at the
            ends; the upper bound. The lower bound, rails that slide, is 0.
        held: what is left of rails and plate when every support holds the beam; as `whole` with two supports.
        force: pull in each rail when bonded, N. shift: of the rail's ends on the beam when it slides, m.
        clearance: how far a screw can move in the rail's hole, m.
        plate: bow by a plate of another metal alone, as far as it is joined, rails sliding, m. whole: by plate and rails that
            hold, about the axis of all. across: the other way across the beam ("" without a plate), plate_across: the plate's
            bow that way, what rails hinder there left out, m, positive with the ends towards the axis.
    """

    key: str
    label: str
    direction: str
    distance: float
    curvature: Pair2
    bonded: Pair2
    held: Pair2
    force: Pair2
    shift: Pair2
    clearance: float
    plate: Pair2 = (0.0, 0.0)
    whole: Pair2 = (0.0, 0.0)
    across: str = ""
    plate_across: Pair2 = (0.0, 0.0)

    @property
    def worst(self) -> float:
        """Largest size of the bow along any way, with rails that hold or slide, m."""
        return max(abs(v) for v in (*self.bonded, *self.plate, *self.whole, *self.plate_across))


@dataclass(frozen=True, slots=True)
class HeatPath:
    """How the tool tip's path changes along a travel, in the worse of two ways: rails that hold, or that slide.

    Without a plate of another metal rails that hold are always the worse, and rails that slide leave the path as it is.

    Attributes:
        axis: "X" or "Y". place (n,): tool places, m. moved (2, n, 3): movement of the tip from the middle of the travel, m.
        left (2, n): size of what remains across the axis after the best line. worst: its largest, m; worst_place: where.
        along: change of the travel's length by the turning of the head, m. rails: "hold" or "slide".
    """

    axis: str
    place: Floats
    moved: Floats
    left: Floats
    worst: float
    worst_place: float
    along: Pair2
    rails: str = "hold"


@dataclass(frozen=True, slots=True)
class Scale:
    """How much too long (positive) a travel is cut or measured, against the work.

    Attributes:
        axis: "X" or "Y". travel: m. follows: what the axis takes its length from, in words.
        expansion: lowest and highest that it may follow, 1/K. cold, warm: least and largest error, m. worst: largest size.
    """

    axis: str
    travel: float
    follows: str
    expansion: Pair2
    cold: Pair2
    warm: Pair2
    worst: float


@dataclass(frozen=True, slots=True)
class HeldScrew:
    """A ball screw held at both ends: it cannot grow, so it pushes.

    Attributes:
        growth: what it would grow more than the beam that carries its bearings, m. stiffness: shaft and both bearings in
            series, N/m. push: N, negative pulls. buckling: Euler load of the shaft, both ends fixed, N.
        stretch: what it must be stretched by at set-up so that it stays pulled, m; pull: the force for that, N.
    """

    axis: str
    length: float
    growth: Pair2
    stiffness: float
    push: Pair2
    buckling: float
    stretch: float
    pull: float


@dataclass(frozen=True, slots=True)
class HeatAnswer:
    """Everything about heat. changes: coldest and warmest less the temperature at set-up, K. spread: how much more the
    gantry beam grows than the base between the two sides, m; uprights and carriages have to give way by it."""

    changes: Pair2
    growths: tuple[Growth, ...]
    bows: tuple[Bow, ...]
    paths: tuple[HeatPath, ...]
    scales: tuple[Scale, ...]
    screws: tuple[HeldScrew, ...]
    spread: Pair2
    findings: tuple[Finding, ...]
