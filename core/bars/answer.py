"""All bars of a machine and of its variants' beams, with findings about data sheets, askew sections and two metals."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from core.bars.figures import BarFigure, bar_figures, is_askew
from core.bars.two_metals import curvature_by_heat
from core.errors import NeedsAnalysis
from core.findings import Finding, ordered
from core.machine.base import Legs
from core.machine.layout import Layout
from core.machine.project import Machine, Project
from core.machine.sheet import WORDS, SheetValues, sheet_of, with_sheet
from core.machine.variants import apply_variant
from core.materials import material
from core.sections import (
    BUILT_UP,
    BoltedPlate,
    PropertyBook,
    Section,
    SectionProperties,
    TwoProfiles,
    WeldLine,
    label,
    properties,
    weld_lines,
)
from core.sections.built_up_properties import joined, unjoined
from core.units import tell

DIFFERS = 0.10
"""A typed figure further than this from the computed one is worth a look: a wrong column is off by more."""

TRUE_AXIS = ("beam", "upright", "side_beam")
"""Bars that the model bends about their centroid and main axes and twists about their shear centre."""

WARMER = 10.0
"""K, for which the bow of two metals is told."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar.

    Attributes:
        key, label: "beam", "Gantry beam". path: dotted path of its section; empty for a variant's beam.
        section: as described. words: the section in words. metal: key of its main material. turned: how it stands.
        length: m.
        computed, used: properties without and with the data sheet's figures, before turning.
        figures: every figure. sheet: the row of typed values; None without. sheet_row: its number in the machine.
        low, high: properties unjoined and fully joined; None for a section without such a joint, or not analysed yet.
        bow: free bow over the length by `WARMER`, along (width, height), m; zero for one metal.
        welds: where welds run.
    """

    key: str
    label: str
    path: str
    section: Section
    words: str
    metal: str
    turned: bool
    length: float
    computed: SectionProperties
    used: SectionProperties
    figures: tuple[BarFigure, ...]
    sheet: SheetValues | None
    sheet_row: int | None
    low: SectionProperties | None
    high: SectionProperties | None
    bow: tuple[float, float]
    welds: tuple[WeldLine, ...]


@dataclass(frozen=True, slots=True)
class BarsAnswer:
    """All bars, the gantry beam first.

    Attributes:
        bars: those of the machine, then the beams of variants that have another.
        findings: about data sheets, askew sections, two metals.
    """

    bars: tuple[Bar, ...]
    findings: tuple[Finding, ...]


_Place = tuple[str, str, str, Section, str, bool, float]


def _places(machine: Machine, lay: Layout) -> Iterator[_Place]:
    """Key, label, path, section, metal, turned and length of every bar."""
    beam, upright, base = machine.gantry.beam, machine.gantry.upright, machine.base
    yield (
        "beam",
        "Gantry beam",
        "machine.gantry.beam.section",
        beam.section,
        beam.material,
        beam.turned,
        lay.beam_length,
    )
    at = "machine.gantry.upright.section"
    yield "upright", "Uprights", at, upright.section, upright.material, upright.turned, lay.upright_length
    at = "machine.base.section"
    yield "side_beam", "Side beams", at, base.section, base.material, base.turned, lay.side_beam_length
    stand = base.stand
    if not isinstance(stand, Legs):
        return
    at = "machine.base.stand"
    yield "leg", "Legs", f"{at}.section", stand.section, stand.material, False, stand.height
    across = 2.0 * lay.side_x - lay.sections.side_beam.width
    yield (
        "cross",
        "Cross members",
        f"{at}.cross_section",
        stand.cross_section,
        stand.cross_material,
        False,
        across,
    )
    if stand.diagonals is not None:
        d = stand.diagonals
        yield "diagonal", "Diagonals", f"{at}.diagonals.section", d.section, d.material, False, across


def find_bars(project: Project, lay: Layout, book: PropertyBook) -> BarsAnswer:
    """Every bar with its figures. Raises NeedsAnalysis when a section of the machine itself has none."""
    machine = project.machine
    bars = [_bar(machine, book, place) for place in _places(machine, lay)]
    for number, variant in enumerate(project.variants):
        found = apply_variant(project, variant).project.machine.gantry.beam
        same = machine.gantry.beam
        if (found.section, found.material, found.turned) == (same.section, same.material, same.turned):
            continue
        words = f"Beam of {variant.name}"
        place = (f"variant_{number}", words, "", found.section, found.material, found.turned, lay.beam_length)
        try:
            bars.append(_bar(machine, book, place))
        except NeedsAnalysis:
            continue  # it is analysed when variants are compared
    findings = [f for bar in bars if bar.path for f in _about(project, bar)]
    findings += _sheets(machine, bars)
    return BarsAnswer(tuple(bars), ordered(findings))


def _bar(machine: Machine, book: PropertyBook, place: _Place) -> Bar:
    key, words, path, section, metal, turned, length = place
    computed = properties(section, book, metal)
    sheet = sheet_of(machine.datasheet, section)
    used = with_sheet(computed, sheet, material(metal).density)
    low, high = _bounds(section, book, metal)
    row = next((k for k, other in enumerate(machine.datasheet) if other.section == section), None)
    bow = tuple(k * WARMER * length**2 / 8.0 for k in curvature_by_heat(section, metal))
    return Bar(
        key=key,
        label=words,
        path=path,
        section=section,
        words=label(section),
        metal=metal,
        turned=turned,
        length=length,
        computed=computed,
        used=used,
        figures=bar_figures(computed, used, sheet, material(metal)),
        sheet=sheet,
        sheet_row=row,
        low=low,
        high=high,
        bow=(bow[0], bow[1]),
        welds=weld_lines(section) if isinstance(section, BUILT_UP) else (),
    )


def _bounds(
    section: Section, book: PropertyBook, metal: str
) -> tuple[SectionProperties | None, SectionProperties | None]:
    """Unjoined and fully joined, for sections whose joint may be either."""
    if not isinstance(section, TwoProfiles | BoltedPlate):
        return None, None

    def piece(one: Section) -> SectionProperties:
        return properties(one, book)

    low = unjoined(section, piece, metal)
    try:
        return low, joined(section, piece, book.shape, metal)
    except NeedsAnalysis:
        return low, None


def _about(project: Project, bar: Bar) -> Iterator[Finding]:
    """Findings about one bar of the machine."""
    units = project.units
    if bar.sheet is not None:
        names = ", ".join(WORDS[name] for name in bar.sheet.typed())
        yield Finding(
            "datasheet-used",
            "note",
            bar.path,
            f"{bar.label}: {names} counted as typed off the data sheet.",
            place=bar.label,
        )
    if is_askew(bar.computed):
        modelled = bar.key in TRUE_AXIS
        told = (
            "A load straight down moves it sideways too, which the answers count."
            if modelled
            else "The model leaves that out and makes them a little too stiff."
        )
        text = (
            f"{bar.label}: this section bends askew, because its main axes lie "
            f"{tell(abs(bar.computed.principal()[2]), 'angle', units)} out of level. {told}"
        )
        yield Finding("section-askew", "note" if modelled else "warning", bar.path, text, place=bar.label)
    bow = max(bar.bow, key=abs)
    if abs(bow) > project.limits.path_error / 10.0:
        text = (
            f"{bar.label}: profile and plate are of metals that grow differently; {WARMER:g} K warmer it bows by "
            f"{tell(abs(bow), 'deflection', units)} over its length, if nothing slips or holds it."
        )
        yield Finding("two-metals-bow", "warning", bar.path, text, abs(bow), None, "deflection", bar.label)


def _sheets(machine: Machine, bars: list[Bar]) -> Iterator[Finding]:
    """Typed figures far from the computed ones, and rows that nothing uses."""
    for row, sheet in enumerate(machine.datasheet):
        user = next((bar for bar in bars if bar.section == sheet.section), None)
        at = f"machine.datasheet.{row}"
        if user is None:
            text = f"The values typed for {label(sheet.section)} count nowhere: no part has this section now."
            yield Finding("datasheet-idle", "note", at, text)
            continue
        for figure in user.figures:
            off = figure.difference
            if off is not None and abs(off) > DIFFERS:
                text = (
                    f"{user.label}: the typed {WORDS[figure.key]} is {abs(off):.0%} {'above' if off > 0 else 'below'} the "
                    f"computed one. Look at the unit and the column, or at the section's sizes."
                )
                yield Finding(
                    "datasheet-differs", "warning", f"{at}.{figure.key}", text, figure.typed, figure.computed,
                    figure.quantity, user.label,
                )  # fmt: skip
