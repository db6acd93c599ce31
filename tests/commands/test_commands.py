"""Commands and the history: what they change, what they refuse, how steps merge, what they are called."""

from __future__ import annotations

from dataclasses import FrozenInstanceError

import pytest

from core.commands import AddRow, History, MoveRow, RemoveRow, ReplaceProject, SetEntry, UseBeam, value_at
from core.errors import BadEntry
from core.machine.gantry import BeamChoice, GantryBeam
from core.machine.loads import LoadCase
from core.machine.project import Project
from core.sections import FlatBar

TRAVEL = "machine.work.travel_x"


def with_choices() -> Project:
    beams = (GantryBeam(material="s355"), GantryBeam(overhang=0.1))
    return Project(alternatives=tuple(BeamChoice(name=f"Beam {k}", beam=b) for k, b in enumerate(beams)))


def test_an_entry_is_set_and_the_old_project_stands() -> None:
    project = Project()
    changed = SetEntry(TRAVEL, 1.5).apply(project)
    assert value_at(changed, TRAVEL) == 1.5
    assert value_at(project, TRAVEL) == 1.3
    assert SetEntry("cases.1.limit", 0.001).apply(project).cases[1].limit == 0.001
    assert SetEntry("machine.gantry.beam.section", FlatBar(height=0.1, width=0.05)).apply(project) != project


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (TRAVEL, -1.0),
        (TRAVEL, "long"),
        (TRAVEL, float("nan")),
        (TRAVEL, None),
        (TRAVEL, object()),
        ("machine.work", 3),
        ("machine.wings", 3),
        ("cases.9.limit", 0.1),
        ("cases.0", "text"),
        ("cases", ()),
        ("machine.x_guides.size", 21),
        ("machine.gantry.beam.rail_face", "inside"),
        ("", 1),
    ],
)
def test_what_is_not_accepted_is_refused_with_its_entry(path: str, value: object) -> None:
    with pytest.raises(BadEntry) as caught:
        SetEntry(path, value).apply(Project())
    assert caught.value.accepted


def test_the_refusal_names_the_whole_path() -> None:
    with pytest.raises(BadEntry) as caught:
        SetEntry(TRAVEL, -1.0).apply(Project())
    assert caught.value.where == TRAVEL


def test_a_whole_number_stands_for_a_length() -> None:
    assert SetEntry(TRAVEL, 2).apply(Project()).machine.work.travel_x == 2.0


def test_rows() -> None:
    project = Project()
    row = LoadCase(name="Drilling")
    names = lambda p: [case.name for case in p.cases]  # noqa: E731
    first, second = names(project)
    assert names(AddRow("cases", row).apply(project)) == [first, second, "Drilling"]
    assert names(AddRow("cases", row, 0).apply(project)) == ["Drilling", first, second]
    assert names(RemoveRow("cases", 0).apply(project)) == [second]
    assert names(MoveRow("cases", 0, 1).apply(project)) == [second, first]
    assert MoveRow("cases", 1, 0).apply(MoveRow("cases", 0, 1).apply(project)) == project
    for bad in (RemoveRow("cases", 2), RemoveRow("cases", -1), MoveRow("cases", 0, 2), RemoveRow("name", 0)):
        with pytest.raises(BadEntry):
            bad.apply(project)
    with pytest.raises(BadEntry):
        AddRow("cases", project.cases[0]).apply(project)
    with pytest.raises(BadEntry):
        RemoveRow("cases", 0).apply(RemoveRow("cases", 0).apply(project))


def test_using_a_beam_loses_none() -> None:
    project = with_choices()
    changed = UseBeam(0).apply(project)
    assert changed.machine.gantry.beam == project.alternatives[0].beam
    assert [choice.beam for choice in changed.alternatives] == [
        *(choice.beam for choice in project.alternatives),
        project.machine.gantry.beam,
    ]
    back = UseBeam(2).apply(changed)
    assert back.machine.gantry.beam == project.machine.gantry.beam
    assert len(back.alternatives) == 3
    with pytest.raises(BadEntry):
        UseBeam(7).apply(project)


def test_labels_are_words() -> None:
    project = with_choices()
    labels = {
        SetEntry("machine.gantry.beam.length", 2.0).label(project): "beam length",
        SetEntry("cases.1.limit", 0.001).label(project): "Roughing pass",
        SetEntry("machine.head.mount_stiffness.low", 1e6).label(project): "low end",
        AddRow("cases", LoadCase(name="Drilling")).label(project): "load case Drilling",
        RemoveRow("alternatives", 1).label(project): "Beam 1",
        MoveRow("cases", 0, 1).label(project): "Finishing pass",
        UseBeam(1).label(project): "Beam 1",
        ReplaceProject(project, "Start from a demo").label(project): "demo",
    }
    for label, words in labels.items():
        assert words in label
        assert label[0].isupper()
        assert "_" not in label
        assert not label.endswith(".")


def test_keystrokes_in_one_entry_are_one_step() -> None:
    start = History(Project())
    typed = start
    for value in (1.0, 1.2, 1.25):
        typed = typed.do(SetEntry(TRAVEL, value))
    assert len(typed.done) == 1
    assert typed.undo().project == start.project
    assert typed.undo().redo().project == typed.project
    apart = typed.seal().do(SetEntry(TRAVEL, 1.3 - 0.01))
    assert len(apart.done) == 2
    assert apart.undo().project == typed.project


def test_another_entry_starts_another_step() -> None:
    history = History(Project()).do(SetEntry(TRAVEL, 1.1)).do(SetEntry("machine.work.travel_y", 2.0))
    history = history.do(SetEntry(TRAVEL, 1.2))
    assert len(history.done) == 3


def test_typing_back_to_the_start_leaves_no_step() -> None:
    history = History(Project()).do(SetEntry(TRAVEL, 1.1)).do(SetEntry(TRAVEL, 1.3))
    assert not history.can_undo
    assert history.project == Project()


def test_an_edit_after_undo_drops_what_was_undone() -> None:
    history = History(Project()).do(SetEntry(TRAVEL, 1.1)).undo().do(SetEntry(TRAVEL, 1.2))
    assert not history.can_redo
    assert history.project.machine.work.travel_x == 1.2
    assert history.undo().project == Project()


def test_a_refused_edit_changes_nothing() -> None:
    history = History(Project()).do(SetEntry(TRAVEL, 1.1))
    with pytest.raises(BadEntry):
        history.do(SetEntry(TRAVEL, 0.0))
    assert history.project.machine.work.travel_x == 1.1


def test_the_saved_state() -> None:
    opened = History(Project(), saved=Project())
    assert not opened.changed
    assert History(Project()).changed
    edited = opened.do(SetEntry(TRAVEL, 1.1))
    assert edited.changed
    assert not edited.mark_saved().changed
    assert edited.mark_saved().undo().changed
    assert not edited.undo().changed
    # Saving ends the running step, else undo would jump past what is on disk.
    assert len(edited.mark_saved().do(SetEntry(TRAVEL, 1.2)).done) == 2


def test_ends_of_the_history_and_its_words() -> None:
    empty = History(Project())
    assert empty.undo() is empty
    assert empty.redo() is empty
    assert empty.undo_label == empty.redo_label == ""
    history = empty.do(SetEntry(TRAVEL, 1.1))
    assert "travel along X" in history.undo_label
    assert history.undo().redo_label == history.undo_label
    with pytest.raises(FrozenInstanceError):
        history.project = Project()  # type: ignore[misc]
