"""Deflection, sag and budget in full, with their figures and every finding."""

from __future__ import annotations

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QTabWidget, QVBoxLayout, QWidget

from app.answers import Answer
from app.look.theme import Theme
from app.pages.curves import ABOUT_BUDGET, show_budget, show_deflection, show_sag
from app.pages.page import Page, heading, quiet, two_columns
from app.pages.tables import ReportTable
from app.widgets.bar_plot import BarPlot
from app.widgets.plot import LinePlot
from app.widgets.plot_engine import PlotEngine
from core.findings import Finding
from core.machine.project import Project
from core.plan import Plan
from core.report import cases_table, csv_text, curve_table, findings_table, path_table
from core.study import Study
from core.units import UnitSet, show, show_beside

IN_THE_SENTENCE = frozenset({"Figure", "Limit", "Unit", "Entry", "Code"})
"""Columns of the findings that the page leaves out, because the sentence says the same."""
LEAST_FINDINGS = 150
"""Height of the findings in pixels on a low page, beyond which they scroll."""
ABOUT_CASES = (
    "The machine as a frame of Timoshenko beams, springs and rigid arms under the load case, solved at its worst place. From and "
    "to: the band that 9 of 10 machines within the given limits lie in."
)
LEAST_SHIM = 1e-7
"""Below this, in m, there is nothing that a shim could take away."""


class DeflectionPage(Page):
    """Plots with numbers, the load cases, the budget and the findings.

    Signals:
        case_chosen(row): the load case whose budget is shown.
        finding_chosen(finding): the user wants to go to where this one is mended.
    """

    case_chosen = Signal(int)
    finding_chosen = Signal(object)

    def __init__(self, theme: Theme, engine: PlotEngine, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent)
        self.along_x = LinePlot(theme, engine, "Tip deflection along X", "", "", from_zero=True, parent=self)
        self.along_y = LinePlot(theme, engine, "Tip deflection along Y", "", "", from_zero=True, parent=self)
        self.sag = LinePlot(theme, engine, "Sag and path error", "", "", from_zero=True, parent=self)
        self.budget = BarPlot(theme, "Compliance budget", self)
        self.cases = ReportTable("Load cases", self)
        self.cases.keep_height(190)
        self.cases.set_about(ABOUT_CASES)
        self.findings = ReportTable("Findings", self)
        self.findings.stretch("Finding")
        self.findings.keep_height(LEAST_FINDINGS)
        self.findings.set_about("A double click leads to the page and entry of a finding.")
        self.findings.activated.connect(lambda index: self._go(index.row()))
        self._found: tuple[Finding, ...] = ()
        self.case = QComboBox(self)
        self.case.setAccessibleName("Load case of the budget")
        self.case.activated.connect(self.case_chosen)
        self.sag_words = quiet()
        self.nothing = quiet("Nothing found: every check of the description and every limit holds.")
        self.nothing.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.plots = QTabWidget(self)
        self.plots.setDocumentMode(True)
        self.plots.addTab(self.along_x, "Along X")
        self.plots.addTab(self.along_y, "Along Y")
        self.plots.addTab(self.sag, "Sag")
        left = QWidget(self)
        column = QVBoxLayout(left)
        column.setContentsMargins(12, 10, 6, 8)
        column.addWidget(self.plots, 1)
        column.addWidget(self.sag_words)
        column.addWidget(heading("Load cases"))
        column.addWidget(self.cases)
        column.addWidget(heading("Findings"))
        column.addWidget(self.nothing)
        column.addWidget(self.findings)
        right = QWidget(self)
        beside = QVBoxLayout(right)
        beside.setContentsMargins(6, 10, 12, 8)
        row = QHBoxLayout()
        row.addWidget(QLabel("Load case", self))
        row.addWidget(self.case, 1)
        beside.addLayout(row)
        beside.addWidget(quiet(ABOUT_BUDGET))
        beside.addWidget(self.budget, 1)
        two_columns(self, left, right, (890, 370), grow=(2, 1))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.findings.keep_height(max(LEAST_FINDINGS, int(0.3 * self.height())))

    def show_project(self, project: Project, units: UnitSet) -> None:
        names = [case.name for case in project.cases]
        if names != [self.case.itemText(row) for row in range(self.case.count())]:
            with QSignalBlocker(self.case):
                self.case.clear()
                self.case.addItems(names)

    def show_answer(self, answer: Answer) -> None:
        plan, units = answer.plan, answer.units
        with QSignalBlocker(self.case):
            self.case.setCurrentIndex(min(answer.wish.place.case, self.case.count() - 1))
        show_deflection(self.along_x, answer, "x")
        show_deflection(self.along_y, answer, "y")
        show_sag(self.sag, answer)
        show_budget(self.budget, answer, answer.wish.place.case)
        self.along_x.set_numbers(lambda: csv_text(curve_table(plan)))
        self.sag.set_numbers(lambda: csv_text(path_table(plan)))
        self._show_cases(answer)
        if not self.findings.model().columnCount():  # nothing shown yet
            self._show_findings(answer)
        if plan.sag is not None:
            self.sag_words.setText(_sag_words(plan, units))
        else:
            self.sag_words.setText("")

    def show_study(self, answer: Answer, study: Study) -> None:
        show_deflection(self.along_x, answer, "x")
        self._show_cases(answer)
        self._show_findings(answer)

    def _show_cases(self, answer: Answer) -> None:
        self.cases.show_table(cases_table(answer.plan, None if answer.study is None else answer.study.bands))

    def _show_findings(self, answer: Answer) -> None:
        """All findings at once: those of the first stage alone would make the table jump at each key."""
        self._found = answer.findings
        self.findings.show_table(findings_table(answer.plan, answer.findings), IN_THE_SENTENCE)
        self.findings.setVisible(bool(answer.findings))
        self.nothing.setVisible(not answer.findings)

    def _go(self, row: int) -> None:
        message = str(self.findings.model().index(row, 1).data())
        finding = next((f for f in self._found if f.message == message), None)
        if finding is not None:
            self.finding_chosen.emit(finding)


def _sag_words(plan: Plan, units: UnitSet) -> str:
    sag, limits = plan.sag, plan.project.limits
    if sag is None:
        return ""
    words = (
        f"Sag of the beam {show_beside(abs(sag.beam_worst), limits.sag, 'deflection', units)} "
        f"(limit {show(limits.sag, 'deflection', units)}). Path error, what a straight line cannot take out, "
        f"{show_beside(abs(sag.worst_residual), limits.path_error, 'deflection', units)} "
        f"(limit {show(limits.path_error, 'deflection', units)})."
    )
    if abs(sag.removable) > LEAST_SHIM:
        words += f" Shimming takes away {show(abs(sag.removable), 'deflection', units, 2)}."
    return words
