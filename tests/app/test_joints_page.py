"""The page Joints: it shows what the study found, follows the picked joint and tells of edits by path."""

from __future__ import annotations

from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from app.look.theme import Theme
from app.pages.joints_page import JointsPage
from core.machine.joints import Joint
from core.machine.project import Project, replace_at
from core.plan import Plan, begin_plan
from core.sections import stock_book
from core.study import Study, make_study
from core.units import METRIC

BOOK = stock_book()


class Answered:
    """As much of the window's answer as the page reads."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.units = plan, METRIC


def studied(project: Project) -> tuple[Any, Study]:
    plan = begin_plan(project, BOOK)
    study = make_study(plan, BOOK, slow=False)
    assert study is not None
    return Answered(plan), study


@pytest.fixture
def page(qtbot: QtBot) -> JointsPage:
    made = JointsPage(Theme("light"))
    qtbot.addWidget(made)
    project = Project()
    made.show_project(project, METRIC)
    made.show_study(*studied(project))
    return made


def test_all_joints_stand_in_the_table_and_the_chooser(page: JointsPage) -> None:
    found = page.table.table()
    assert found is not None
    assert page.chooser.count() == len(found.rows) == 23
    assert page.headline.state == "good"
    assert page.table.csv().count("\n") == len(found.rows) + 1


def test_a_picked_row_is_drawn_and_told(page: JointsPage) -> None:
    keys = [page.chooser.itemData(row) for row in range(page.chooser.count())]
    page._pick_row(keys.index("x_blocks"))
    assert page.chooser.currentData() == "x_blocks"
    assert "M6 x 30" in page.words.text()
    assert page.stack.drawing().of_key("thread")
    assert len(page.pattern.drawing().of_key("screw 4")) == 1
    page.pick("legs")
    assert not page.stack.isVisibleTo(page)
    assert page.pattern.drawing().of_key("weld")


def test_edits_go_to_the_joint_in_view(page: JointsPage, qtbot: QtBot) -> None:
    page.pick("z_motor")
    with qtbot.waitSignal(page.edited) as told:
        page.form.edited.emit("spacer", 0.002)
    assert told.args == ["machine.joints.z.motor.spacer", 0.002]
    with qtbot.waitSignal(page.edited) as told:
        page.frame.edited.emit("motor_frame", "NEMA 34")
    assert told.args == ["machine.joints.z.motor_frame", "NEMA 34"]
    page.fold.set_open(True)
    assert page.general is not None
    with qtbot.waitSignal(page.edited) as told:
        page.general.edited.emit("wanted_margin", 2.0)
    assert told.args == ["machine.joints.wanted_margin", 2.0]
    page.pick("x_rails")
    assert not page.form.isVisibleTo(page)


def test_a_finding_stands_beside_its_entry(page: JointsPage) -> None:
    project = replace_at(Project(), "machine.joints.x.ends", Joint(torque=25.0))
    assert isinstance(project, Project)
    page.show_project(project, METRIC)
    answer, study = studied(project)
    page.show_study(answer, study)
    page.pick("x_ends")
    said = {f.where: f.message for f in study.findings}
    assert "machine.joints.x.ends.torque" in said
    page.show_problems(said)
    assert page.form.entry("torque").value() == 25.0
    assert page.headline.state == "bad"
