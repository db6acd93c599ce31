"""The files that come with the program are there, and the icons can be recoloured and drawn."""

from __future__ import annotations

import re

import pytest
from PySide6.QtCore import QByteArray
from PySide6.QtGui import QFontDatabase
from PySide6.QtSvg import QSvgRenderer

from app import paths

ICONS = [
    "open",
    "save",
    "save-as",
    "undo",
    "redo",
    "machine",
    "rails",
    "joints",
    "stiffen",
    "parts",
    "money",
    "cuts",
    "compare",
    "rank",
    "section",
    "guide",
    "warning",
    "ok",
    "limit-broken",
    "note",
    "bend",
    "base",
    "cutting",
    "drives",
    "guides",
    "heat",
    "form",
    "vibration",
    "light",
    "dark",
    "export",
]


@pytest.mark.parametrize("name", ICONS)
def test_icon_is_a_line_drawing_in_one_replaceable_colour(qapp, name: str) -> None:
    text = paths.icon(name).read_text(encoding="utf-8")
    assert set(re.findall(r'(?:stroke|fill)="([^"]*)"', text)) == {"none", "currentColor"}
    renderer = QSvgRenderer(QByteArray(text.replace("currentColor", "#123456").encode()))
    assert renderer.isValid()
    assert (renderer.defaultSize().width(), renderer.defaultSize().height()) == (24, 24)


def test_the_programs_own_icon_can_be_drawn(qapp) -> None:
    assert QSvgRenderer(str(paths.icon("gantrywright"))).isValid()


def test_bundled_fonts_load_and_carry_their_licence(qapp) -> None:
    files = paths.fonts()
    assert [file.name for file in files] == ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"]
    for file in files:
        number = QFontDatabase.addApplicationFont(str(file))
        assert "DejaVu Sans" in QFontDatabase.applicationFontFamilies(number)
    assert "Bitstream" in (paths.assets() / "fonts" / "LICENSE-DejaVu.txt").read_text(encoding="utf-8")


def test_a_missing_folder_is_named(monkeypatch: pytest.MonkeyPatch, tmp_path) -> None:
    monkeypatch.setattr(paths, "_REPOSITORY", tmp_path)
    monkeypatch.setattr(paths.sysconfig, "get_path", lambda name: str(tmp_path / name))
    with pytest.raises(FileNotFoundError) as caught:
        paths.assets()
    assert str(tmp_path) in str(caught.value)
