"""Palettes, roles, icons and the theme's choice."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor, QIcon
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.look import fonts
from app.look.icons import icon, recoloured
from app.look.palette import DARK, LIGHT, Palette, contrast, curve_colour, text_pairs
from app.look.roles import STYLES, brushes, pen
from app.look.theme import Theme
from core.drawing.primitives import ROLES

BOTH = [LIGHT, DARK]


@pytest.mark.parametrize("palette", BOTH, ids=lambda palette: palette.name)
def test_all_text_is_legible(palette: Palette) -> None:
    poor = {what: round(contrast(a, b), 2) for what, a, b in text_pairs(palette) if contrast(a, b) < 4.5}
    assert not poor


@pytest.mark.parametrize("palette", BOTH, ids=lambda palette: palette.name)
def test_lines_that_matter_stand_out(palette: Palette) -> None:
    """WCAG 2.1, 1.4.11: 3:1 for what has to be seen to understand."""
    seen = [*palette.curves, palette.line, palette.load, palette.bad]
    assert min(contrast(colour, palette.entry) for colour in seen) >= 3.0


def test_every_role_has_a_look_and_no_look_is_spare() -> None:
    assert set(STYLES) == ROLES


def test_no_two_roles_differ_by_colour_alone() -> None:
    """Roles of lines without filling differ in width or dash; filled ones in filling or hatching too."""
    for (one, a), (other, b) in itertools.combinations(STYLES.items(), 2):
        if not a.fill and not b.fill and {one, other} != {"dimension", "note"}:
            assert (a.width, a.dash) != (b.width, b.dash), (one, other)


def test_the_two_steel_and_aluminium_fillings_are_told_apart_by_hatching() -> None:
    assert len(brushes("steel", LIGHT)) == 2
    assert len(brushes("aluminium", LIGHT)) == 1
    assert brushes("axis", LIGHT)[0].style() == Qt.BrushStyle.NoBrush
    assert pen("hidden", LIGHT).dashPattern() == [5.0, 3.0]


def test_curve_colours_go_round_and_take_names() -> None:
    assert curve_colour("1", LIGHT) == curve_colour("7", LIGHT) == LIGHT.curves[0]
    assert curve_colour("bad", DARK) == DARK.bad


def test_theme_follows_the_choice_and_tells_of_it_once(qtbot: QtBot) -> None:
    theme = Theme("light")
    told: list[bool] = []
    theme.changed.connect(lambda: told.append(theme.palette.dark))
    theme.choose("dark")
    theme.choose("dark")
    assert told == [True]
    assert (theme.choice, theme.palette) == ("dark", DARK)
    with pytest.raises(ValueError):
        theme.choose("sepia")  # type: ignore[arg-type]


def test_theme_dresses_a_window(qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    Theme("dark").apply(window)
    assert window.palette().window().color() == QColor(DARK.window)
    assert DARK.accent in window.styleSheet()


def test_icons_take_the_ink_of_the_theme(qtbot: QtBot, tmp_path: Path) -> None:
    path = b'<path fill="currentColor" d="M0 0h8v8H0z"/>'
    square = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 8 8">' + path + b"</svg>"
    assert b"#123456" in recoloured(square, "#123456")
    (tmp_path / "square.svg").write_bytes(square)
    made = icon("square", DARK, "bad", tmp_path)
    colour = made.pixmap(QSize(16, 16), QIcon.Mode.Normal).toImage().pixelColor(8, 8)
    assert colour == QColor(DARK.bad)
    assert icon("missing", DARK, folder=tmp_path).isNull()
    (tmp_path / "broken.svg").write_bytes(b"<svg")
    assert not icon("broken", DARK, folder=tmp_path).isNull()


def test_bundled_fonts_load_and_none_is_no_trouble(qtbot: QtBot) -> None:
    families = fonts.load_fonts()
    assert fonts.window_font(families).family() == "DejaVu Sans"
    assert fonts.load_fonts([]) == []
    assert fonts.window_font([]).pointSize() == fonts.POINT_SIZE
