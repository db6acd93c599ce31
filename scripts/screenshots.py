"""Renders every page of the window without a screen, light and dark, in two sizes, into out/screenshots.

Run it as `make screenshots`; with --picture it also renews the picture that the README shows.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
HOME = tempfile.TemporaryDirectory(prefix="gantrywright-")
for place in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
    os.environ[place] = HOME.name  # neither the user's settings nor work kept for them belong in a picture
ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

SIZES = ((1366, 768), (1920, 1080))
PATIENCE = 30.0


def wait(app: Any, done: Any) -> None:
    """Serve events until `done()`; raises TimeoutError when it never is."""
    end = time.monotonic() + PATIENCE
    while not done():
        if time.monotonic() > end:
            raise TimeoutError("The window did not come to rest.")
        app.processEvents()
        time.sleep(0.005)


def rest(app: Any, seconds: float = 0.4) -> None:
    """Let the plots have their turns."""
    end = time.monotonic() + seconds
    wait(app, lambda: time.monotonic() > end)


def main(arguments: list[str]) -> int:
    from app.look.theme import Theme
    from app.main import application
    from app.page_list import PAGES
    from app.window import MainWindow

    app = application()
    folder = ROOT / "out" / "screenshots"
    folder.mkdir(parents=True, exist_ok=True)
    theme = Theme("light")
    theme.apply(app)
    theme.changed.connect(lambda: theme.apply(app))
    demos = sorted((ROOT / "demo_projects").glob("*.json"))
    names = [name for name in arguments if not name.startswith("-")]
    first = Path(names[0]) if names else (demos[0] if demos else None)
    window = MainWindow(theme, first)
    window.resize(*SIZES[0])
    window.show()
    try:
        wait(app, lambda: window.desk is not None and window.desk.results.answer is not None)
    except TimeoutError:
        print(window.band.text(), file=sys.stderr)
        window.finish()
        return 1
    desk: Any = window.desk
    wait(app, lambda: desk.engine.module is not None and not desk.results.waiting)
    desk.results.look(x=0.0, bent=True)
    desk.machine.drawing.bent.setChecked(True)
    wait(app, lambda: not desk.results.waiting)
    if "--picture" in arguments:
        rest(app)
        pictures = ROOT / "assets" / "pictures"
        pictures.mkdir(parents=True, exist_ok=True)
        window.grab().save(str(pictures / "window.png"))
    for choice in ("light", "dark"):
        theme.choose(choice)
        for width, height in SIZES:
            window.resize(width, height)
            for key, words, _ in PAGES:
                window.show_page(key)
                wait(
                    app, lambda: not any(d.waiting for d in (desk.results, desk.ranking, desk.buying.search))
                )
                rest(app)
                window.grab().save(str(folder / f"{words.lower()}-{choice}-{width}.png"))
    window.finish()
    window.deleteLater()
    app.processEvents()
    print(f"{len(SIZES) * len(PAGES) * 2} pictures in {folder.relative_to(ROOT)}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
