"""What holds for every test: no screen, no trace in the user's own settings, no thread left over.

Random tests are drawn afresh on a person's machine and repeatably in CI.
The Qt checks (windows, timers, dialogs left over) stand in tests/app/conftest.py.
"""

from __future__ import annotations

import os
import tempfile
import threading
import time
from collections.abc import Iterator

# Before anything loads numpy: a process for each core, each with a thread for each core, would stand in each other's way.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Before anything loads Qt: without a display Qt aborts the whole process.
os.environ["QT_QPA_PLATFORM"] = "offscreen"
os.environ.setdefault("MPLBACKEND", "Agg")
_settings = tempfile.TemporaryDirectory(prefix="gantrywright-tests-", ignore_cleanup_errors=True)
os.environ["XDG_CONFIG_HOME"] = _settings.name
os.environ["XDG_DATA_HOME"] = _settings.name

import pytest  # noqa: E402
from hypothesis import HealthCheck, settings  # noqa: E402

settings.register_profile(
    "shop", deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile(
    "ci", settings.get_profile("shop"), derandomize=True, database=None, print_blob=True
)
settings.load_profile("ci" if os.environ.get("CI") else "shop")

OUTSIDE_KEYWORDS = {"what", "source", "status", "tolerance"}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Refuse an outside mark that does not name all that the table of checks shows."""
    for item in items:
        for mark in item.iter_markers("outside"):
            if mark.args or set(mark.kwargs) != OUTSIDE_KEYWORDS:
                raise pytest.UsageError(
                    f"{item.nodeid}: outside takes the keywords {sorted(OUTSIDE_KEYWORDS)}"
                )


def _threads() -> set[threading.Thread]:
    """Live threads, without the stand-ins that Python keeps for threads that Qt made."""
    return {thread for thread in threading.enumerate() if not isinstance(thread, threading._DummyThread)}


@pytest.fixture(autouse=True)
def no_thread_left() -> Iterator[None]:
    """Fail a test that leaves a thread running; a second of grace lets one that was told to stop do so."""
    before = _threads()
    yield
    patience = time.monotonic() + 1.0
    while (left := _threads() - before) and time.monotonic() < patience:
        time.sleep(0.005)
    assert not left, f"threads left running: {sorted(thread.name for thread in left)}"
