"""The guide keeps up with the window: a text for each page, all linked from the start, a list in the side bar's order."""

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


def test_the_list_stands_in_the_order_of_the_side_bar(qtbot: QtBot) -> None:
    page = GuidePage(Theme("light"))
    qtbot.addWidget(page)
    names = [file.stem for file in page.files()]
    places = [names.index(next(n for n in NAMES[key] if n in names)) for key, _, _ in PAGES if key != "guide"]
    assert names[0] == "index"
    assert places == sorted(places)
    shown = [page.contents.item(row).text() for row in range(page.contents.count())]
    assert shown[0] == "Start"
    assert len(shown) == len(names)


def test_the_list_opens_pages_and_follows_links(qtbot: QtBot) -> None:
    page = GuidePage(Theme("light"))
    qtbot.addWidget(page)
    page.contents.setCurrentRow(2)
    assert page.browser.source().fileName() == page.files()[2].name
    page.open_for("heat")
    assert page.contents.currentItem().text() == "Heat"
    assert page.browser.source().fileName() == "heat.md"
