"""What a person wants of a beam: limits that leave some candidates out, and the two figures that a chart weighs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.rank.answer import RankAnswer
from core.rank.candidates import Candidate
from core.rank.frontier import frontier, in_steps
from core.sections import slot_lines

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]

COSTS: dict[str, tuple[str, str]] = {
    "moving_mass": ("Mass of all that moves", "mass"),
    "beam_mass": ("Mass of the beam", "mass"),
    "height": ("Height of the beam", "length"),
    "price": ("Price of the beam", "money"),
}
"""Figures to be small beside the deflection, with their words and quantity."""


WORTH = 0.01
"""A beam that gives way less by less than this part is no step worth its cost; no machine is known so closely."""
FAR = 5.0
"""So many times over its limit a beam is beyond any choice."""
SAME = 1e-9
"""Costs that differ by less than this part are the same."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which candidates to show; None leaves a limit out.

    Attributes:
        usable: only those whose rails find hold. holding: only those that hold every limit. slotted: only those with slots
        under both rails. clear: only those without a warning. height, beam_mass, moving_mass, price: largest ones, m, kg, money.
        families, materials: only these headings, only these keys of materials.
    """

    usable: bool = True
    holding: bool = False
    slotted: bool = False
    clear: bool = False
    height: float | None = None
    beam_mass: float | None = None
    price: float | None = None
    moving_mass: float | None = None
    families: frozenset[str] | None = None
    materials: frozenset[str] | None = None


def wanted_rows(answer: RankAnswer, wanted: Wanted) -> Flags:
    """(n,) which candidates meet the wishes; one without a price meets no largest price."""
    rows = answer.fits.copy() if wanted.usable else np.ones(len(answer.candidates), dtype=np.bool_)
    if wanted.holding:
        rows &= answer.holds
    if wanted.slotted:
        rows &= on_slots(answer)
    if wanted.clear:
        rows &= unwarned(answer)
    for kept, of in ((wanted.families, _family), (wanted.materials, _material)):
        if kept is not None:
            rows &= np.array([of(one) in kept for one in answer.candidates], dtype=np.bool_)
    for name in ("height", "beam_mass", "moving_mass", "price"):
        most = getattr(wanted, name)
        if most is not None:
            with np.errstate(invalid="ignore"):
                rows &= getattr(answer, name) <= most * (1.0 + 1e-9)
    return rows


def _family(candidate: Candidate) -> str:
    return candidate.family


def _material(candidate: Candidate) -> str:
    return candidate.beam.material


def unwarned(answer: RankAnswer) -> Flags:
    """(n,) which candidates come without a warning."""
    return np.array([not remark for remark in answer.remarks], dtype=np.bool_)


def on_slots(answer: RankAnswer) -> Flags:
    """(n,) whether the rails lie on slots and are held by nuts in them."""
    return np.array(
        [
            not problem and beam.rail_fastening.hold == "T-nut"
            and bool(slot_lines(beam.section, beam.turned, "left" if beam.rail_face == "front" else "top"))
            for beam, problem in zip(answer.beams, answer.problems, strict=True)
        ],
        dtype=np.bool_,
    )  # fmt: skip


def deflections(answer: RankAnswer, case: int | None) -> Floats:
    """(n,) deflection under one load case, m; without one, the largest over its limit."""
    return answer.load if case is None else np.asarray(answer.worst[:, case])


def far(answer: RankAnswer, case: int | None) -> Flags:
    """(n,) which candidates give way by more than `FAR` times the limit; the machine's own never counts as one."""
    limit = 1.0 if case is None else answer.limits[case]
    out = np.asarray(np.nan_to_num(deflections(answer, case)) > FAR * limit)
    out[0] = False
    return out


def spans(answer: RankAnswer, case: int | None) -> tuple[Floats, Floats]:
    """(n,) low and (n,) high end of the same figures; without a load case, of the one nearest to its limit."""
    if case is not None:
        return np.asarray(answer.low[:, case]), np.asarray(answer.high[:, case])
    rows, nearest = np.arange(len(answer.candidates)), answer.governing
    limit = answer.limits[nearest]
    return answer.low[rows, nearest] / limit, answer.high[rows, nearest] / limit


def to_choose_from(answer: RankAnswer, among: Flags) -> Flags:
    """(n,) those `among` that can be used and hold every limit; where none does, those that can be used."""
    usable = among & answer.fits
    holding = usable & answer.holds
    return holding if holding.any() else usable


def least(answer: RankAnswer, cost: str, among: Flags, *, warned: bool = False) -> int | None:
    """The candidate with the least of a cost (a key of `COSTS`), of those that can be used and hold every limit.

    Of equal ones the stiffest. None where there is none, or none with a figure.

    Args:
        warned: take those that come with a warning too; else they count only where no other is left.
    """
    part = among & answer.fits & answer.holds & np.isfinite(getattr(answer, cost))
    clear = part & unwarned(answer)
    rows = np.flatnonzero(clear if clear.any() and not warned else part)
    if not rows.size:
        return None
    costs = getattr(answer, cost)[rows]
    equal = rows[costs <= costs.min() * (1.0 + SAME)]
    return int(equal[answer.load[equal].argmin()])


def best(answer: RankAnswer, cost: str, case: int | None, among: Flags) -> Flags:
    """(n,) the candidates to choose from that no other of them beats in this cost and in deflection.

    Of those `among` that hold every limit (`to_choose_from`); steps of less than `WORTH` are left out.
    """
    costs, given = getattr(answer, cost), deflections(answer, case)
    return in_steps(costs, given, frontier(costs, given, to_choose_from(answer, among)), WORTH)
