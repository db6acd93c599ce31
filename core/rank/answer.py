"""The frozen answer of a ranking: one row a candidate, figures as arrays."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.machine.gantry import GantryBeam
from core.machine.project import Project
from core.rank.candidates import Candidate

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False, slots=True)
class RankAnswer:
    """n candidates in one machine under c load cases; lengths in m, masses in kg. What has no figure is NaN.

    Attributes:
        project: the machine that they were tried in. candidates: (n,), the machine's own beam first.
        case_names, limits: (c,) load cases with their limits.
        worst: (n, c) deflection of the tip at its worst place on the table; worst_x, worst_y: that place.
        low, high: (n, c) the band there: 5 and 95 % of the machines that are drawn within the given limits lie below, as in
            `core.certainty`; NaN when a spring is no sum of its uncertain parts.
        sag, path_error: (n,) with the tool in the middle along Y. first_mode: (n,) Hz, with the tool in the middle.
        beam_mass, moving_mass: (n,). height, width: (n,) as it stands. rail_spacing: (n,) of the X rails.
        bow, twist: (n,) that its delivery standard allows. straight_by: (n,) whose figure that is.
        price: (n,) of the beam by the user's own prices. currency: of the prices.
        problems: (n,) why it cannot be used as it is; empty for those that can. remarks: (n,) what else to watch.
        seconds: how long the solving took.
    """

    project: Project
    candidates: tuple[Candidate, ...]
    case_names: tuple[str, ...]
    limits: Floats
    worst: Floats
    low: Floats
    high: Floats
    worst_x: Floats
    worst_y: Floats
    sag: Floats
    path_error: Floats
    first_mode: Floats
    beam_mass: Floats
    moving_mass: Floats
    height: Floats
    width: Floats
    rail_spacing: Floats
    bow: Floats
    twist: Floats
    straight_by: tuple[str, ...]
    price: Floats
    currency: str
    problems: tuple[str, ...]
    remarks: tuple[str, ...]
    seconds: float = 0.0

    @property
    def beams(self) -> tuple[GantryBeam, ...]:
        """The beams as they would go into the machine."""
        return tuple(candidate.beam for candidate in self.candidates)

    @property
    def solved(self) -> Flags:
        """(n,) whether there are figures."""
        return np.asarray(np.isfinite(self.worst).all(axis=-1))

    @property
    def fits(self) -> Flags:
        """(n,) whether there are figures and the rails find hold."""
        return self.solved & np.array([not problem for problem in self.problems], dtype=np.bool_)

    @property
    def load(self) -> Floats:
        """(n,) the largest deflection of all load cases over its limit; up to 1 every case holds."""
        return np.asarray((self.worst / self.limits).max(axis=-1))

    @property
    def holds(self) -> Flags:
        """(n,) whether every load case, sag and path error hold their limits with likely figures."""
        limits = self.project.limits
        with np.errstate(invalid="ignore"):
            return np.asarray(
                (self.load <= 1.0) & (self.sag <= limits.sag) & (self.path_error <= limits.path_error)
            )

    @property
    def governing(self) -> npt.NDArray[np.int64]:
        """(n,) number of the load case that comes nearest to its limit; 0 without figures."""
        share = np.nan_to_num(self.worst / self.limits, nan=-1.0)
        return np.asarray(share.argmax(axis=-1))
