"""Hole counts of profiled rails against a table worked out beside the program."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from core.fasteners import place_holes
from core.machine.guides import RAILS

DATA = Path(__file__).parent / "data" / "rail_hole_counts.csv"
ROWS = list(csv.DictReader(DATA.read_text(encoding="utf-8").splitlines()))


@pytest.mark.outside(
    what="hole count and equal end distance of seven profiled rails",
    source="table worked out by hand: most holes at the pitch with both ends at least the smallest allowed "
    "(common practice); pitches of the ISO 12090-1 series",
    status="computed",
    tolerance="count exact, end distance 1e-9 m",
)
@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['rail_length_mm']} at {row['pitch_mm']}")
def test_hole_table(row: dict[str, str]) -> None:
    mm = {key: float(value) / 1000.0 for key, value in row.items()}
    holes = place_holes(mm["rail_length_mm"], mm["pitch_mm"], mm["min_end_mm"])
    assert holes.count == int(row["holes"])
    assert holes.first == pytest.approx(mm["end_distance_if_symmetric_mm"], abs=1e-9)
    assert holes.last == pytest.approx(holes.first, abs=1e-9)


@pytest.mark.outside(
    what="hole pitch and screw of rail sizes 15 to 45",
    source="main dimensions of the ISO 12090-1 series of profiled rails",
    status="memory high",
    tolerance="exact",
)
@pytest.mark.parametrize(
    ("size", "pitch_mm", "thread"),
    [(15, 60, "M4"), (20, 60, "M5"), (25, 60, "M6"), (30, 80, "M8"), (35, 80, "M8"), (45, 105, "M12")],
)
def test_pitch_and_screw(size: int, pitch_mm: float, thread: str) -> None:
    assert RAILS[size].hole_pitch == pytest.approx(pitch_mm / 1000.0, abs=1e-12)
    assert RAILS[size].screw == thread
