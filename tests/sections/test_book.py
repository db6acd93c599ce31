"""The book of analysed sections: what is kept, what is found again, what a damaged cache does."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import msgspec
import pytest

from core.errors import BadEntry, NeedsAnalysis
from core.sections import PropertyBook, properties
from core.sections.analyse_cli import BAD_INPUT, analyse_json, read_properties
from core.sections.analysis import analyse
from core.sections.book import key_of, load_cache, save_cache, stock_book
from core.sections.t_slot import STOCK, label

ROOT = Path(__file__).parents[2]
SMALL, STANDING = STOCK[0], STOCK[1]
OWN = msgspec.structs.replace(STANDING, wall=0.0021)
FIGURES = replace(stock_book().properties(STANDING), name=label(OWN), area=1.31e-3)


def test_every_stock_profile_is_in_the_book():
    assert {k for k in stock_book().entries if k.startswith("t_slot")} == {
        key_of(section) for section in STOCK
    }
    for section in STOCK:
        found = properties(section, stock_book())
        assert (found.width, found.height) == (section.width, section.height)
        assert found.name == label(section)
        assert found.wall == section.lip
        assert found.method
        assert found.source


def test_the_key_forgives_rounding_and_tells_shapes_apart():
    assert key_of(msgspec.structs.replace(SMALL, lip=0.0045 + 2e-10)) == key_of(SMALL)
    assert key_of(msgspec.structs.replace(SMALL, lip=0.0045 + 2e-9)) != key_of(SMALL)


def test_an_unknown_shape_asks_for_analysis():
    with pytest.raises(NeedsAnalysis) as caught:
        properties(OWN, stock_book())
    assert caught.value.section == OWN


def test_a_lying_profile_is_read_from_the_standing_one():
    lying = msgspec.structs.replace(STANDING, width=STANDING.height, height=STANDING.width)
    upright, flat = stock_book().properties(STANDING), stock_book().properties(lying)
    assert flat == replace(upright.turned(), name=label(lying))
    assert flat.iyy == upright.izz < upright.iyy


def test_an_entry_makes_a_new_book_and_leaves_the_old():
    old = stock_book()
    new = old.with_entry(OWN, FIGURES)
    assert new.properties(OWN) == FIGURES
    with pytest.raises(NeedsAnalysis):
        old.properties(OWN)


def test_the_cache_keeps_what_the_table_lacks(tmp_path):
    file = tmp_path / "not yet made" / "sections.json"
    save_cache(file, stock_book().with_entry(OWN, FIGURES))
    alone = load_cache(file)
    assert set(alone.entries) == {key_of(OWN)}
    assert load_cache(file, stock_book()).properties(OWN) == FIGURES
    assert set(load_cache(file, stock_book()).entries) == {*stock_book().entries, key_of(OWN)}


def test_a_cached_entry_never_replaces_one_of_the_book(tmp_path):
    file = tmp_path / "sections.json"
    save_cache(file, PropertyBook().with_entry(OWN, FIGURES))
    book = PropertyBook().with_entry(OWN, replace(FIGURES, area=1.0e-3))
    assert load_cache(file, book).properties(OWN).area == 1.0e-3


@pytest.mark.parametrize(
    "damage",
    [
        lambda text: b"",
        lambda text: text[: len(text) // 2],
        lambda text: b"\xff\xfe" + text,
        lambda text: b"[1, 2]",
        lambda text: text.replace(b'"version": 1', b'"version": 999'),
        lambda text: text.replace(b'"format": "', b'"format": "other-'),
        lambda text: text.replace(b'"area": 0.00131', b'"area": -0.00131'),
        lambda text: text.replace(b'"area": 0.00131', b'"area": "much"'),
    ],
)
def test_a_damaged_cache_adds_nothing(tmp_path, damage):
    file = tmp_path / "sections.json"
    save_cache(file, PropertyBook().with_entry(OWN, FIGURES))
    whole = file.read_bytes()
    damaged = damage(whole)
    assert damaged != whole
    file.write_bytes(damaged)
    assert load_cache(file, stock_book()) == stock_book()


def test_a_missing_cache_adds_nothing(tmp_path):
    assert load_cache(tmp_path / "none.json") == PropertyBook()


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failing_write_leaves_the_earlier_cache(tmp_path, monkeypatch, step):
    file = tmp_path / "sections.json"
    save_cache(file, PropertyBook().with_entry(OWN, FIGURES))
    before = file.read_bytes()

    def fail(*_args):
        raise OSError("no room")

    with monkeypatch.context() as patch:
        patch.setattr(os, step, fail)
        with pytest.raises(OSError, match="no room"):
            save_cache(file, PropertyBook())
    assert file.read_bytes() == before
    assert list(tmp_path.iterdir()) == [file]


def test_json_in_properties_out():
    text = msgspec.json.encode(SMALL)
    found = read_properties(analyse_json(text))
    kept = stock_book().properties(SMALL)
    assert found.name == kept.name
    assert found.area == pytest.approx(kept.area, rel=1e-6)


@pytest.mark.parametrize("text", [b"", b"{}", b'{"kind": "t_slot", "width": 0.05}', b"\xff"])
def test_text_that_is_no_profile_is_refused(text):
    with pytest.raises((msgspec.MsgspecError, UnicodeDecodeError)):
        analyse_json(text)


def test_the_process_ends_with_status_two_and_names_the_entry():
    text = msgspec.json.encode(SMALL).replace(b'"width":0.04', b'"width":0.05')
    ran = subprocess.run(
        [sys.executable, "-m", "core.sections.analyse_cli"], input=text, capture_output=True, cwd=ROOT
    )
    assert ran.returncode == BAD_INPUT
    assert ran.stdout == b""
    assert b"width" in ran.stderr
    assert b"Traceback" not in ran.stderr


@pytest.mark.parametrize("mesh", [0.0, -1e-6, 1e-12, float("nan"), float("inf")])
def test_a_mesh_that_cannot_be_made_is_refused(mesh):
    with pytest.raises(BadEntry):
        analyse(SMALL, mesh)


def test_nothing_heavy_is_loaded_until_a_section_is_analysed():
    code = (
        "import sys, core.catalogue as c; c.entries(); import core.sections.book as b; b.stock_book();"
        "import core.sections.analysis;"
        "sys.exit(any(m in sys.modules for m in ('sectionproperties', 'matplotlib', 'shapely')))"
    )
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT).returncode == 0
