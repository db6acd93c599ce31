"""The check of the first mode's samples: a frequency that is not that of the whole frame is refused, on either side."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.certainty.first_mode import check_first_mode
from core.frame import NotTrustworthy
from core.machine.layout import layout
from core.model.masses import with_lumps
from core.model.setting import Setting
from core.model.whole import whole_frame
from core.modes import find_modes
from core.sections.book import stock_book
from core.storage import load_project

DEMO = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.json"))[0]


def test_only_the_frequency_of_the_whole_frame_passes() -> None:
    machine, book = load_project(DEMO).machine, stock_book()
    setting = Setting(machine, layout(machine, book), "likely", book)
    frame, lumps = with_lumps(setting, whole_frame(setting, 0.1, -0.2).frame)
    first, second = find_modes(frame, 2, lumps).frequencies
    check_first_mode(setting, 0.1, -0.2, float(first))
    for wrong in (0.99 * first, 1.01 * first, second):
        with pytest.raises(NotTrustworthy):
            check_first_mode(setting, 0.1, -0.2, float(wrong))
