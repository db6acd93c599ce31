"""The frozen results that screens, tables and files read."""

from __future__ import annotations

from dataclasses import dataclass

from core.bill import BillAnswer
from core.fasteners import RailAnswer
from core.findings import Finding
from core.machine.gantry import GantryBeam
from core.machine.layout import Layout
from core.machine.project import Project
from core.model.condensed import Under
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
class BeamAnswer:
    """One beam in the machine, for comparing.

    Attributes:
        name, beam, section_label, material_name: which beam.
        beam_mass: beam alone, kg. moving_mass: gantry with saddle and head, kg.
        worst: worst deflection for each load case, m. stiffness: at the tip along X, Y, Z with the tool in the middle, N/m.
        sag, path_error: m. shares: compliance budget of the first load case by component.
        screws, nuts: for the X rails. findings: of this beam.
        height: outer height as it stands, m. rail_spacing: of the X rails with this beam, m; a slotted beam may move them.
    """

    name: str
    beam: GantryBeam
    section_label: str
    material_name: str
    beam_mass: float
    moving_mass: float
    height: float
    worst: tuple[float, ...]
    stiffness: tuple[float, float, float]
    sag: float
    path_error: float
    shares: dict[str, float]
    screws: int
    nuts: int
    findings: tuple[Finding, ...]
    rail_spacing: float = 0.0


@dataclass(frozen=True, slots=True)
class Plan:
    """Statics, fasteners and parts of one project. `stiffness`, `sag` and `shape` are None when the machine cannot carry
    load as described; a finding then says why.

    Attributes:
        under: the base as solved, for the next plan whose base is the same; None without an answer.
        bill: the parts with stock and money; None only in a plan made by hand.
        finished: whether the beams to compare, if wanted, have been worked out too.
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
    alternatives: tuple[BeamAnswer, ...]
    under: Under | None = None
    finished: bool = False
    bill: BillAnswer | None = None
