"""The frozen answer about what to stiffen first."""

from __future__ import annotations

from dataclasses import dataclass

from core.advice.candidates import Change
from core.findings import Finding


@dataclass(frozen=True, slots=True)
class Advice:
    """One change of the machine, solved.

    Attributes:
        change: what is changed. sentence: the whole in words. after: worst deflection with it, m.
        gain: part of the deflection that it takes away (0.2 is 20 %). mass: added to the machine, kg; None if not known.
        price: of the added mass, in the money of the prices given; None without one.
        breaks: what would no longer fit or hold with it, in words; empty if nothing.
    """

    change: Change
    sentence: str
    after: float
    gain: float
    mass: float | None
    price: float | None
    breaks: str

    @property
    def gain_per_kg(self) -> float | None:
        """Part of the deflection for each kilogram added; None where nothing is added or the mass is not known."""
        return self.gain / self.mass if self.mass is not None and self.mass > 1e-3 else None

    @property
    def gain_per_price(self) -> float | None:
        """Part of the deflection for each unit of money; None without a price."""
        return self.gain / self.price if self.price is not None and self.price > 0.0 else None


@dataclass(frozen=True, slots=True)
class Slope:
    """How the worst deflection follows one entry.

    Attributes:
        path, label, quantity: the entry. value: as it stands, SI.
        per_unit: change of the deflection, m for each SI unit of the entry. relative: percent for each percent of the entry.
    """

    path: str
    label: str
    quantity: str
    value: float
    per_unit: float
    relative: float


@dataclass(frozen=True, slots=True)
class AdviceAnswer:
    """Advice for the load case that comes nearest to its limit, or is farthest over it.

    Attributes:
        case, number: load case. x, y: its worst place, m. before: deflection there, m. limit: m.
        advices: largest gain first. slopes: strongest first.
    """

    case: str
    number: int
    x: float
    y: float
    before: float
    limit: float
    advices: tuple[Advice, ...]
    slopes: tuple[Slope, ...]
    findings: tuple[Finding, ...] = ()
