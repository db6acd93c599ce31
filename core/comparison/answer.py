"""The frozen results of a comparison: one answer for each variant, and rows of figures and facts over all of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from core.bill import CostAnswer, CostDifference
from core.findings import Finding
from core.machine.project import Project
from core.plan import Plan

Better = Literal["less", "more", ""]


class Ends(NamedTuple):
    """One figure of one machine: likely; with everything uncertain at its soft and at its stiff end; and its band.

    All None where there is no such figure; ends and band None where nothing uncertain moves it.
    """

    likely: float | None = None
    soft: float | None = None
    stiff: float | None = None
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Listed:
    """One entry that differs, in words: path, label, what it is here and in the machine."""

    path: str
    label: str
    here: str
    machine: str


@dataclass(frozen=True, eq=False, slots=True)
class VariantAnswer:
    """One machine of the comparison; the project's own is the first.

    Attributes:
        name, note: as entered. project: the whole description that was answered, without variants.
        listed: the entries that differ from the machine.
        plan: None when a change does not fit or an entry cannot be used, which `findings` then tell.
        values: what the rows are made of, by key.
        facts: words by key. uncertain: every figure known only within limits by path: (low, likely, high).
        findings: of this machine, limits first. cost: of everything new, by net lengths; None without a plan.
    """

    name: str
    note: str
    project: Project
    listed: tuple[Listed, ...]
    plan: Plan | None
    values: dict[str, Ends]
    facts: dict[str, str]
    uncertain: dict[str, tuple[float, float, float]]
    findings: tuple[Finding, ...]
    cost: CostAnswer | None = None

    @property
    def stands(self) -> bool:
        """Whether there are figures of its stiffness."""
        return self.plan is not None and self.plan.stiffness is not None


@dataclass(frozen=True, slots=True)
class Figure:
    """One row of figures, a value for each machine; None where it has none.

    Attributes:
        key, label: stable name and words. quantity: name in `core.units`. better: which way is better, empty for neither.
        ends: of each machine.
        note: how it is found, its source and what it leaves out. upper: whether it is an upper bound, the lower being 0.
        told: whether the sentences name it.
    """

    key: str
    label: str
    quantity: str
    better: Better
    ends: tuple[Ends, ...]
    note: str = ""
    upper: bool = False
    told: bool = False

    @property
    def likely(self) -> tuple[float | None, ...]:
        """With likely figures, of each machine."""
        return tuple(end.likely for end in self.ends)

    def band(self, column: int) -> tuple[float, float] | None:
        """Lowest and highest of a machine's figure; None without a band. An upper bound's reaches down to 0."""
        end = self.ends[column]
        if self.upper and end.likely is not None:
            return 0.0, end.likely
        if end.likely is None or end.low is None or end.high is None:
            return None
        return min(end.low, end.likely), max(end.high, end.likely)

    @property
    def spread(self) -> float:
        """Largest difference between two machines as a share of the largest figure; 0 when fewer than two have one."""
        known = [value for value in self.likely if value is not None]
        largest = max((abs(value) for value in known), default=0.0)
        return (max(known) - min(known)) / largest if largest > 0.0 and len(known) > 1 else 0.0


@dataclass(frozen=True, slots=True)
class Fact:
    """One row of words, a text for each machine."""

    key: str
    label: str
    texts: tuple[str, ...]
    note: str = ""


@dataclass(frozen=True, eq=False, slots=True)
class ComparisonAnswer:
    """All machines side by side.

    Attributes:
        machines: the project's own first. figures, facts: in the order in which they are worked out; `differing` orders
            them by what tells the machines apart.
        findings: about changes that do not fit (code variant-entry).
        costs: of each machine against the first; None without figures.
    """

    machines: tuple[VariantAnswer, ...]
    figures: tuple[Figure, ...]
    facts: tuple[Fact, ...]
    findings: tuple[Finding, ...]
    costs: tuple[CostDifference | None, ...]

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(machine.name for machine in self.machines)

    def figure(self, key: str) -> Figure:
        """A row by its key; KeyError when there is none."""
        return next(row for row in self.figures if row.key == key)

    def alike(self, one: int, other: int) -> bool:
        """Whether two machines share every figure that is known only within limits, so that both stand at the same end."""
        return self.machines[one].uncertain == self.machines[other].uncertain
