"""The chip that a milling cutter takes: feed per tooth, how far round each tooth is engaged, and the chip's thickness."""

from __future__ import annotations

import math
from dataclasses import dataclass

from core.machine.loads import CutForce


@dataclass(frozen=True, slots=True)
class Chip:
    """One cut's chip.

    Attributes:
        feed_tooth: m. engagement: angle over which a tooth cuts, rad (pi for a full slot).
        entry, leave: angles where it begins and ends, rad, turning from the side where the chip would be zero in
            conventional milling; with climb milling the bite ends at pi.
        mean, largest: thickness, m. engaged: mean number of teeth in the cut.
    """

    feed_tooth: float
    engagement: float
    entry: float
    leave: float
    mean: float
    largest: float
    engaged: float

    @property
    def thickest_at(self) -> float:
        """Angle of the thickest chip, rad."""
        return min(max(math.pi / 2.0, self.entry), self.leave)


def find_chip(cut: CutForce) -> Chip:
    """Chip of a cut, by the circular path of the edge (the feed is small against the cutter).

    Mean thickness h_m = f_z (1 - cos phi_s) / phi_s, with phi_s = arccos(1 - 2 a_e / D). Source: metal-cutting
    handbooks; the worked example in `tests/validation`.
    """
    feed_tooth = cut.feed / (cut.speed * cut.teeth)
    share = min(2.0 * cut.width / cut.diameter, 2.0)
    engagement = math.acos(1.0 - share)
    entry = math.pi - engagement if cut.climb else 0.0
    largest = feed_tooth * (1.0 if engagement >= math.pi / 2.0 else math.sin(engagement))
    return Chip(
        feed_tooth=feed_tooth,
        engagement=engagement,
        entry=entry,
        leave=entry + engagement,
        mean=feed_tooth * share / engagement,
        largest=largest,
        engaged=cut.teeth * engagement / (2.0 * math.pi),
    )
