"""The one sentence that each page begins with: what to do, or the figure that matters most, beside its limit.

A headline names the figure a builder looks for first; everything else on the page explains it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from core.advice import AdviceAnswer
from core.cutting import CutCase
from core.drives import AxisDrive, Racking, Row
from core.findings import Finding, first_sentence
from core.footing import FootingAnswer
from core.form import FormAnswer
from core.guides import GuidesAnswer
from core.machine.project import Project
from core.thermal import HeatAnswer
from core.units import UnitSet, show, show_beside, tell
from core.vibration import SpeedMap, Stability, VibrationAnswer, nearest_quiet

State = Literal["good", "warning", "bad", "note"]


@dataclass(frozen=True, slots=True)
class Headline:
    """A sentence and how things stand: good, wants a look, over a limit, or no more than information."""

    words: str
    state: State


def gravest(findings: tuple[Finding, ...] | list[Finding]) -> State:
    """How things stand by the gravest of some findings; notes leave them good."""
    grave = {finding.severity for finding in findings}
    return "bad" if "limit" in grave else "warning" if "warning" in grave else "good"


def cutting_headline(case: CutCase, units: UnitSet) -> Headline:
    """Power against the spindle's, mean and peak force."""
    likely, room = case.power[1], case.available
    takes = show_beside(likely, room, "power", units, 3)
    words = (
        f"{case.name}: takes {takes} of the {tell(room, 'power', units)} that the spindle has to plan with, and pushes with "
        f"{tell(case.turn.mean, 'force', units)} on average, {tell(case.turn.peak, 'force', units)} at the peak."
    )
    return Headline(words, "warning" if likely > room else "good")


def vibration_headline(speeds: SpeedMap, depth: Stability, units: UnitSet) -> Headline:
    """The speed to turn at and the depth to keep to."""
    now = tell(speeds.speed, "rotation_speed", units)
    quiet = nearest_quiet(speeds)
    if not speeds.hits:
        turn = f"{now} is free of resonance"
    elif quiet is None:
        turn = "no speed of the spindle is free of resonance"
    else:
        turn = f"turn at {tell(quiet, 'rotation_speed', units)} instead of {now}"
    low, likely, _ = depth.limit
    # Borders lie between figures of a grid: a depth within 2 % of one is not told apart from it.
    chatters = depth.depth > 0.98 * depth.here[0]
    if not np.isfinite(likely) or not chatters:
        cut = f"{show(depth.depth, 'length', units)} deep cuts without chatter"
    else:
        surely = tell(low, "length", units, 2)
        cut = f"keep the cut under {tell(likely, 'length', units, 2)} deep, {surely} to be on the sure side"
    state: State = "warning" if chatters or any(hit.harmonic <= 1 for hit in speeds.hits) else "good"
    return Headline(f"{speeds.name}: {turn}; {cut}.", state)


def modes_headline(found: VibrationAnswer, units: UnitSet) -> Headline:
    """The slowest mode, where no cut says which speed and depth are asked for."""
    mode = found.modes[0]
    words = mode.words.split(";")[0].strip().rstrip(".")
    slowest = tell(mode.frequency, "frequency", units)
    return Headline(f"Slowest at {slowest}: {words[:1].lower()}{words[1:]}.", "note")


def guides_headline(found: GuidesAnswer) -> Headline:
    """The tightest carriage."""
    use, name = float(found.use[found.tightest]), found.carriages[found.tightest].name
    words = f"The tightest carriage ({name}) carries {100.0 * use:.0f} % of what is allowed."
    return Headline(words, "bad" if use > 1.0 else "good")


def axis_headline(axis: AxisDrive, findings: list[Finding], units: UnitSet) -> Headline:
    """What breaks its limit on this axis, or else what comes nearest to it."""
    name, state = axis.axis.upper(), gravest(findings)
    limited = [row for row in axis.rows if row.limit is not None and row.good is not None and row.compare]
    if state == "good" and limited:
        nearest = max((row for row in limited if row.good), key=_used, default=limited[0])
        words = f"{name} does what is asked. Nearest to its limit: {_against(nearest, units)}."
        over = [_against(row, units) for row in limited if not row.good]
        words += f" To know: {'; '.join(over)}." if over else ""
        return Headline(words, state)
    grave = [f for f in findings if f.severity in ("limit", "warning")]
    if not grave:
        return Headline(f"{name} does what is asked.", state)
    return Headline(first_sentence(grave[0].message), state)


def _used(row: Row) -> float:
    """How much of its limit a figure uses, 1 at the limit."""
    limit = row.limit or 0.0
    over, under = (row.value, limit) if row.compare == "at most" else (limit, row.value)
    return over / under if under > 0.0 else 0.0


def _against(row: Row, units: UnitSet) -> str:
    limit = row.limit or 0.0
    what = row.what[:1].lower() + row.what[1:]
    figure = show_beside(row.value, limit, row.quantity, units, 3)
    return f"{what} {figure}, {row.compare} {tell(limit, row.quantity, units)}"


def racking_headline(r: Racking, findings: list[Finding], units: UnitSet) -> Headline:
    """How much out of square one lagging side makes the work."""
    words = (
        f"If one side lags by {show(r.lag, 'deflection', units)}, a line over the X travel stands off by "
        f"{tell(abs(r.offset_elastic), 'deflection', units)} at the tool tip."
    )
    return Headline(words, gravest(findings))


def heat_headline(found: HeatAnswer, project: Project) -> Headline:
    """How far the path bends between the coldest and the warmest shop, and how far a travel errs."""
    units, heat = project.units, project.heat
    limit = project.limits.path_error
    path = max(found.paths, key=lambda p: p.worst)
    scale = max(found.scales, key=lambda s: s.worst)
    words = (
        f"Between {show(heat.coldest, 'temperature', units)} and {show(heat.warmest, 'temperature', units)} the tool's path "
        f"bends by up to {show_beside(path.worst, limit, 'deflection', units)} (limit {show(limit, 'deflection', units)}), and "
        f"the {scale.axis} travel errs by up to {show_beside(scale.worst, heat.scale_limit, 'deflection', units)} "
        f"(limit {show(heat.scale_limit, 'deflection', units)})."
    )
    return Headline(words, gravest(found.findings))


def footing_headline(found: FootingAnswer, limit: float, units: UnitSet) -> Headline:
    """Straightness and twist of the rails as the gantry travels."""
    most = show(limit, "deflection", units)
    hanging = [f for f in found.findings if f.code == "foot-lifts"]
    rails = (
        f"As the gantry travels the rails stray by {_small(found.level, limit, units)} from a straight line and twist by "
        f"{_small(found.twist, limit, units)} (limit {most})."
    )
    words = f"{first_sentence(hanging[0].message)} {rails}" if hanging else rails
    return Headline(words, gravest(found.findings))


def _small(value: float, limit: float, units: UnitSet) -> str:
    return (
        tell(value, "deflection", units, 2)
        if value < 0.5 * limit
        else show_beside(value, limit, "deflection", units)
    )


def form_headline(found: FormAnswer, units: UnitSet) -> Headline:
    """What may come out worst against what the rails want."""
    judged = [
        d for d in found.deviations if d.ratio is not None and d.allowed is not None and d.wanted is not None
    ]
    if not judged:
        return Headline("Nothing that is delivered bears on the rails.", "note")
    worst = max(judged, key=lambda d: d.ratio or 0.0)
    if (worst.ratio or 0.0) <= 1.0:
        return Headline("As delivered everything is as straight as the rails want.", "good")
    words = (
        f"At its worst the {worst.part.lower()} arrives {tell(worst.allowed or 0.0, 'deflection', units)} out of true "
        f"({worst.what}); the rails want {show(worst.wanted or 0.0, 'deflection', units)}. Measure it, then "
        f"{worst.remedy or 'shim'}."
    )
    return Headline(words, "warning" if gravest(found.findings) == "warning" else "note")


def advice_headline(advice: AdviceAnswer) -> Headline:
    """The change that helps most."""
    if not advice.advices:
        return Headline("None of the changes tried makes the machine stiffer.", "note")
    best = next((a for a in advice.advices if not a.breaks), advice.advices[0])
    return Headline(f"First: {best.sentence}", "note")
