"""The table of parts: quantities, lengths and masses that can be worked out by hand."""

from __future__ import annotations

import pytest

from core.fasteners import rails
from core.machine.base import Floor
from core.machine.drives import BallScrew, KnownStiffness, ToothedBelt
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.materials import material
from core.parts import PartLine, moving_mass, parts
from core.sections import PropertyBook


def table(project: Project) -> dict[str, PartLine]:
    lay = layout(project.machine, PropertyBook())
    return {line.key: line for line in parts(project, lay, rails(project, lay)[0])}


def changed(path: str, value: object) -> Project:
    made = replace_at(Project(), f"machine.{path}", value)
    assert isinstance(made, Project)
    return made


def test_every_row_has_its_own_key_and_its_sum() -> None:
    project = Project()
    lay = layout(project.machine, PropertyBook())
    rows = parts(project, lay, rails(project, lay)[0])
    assert len({row.key for row in rows}) == len(rows)
    for row in rows:
        assert row.quantity >= 1
        assert row.length is None or row.length > 0.0
        if row.mass_each is not None:
            assert row.mass == pytest.approx(row.quantity * row.mass_each)


def test_the_beam_weighs_what_its_section_weighs() -> None:
    project = Project()
    lay = layout(project.machine, PropertyBook())
    row = table(project)["beam"]
    # Source: EN 10219-2 table, 120 x 80 x 5: 14.4 kg/m (found, three figures).
    assert row.mass is not None
    assert row.mass / lay.beam_length == pytest.approx(14.4, rel=5e-3)
    assert row.length == lay.beam_length


def test_plates_weigh_their_volume() -> None:
    row = table(Project())["saddle"]
    density = material("en_aw_6082_t6").density
    assert row.mass == pytest.approx(0.28 * 0.24 * 0.02 * density)


def test_quantities_of_rails_carriages_and_legs() -> None:
    found = table(Project())
    assert {key: found[key].quantity for key in ("x_rail", "y_rail", "z_rail")} == {
        "x_rail": 2,
        "y_rail": 2,
        "z_rail": 2,
    }
    assert found["x_carriage"].quantity == 4
    assert found["leg"].quantity == 6
    assert found["cross_member"].quantity == found["lower_cross_member"].quantity == 3
    assert found["lower_rail"].quantity == 4
    assert (found["upright"].quantity, found["foot_plate"].quantity, found["side_beam"].quantity) == (2, 2, 2)


def test_a_base_on_the_floor_has_no_legs() -> None:
    found = table(changed("base.stand", Floor()))
    assert not {"leg", "cross_member", "lower_rail"} & set(found)


def test_drives_by_kind() -> None:
    found = table(Project())
    assert {"x_screw", "y_rack", "y_pinion", "z_drive"} <= set(found)
    assert found["y_rack"].quantity == 2
    belt = table(changed("x_drive", ToothedBelt()))
    assert belt["x_belt"].length == pytest.approx(2.0 * (belt["x_rail"].length or 0.0))
    screws = table(changed("y_drive", BallScrew()))
    assert screws["y_screw"].quantity == 2
    known = table(changed("x_drive", KnownStiffness()))
    assert known["x_drive"].quantity == 1


def test_fasteners_come_with_packs() -> None:
    rows = [row for key, row in table(Project()).items() if key.startswith("fastener_")]
    assert rows
    for row in rows:
        assert row.packs * row.pack_size >= row.quantity + row.spare


def test_a_tapped_bar_is_a_part() -> None:
    found = table(changed("gantry.beam.rail_fastening.hold", "tapped bar"))
    assert found["x_bar"].length == found["x_rail"].length
    assert found["x_bar"].quantity == 2
    assert "y_bar" not in found


def test_moving_mass_is_what_the_table_holds_above_the_side_beams() -> None:
    project = Project()
    lay = layout(project.machine, PropertyBook())
    found = table(project)
    above = [
        "beam",
        "beam_other",
        "upright",
        "foot_plate",
        "saddle",
        "saddle_other",
        "head_plate",
        "head_rest",
        "x_rail",
        "x_carriage",
        "y_carriage",
        "z_rail",
        "x_riding",
        "y_riding",
    ]
    total = sum(found[key].mass or 0.0 for key in above)
    assert moving_mass(project, lay) == pytest.approx(total)


@pytest.mark.parametrize(
    ("path", "value", "more"),
    [("head.mass", 12.0, 3.0), ("gantry.beam.extra_mass", 4.0, 1.0), ("saddle.extra_mass", 5.0, 2.0)],
)
def test_moving_mass_grows_by_what_is_added(path: str, value: float, more: float) -> None:
    before, after = Project(), changed(path, value)
    masses = [moving_mass(p, layout(p.machine, PropertyBook())) for p in (before, after)]
    assert masses[1] - masses[0] == pytest.approx(more)
