"""The page of rails: four views of the rail in view, edits with their paths, records of what has arrived, files."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import msgspec
import pytest
from pytestqt.qtbot import QtBot

from app.look.theme import Theme
from app.pages.rails_page import RailsPage
from app.widgets.picture import CannotSave
from core.commands.stock import SetStock
from core.fasteners.drilling import find_drilling
from core.fasteners.interim import find_interim
from core.fasteners.interim.supply import wants
from core.fasteners.slots import find_slots
from core.machine.ordering import StockRow
from core.machine.project import Project
from core.model.setting import Setting
from core.plan import begin_plan
from tests.fasteners.machines import BOOK, changed, slotted


@pytest.fixture
def page(qtbot: QtBot) -> RailsPage:
    made = RailsPage(Theme("light"))
    qtbot.addWidget(made)
    made.resize(1240, 690)
    made.show()
    return made


def show(page: RailsPage, project: Project) -> Any:
    plan = begin_plan(project, BOOK)
    answer: Any = SimpleNamespace(plan=plan, project=project, units=project.units)
    setting = Setting(project.machine, plan.layout, "likely", BOOK)
    study = SimpleNamespace(
        drilling=find_drilling(project, plan.layout, plan.rails),
        slots=find_slots(project, plan.layout, plan.rails, plan.joints),
        interim=find_interim(setting, project, plan.rails, plan.under, plan.stiffness is not None),
    )
    page.show_project(project, project.units)
    page.show_answer(answer)
    page.show_study(answer, study)
    return answer


def half_arrived(project: Project, count: int = 60) -> Project:
    rails = begin_plan(project, BOOK).rails
    key = wants(project, rails[2]).screw
    return msgspec.structs.replace(project, stock=(StockRow(part=key, arrived=count),))


def test_the_rail_in_view_is_the_same_in_every_view(page: RailsPage) -> None:
    show(page, half_arrived(slotted(y_guides__pieces__longest=1.0)))
    page.show_rail("y_right")
    assert page.rail.currentText() == "Right Y rail"
    assert page.view.drawing().title == "Right Y rail"
    assert page.drill.view.drawing().title == "Pieces of the Y rails"
    assert "Right Y rail" in page.drill.title.text()
    assert "Right Y rail" in page.arrived.view.drawing().title
    assert page.slots.plan() is None
    page.show_rail("x_low")
    assert page.slots.plan() is not None
    assert "Lower X rail" in page.slots.view.drawing().title


def test_a_clicked_slot_is_shown_until_another_rail_is_chosen(page: RailsPage) -> None:
    show(page, slotted())
    page.show_rail("y_left")
    assert page.slots.plan() is None
    seat = next(row for row, plan in enumerate(page.slots._found.slots) if plan.covered is None)
    page.slots._pick_row(seat)
    plan = page.slots.plan()
    assert plan is not None
    assert "Uprights to beam" in page.slots.steps.text()
    assert "gantry beam" in page.slots.title.text()
    assert page.slots.entries.isHidden(), "the entries are those of rails"
    page.show_rail("x_high")
    assert page.slots.plan().key == "x_high"
    assert not page.slots.entries.isHidden()


def test_places_run_from_either_end(page: RailsPage) -> None:
    show(page, changed())
    page.show_rail("y_left")
    forth = page.drill.places.table()
    page.drill.from_end.setChecked(True)
    back = page.drill.places.table()
    assert forth is not None
    assert back is not None
    assert forth.rows[0][2] == back.rows[0][2] == 0.0
    assert forth.rows[-1][2] == pytest.approx(back.rows[-1][2])
    assert "back end" in page.drill.title.text()


def test_edits_carry_the_whole_path_of_the_rail_in_view(page: RailsPage, qtbot: QtBot) -> None:
    show(page, slotted())
    told: list[tuple[str, object]] = []
    page.edited.connect(lambda path, value: told.append((path, value)))
    page.show_rail("y_left")
    line = page.drill.entries.entries["longest"].focusProxy()
    qtbot.keyClicks(line, "1.2 m")
    page.show_rail("x_low")
    line = page.slots.entries.entries["parked_nuts"].focusProxy()
    line.selectAll()
    qtbot.keyClicks(line, "4")
    line = page.arrived.entries.entries["hand_push"].focusProxy()
    line.selectAll()
    qtbot.keyClicks(line, "80")
    paths = dict(told)
    assert paths["machine.y_guides.pieces.longest"] == pytest.approx(1.2)
    assert paths["machine.gantry.beam.rail_fastening.parked_nuts"] == 4
    assert paths["interim.hand_push"] == pytest.approx(80.0)


def test_a_count_that_arrives_makes_the_plan_anew(page: RailsPage, qtbot: QtBot) -> None:
    project = half_arrived(changed(), 4)
    show(page, project)
    assert page.arrived.headline.state == "warning"
    told: list[tuple[str, str, object, str]] = []
    page.recorded.connect(lambda *words: told.append(words))
    key = project.stock[0].part
    line = page.arrived.kinds.entries[key, "arrived"].focusProxy()
    line.selectAll()
    qtbot.keyClicks(line, "90")
    assert told[-1][:3] == (key, "arrived", 90)
    more = SetStock(*told[-1]).apply(project)
    before = page.arrived.table.csv()
    show(page, more)
    assert page.arrived.table.csv() != before
    assert page.arrived.kinds.entries[key, "arrived"].value() == 90


def test_nothing_recorded_asks_for_it_and_claims_nothing(page: RailsPage) -> None:
    show(page, changed())
    assert page.arrived.headline.state == "note"
    assert not page.arrived.axes.isVisibleTo(page)


def test_files_are_written_and_a_bad_folder_is_told(page: RailsPage, tmp_path: Path) -> None:
    show(page, changed(y_guides__pieces__longest=1.0))
    page.show_rail("y_left")
    starts = {"csv": b"Rail,", "dxf": b"  0\n", "pdf": b"%PDF"}
    for kind, start in starts.items():
        file = tmp_path / f"list.{kind}"
        page.drill.save_file(kind, file)
        assert file.read_bytes().startswith(start), kind
    page.drill.save_file("svg", tmp_path / "strip.svg")
    assert len(list(tmp_path.glob("strip-*.svg"))) >= 2
    with pytest.raises(CannotSave):
        page.drill.save_file("csv", tmp_path / "nowhere" / "list.csv")


def test_problems_stand_beside_their_entries(page: RailsPage) -> None:
    show(page, changed())
    page.show_rail("y_left")
    page.show_problems({"machine.y_guides.pieces": "a joint on a hole", "interim.margin": "too small"})
    assert page.drill.entries.entries["first"].problem() == "a joint on a hole"
    assert page.arrived.entries.entries["margin"].problem() == "too small"
    page.show_rail("x_low")
    assert page.drill.entries.entries["first"].problem() is None


def test_the_page_begins_with_what_holds_the_rails_or_what_is_in_the_way(page: RailsPage) -> None:
    answer = show(page, slotted())
    total = sum(rail.screws for rail in answer.plan.rails)
    assert page.headline.state == "good"
    assert page.headline.text().startswith(f"{total} screws")
    show(page, slotted(x_guides__rail_spacing=0.03))
    assert page.headline.state in ("warning", "bad")
