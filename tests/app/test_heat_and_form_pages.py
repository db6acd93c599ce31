"""The pages on heat and on form: what they show, what their edits say, and readings that are typed, pasted or read."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace

import pytest

from app.look.theme import Theme
from app.pages.form_page import FormPage
from app.pages.heat_page import HeatPage
from app.widgets.plot_engine import PlotEngine
from core.fasteners import rails as find_rails
from core.form import find_form, read_heights
from core.machine.form import Heights, Weld
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.model.setting import Setting
from core.sections import stock_book
from core.thermal import find_heat

BOOK = stock_book()


def show(page, project=None):
    project = project or Project()
    page.show_project(project, project.units)
    lay = layout(project.machine, BOOK)
    study = SimpleNamespace(
        heat=find_heat(Setting(project.machine, lay, "likely", BOOK), project),
        form=find_form(project, lay, find_rails(project, lay)[0]),
    )
    page.show_study(SimpleNamespace(units=project.units, project=project), study)
    return project


@pytest.fixture
def engine():
    made = PlotEngine()
    yield made
    made.close()


@pytest.fixture
def heat(qtbot, engine):
    page = HeatPage(Theme("light"), engine)
    qtbot.addWidget(page)
    return page


@pytest.fixture
def form(qtbot, engine):
    page = FormPage(Theme("light"), engine)
    qtbot.addWidget(page)
    return page


def said_by(page):
    said = []
    page.edited.connect(lambda path, value: said.append((path, value)))
    return said


def test_heat_shows_both_bounds_and_says_what_breaks_a_limit(heat):
    show(heat)
    assert heat.headline.state == "good"
    show(heat, replace_at(Project(), "machine.gantry.beam.material", "en_aw_6060_t66"))
    curves = heat.along_x.surface.plot().curves
    assert len(curves) == 2
    assert all(curve.low is not None and curve.high is not None for curve in curves)
    assert heat.words.property("tone") == "warn"
    assert heat.headline.state == "warning"
    assert len(heat.bow.table().rows) >= 9
    assert {row[0] for row in heat.scale.table().rows} == {"X", "Y"}


def test_edits_of_heat_carry_the_whole_path(heat):
    show(heat)
    said = said_by(heat)
    heat.form.edited.emit("warmest", 35.0)
    heat.set_up.edited.emit("temperature", 18.0)
    assert said == [("heat.warmest", 35.0), ("machine.temperature", 18.0)]
    assert heat.set_up.paths() == ["temperature"]


def test_form_shows_what_the_standards_allow_in_the_automatic_entries(form):
    project = show(form)
    length = layout(project.machine, BOOK).beam_length
    assert form.form.entry("beam_straightness").inner().value() == pytest.approx(0.0015 * length)
    assert any(row[0] == "Gantry beam" for row in form.delivery.table().rows)
    assert form.welds.isHidden()


def test_what_is_worst_stands_as_bars_where_there_is_room_for_them(qtbot, form):
    show(form)
    ratios = [d.ratio for d in find_ratios(Project()) if d.ratio is not None]
    assert [share.part for share in form.bars.shares()] == ratios
    assert [share.hatched for share in form.bars.shares()] == [ratio > 1.0 for ratio in ratios]
    form.resize(1200, 1500)
    form.show()
    qtbot.waitUntil(form.bars.isVisible)
    form.resize(1200, 400)
    qtbot.waitUntil(lambda: not form.bars.isVisible())


def find_ratios(project):
    lay = layout(project.machine, BOOK)
    return find_form(project, lay, find_rails(project, lay)[0]).deviations


def test_welds_are_listed_with_their_sum(form):
    show(form, replace_at(Project(), "straightness.welds", (Weld(),)))
    assert not form.welds.isHidden()
    assert len(form.welds.table().rows) == 2


def test_typed_readings_are_told_and_shims_follow(form):
    project = show(form)
    said = said_by(form)
    form.shims.entries[0].lines.setPlainText("#1 0\n#5 0.2\n#9 0")
    path, rows = said[-1]
    assert path == "straightness.x_heights.first"
    assert len(rows) == 3
    show(form, replace_at(project, path, rows))
    assert len(form.shims.plot.surface.plot().curves) == 2
    assert form.shims.table.table().rows
    assert form.shims.entries[0].lines.toPlainText() == "#1 0\n#5 0.2\n#9 0"  # the text stays as typed


def test_a_bad_line_is_named_and_tells_nothing(form):
    show(form)
    said = said_by(form)
    form.shims.entries[1].lines.setPlainText("#1 0\n#2 far")
    assert not said
    assert "line 2" in form.shims.entries[1].problem.text()
    form.shims.entries[1].lines.setPlainText("#1 0")
    assert form.shims.entries[1].problem.isHidden()


def test_undone_readings_are_shown_again_and_the_axis_has_its_own(form):
    heights = Heights(first=read_heights("#1 0.1\n#2 0.2").first)
    project = show(form, replace_at(Project(), "straightness.y_heights", heights))
    assert form.shims.entries[0].lines.toPlainText() == ""
    form.shims.axis.setCurrentIndex(1)
    form.shims.axis.activated.emit(1)
    assert form.shims.entries[0].lines.toPlainText().startswith("#1")
    said = said_by(form)
    show(form, replace_at(project, "straightness.y_heights", Heights()))
    assert form.shims.entries[0].lines.toPlainText() == ""
    assert not said


def test_a_file_gives_both_rails_and_a_bad_one_is_named(form, tmp_path: Path):
    show(form)
    said = said_by(form)
    good = tmp_path / "seats.csv"
    good.write_text("rail,hole,height\n1,1,0.05\n2,1,0.10\n", encoding="utf-8")
    form.shims.read_file(good)
    path, heights = said[-1]
    assert path == "straightness.x_heights"
    assert (len(heights.first), len(heights.second)) == (1, 1)
    assert heights.second[0].hole == 1
    bad = tmp_path / "picture.png"
    bad.write_bytes(b"\x89PNG\xff\xfe")
    form.shims.read_file(bad)
    assert not form.shims.entries[0].problem.isHidden()
    form.shims.read_file(tmp_path)
    form.shims.read_file(tmp_path / "missing.csv")
    assert len(said) == 1
