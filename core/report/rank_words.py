"""A ranking in words: the one sentence that it comes to, one beam with its figures and their bands, axes of a chart."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.materials import material
from core.prices import NO_PRICE, exact, show_money
from core.rank import COSTS, FAR, HERE, RankAnswer, deflections, least, spans
from core.report.headlines import Headline
from core.sections import label
from core.units import UnitSet, from_si, show, show_beside, tell, unit_label

Floats = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]
SHARE = "Share of the limit"
NO_PRICES = "No beam has a price yet. Enter prices on the page Money, and this axis fills."


@dataclass(frozen=True, eq=False, slots=True)
class Axis:
    """Figures of all candidates (n,) in the unit that the label names; NaN where there is none.

    Attributes:
        low, high: ends of their bands, where they have one. limit: where the limit lies; None without one. empty: why there is
        nothing at all to show. limit_words: for the legend.
    """

    values: Floats
    label: str
    low: Floats | None = None
    high: Floats | None = None
    limit: float | None = None
    empty: str = ""
    limit_words: str = ""


def cost_axis(answer: RankAnswer, cost: str, units: UnitSet) -> Axis:
    """A cost, a key of `core.rank.COSTS`, of every candidate."""
    words, quantity = COSTS[cost]
    found = np.asarray(getattr(answer, cost), dtype=np.float64)
    unit = answer.currency if quantity == "money" else unit_label(quantity, units)
    values = found if quantity == "money" else np.asarray(from_si(found, quantity, units))
    values = np.where(answer.solved, values, np.nan)
    empty = NO_PRICES if quantity == "money" and not np.isfinite(values).any() else ""
    return Axis(values, f"{words}, {unit}" if unit else words, empty=empty)


def chart_title(beyond: int) -> str:
    """What the chart shows; `beyond`: how many are too far over the limit to be drawn."""
    if not beyond:
        return "Every beam shown, in this machine"
    return f"Every beam shown but {beyond}, more than {FAR:.0f} times over the limit"


def deflection_axis(answer: RankAnswer, case: int | None, units: UnitSet) -> Axis:
    """The deflection under one load case; without one, the largest over its limit in percent."""
    found, (low, high) = deflections(answer, case), spans(answer, case)
    if case is None:
        return Axis(100.0 * found, f"{SHARE}, %", 100.0 * low, 100.0 * high, 100.0, limit_words="Limit 100 %")
    values, low, high = (np.asarray(from_si(one, "deflection", units)) for one in (found, low, high))
    words = f"Deflection, {unit_label('deflection', units)}"
    limit = float(answer.limits[case])
    told = f"Limit of {answer.case_names[case]}: {show(limit, 'deflection', units)}"
    return Axis(values, words, low, high, float(from_si(limit, "deflection", units)), limit_words=told)


def full_name(answer: RankAnswer, row: int) -> str:
    """The candidate with its section, where its name does not say it."""
    one = answer.candidates[row]
    if one.family != HERE:
        return one.name
    return f"{one.name} ({label(one.beam.section)}{', turned' if one.beam.turned else ''})"


def state_of(answer: RankAnswer, row: int) -> str:
    """How it stands, in a word or three."""
    if not answer.fits[row]:
        return "cannot be used"
    return "holds every limit" if answer.holds[row] else "breaks a limit"


def broken(answer: RankAnswer, row: int, units: UnitSet) -> list[str]:
    """Each limit that it breaks, with figure and limit."""
    limits = answer.project.limits
    pairs = [
        *zip(answer.case_names, answer.worst[row], answer.limits, strict=True),
        ("sag", answer.sag[row], limits.sag),
        ("path error", answer.path_error[row], limits.path_error),
    ]
    return [f"{name} {_against(value, limit, units)}" for name, value, limit in pairs if value > limit]


def _against(value: float, limit: float, units: UnitSet) -> str:
    figure = show_beside(float(value), float(limit), "deflection", units, 3)
    return _joined(figure, "of", show(float(limit), "deflection", units), units)


def _joined(one: str, word: str, other: str, units: UnitSet) -> str:
    """Two deflections with the unit once."""
    return f"{one.removesuffix(' ' + unit_label('deflection', units))} {word} {other}"


def rank_headline(answer: RankAnswer, units: UnitSet, shown: Flags, cost: str = "moving_mass") -> Headline:
    """Of those shown that hold every limit the one that costs least, beside the machine's own beam.

    One that comes with a warning is named first only where no other is left.

    Args:
        cost: a key of `core.rank.COSTS`; where no beam has that figure, the mass of all that moves counts.
    """
    row = least(answer, cost, shown)
    if row is None and cost != "moving_mass":
        return rank_headline(answer, units, shown)
    if row is None:
        return Headline(f"{_none_holds(answer, units, shown)} {_own(answer, units)}", "bad")
    every = np.ones(len(answer.candidates), dtype=np.bool_)
    first, more = _LEAST[cost]
    words = f"{first}{'' if row == least(answer, cost, every) else ' shown'} that holds every limit"
    words += f": {full_name(answer, row)}; {_gist(answer, row, units, cost)}."
    warned = least(answer, cost, shown, warned=True)
    if answer.remarks[row]:
        words += " It comes with a warning."
    elif warned is not None and getattr(answer, cost)[warned] < getattr(answer, cost)[row]:
        words += (
            f" {more}, but with a warning: {full_name(answer, warned)}, {_cost(answer, warned, units, cost)}."
        )
    if row == 0:
        return Headline(words, "warning" if answer.remarks[row] else "good")
    good = answer.fits[0] and answer.holds[0] and not answer.remarks[row]
    return Headline(f"{words} {_own(answer, units)}", "good" if good else "warning")


_LEAST = {
    "moving_mass": ("Lightest", "Lighter"),
    "beam_mass": ("Lightest beam", "Lighter"),
    "height": ("Lowest", "Lower"),
    "price": ("Cheapest", "Cheaper"),
}
"""What the beam of least cost is, and another of less."""


def _none_holds(answer: RankAnswer, units: UnitSet, shown: Flags) -> str:
    if not shown.any():
        return "No beam passes these filters."
    usable = np.flatnonzero(shown & answer.fits)
    if not usable.size:
        return "None of the beams shown can be used as it is."
    near = int(usable[answer.load[usable].argmin()])
    words = "; ".join(broken(answer, near, units))
    return f"None of the beams shown holds every limit. The stiffest is {full_name(answer, near)}: {words}."


def _own(answer: RankAnswer, units: UnitSet) -> str:
    if not answer.solved[0]:
        return "This machine's own beam has no figures."
    mass = tell(float(answer.moving_mass[0]), "mass", units)
    if not answer.fits[0]:
        return f"Yours: moving mass {mass}, cannot be used as it is."
    if answer.holds[0]:
        return f"Yours: moving mass {mass}, holds every limit."
    return f"Yours: moving mass {mass}, breaks a limit ({broken(answer, 0, units)[0]})."


def _cost(answer: RankAnswer, row: int, units: UnitSet, cost: str) -> str:
    value = float(getattr(answer, cost)[row])
    if cost == "price":
        return price_words(answer, row)
    return show(value, "length", units) if cost == "height" else tell(value, "mass", units)


def _gist(answer: RankAnswer, row: int, units: UnitSet, cost: str) -> str:
    case = int(answer.governing[row])
    mass = f"moving mass {tell(float(answer.moving_mass[row]), 'mass', units)}"
    if cost != "moving_mass":
        mass = f"{_cost(answer, row, units, cost)}, {mass}"
    return (
        f"{mass}; {answer.case_names[case]} {_against(answer.worst[row, case], answer.limits[case], units)}"
    )


def rank_counts(answer: RankAnswer, shown: Flags) -> str:
    """How many are shown, and how many of these hold every limit."""
    holding = int((shown & answer.fits & answer.holds).sum())
    idle = int((~answer.fits).sum())
    return (
        f"{int(shown.sum())} of {len(answer.candidates)} beams shown; {holding} of these hold every limit. "
        f"{idle} of all are unfit."
    )


def price_words(answer: RankAnswer, row: int) -> str:
    """The price, or that there is none."""
    price = float(answer.price[row])
    if not np.isfinite(price):
        return NO_PRICE
    return show_money(exact(round(price, 2)), answer.currency).strip()


def point_words(answer: RankAnswer, row: int, units: UnitSet) -> str:
    """What a point of the chart stands for, a line each."""
    lines = [full_name(answer, row), state_of(answer, row)]
    if answer.solved[row]:
        lines += case_lines(answer, row, units)
        mass = tell(float(answer.moving_mass[row]), "mass", units)
        height = show(float(answer.height[row]), "length", units)
        lines.append(f"Moving mass {mass}; {height} high; {price_words(answer, row)}")
    if why := answer.problems[row]:
        lines.append(why)
    return "\n".join(lines)


def case_lines(answer: RankAnswer, row: int, units: UnitSet) -> list[str]:
    """Each load case with its deflection, limit and band."""
    found = []
    for case, name in enumerate(answer.case_names):
        figure = _against(answer.worst[row, case], answer.limits[case], units)
        ends = answer.low[row, case], answer.high[row, case]
        band = f" (band {_between(float(ends[0]), float(ends[1]), units)})" if np.isfinite(ends).all() else ""
        found.append(f"{name}: {figure}{band}")
    return found


def _between(low: float, high: float, units: UnitSet) -> str:
    begin, end = (tell(one, "deflection", units) for one in (low, high))
    return _joined(begin, "to", end, units)


def beam_lines(answer: RankAnswer, row: int, units: UnitSet) -> list[str]:
    """One beam in full, a line each; the load cases first."""
    one = answer.candidates[row]
    metal = f"{material(one.beam.material).name}, rails held by {one.beam.rail_fastening.hold}"
    if not answer.solved[row]:
        return [metal]
    limits = answer.project.limits

    def mass(value: float) -> str:
        return tell(float(value), "mass", units)

    lines = case_lines(answer, row, units)
    lines.append(
        f"Path error {_against(answer.path_error[row], limits.path_error, units)}; "
        f"sag {_against(answer.sag[row], limits.sag, units)}; "
        f"first mode {tell(float(answer.first_mode[row]), 'frequency', units)}"
    )
    lines.append(
        f"All that moves {mass(answer.moving_mass[row])}, the beam {mass(answer.beam_mass[row])}; "
        f"{show(float(answer.height[row]), 'length', units)} high, "
        f"{show(float(answer.width[row]), 'length', units)} wide; {price_words(answer, row)}"
    )
    form = [
        f"{what} up to {tell(float(value), 'deflection', units)}"
        for what, value in (("bow", answer.bow[row]), ("twist", answer.twist[row]))
        if np.isfinite(value)
    ]
    delivered = f"; as delivered {' and '.join(form)} ({answer.straight_by[row]})" if form else ""
    rails = show(float(answer.rail_spacing[row]), "length", units)
    lines.append(f"{metal}, {rails} apart{delivered}")
    return lines
