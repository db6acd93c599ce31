"""The window: its frame is painted with Qt alone, then the engine is loaded in the background."""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from app.actions import Actions
from app.loading import FIRST, REST, EngineLoader
from app.look.theme import Theme
from app.page_list import PAGES, PageList
from app.recent import Memory
from app.shell import VerdictBand, shell_sheet

if TYPE_CHECKING:
    from app.desk import Desk
    from app.exports import Exports
    from app.files import Files
    from app.findings_panel import FindingsPanel
    from app.rescue import Found, Rescue
    from app.rescue_strip import RescueStrip
    from core.findings import Finding

SMALLEST = (1180, 660)
BREATH = 60
"""Milliseconds between the steps that nobody waits for."""


class MainWindow(QMainWindow):
    """Page list, verdict and pages.

    Signals:
        ready(): every page is there; the first project has been open for a while.
        settled(): all that is made in idle moments is made.
    """

    ready = Signal()
    settled = Signal()

    def __init__(self, theme: Theme, path: Path | None = None, memory: Memory | None = None) -> None:
        super().__init__()
        self._theme = theme
        self._first = path
        self._memory = memory or Memory()
        self._begun = False
        self._loader: EngineLoader | None = None
        self._closed = False
        self._is_ready = False
        self._then: list[Callable[[], None]] = []  # what to do when the loader is done
        self._steps: list[Callable[[], None]] = []
        self._making: Iterator[object] = iter(())
        self.desk: Desk | None = None
        self.files: Files | None = None
        self.rescue: Rescue | None = None
        self.strip: RescueStrip | None = None
        self.findings: FindingsPanel | None = None
        self.exports: Exports | None = None
        self.setWindowTitle("Gantrywright[*]")
        self.setMinimumSize(*SMALLEST)
        self.band = VerdictBand(theme, self)
        self.list = PageList(theme, self)
        self.list.chosen.connect(self.show_page)
        self.list.setEnabled(False)
        self.list.show_chosen("machine")
        self.stack = QStackedWidget(self)
        self._places: dict[str, QWidget] = {}
        self.actions_ = Actions(self, theme)
        self.actions_.quit.triggered.connect(self.close)
        self._lay_out()
        theme.changed.connect(self._dress)
        self._dress()

    def _lay_out(self) -> None:
        middle = QWidget(self)
        middle.setObjectName("middle")
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.band)
        self._column = column
        row = QHBoxLayout()
        row.setSpacing(0)
        row.addWidget(self.list)
        row.addWidget(self.stack, 1)
        column.addLayout(row, 1)
        self.setCentralWidget(middle)

    def _dress(self) -> None:
        self._theme.apply(self)
        self.setStyleSheet(self.styleSheet() + shell_sheet(self._theme.palette))

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._begun:
            self._begun = True
            QTimer.singleShot(0, self, self.load)

    def load(self) -> None:
        """Load the engine in the background; begins by itself after the first paint."""
        if self._loader is None and not self._closed:
            self._begun = True
            self._load(
                FIRST,
                [
                    self._make_desk,
                    self._open_first,
                    lambda: self._open_group("Work area"),
                    lambda: self._prepare_group("Gantry beam"),
                    lambda: self._open_group("Gantry beam"),
                    self._load_rest,
                ],
            )

    def _load_rest(self) -> None:
        """Load all other pages as soon as the first answer is there, so that it does not share the processor with them."""
        assert self.desk is not None
        if self.desk.results.answer is None and self.desk.results.waiting:
            once = Qt.ConnectionType.SingleShotConnection
            self.desk.results.rested.connect(self._load_rest, once)
        elif not self._closed:
            self._load(REST, [self._make_others, self._make_page, self._wire, self._finish_loading])

    def _load(self, names: tuple[str, ...], steps: list[Callable[[], None]]) -> None:
        """Import modules in the background, then take these steps."""
        self._then = steps
        self._loader = EngineLoader(names, self)
        self._loader.finished.connect(self._loaded)
        self._loader.start()

    def _loaded(self) -> None:
        if self._closed or self._loader is None:
            return
        if self._loader.error is not None:
            self.band.say("problem", f"The program's own parts could not be loaded: {self._loader.error}")
            return
        self._steps = self._then
        self._next_step()

    def _next_step(self) -> None:
        """One step of filling the window in each turn of the event loop, so that it stays responsive."""
        if self._steps and not self._closed:
            self._steps.pop(0)()
            QTimer.singleShot(BREATH if self._is_ready else 0, self, self._next_step)

    def _make_desk(self) -> None:
        desk_module: Any = importlib.import_module("app.desk")
        files_module: Any = importlib.import_module("app.files")
        panel_module: Any = importlib.import_module("app.findings_panel")
        desk = self.desk = desk_module.Desk(self._theme, self.band, self)
        desk.make_first()
        self.stack.addWidget(desk.machine)
        self.files = files_module.Files(self, desk.session, self._memory)
        self.findings = panel_module.FindingsPanel(self._theme, self.centralWidget())
        desk.session.state_changed.connect(self._show_state)
        self.files.told.connect(self.band.note)
        self._wire_findings()

    def _make_others(self) -> None:
        exports_module: Any = importlib.import_module("app.exports")
        rescue_module: Any = importlib.import_module("app.rescue")
        strip_module: Any = importlib.import_module("app.rescue_strip")
        assert self.desk is not None
        self._making = self.desk.make_others()
        self.exports = exports_module.Exports(self, self.desk, self.band)
        self.rescue = rescue_module.Rescue(self.desk.session, parent=self)
        self.strip = strip_module.RescueStrip(self)
        self._column.insertWidget(1, self.strip)

    def _make_page(self) -> None:
        """The next page, and its place; this step comes again until all are made."""
        assert self.desk is not None
        if next(self._making, self) is not self:
            self._steps.insert(0, self._make_page)
        for page in list(self.desk.pages.values())[self.stack.count() :]:
            self.stack.addWidget(page)

    def _open_first(self) -> None:
        assert self.desk is not None
        assert self.files is not None
        path = self._first
        opened = False
        if path is not None:
            opened = self.files.open_demo(path) if self._is_demo(path) else self.files.open(path)
        if not opened:
            self.desk.begin()

    def _open_group(self, title: str) -> None:
        assert self.desk is not None
        self.desk.machine.entries.open_group(title)

    def _prepare_group(self, title: str) -> None:
        assert self.desk is not None
        self.desk.machine.entries.prepare_group(title)

    def _finish_loading(self) -> None:
        """From here on the window can be worked with; closed groups and pages out of view are made in its idle moments."""
        assert self.desk is not None
        self.desk.engine.start()
        self._is_ready = True
        self._offer_rescue()
        self._steps += [
            lambda title=title: self._prepare_group(title) for title in self.desk.machine.entries.folds
        ]
        self._making = self.desk.prepare()
        self._steps += [self._prepare_page, self.settled.emit]
        self.ready.emit()

    def _prepare_page(self) -> None:
        """The next piece of a page out of view; this step comes again until all are made."""
        assert self.desk is not None
        if self.desk.results.waiting or next(self._making, self) is not self:
            self._steps.insert(0, self._prepare_page)

    def _offer_rescue(self) -> None:
        """What an earlier window could not save."""
        rescue, strip, files = self.rescue, self.strip, self.files
        assert rescue is not None
        assert strip is not None
        assert files is not None

        def take(found: Found) -> None:
            if files.may_lose_changes():
                rescue.take(found)
                strip.taken()

        rescue.troubled.connect(self.band.note)
        strip.wanted.connect(take)
        strip.offer(rescue)

    def _is_demo(self, path: Path) -> bool:
        assert self.files is not None
        return path.resolve() in [demo.resolve() for demo in self.files.demos()]

    def _wire(self) -> None:
        desk, files, actions = self.desk, self.files, self.actions_
        assert desk is not None
        assert files is not None
        assert self.exports is not None
        self.list.setEnabled(True)
        actions.enable(True)
        actions.wire(
            {
                actions.new: files.new,
                actions.open: files.ask_open,
                actions.save: files.save,
                actions.save_as: files.save_as,
                actions.undo: desk.session.undo,
                actions.redo: desk.session.redo,
                actions.export_tables: self.exports.tables,
                actions.export_pictures: self.exports.pictures,
                actions.help: self.show_help,
            }
        )
        for key, action in actions.length.items():
            action.triggered.connect(lambda _checked=False, key=key: desk.set_units(length=key))
        for key, action in actions.force.items():
            action.triggered.connect(lambda _checked=False, key=key: desk.set_units(force=key))
        for key, action in actions.theme.items():
            action.triggered.connect(lambda _checked=False, key=key: self.choose_theme(key))
            action.setChecked(key == self._theme.choice)
        first = actions.pages.actions()[0]
        for key, words, help_text in PAGES:
            action = actions.pages.addAction(words)
            action.setToolTip(help_text)
            action.triggered.connect(lambda _checked=False, key=key: self.show_page(key))
            actions.pages.insertAction(first, action)
        actions.demos.aboutToShow.connect(
            lambda: actions.fill(actions.demos, files.demos(), files.open_demo, "None found")
        )
        actions.recent.aboutToShow.connect(
            lambda: actions.fill(actions.recent, self._memory.recent(), files.open, "None yet")
        )
        actions.fill(actions.demos, files.demos(), files.open_demo, "None found")
        actions.fill(actions.recent, self._memory.recent(), files.open, "None yet")
        desk.export_parts.connect(self.exports.parts)
        desk.comparing.export_wanted.connect(self.exports.variants)
        desk.comparing.file_wanted.connect(self.exports.other_project)
        self._show_state()

    def _wire_findings(self) -> None:
        desk, panel = self.desk, self.findings
        assert desk is not None
        assert panel is not None
        desk.found.connect(panel.show_findings)
        desk.finding_wanted.connect(self.go_to)
        panel.chosen.connect(self.go_to)
        panel.closed.connect(lambda: self.band.look.setChecked(False))
        self.band.findings_wanted.connect(
            lambda wanted: panel.open_list(self.band.geometry().bottom()) if wanted else panel.close_list()
        )

    def go_to(self, finding: Finding) -> None:
        """Bring a finding's page into view, and the entry at which it is mended."""
        places: Any = importlib.import_module("app.finding_places")
        self.show_page(places.page_of(finding))
        if self.desk is not None:
            self.desk.point_at(finding)

    def show_page(self, key: str) -> None:
        """Bring a page into view."""
        if self.desk is None or not self._is_ready:  # the other pages are still being made
            return
        self.list.show_chosen(key)
        self.stack.setCurrentWidget(self.desk.pages[key])
        self.desk.show_page(key)

    def current_page(self) -> str:
        """The key of the page in view."""
        assert self.desk is not None
        return next(key for key, page in self.desk.pages.items() if page is self.stack.currentWidget())

    def show_help(self) -> None:
        """The guide at the page that belongs to what is in view."""
        if self.desk is not None:
            self.desk.guide.open_for(self.current_page())
            self.show_page("guide")

    def choose_theme(self, choice: str) -> None:
        self._theme.choose(choice)  # type: ignore[arg-type]
        self._memory.set_theme(choice)

    def _show_state(self) -> None:
        assert self.desk is not None
        session = self.desk.session
        self.setWindowTitle(f"{session.name}[*] – Gantrywright")
        self.setWindowModified(session.modified)
        self.actions_.show_steps(session.history.undo_label, session.history.redo_label)
        display = session.project.display
        self.actions_.length[display.length].setChecked(True)
        self.actions_.force[display.force].setChecked(True)

    def closeEvent(self, event: QCloseEvent) -> None:
        if self.files is not None and not self._closed and not self.files.may_lose_changes():
            event.ignore()
            return
        self._memory.set_geometry(self.saveGeometry())
        self.finish()
        event.accept()

    def finish(self) -> None:
        """End all work in the background; safe at any time and more than once."""
        self._closed = True
        if self.rescue is not None:
            self.rescue.close()
        if self._loader is not None:
            self._loader.wait()
        if self.desk is not None:
            self.desk.close()
