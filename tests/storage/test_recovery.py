"""Recovery files: what goes in comes out, and anything else is refused with a sentence."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from core.machine.project import Project, replace_at
from core.storage import BadFile
from core.storage.recovery import PutAside, read_recovery, recovery_bytes

WHEN = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


@pytest.mark.parametrize("file", [None, Path("/shop/big router.json")])
def test_what_was_put_aside_comes_back(file):
    project = replace_at(Project(), "machine.work.travel_x", 1.234)
    kept = PutAside(project, file, WHEN)
    assert read_recovery(recovery_bytes(kept), "kept") == kept


@pytest.mark.parametrize(
    "spoil",
    [
        lambda data: data[: len(data) // 2],
        lambda data: data.replace(b"gantrywright-recovery", b"something-else"),
        lambda data: data.replace(b'"version":1,"file"', b'"version":99,"file"'),
        lambda data: b"",
        lambda data: b"\xff\xfe",
        lambda data: data.replace(b"travel_x", b"travel_q"),
    ],
)
def test_a_spoilt_file_is_refused(spoil):
    data = recovery_bytes(PutAside(Project(), None, WHEN))
    assert spoil(data) != data
    with pytest.raises(BadFile):
        read_recovery(spoil(data), "kept")
