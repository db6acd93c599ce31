"""The form over the engine's own project: every field has an entry, shows its value and gives it back."""

from __future__ import annotations

from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from app.look.theme import Theme
from app.widgets.automatic_entry import AutomaticEntry
from app.widgets.form import Form
from app.widgets.quantity_entry import QuantityEntry
from core.machine.project import Project, replace_at
from core.units import METRIC, parse


def at(thing: Any, path: str) -> Any:
    for name in path.split("."):
        thing = thing[int(name)] if isinstance(thing, tuple) else getattr(thing, name)
    return thing


@pytest.fixture
def form(qtbot: QtBot) -> Form:
    made = Form(Theme("light"), Project)
    qtbot.addWidget(made)
    made.show_values(Project())
    return made


def test_every_field_of_a_project_has_an_entry_without_a_problem(form: Form) -> None:
    project = Project()
    paths = form.paths()
    assert len(paths) > 80
    assert len(set(paths)) == len(paths)
    for path in paths:
        entry = form.entry(path)
        assert entry.problem() is None, path
        found = at(project, path)
        shown = entry.value()
        assert shown == (type(found) if isinstance(shown, type) else found), path


def test_every_figure_is_read_back_from_its_own_text(form: Form) -> None:
    """What is shown is understood again, and lies as near as the digits shown allow."""
    for path in form.paths():
        entry = form.entry(path)
        if isinstance(entry, QuantityEntry) and entry.value() is not None:
            value = parse(entry.text(), entry._quantity, METRIC)
            assert value == pytest.approx(entry.value(), rel=2e-3, abs=1e-9), path


def test_an_entry_edits_the_project_at_its_path(qtbot: QtBot, form: Form) -> None:
    project = Project()
    for path, entry in [(path, form.entry(path)) for path in form.paths()]:
        if isinstance(entry, AutomaticEntry):
            continue
        value = entry.value()
        if not isinstance(value, type):
            assert replace_at(project, path, value) == project, path
