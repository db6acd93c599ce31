"""The frozen results of the second stage, one optional field for each answer."""

from __future__ import annotations

from dataclasses import dataclass, fields

from core.advice import AdviceAnswer
from core.bars import BarsAnswer
from core.certainty import BandsAnswer, nine_of_ten
from core.comparison import ComparisonAnswer
from core.cutting import CuttingAnswer
from core.drives import DrivesAnswer
from core.fasteners.drilling import DrillAnswer
from core.fasteners.interim import InterimAnswer
from core.fasteners.slots import SlotsAnswer
from core.fasteners.strength import JointsAnswer
from core.findings import Finding, ordered
from core.footing import FootingAnswer
from core.form import FormAnswer
from core.guides import GuidesAnswer
from core.plan import Plan, Verdict
from core.plan.verdict import judge
from core.thermal import HeatAnswer
from core.vibration import VibrationAnswer


@dataclass(frozen=True, slots=True)
class Study:
    """What is answered after the plan: each field is None when the machine has no such answer.

    Attributes:
        plan: the finished plan that all of it belongs to.
        troubles: findings about answers that could not be given.
        cutting: chip, forces and power of each load case described by its cut.
        drives: screws, racks, belts and motors of the three axes, racking of the gantry.
        bars: the section of every bar, computed and as typed off a data sheet.
        heat: growth, bow and scale between the coldest and the warmest shop.
        form: what may arrive out of true, what welds add, shims for measured heights.
        drilling: every hole and joint of every rail from one end.
        slots: T-nuts slot by slot, in the order they go in.
        interim: what may be fitted and moved while screws are missing.
        vibration: modes, speeds to avoid, dynamic compliance of the tip, stable depth of cut.
        footing: force on every foot, level of the rails as the gantry travels, the base's share of the give.
        guides: load, life and static safety of every carriage.
        joints: torque, preload and margins of every joint.
        bands: bands of the headline figures, and what makes them wide.
        advice: what to stiffen first; None also when it was not asked for.
        comparison: the variants answered whole, side by side; None also when it was not asked for.
    """

    plan: Plan
    troubles: tuple[Finding, ...] = ()
    cutting: CuttingAnswer | None = None
    drives: DrivesAnswer | None = None
    footing: FootingAnswer | None = None
    guides: GuidesAnswer | None = None
    bars: BarsAnswer | None = None
    heat: HeatAnswer | None = None
    form: FormAnswer | None = None
    drilling: DrillAnswer | None = None
    slots: SlotsAnswer | None = None
    interim: InterimAnswer | None = None
    vibration: VibrationAnswer | None = None
    joints: JointsAnswer | None = None
    bands: BandsAnswer | None = None
    advice: AdviceAnswer | None = None
    comparison: ComparisonAnswer | None = None

    @property
    def verdict(self) -> Verdict:
        """The plan's verdict, with the band of its figure and with what the study found beside it."""
        plan, cases = self.plan, () if self.bands is None else self.bands.cases
        bands = {case.name: nine_of_ten(case.spread, plan.project.units) for case in cases}
        return judge(plan.project, plan.stiffness, self.findings, bands)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Findings of plan and study together, limits first."""
        answers = (
            getattr(self, field.name) for field in fields(self) if field.name not in ("plan", "troubles")
        )
        own = [finding for answer in answers if answer is not None for finding in answer.findings]
        return ordered([*self.plan.findings, *self.troubles, *own])
