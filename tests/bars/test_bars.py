"""Bars of a machine: figures that count, data sheets, bounds, askew sections, two metals."""

from __future__ import annotations

import msgspec
import pytest

from core.bars import find_bars
from core.bars.how import how_found
from core.bars.two_metals import curvature_by_heat
from core.errors import BadEntry
from core.machine.base import Legs
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.machine.sheet import FIGURES, SheetValues
from core.sections import (
    Angle,
    BoltedPlate,
    FlatBar,
    RectangularHollow,
    TwoProfiles,
    properties,
    stock_book,
)
from core.sections.t_slot import STOCK
from tests.sections.shapes_at_random import EACH

TUBE = RectangularHollow(height=0.12, width=0.08, wall=0.005)
BUILT = (
    STOCK[0],
    TwoProfiles(first=TUBE, second=TUBE),
    TwoProfiles(first=TUBE, second=TUBE, joint="unjoined"),
)
BEAM = "machine.gantry.beam.section"


def found_for(project):
    book = stock_book()
    lay = layout(project.machine, book)
    return find_bars(project, lay, book), lay


def with_values(project, section, **values):
    return replace_at(project, "machine.datasheet", (SheetValues(section=section, **values),))


def codes(answer):
    return [f.code for f in answer.findings]


def test_every_bar_of_the_default_machine_with_all_figures():
    answer, lay = found_for(Project())
    assert [bar.key for bar in answer.bars][:3] == ["beam", "upright", "side_beam"]
    assert answer.findings == ()
    beam = answer.bars[0]
    keys = {figure.key for figure in beam.figures}
    assert set(FIGURES) | {"wely", "welz"} <= keys
    assert all(f.used == f.computed and f.typed is None and f.method for f in beam.figures)
    assert beam.used == lay.sections.beam
    by_key = {figure.key: figure for figure in beam.figures}
    assert by_key["wely"].used == pytest.approx(beam.used.iyy / 0.06)


def test_a_typed_figure_counts_and_the_findings_say_so():
    own = properties(TUBE, stock_book())
    project = with_values(Project(), TUBE, iyy=1.05 * own.iyy, linear_mass=15.0)
    answer, lay = found_for(project)
    assert lay.sections.beam.iyy == pytest.approx(1.05 * own.iyy)
    assert lay.sections.beam.izz == own.izz
    assert lay.sections.beam.linear_mass(7850.0) == pytest.approx(15.0)
    assert "data sheet" in lay.sections.beam.source
    figure = next(f for f in answer.bars[0].figures if f.key == "iyy")
    assert figure.difference == pytest.approx(0.05)
    assert codes(answer) == ["datasheet-used"]


def test_a_turned_beam_uses_the_same_row():
    own = properties(TUBE, stock_book())
    project = with_values(Project(), TUBE, iyy=1.05 * own.iyy)
    project = replace_at(project, "machine.gantry.beam.turned", True)
    _, lay = found_for(project)
    assert lay.sections.beam.izz == pytest.approx(1.05 * own.iyy)


@pytest.mark.parametrize(("share", "told"), [(1.09, False), (1.12, True), (0.88, True), (0.91, False)])
def test_far_from_the_computed_figure(share, told):
    own = properties(TUBE, stock_book())
    answer, _ = found_for(with_values(Project(), TUBE, it=share * own.it))
    assert ("datasheet-differs" in codes(answer)) == told
    for finding in answer.findings:
        if finding.code == "datasheet-differs":
            assert (finding.where, finding.severity) == ("machine.datasheet.0.it", "warning")


def test_values_of_a_section_that_stands_nowhere_are_idle():
    project = with_values(Project(), RectangularHollow(height=0.2, width=0.1, wall=0.005), iyy=1e-5)
    answer, lay = found_for(project)
    assert "datasheet-idle" in codes(answer)
    assert lay.sections.beam.iyy == properties(TUBE, stock_book()).iyy


def test_impossible_and_double_rows_are_refused():
    with pytest.raises(BadEntry):
        SheetValues(section=TUBE, iyy=1e-6, izz=1e-6, it=3e-6)
    row = SheetValues(section=TUBE, iyy=1e-6)
    with pytest.raises(BadEntry):
        replace_at(Project(), "machine.datasheet", (row, msgspec.structs.replace(row, iyy=2e-6)))


def test_an_angle_bends_askew():
    project = replace_at(Project(), BEAM, Angle(height=0.12, width=0.08, thickness=0.01))
    answer, _ = found_for(project)
    assert "section-askew" in codes(answer)
    figures = {f.key: f for f in answer.bars[0].figures}
    # The principal moments keep the sum and enclose both.
    assert figures["iu"].used + figures["iv"].used == pytest.approx(figures["iyy"].used + figures["izz"].used)
    assert figures["iv"].used < figures["izz"].used < figures["iyy"].used < figures["iu"].used
    assert abs(figures["centroid_z"].used) > 0.005


def test_only_bars_that_the_model_leaves_straight_are_a_warning():
    angle = Angle(height=0.06, width=0.04, thickness=0.005)
    project = replace_at(replace_at(Project(), BEAM, angle), "machine.base.stand", Legs(cross_section=angle))
    answer, _ = found_for(project)
    told = {f.place: f.severity for f in answer.findings if f.code == "section-askew"}
    assert told == {"Gantry beam": "note", "Cross members": "warning"}


def test_typed_moments_keep_the_main_axes_possible():
    angle = Angle(height=0.12, width=0.08, thickness=0.01)
    project = replace_at(Project(), BEAM, angle)
    row = SheetValues(section=angle, iyy=2e-7, izz=1e-7)
    answer, _ = found_for(replace_at(project, "machine.datasheet", (row,)))
    assert answer.bars[0].used.principal()[1] > 0.0


def test_bounds_of_a_joint():
    pair = TwoProfiles(first=TUBE, second=TUBE, joint="unjoined")
    answer, lay = found_for(replace_at(Project(), BEAM, pair))
    bar = answer.bars[0]
    assert bar.low is not None and bar.high is not None  # noqa: PT018
    assert bar.used.iyy == bar.low.iyy < bar.high.iyy
    assert lay.sections.beam.height == pytest.approx(0.24)


def test_two_metals_bow_and_one_metal_does_not():
    section = BoltedPlate(profile=STOCK[6], plate_width=0.08, plate_thickness=0.01)
    project = replace_at(Project(), BEAM, section)
    project = replace_at(project, "machine.gantry.beam.material", "en_aw_6060_t66")
    answer, _ = found_for(project)
    assert "two-metals-bow" in codes(answer)
    bar = answer.bars[0]
    assert bar.bow[1] < 0.0  # the plate on top grows less, so the ends point up
    assert bar.bow[0] == pytest.approx(0.0, abs=1e-9)
    assert curvature_by_heat(section, "s235") == pytest.approx((0.0, 0.0), abs=1e-12)
    slides = msgspec.structs.replace(section, joint="unjoined")
    assert curvature_by_heat(slides, "en_aw_6060_t66") == (0.0, 0.0)
    assert curvature_by_heat(FlatBar(height=0.1, width=0.1), "s235") == (0.0, 0.0)


@pytest.mark.parametrize("section", [*EACH, *BUILT], ids=lambda s: type(s).__name__)
def test_every_figure_says_how_it_was_found(section):
    keys = (*FIGURES, "wely", "centroid_z", "shear_centre_y", "iu")
    assert all(how_found(section, key) for key in keys)


def test_a_variants_beam_is_listed():
    from core.machine.variants import Change, Variant

    other = RectangularHollow(height=0.16, width=0.08, wall=0.005)
    change = Change(path=BEAM, value=msgspec.to_builtins(other))
    project = replace_at(Project(), "variants", (Variant(name="Taller", changes=(change,)),))
    answer, _ = found_for(project)
    last = answer.bars[-1]
    assert (last.key, last.path, last.section) == ("variant_0", "", other)
