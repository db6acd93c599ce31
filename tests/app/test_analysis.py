"""An invented profile is analysed beside the window; the last answers stay in view until it is done."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest
from pytestqt.qtbot import QtBot

from app import analysis
from app.analysis import SectionAnalysis
from app.look.theme import Theme
from app.results import Results
from app.shell import VerdictBand
from core.catalogue import entries
from core.errors import NeedsAnalysis
from core.machine.project import Project, replace_at
from core.sections import TSlot, properties


@pytest.fixture
def invented() -> TSlot:
    stock = next(entry.section for entry in entries() if isinstance(entry.section, TSlot))
    return msgspec.structs.replace(stock, wall=stock.wall * 1.07)


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    file = tmp_path / "cache" / "sections.json"
    monkeypatch.setattr(analysis, "section_cache", lambda: file)
    return file


def test_a_profile_is_analysed_and_kept(qtbot: QtBot, invented: TSlot, own_cache: Path) -> None:
    worker = SectionAnalysis()
    with pytest.raises(NeedsAnalysis):
        properties(invented, worker.book())
    with qtbot.waitSignal(worker.done, timeout=60_000):
        worker.start(invented)
        assert worker.running
    assert not worker.running
    found = properties(invented, worker.book())
    assert 0.0 < found.it < found.iyy + found.izz
    assert properties(invented, SectionAnalysis().book()) == found


def test_a_failing_analysis_says_so(qtbot: QtBot, invented: TSlot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(analysis, "ARGUMENTS", ("-c", "import sys; sys.exit('no such luck')"))
    worker = SectionAnalysis()
    with qtbot.waitSignal(worker.failed, timeout=20_000) as failed:
        worker.start(invented)
    assert "no such luck" in failed.args[0]
    assert not worker.running


def test_the_user_can_stop_an_analysis_that_takes_long(
    qtbot: QtBot, invented: TSlot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(analysis, "ARGUMENTS", ("-c", "import time; time.sleep(60)"))
    band = VerdictBand(Theme("light"))
    qtbot.addWidget(band)
    results = Results()
    results.stoppable.connect(band.show_stop)
    results.note.connect(band.note)
    band.stop_wanted.connect(results.stop_analysis)
    project = replace_at(Project(), "machine.gantry.beam.section", invented)
    results.show(project)  # type: ignore[arg-type]
    qtbot.waitUntil(lambda: not band.stop_button().isHidden(), timeout=20_000)
    assert band.aside()
    with qtbot.waitSignal(results.troubled, timeout=5_000):
        band.stop_button().click()
    assert band.stop_button().isHidden()
    assert not results.waiting
    assert band.aside() == ""
    results.close()


def test_closing_ends_the_analysis(qtbot: QtBot, invented: TSlot) -> None:
    worker = SectionAnalysis()
    worker.start(invented)
    worker.close()
    assert not worker.running
