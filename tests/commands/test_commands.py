"""Commands and the history: what they change, what they refuse, how steps merge, what they are called."""

from __future__ import annotations

from dataclasses import FrozenInstanceError

import pytest

from core.catalogue import entries
from core.commands import (
    AddBeam,
    AddRow,
    CopyVariant,
    DropChange,
    History,
    MoveRow,
    RemoveRow,
    ReplaceProject,
    SetEntry,
    SetInVariant,
    TakeWhatDiffers,
    UseBeam,
    UseVariant,
    value_at,
    value_in,
)
from core.errors import BadEntry
from core.machine.loads import LoadCase
from core.machine.project import Project
from core.machine.variants import Change, Variant, apply_variant
from core.sections import FlatBar, TSlot

TRAVEL = "machine.work.travel_x"


MATERIAL, OVERHANG = "machine.gantry.beam.material", "machine.gantry.beam.overhang"


def with_variants() -> Project:
    first = Variant(name="Variant 0", changes=(Change(path=MATERIAL, value="s355"),))
    second = Variant(name="Variant 1", changes=(Change(path=OVERHANG, value=0.1),))
    return Project(variants=(first, second))


def machines(project: Project) -> dict[str, object]:
    return {v.name: apply_variant(project, v).project.machine for v in project.variants}


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


def test_a_variant_becomes_the_machine_and_all_stay_the_machines_they_were() -> None:
    project = with_variants()
    before = machines(project)
    changed = UseVariant(0).apply(project)
    assert changed.machine == before["Variant 0"]
    after = machines(changed)
    assert after["Variant 1"] == before["Variant 1"]
    assert project.machine in after.values()
    back = UseVariant(0).apply(changed)
    assert back.machine == project.machine
    assert len(History(project).do(UseVariant(0)).done) == 1
    with pytest.raises(BadEntry):
        UseVariant(7).apply(project)


def test_an_entry_set_in_a_variant_leaves_the_machine_alone() -> None:
    project = with_variants()
    changed = SetInVariant(1, "machine.gantry.beam.section.wall", 0.004).apply(project)
    assert changed.machine == project.machine
    assert value_in(changed, 1, "machine.gantry.beam.section.wall") == 0.004
    assert [c.path for c in changed.variants[1].changes] == [OVERHANG, "machine.gantry.beam.section"]
    again = SetInVariant(1, "machine.gantry.beam.section.wall", 0.005).apply(
        changed
    )  # as in the machine: stays listed
    assert [c.path for c in again.variants[1].changes] == [OVERHANG, "machine.gantry.beam.section"]
    assert DropChange(1, "machine.gantry.beam.section").apply(again) == project
    for bad in (SetInVariant(1, TRAVEL, -1.0), SetInVariant(1, "machine.wings", 1), DropChange(1, TRAVEL)):
        with pytest.raises(BadEntry):
            bad.apply(project)
    with pytest.raises(BadEntry):
        SetInVariant(1, "limits.sag", 1.0).apply(project)


def test_keystrokes_in_one_entry_of_one_variant_are_one_step() -> None:
    history = History(with_variants())
    for value in (1.0, 1.2, 1.25):
        history = history.do(SetInVariant(0, TRAVEL, value))
    assert len(history.done) == 1
    assert len(history.do(SetInVariant(1, TRAVEL, 1.1)).done) == 2


def test_the_machine_moves_on_and_the_variant_differs_only_in_its_list() -> None:
    project = SetEntry(TRAVEL, 2.0).apply(with_variants())
    assert value_in(project, 0, TRAVEL) == 2.0
    assert value_in(project, 0, MATERIAL) == "s355"


def test_a_list_that_no_longer_fits_is_told_of_and_mended() -> None:
    bad = (
        Change(path="machine.gantry.wings", value=1),
        Change(path=TRAVEL, value="wide"),
        Change(path="machine.work.travel_y", value=2.0),
        Change(path="cases.7.limit", value=0.1),
        Change(path="machine.gantry.beam.section", value={"kind": "cheese"}),
        Change(path="machine.x_guides.spread", value=-3.0),
    )
    project = Project(variants=(Variant(name="Old", changes=bad),))
    applied = apply_variant(project, project.variants[0])
    assert [fault.row for fault in applied.faults] == [0, 1, 3, 4, 5]
    assert applied.project.machine.work.travel_y == 2.0
    assert applied.project.machine.work.travel_x == project.machine.work.travel_x
    with pytest.raises(BadEntry):
        UseVariant(0).apply(project)
    mended = SetInVariant(0, TRAVEL, 1.1).apply(project)
    assert value_in(mended, 0, TRAVEL) == 1.1
    assert TRAVEL not in [fault.path for fault in apply_variant(mended, mended.variants[0]).faults]
    assert len(mended.variants[0].changes) == len(bad)
    other = DropChange(0, "machine.gantry.wings").apply(project)
    assert len(apply_variant(other, other.variants[0]).faults) == 4


def test_entries_that_only_fit_together_are_applied_together() -> None:
    changes = (
        Change(path="machine.x_guides.carriages", value=1),  # one carriage alone wants no spread
        Change(path="machine.x_guides.spread", value=0.0),
    )
    project = Project(variants=(Variant(name="One", changes=changes),))
    assert apply_variant(project, project.variants[0]).faults == ()
    alone = Project(variants=(Variant(name="One", changes=changes[:1]),))
    assert [fault.row for fault in apply_variant(alone, alone.variants[0]).faults] == [0]


def test_a_beam_from_the_catalogue_is_compared_or_used() -> None:
    section = next(e.section for e in entries() if isinstance(e.section, TSlot) and e.section.height == 0.16)
    project = Project()
    compared = AddBeam(section, "Slotted").apply(project)
    assert compared.machine == project.machine
    paths = [c.path for c in compared.variants[0].changes]
    assert "machine.gantry.beam.section" in paths
    assert value_in(compared, 0, "machine.gantry.beam.rail_fastening.hold") == "T-nut"
    used = UseBeam(section, "Slotted").apply(project)
    assert used.machine == apply_variant(compared, compared.variants[0]).project.machine
    back = UseBeam(project.machine.gantry.beam.section, "Tube").apply(used)
    assert back.machine.gantry.beam.rail_fastening.hold == "tapped wall"
    assert back.machine.gantry.beam.material == "s235"
    twice = AddBeam(section, "Slotted").apply(compared)
    assert len({v.name for v in twice.variants}) == 2


def test_what_another_project_has_otherwise_becomes_a_variant() -> None:
    project = with_variants()
    other = SetEntry("machine.x_drive.lead", 0.02).apply(
        SetEntry("cases.0.load", LoadCase(name="x").load).apply(project)
    )
    taken = TakeWhatDiffers(other, "Other").apply(project)
    assert apply_variant(taken, taken.variants[-1]).project.machine == other.machine
    assert next(c.path for c in taken.variants[-1].changes) == "machine.x_drive"
    with pytest.raises(BadEntry):
        TakeWhatDiffers(AddRow("cases", LoadCase(name="Third")).apply(project), "More").apply(project)


def test_names_are_names_and_copies_have_their_own() -> None:
    project = CopyVariant(0).apply(with_variants())
    assert [v.name for v in project.variants] == ["Variant 0", "Variant 0 copy", "Variant 1"]
    renamed = SetEntry("variants.1.name", "Stiff").apply(project)
    assert renamed.variants[1].name == "Stiff"
    for name in ("Variant 0", " ", ""):
        with pytest.raises(BadEntry):
            SetEntry("variants.1.name", name).apply(project)


def test_labels_are_words() -> None:
    project = with_variants()
    labels = {
        SetEntry("machine.gantry.beam.length", 2.0).label(project): "beam length",
        SetEntry("cases.1.limit", 0.001).label(project): "Roughing pass",
        SetEntry("machine.head.mount_stiffness.low", 1e6).label(project): "low end",
        AddRow("cases", LoadCase(name="Drilling")).label(project): "load case Drilling",
        RemoveRow("variants", 1).label(project): "Variant 1",
        MoveRow("cases", 0, 1).label(project): "Finishing pass",
        UseVariant(1).label(project): "Variant 1",
        SetInVariant(1, OVERHANG, 0.1).label(project): "Variant 1",
        DropChange(1, OVERHANG).label(project): "overhang",
        CopyVariant(0).label(project): "Variant 0",
        AddBeam(FlatBar(height=0.1, width=0.1), "Bar").label(project): "Bar",
        UseBeam(FlatBar(height=0.1, width=0.1), "Bar").label(project): "Bar",
        TakeWhatDiffers(project, "Other").label(project): "Other",
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
