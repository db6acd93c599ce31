"""The catalogue: enough sizes, every one usable, found again by its key."""

from __future__ import annotations

import csv
from pathlib import Path

import msgspec
import pytest

from core.catalogue import entries, find
from core.errors import BadEntry
from core.sections import Channel, RectangularHollow, RoundTube, Section, TSlot, label, properties, stock_book

REFERENCE = Path(__file__).parents[1] / "validation" / "data" / "hollow_sections.csv"


def test_at_least_forty_tubes_of_both_finishes():
    tubes = [e.section for e in entries() if isinstance(e.section, RectangularHollow)]
    assert len(tubes) >= 40
    assert {t.finish for t in tubes} == {"cold formed", "hot finished"}


def test_round_tubes_and_channels_are_offered():
    kinds = [type(e.section) for e in entries()]
    assert kinds.count(RoundTube) >= 10
    assert kinds.count(Channel) >= 5


def test_t_slot_profiles_are_offered():
    assert sum(isinstance(e.section, TSlot) for e in entries()) >= 3


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
