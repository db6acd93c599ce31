"""The frozen results that screens, tables and files read."""

from __future__ import annotations

from dataclasses import dataclass

from core.bill import BillAnswer
from core.fasteners import FittedJoint, RailAnswer
from core.findings import Finding
from core.machine.layout import Layout
from core.machine.project import Project
from core.model.condensed import Gantry, Under
from core.parts import PartLine
from core.sag import SagAnswer
from core.stiffness import Budget, DeflectedShape, StiffnessAnswer


@dataclass(frozen=True, slots=True)
class Place:
    """Where the tool is (table coordinates, m) and which load case the deflected shape shows."""

    x: float = 0.0
    y: float = 0.0
    case: int = 0


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer in words: whether every limit holds, and the sentence with figure and limit.

    `figures` is the same without the words "every limit holds", for a place that says so by itself; empty when the text
    is needed whole.
    """

    good: bool
    text: str
    code: str = ""
    figures: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """Statics, fasteners and parts of one project. `stiffness`, `sag` and `shape` are None when the machine cannot carry
    load as described; a finding then says why.

    Attributes:
        under: the base as solved, for the next plan whose base is the same; None without an answer.
        gantry: on that base, condensed at the table's places along Y and at the chosen one; for the study.
        bill: the parts with stock and money; None only in a plan made by hand.
        joints: every kind of joint but the rails', with its screws chosen.
    """

    project: Project
    layout: Layout
    place: Place
    stiffness: StiffnessAnswer | None
    sag: SagAnswer | None
    budgets: tuple[Budget, ...]
    rails: tuple[RailAnswer, ...]
    parts: tuple[PartLine, ...]
    findings: tuple[Finding, ...]
    verdict: Verdict
    shape: DeflectedShape | None
    under: Under | None = None
    bill: BillAnswer | None = None
    joints: tuple[FittedJoint, ...] = ()
    gantry: Gantry | None = None
