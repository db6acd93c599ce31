"""The section page: choosing a bar, typing a data sheet's figures, importing an outline, what it says when it cannot."""

from __future__ import annotations

import types
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from pytestqt.qtbot import QtBot

from app.look.theme import Theme
from app.pages.section_page import UNIT_WORDS, SectionPage
from core.bars import find_bars
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.machine.sheet import SheetValues
from core.materials import material
from core.sections import Outline, RectangularHollow, TwoProfiles, stock_book
from core.sections.dxf_reading import UNITS

TUBE = RectangularHollow(height=0.12, width=0.08, wall=0.005)


class Bench:
    """A page with a project behind it, edits put in as the desk does."""

    def __init__(self, qtbot: QtBot, project: Project) -> None:
        self.page = SectionPage(Theme("light"))
        qtbot.addWidget(self.page)
        self.project = project
        self.edits: list[tuple[str, Any]] = []
        self.page.edited.connect(self.take)
        self.show()

    def take(self, path: str, value: Any) -> None:
        self.edits.append((path, value))
        self.project = replace_at(self.project, path, value)  # type: ignore[assignment]
        self.page.show_project(self.project, self.project.units)

    def show(self) -> None:
        book = stock_book()
        bars = find_bars(self.project, layout(self.project.machine, book), book)
        self.page.show_project(self.project, self.project.units)
        answer, study = types.SimpleNamespace(units=self.project.units), types.SimpleNamespace(bars=bars)
        self.page.show_study(answer, study)  # type: ignore[arg-type]


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    return Bench(qtbot, Project())


def drawing(tmp_path: Path, units: int = 4, closed: bool = True) -> Path:
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = units
    points = [(0, 0), (80, 0), (80, 40), (0, 40)]
    document.modelspace().add_lwpolyline(points, close=closed)
    file = tmp_path / "bar.dxf"
    document.saveas(file)
    return file


def test_every_bar_can_be_chosen(bench: Bench) -> None:
    page = bench.page
    for row in range(page.chooser.count()):
        page.choose(page.chooser.itemData(row))
        assert page.table.table() is not None
        assert page.words.text()
        assert page.view.drawing().bounds() is not None


def test_an_edit_goes_to_the_bar_in_view(bench: Bench) -> None:
    bench.page.choose("side_beam")
    section = bench.project.machine.base.section
    bench.page.form.edited.emit("section.wall", 0.004)
    assert bench.edits == [("machine.base.section.wall", 0.004)]
    assert bench.project.machine.base.section != section


def test_a_figure_off_the_data_sheet_makes_a_row_and_then_edits_it(bench: Bench) -> None:
    page = bench.page
    page.sheet.edited.emit("iyy", 3.7e-6)
    assert bench.edits[-1][0] == "machine.datasheet"
    page.sheet.edited.emit("it", 4.1e-6)
    assert bench.edits[-1] == ("machine.datasheet.0.it", 4.1e-6)
    (row,) = bench.project.machine.datasheet
    assert (row.section, row.iyy, row.it) == (TUBE, 3.7e-6, 4.1e-6)
    bench.show()
    table = page.table.table()
    assert table is not None
    headers = [column.header for column in table.columns]
    iy = next(cells for cells in table.rows if cells[1] == "Iy")
    assert iy[headers.index("Counts")] == iy[headers.index("Data sheet")] == pytest.approx(370.0)
    assert iy[headers.index("How")] == "data sheet"
    assert iy[headers.index("Differs")] == pytest.approx(100 * (3.7e-6 / 3.531e-6 - 1), rel=0.01)


def test_a_figure_that_cannot_be_is_said_beside_its_entry(bench: Bench) -> None:
    bench.page.sheet.edited.emit("area", 1e9)
    assert bench.edits == []
    assert bench.page.sheet.entry("area").problem()


def test_problems_stand_beside_their_entries(bench: Bench) -> None:
    bench.take("machine.datasheet", (SheetValues(section=TUBE, it=9e-6),))
    bench.page.show_problems(
        {
            "machine.datasheet.0.it": "far off",
            "machine.gantry.beam.section.wall": "too thin",
            "machine.x": "other",
        }
    )
    assert bench.page.sheet.entry("it").problem() == "far off"
    assert bench.page.form.entry("section.wall").problem() == "too thin"


def test_an_outline_is_imported(bench: Bench, tmp_path: Path) -> None:
    bench.page.import_drawing(drawing(tmp_path), "")
    path, value = bench.edits[-1]
    assert path == "machine.gantry.beam.section"
    assert isinstance(value, Outline)
    assert value.size() == pytest.approx((0.08, 0.04))
    assert "mm" in bench.page.said.text()
    assert not bench.page.said.isHidden()
    bench.take(path, TUBE)  # another section: the words were about the drawing
    assert bench.page.said.isHidden()


def test_words_name_the_metal(bench: Bench) -> None:
    assert material(bench.project.machine.gantry.beam.material).name in bench.page.words.text()


@pytest.mark.parametrize(
    ("units", "closed", "unit", "word"),
    [(4, False, "", "open"), (0, True, "", "unit"), (4, True, "m", "size")],
)
def test_an_outline_that_cannot_be_is_said(
    bench: Bench, tmp_path: Path, units: int, closed: bool, unit: str, word: str
) -> None:
    bench.page.import_drawing(drawing(tmp_path, units, closed), unit)
    assert bench.edits == []
    assert word in bench.page.said.text()
    bench.page.import_drawing(tmp_path / "none.dxf", "")
    assert "cannot be opened" in bench.page.said.text()


def test_the_file_dialog_leads_to_the_import(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = drawing(tmp_path)
    name = "app.pages.section_page.QFileDialog.getOpenFileName"
    monkeypatch.setattr(name, lambda *_: (str(file), ""))
    bench.page.opener.click()
    assert isinstance(bench.edits[-1][1], Outline)


def test_every_kind_of_section_can_be_begun_with(bench: Bench) -> None:
    from typing import get_args

    from app.pages.beginnings import make
    from core.sections import Section

    for kind in get_args(Section):
        for old in (TUBE, TwoProfiles(first=TUBE, second=TUBE)):
            if kind.__name__ != "Datasheet":
                assert isinstance(make(kind, old), kind)


def test_units_offered_are_those_that_can_be_read() -> None:
    assert {key for key, _ in UNIT_WORDS if key} == set(UNITS)
