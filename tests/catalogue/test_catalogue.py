"""The catalogue: enough sizes, every one usable, found again by its key."""

from __future__ import annotations

import csv
from importlib.resources import files
from pathlib import Path

import msgspec
import pytest

from core.catalogue import entries, find
from core.catalogue.make_hollow_table import COLD, WALLS, table_text
from core.errors import BadEntry
from core.sections import Channel, RectangularHollow, RoundTube, Section, TSlot, label, properties, stock_book

REFERENCE = Path(__file__).parents[1] / "validation" / "data" / "hollow_sections.csv"


def test_tubes_of_both_finishes_reach_from_forty_to_four_hundred():
    tubes = [e.section for e in entries() if isinstance(e.section, RectangularHollow)]
    for finish in ("cold formed", "hot finished"):
        mine = [t for t in tubes if t.finish == finish]
        assert len(mine) >= 150
        assert max(t.height for t in mine) == 0.4
        assert {(0.04, 0.04), (0.35, 0.35), (0.3, 0.2)} <= {(t.height, t.width) for t in mine}


def test_the_table_of_tubes_is_what_its_script_writes():
    table = files("core.catalogue").joinpath("hollow.csv").read_text(encoding="utf-8")
    assert table == table_text()
    assert all(wall in WALLS["cold formed"] for sizes in COLD.values() for wall in sizes)


def test_round_tubes_and_channels_are_offered():
    kinds = [type(e.section) for e in entries()]
    assert kinds.count(RoundTube) >= 10
    assert kinds.count(Channel) >= 5


def test_t_slot_profiles_of_four_grids_are_offered():
    profiles = [e.section for e in entries() if isinstance(e.section, TSlot)]
    assert {round(1e3 * p.module) for p in profiles} == {30, 40, 45, 50}
    for module in (0.03, 0.04, 0.045, 0.05):
        counts = {p.counts() for p in profiles if abs(p.module - module) < 1e-9}
        assert {(1, 1), (1, 2), (2, 2), (2, 4)} <= counts


def test_keys_labels_and_sections_are_all_different():
    for values in ([e.key for e in entries()], [e.label for e in entries()], [e.section for e in entries()]):
        assert len(set(values)) == len(values)


@pytest.mark.parametrize("entry", entries(), ids=lambda e: e.key)
def test_every_entry_is_sourced_and_survives_a_file(entry):
    assert entry.source
    assert entry.status
    assert entry.family
    assert find(entry.key) is entry
    assert entry.label == label(entry.section)
    assert msgspec.json.decode(msgspec.json.encode(entry.section), type=Section) == entry.section
    found = properties(entry.section, stock_book())
    assert found.area > 0
    assert found.name == entry.label


def test_every_size_of_the_reference_table_is_there():
    for row in csv.DictReader(REFERENCE.read_text(encoding="utf-8").splitlines()):
        finish = "cold" if "cold" in row["standard"] else "hot"
        assert find(f"hollow_{row['h_mm']}x{row['b_mm']}x{row['t_mm']}_{finish}").status == "found"


def test_unknown_key_names_the_nearest():
    with pytest.raises(BadEntry) as caught:
        find("hollow_120x80x7_cold")
    assert "hollow_120x80x6_cold" in caught.value.accepted
