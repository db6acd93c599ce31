"""Speed, measured in one run and shown as ratios; `make bench` prints the table and writes out/bench.json.

Nothing here is a test: figures vary with the machine, ratios of one run hardly do.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
# As the program itself does, and before numpy: its matrices are small. It holds for the library alike.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

import importlib  # noqa: E402
import json  # noqa: E402
import platform  # noqa: E402
import statistics  # noqa: E402
import subprocess  # noqa: E402
import time  # noqa: E402
from collections.abc import Callable  # noqa: E402
from typing import Any  # noqa: E402

import numpy as np  # noqa: E402

from core.machine.layout import layout  # noqa: E402
from core.machine.project import Project, replace_at  # noqa: E402
from core.model.condensed import condense_gantry, solve_base  # noqa: E402
from core.model.export import frame_data  # noqa: E402
from core.model.moving import condense_head, ride, tip_compliance  # noqa: E402
from core.model.setting import Setting  # noqa: E402
from core.sections import RectangularHollow  # noqa: E402
from core.sections.book import stock_book  # noqa: E402
from core.storage import load_project  # noqa: E402
from scripts.bench_bands import band_rows, bench_bands, bench_recompute, recompute_rows  # noqa: E402
from scripts.bench_cuts import bench_cuts, cut_rows  # noqa: E402
from scripts.bench_modes import bench_modes, mode_rows  # noqa: E402
from scripts.bench_parts import bench_parts, part_rows  # noqa: E402
from scripts.bench_rank import bench_rank, rank_rows  # noqa: E402

Figures = dict[str, Any]
SIDE = 100  # positions along each of X and Y
SAMPLES = 12
DESIGNS = 1000
STROKES = 20
STARTS = 5
CHILD = """
import sys, time
from app.look.theme import Theme
from app.main import application
from app.window import MainWindow
from PySide6.QtCore import QEvent, QObject
painted = []
class Watch(QObject):
    def eventFilter(self, thing, event):
        if event.type() == QEvent.Type.Paint:
            painted.append(True)
        return False
app = application()
theme = Theme("light")
theme.apply(app)
window = MainWindow(theme)
watch = Watch()
window.band.installEventFilter(watch)
window.resize(1366, 768)
window.show()
while not painted:
    app.processEvents()
first = time.time()
while window.desk is None or window.desk.results.answer is None:
    app.processEvents()
    time.sleep(0.002)
print(first, time.time(), flush=True)
window.finish()
"""


def seconds(work: Callable[[], object], times: int = 5) -> float:
    """Median time of a piece of work, after one round that does not count."""
    work()
    taken = []
    for _ in range(times):
        begin = time.perf_counter()
        work()
        taken.append(time.perf_counter() - begin)
    return statistics.median(taken)


def setting_of(project: Project) -> Setting:
    book = stock_book()
    return Setting(project.machine, layout(project.machine, book), "likely", book)


def bench_map(project: Project) -> Figures:
    """The tip's compliance at 100 x 100 positions of one design, everything solved from the description."""
    work = project.machine.work
    x = np.linspace(-work.travel_x / 2, work.travel_x / 2, SIDE)
    y = np.linspace(-work.travel_y / 2, work.travel_y / 2, SIDE)

    def once() -> Any:
        setting = setting_of(project)
        gantry = condense_gantry(setting, y)
        return tip_compliance(gantry, ride(setting, gantry, x), condense_head(setting))

    taken = seconds(once)
    return {"positions": SIDE * SIDE, "seconds": taken, "positions_per_s": SIDE * SIDE / taken}


def bench_library(project: Project) -> Figures:
    """The same compliance by OpenSees at a sample of positions: building and solving, our export's time left out."""
    try:
        import openseespy.opensees as library
    except ImportError as error:
        return {"missing": str(error)}
    from scripts import second_solver

    setting, work = setting_of(project), project.machine.work
    rng = np.random.default_rng(7)
    places = rng.uniform(-0.5, 0.5, (SAMPLES, 2)) * (work.travel_x, work.travel_y)
    frames = [frame_data(setting, project, float(x), float(y)) for x, y in places]
    building, solving, apart = [], [], 0.0
    for data, (x, y) in zip(frames, places, strict=True):
        begin = time.perf_counter()
        tip = second_solver.build(library, data)
        built = time.perf_counter()
        theirs = second_solver.tip_compliance(library, tip)
        solving.append(time.perf_counter() - built)
        building.append(built - begin)
        gantry = condense_gantry(setting, np.array([y]))
        ours = tip_compliance(gantry, ride(setting, gantry, np.array([x])), condense_head(setting))[0, 0]
        apart = max(apart, float(np.abs(ours - theirs).max() / np.abs(theirs).max()))
    library.wipe()
    whole = statistics.median(b + s for b, s in zip(building, solving, strict=True))
    return {
        "library": "OpenSees (openseespy)",
        "solver": f"{second_solver.SYSTEM}, {second_solver.NUMBERER}, {second_solver.CONSTRAINTS}, one factorisation",
        "positions": SAMPLES, "positions_per_s": 1.0 / whole, "solving_only_per_s": 1.0 / statistics.median(solving),
        "largest_difference": apart,
    }  # fmt: skip


def bench_designs(project: Project) -> Figures:
    """1,000 beams of other widths and walls at nine positions each; the base below them is solved once."""
    work = project.machine.work
    x, y = np.array([-0.45, 0.0, 0.45]) * work.travel_x, np.array([-0.45, 0.0, 0.45]) * work.travel_y
    walls, widths = np.linspace(0.003, 0.008, 25), np.linspace(0.06, 0.14, DESIGNS // 25)
    sections = [RectangularHollow(height=0.16, width=float(b), wall=float(t)) for t in walls for b in widths]

    def once(share: bool) -> float:
        begin = time.perf_counter()
        under = solve_base(setting_of(project), y) if share else None
        for section in sections:
            setting = setting_of(replace_at(project, "machine.gantry.beam.section", section))  # type: ignore[arg-type]
            gantry = condense_gantry(setting, y, under)
            tip_compliance(gantry, ride(setting, gantry, x), condense_head(setting))
        return time.perf_counter() - begin

    shared, alone = once(True), once(False)
    return {"designs": DESIGNS, "positions": 9, "seconds": shared, "seconds_base_solved_each_time": alone}


class Painted:
    """Notes when a plot or a drawing of the window was painted last."""

    def __init__(self, window: Any) -> None:
        from PySide6.QtCore import QEvent, QObject
        from PySide6.QtWidgets import QWidget

        found = self.found = [0.0]

        class Watch(QObject):
            def eventFilter(self, _thing: QObject, event: QEvent) -> bool:
                if event.type() == QEvent.Type.Paint:
                    found[0] = time.perf_counter()
                return False

        self.watch = Watch()
        for widget in window.findChildren(QWidget):
            if type(widget).__name__ in ("PlotSurface", "BarPlot", "DrawingView") and widget.isVisible():
                widget.installEventFilter(self.watch)

    @property
    def last(self) -> float:
        """When something was painted last, on the clock of `time.perf_counter`."""
        return self.found[0]


def bench_typing(path: Path) -> Figures:
    """From a keystroke in an entry of the real window until its plots and drawing stand painted with the new answer."""
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QLineEdit

    # By name, so that the types of the front end stay out of the engine's strict check.
    parts: tuple[Any, ...] = tuple(
        importlib.import_module(f"app.{n}") for n in ("main", "look.theme", "window")
    )
    qt = parts[0].application()
    theme = parts[1].Theme("light")
    theme.apply(qt)
    window = parts[2].MainWindow(theme, path)
    window.resize(1366, 768)
    window.show()
    window.activateWindow()

    def serve(done: Callable[[], bool]) -> None:
        end = time.perf_counter() + 60.0
        while not done():
            qt.processEvents()
            # A window at rest sleeps too; spinning here would take the interpreter from the worker.
            time.sleep(0.0005)
            if time.perf_counter() > end:
                raise TimeoutError("The window did not come to rest.")

    serve(lambda: window.desk is not None and window.desk.results.answer is not None)
    desk: Any = window.desk
    serve(lambda: desk.engine.module is not None and not desk.results.waiting)
    QTest.qWait(1500)
    form, rest = desk.machine.entries.form_of("machine.work.travel_x")
    line = form.entry(rest).findChildren(QLineEdit)[0]
    painted = Painted(window)
    taken: dict[str, list[float]] = {"fine": [], "coarse": [], "study": []}
    first_stage, whole = [0.0], [0.0]

    def note(_answer: object) -> None:
        first_stage[0], whole[0] = painted.last, time.perf_counter()

    desk.results.studied.connect(note)
    line.setFocus()
    # A fine digit moves the curves on axes that stay; a coarse one makes the travel whole, so all is drawn new.
    for kind, start, step in (("fine", "1300.", 1e-4), ("coarse", "130", 1e-3)):
        for number in range(STROKES):
            line.setText(start)  # no keystroke: the entry is made ready for the digit that counts
            QTest.qWait(250)
            serve(lambda: not desk.results.waiting)
            before, digit = desk.results.answer, number % 9 + 1
            begin = time.perf_counter()
            QTest.keyClicks(line, str(digit))
            serve(lambda before=before: desk.results.answer is not before)  # type: ignore[misc]
            if abs(desk.results.answer.project.machine.work.travel_x - 1.3 - step * digit) > 1e-9:
                raise RuntimeError("The window answered another length than the one typed.")
            serve(lambda: not desk.results.waiting and time.perf_counter() - painted.last > 0.08)
            taken[kind].append(first_stage[0] - begin)
            taken["study"].append(max(painted.last, whole[0]) - begin)
    window.finish()
    window.hide()
    window.deleteLater()
    qt.processEvents()
    found: Figures = {"keystrokes": STROKES}
    for kind, times in taken.items():
        found[kind] = {"median_s": statistics.median(times), "share_95_s": float(np.percentile(times, 95))}
    return found


def bench_start() -> Figures:
    """From starting the interpreter to the first painted window, and to the first answer; the first start warms up."""
    first, answer = [], []
    for number in range(STARTS + 1):
        begin = time.time()
        done = subprocess.run(
            [sys.executable, "-c", CHILD], cwd=ROOT, capture_output=True, text=True, check=True, timeout=60
        )
        shown, answered = (float(word) - begin for word in done.stdout.split()[-2:])
        if number:
            first.append(shown)
            answer.append(answered)
    return {"starts": STARTS, "window_s": statistics.median(first), "answer_s": statistics.median(answer)}


def _spread(times: Figures) -> str:
    return f"median {times['median_s'] * 1e3:.0f} ms, 95 % within {times['share_95_s'] * 1e3:.0f} ms"


def rows(found: dict[str, Figures]) -> list[tuple[str, str]]:
    """The table: what was measured, and the figure in words."""
    own, library, designs = found["map"], found["library"], found["designs"]
    table = [
        (
            "map of 10,000 positions",
            f"{own['seconds'] * 1e3:.0f} ms, {own['positions_per_s']:,.0f} positions/s",
        )
    ]
    if "missing" in library:
        table.append(("same by a frame library", f"not measured: {library['missing']}"))
    else:
        rate, ratio = library["positions_per_s"], own["positions_per_s"] / library["positions_per_s"]
        pure = own["positions_per_s"] / library["solving_only_per_s"]
        table += [
            (f"same by {library['library']}", f"{rate:,.0f} positions/s ({library['solver']})"),
            ("  largest difference", f"{library['largest_difference']:.1e}"),
            ("  ratio ours / library", f"{ratio:,.0f} (aim 200); against its solving alone {pure:,.0f}"),
        ]
    table += mode_rows(found["modes"])
    table += cut_rows(found["cuts"])
    typing, start = found["typing"], found["start"]
    table += band_rows(found["bands"], library)
    table += recompute_rows(found["recompute"])
    table += part_rows(found["parts"])
    table += rank_rows(found["rank"])
    table += [
        (
            "1,000 designs x 9 positions",
            f"{designs['seconds']:.2f} s, {DESIGNS / designs['seconds']:,.0f} designs/s",
        ),
        ("  base solved for each", f"{designs['seconds_base_solved_each_time']:.2f} s"),
        ("keystroke to painted plots", f"{_spread(typing['fine'])} (aim 60)"),
        ("  with new axes throughout", _spread(typing["coarse"])),
        ("  until bands and study stand too", _spread(typing["study"])),
        (
            "start to first window",
            f"{start['window_s']:.2f} s (aim 1.5); first answer {start['answer_s']:.2f} s",
        ),
    ]
    return table


def main() -> int:
    demo = sorted((ROOT / "demo_projects").glob("*.json"))[0]
    project = load_project(demo)
    found: dict[str, Figures] = {
        "machine": {
            "system": platform.platform(),
            "python": platform.python_version(),
            "cores": os.cpu_count(),
        },
        "map": bench_map(project),
        "library": bench_library(project),
        "designs": bench_designs(project),
        "rank": bench_rank(project),
        "bands": bench_bands(project, seconds),
        "recompute": bench_recompute(project),
        "parts": bench_parts(sorted((ROOT / "demo_projects").glob("*.json"))),
        "modes": bench_modes(setting_of(project), project, seconds),
        "cuts": bench_cuts(),
        "typing": bench_typing(demo),
        "start": bench_start(),
    }
    table = rows(found)
    wide = max(len(name) for name, _ in table) + 2
    for name, figure in table:
        print(f"{name:<{wide}}{figure}")
    folder = ROOT / "out"
    folder.mkdir(exist_ok=True)
    (folder / "bench.json").write_text(json.dumps(found, indent=2) + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
