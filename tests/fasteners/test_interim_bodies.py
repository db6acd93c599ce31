"""While rails, carriages or beams have not come, their screws go elsewhere and nothing that needs them is moved."""

from __future__ import annotations

import msgspec
import pytest

from core.fasteners.interim import InterimAnswer, find_interim
from core.fasteners.interim.supply import wants
from core.fasteners.rails import rails as find_rails
from core.machine.ordering import StockRow
from core.machine.project import Project
from core.model.setting import Setting
from core.parts import parts
from tests.fasteners.machines import BOOK, changed, laid

PLENTY = 1000


def answer(project: Project, *bodies: StockRow, screws: int = PLENTY) -> InterimAnswer:
    lay = laid(project)
    rails, _ = find_rails(project, lay)
    keys = {key for rail in rails for key in wants(project, rail).words}
    stock = (*(StockRow(part=key, on_hand=screws) for key in sorted(keys)), *bodies)
    project = msgspec.structs.replace(project, stock=stock)
    setting = Setting(project.machine, lay, "likely", BOOK)
    return find_interim(setting, project, rails, None, True, parts=parts(project, lay, rails))


def filled(found: InterimAnswer) -> dict[str, int]:
    return {rail.key: len(rail.now) for rail in found.rails}


def reasons(found: InterimAnswer) -> dict[str, str]:
    return {axis.axis: axis.reason for axis in found.axes if axis.state == "refused"}


def test_what_is_not_recorded_is_taken_to_be_here() -> None:
    found = answer(changed())
    assert found.complete
    assert found.not_here == ()
    priced = answer(changed(), StockRow(part="x_rail", price=70.0))
    assert priced.complete


@pytest.mark.parametrize("seat", ["beam", "x_rail"])
def test_no_rail_is_screwed_on_before_it_and_its_seat_are_here(seat: str) -> None:
    found = answer(changed(), StockRow(part=seat, ordered=2))
    counts = filled(found)
    assert all(number == 0 for key, number in counts.items() if key.startswith("x"))
    assert all(number > 0 for key, number in counts.items() if not key.startswith("x"))
    assert len(found.not_here) == 1
    assert found.not_here[0] in reasons(found)["x"]
    assert not found.complete


def test_the_first_of_two_rails_is_screwed_on_when_one_is_here() -> None:
    found = answer(changed(), StockRow(part="y_rail", ordered=2, arrived=1))
    left, right = (number for key, number in filled(found).items() if key.startswith("y"))
    assert left > 0 == right
    assert set(reasons(found)) == {"y"}


def test_few_screws_go_where_they_can_be_used() -> None:
    shared = filled(answer(changed(), screws=30))
    alone = filled(answer(changed(), StockRow(part="side_beam", ordered=2), screws=30))
    assert sum(n for key, n in alone.items() if key.startswith("y")) == 0
    assert sum(alone.values()) <= sum(shared.values())
    assert all(alone[key] >= n for key, n in shared.items() if not key.startswith("y"))


def test_an_axis_waits_for_its_carriages_though_every_screw_is_here() -> None:
    found = answer(changed(), StockRow(part="x_carriage", ordered=4, arrived=2))
    assert set(reasons(found)) == {"x", "z"}
    assert "2 of 4" in reasons(found)["x"]
    assert {axis.state for axis in found.axes if axis.axis == "y"} == {"all here"}
    here = answer(changed(), StockRow(part="x_carriage", ordered=4, arrived=2, fitted=4))
    assert here.complete


def test_a_rail_in_pieces_waits_for_all_of_them() -> None:
    project = changed(x_guides__pieces__longest=0.8)
    lay = laid(project)
    rails, _ = find_rails(project, lay)
    keys = [line.key for line in parts(project, lay, rails) if line.key.startswith("x_rail_piece")]
    assert keys
    found = answer(project, StockRow(part=keys[0], ordered=1))
    assert all(number == 0 for key, number in filled(found).items() if key.startswith("x"))
    assert "x" in reasons(found)
