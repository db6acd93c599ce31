"""The frozen results of the interim fitting plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.fasteners.interim.offers import Offer
from core.fasteners.interim.order import Stretch
from core.fasteners.interim.supply import Kind
from core.findings import Finding

State = Literal["refused", "by hand", "slow jog", "all here"]
STATE_WORDS: dict[State, str] = {
    "refused": "not to be moved at all",
    "by hand": "by hand only, no motor, no cutting",
    "slow jog": "slow jog, no cutting",
    "all here": "every screw is here: fit them all; the interim plan ends",
}
Three = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class RailInterim:
    """One rail with the screws that are here.

    Attributes:
        holes: how many it has. now: numbers to fill now, in that order. still: numbers left open.
        longest: the longest stretch without a screw. at_rest: the longest one under a resting carriage, m (0: none stands in
            an open stretch). held: whether every piece has both its ends.
        preload: of one screw, N. at_rest_margin, hand_margin, planned_margin: slip margin under weight alone, with a push by
            hand, and with the planned acceleration of the axes; each with low, likely, high friction and preload. None
            without forces or screws.
        accelerations: largest for X, Y, Z that keep the wanted margin with low friction, m/s2. give: of the rail between two
            screws under weight and push, m. rests: where carriages stand meanwhile, m from the rail's start.
    """

    key: str
    label: str
    axis: str
    holes: int
    now: tuple[int, ...]
    still: tuple[int, ...]
    longest: Stretch | None
    at_rest: float
    held: bool
    preload: Three
    rest_margin: Three | None
    hand_margin: Three | None
    planned_margin: Three | None
    accelerations: Three | None
    give: float | None
    rests: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class AxisInterim:
    """What an axis may do meanwhile.

    Attributes:
        state: one of `STATE_WORDS`. reason: why, a sentence. acceleration: for a slow jog, m/s2; None otherwise.
    """

    axis: str
    state: State
    reason: str
    acceleration: float | None


@dataclass(frozen=True, slots=True)
class InterimAnswer:
    """The interim plan; an interim state, never "done".

    Attributes:
        recorded: whether anything is recorded as here of any screw or nut of a rail. complete: no screw or nut of
            the rails and no recorded part of an axis is missing; joints may still want screws (`offers`).
        kinds: screws and nuts. offers: what the rails leave for each kind of joint. rails, axes: see there.
        findings: state of each axis while something is missing. not_here: rails, carriages, beams and plates that are
            recorded as not all here, in words with their counts.
    """

    recorded: bool
    complete: bool
    kinds: tuple[Kind, ...]
    rails: tuple[RailInterim, ...]
    axes: tuple[AxisInterim, ...]
    findings: tuple[Finding, ...]
    offers: tuple[Offer, ...] = ()
    not_here: tuple[str, ...] = ()
