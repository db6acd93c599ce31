"""The guide keeps up with the window: a text for each page, all linked from the start, buttons in the side bar's order."""

from __future__ import annotations

import re

from pytestqt.qtbot import QtBot

from app import paths
from app.look.theme import Theme
from app.page_list import PAGES
from app.pages.guide_page import NAMES, GuidePage


def test_every_page_of_the_window_has_a_text() -> None:
    there = {file.stem for file in paths.guide().glob("*.md")}
    for key, _, _ in PAGES:
        assert there & set(NAMES[key]), key


def test_the_start_links_every_text_and_no_link_is_dead() -> None:
    there = {file.name for file in paths.guide().glob("*.md")}
    for file in paths.guide().glob("*.md"):
        links = set(re.findall(r"\]\((\w+\.md)\)", file.read_text(encoding="utf-8")))
        assert links <= there, file.name
        if file.stem == "index":
            assert links | {"index.md"} == there


def test_buttons_stand_in_the_order_of_the_side_bar(qtbot: QtBot) -> None:
    page = GuidePage(Theme("light"))
    qtbot.addWidget(page)
    names = [file.stem for file in page.files()]
    places = [names.index(next(n for n in NAMES[key] if n in names)) for key, _, _ in PAGES if key != "guide"]
    assert names[0] == "index"
    assert places == sorted(places)
