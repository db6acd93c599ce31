"""How a machine's beam is built, in words, and what it costs by the user's own prices."""

from __future__ import annotations

from decimal import Decimal

from core.findings import Finding
from core.form import FormAnswer
from core.form.results import Remedy
from core.machine.project import Project
from core.materials import material
from core.parts.masses import beam_mass
from core.plan import Plan
from core.prices import Pricer, exact, times, total
from core.sections import TSlot, label
from core.units import show

_HOLDS = {
    "T-nut": "T-nuts in the slots",
    "tapped wall": "tapped holes in the wall",
    "tapped bar": "a tapped bar inside",
    "rivet nut": "rivet nuts",
    "through bolt": "through bolts",
}
_LATER = {
    "T-nut": "loosen and slide along the slots; other spacings only where slots are",
    "through bolt": "new holes through the beam",
}
_GRAVER: tuple[Remedy, ...] = ("fits", "shim", "bed in epoxy or machine", "straighten or machine")


def build_facts(plan: Plan, form: FormAnswer) -> dict[str, str]:
    """Words by the key of their row."""
    project, beam = plan.project, plan.project.machine.gantry.beam
    mine = [
        d for d in form.deviations if d.part == "gantry beam" and d.what in ("bow", "twist between rails")
    ]
    remedies = [
        r for r in (*(d.remedy for d in mine), *(b.remedy for b in form.bows if b.part == "gantry beam")) if r
    ]
    hold = beam.rail_fastening.hold
    holes = next((rail for rail in plan.rails if rail.axis == "x"), None)
    words = _HOLDS.get(hold, hold)
    return {
        "holds": holds_words(plan.findings, project),
        "section": label(beam.section) + (", turned" if beam.turned else ""),
        "material": material(beam.material).name,
        "fastening": words if holes is None else f"{words}, {holes.screw_text}",
        "remedy": max(remedies, key=_GRAVER.index, default="") or "no figure held",
        "standard": mine[0].standard if mine else "",
        "damping": _damping(project),
        "moving_later": _LATER.get(hold, "new holes; the old ones fix the place but for the screws' play"),
    }


def holds_words(findings: tuple[Finding, ...], project: Project) -> str:
    """Yes, or no with what is over its limit or cannot be built, in a word or two each."""
    broken: list[str] = []
    for finding in findings:
        if finding.severity == "limit":
            words = finding.code.removesuffix("-limit").replace("-", " ")
            place = finding.where.split(".")
            if (
                place[0] == "cases"
                and place[1:2]
                and place[1].isdigit()
                and int(place[1]) < len(project.cases)
            ):
                words = f"{words}, {project.cases[int(place[1])].name}"
            if words not in broken:
                broken.append(words)
    return f"no: {'; '.join(broken)}" if broken else "yes"


def _damping(project: Project) -> str:
    """The entered band, and what practice expects of the beam's build."""
    entered, beam = project.machine.damping, project.machine.gantry.beam
    low, high = (show(value, "share", project.units) for value in (entered.low, entered.high))
    welded = any(weld.part == "gantry beam" for weld in project.straightness.welds)
    if isinstance(beam.section, TSlot):
        usual = "; bolted profiles: 1 to 4 % is usual"
    elif welded and material(beam.material).family == "steel":
        usual = "; welded steel: 0.5 to 2 % is usual, bolted joints add to it"
    else:
        usual = ""
    return f"{low} to {high} as entered{usual}"


def price_values(plan: Plan) -> dict[str, float | None]:
    """Prices by key; None where one is missing."""
    project = plan.project
    prices, pricer = project.prices, Pricer(project)
    beam, lay = project.machine.gantry.beam, plan.layout
    own = pricer.beam(beam.section, beam.material, lay.beam_length, beam_mass(project.machine, lay))
    metres = sum(
        min(weld.length or lay.beam_length, lay.beam_length) * weld.filled * weld.count
        for weld in project.straightness.welds
        if weld.part == "gantry beam"
    )
    screws = sum(rail.screws for rail in plan.rails if rail.axis == "x")
    hours = screws * project.hole_work.minutes(beam.rail_fastening.hold) / 60.0
    found: dict[str, Decimal | None] = {
        "beam_price": None if own is None else own.each,
        "fastener_price": _fasteners(plan, pricer),
        "weld_price": _work(metres * prices.weld_hours_per_metre, prices.welding_rate),
        "fitting_price": _work(hours, prices.fitting_rate),
    }
    known = [amount for amount in found.values() if amount is not None]
    found["price"] = total(known) if len(known) == len(found) else None
    return {key: None if amount is None else float(amount) for key, amount in found.items()}


def _work(hours: float, rate: float | None) -> Decimal | None:
    """No hours cost nothing, whatever the rate."""
    if hours <= 0.0:
        return Decimal(0)
    return None if rate is None else times(exact(rate), round(hours, 6))


def _fasteners(plan: Plan, pricer: Pricer) -> Decimal | None:
    """Whole packs of all screws and nuts of the rails; None when one kind has no price."""
    amounts = []
    for line in plan.parts:
        if line.group == "Fasteners":
            price = pricer.line(line)
            if price is None:
                return None
            count = line.packs * line.pack_size if line.packs else line.quantity + line.spare
            amounts.append(times(price.each, count))
    return total(amounts)
