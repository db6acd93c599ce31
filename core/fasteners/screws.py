"""Socket head cap screws: sizes, and the lengths in which they are made.

Source: ISO 4762 (head, thread length, range of lengths), ISO 888 (nominal lengths), ISO 898-1 (stress area),
ISO 273 medium series (clearance hole); found or memory high.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from core.errors import BadEntry

# ISO 888 nominal lengths that ISO 4762 lists, mm; the bracketed ones (14, 18, 22, 28) are not in ISO 4762.
NOMINAL_LENGTHS = (
    5, 6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Screw:
    """One thread size, lengths in m.

    Attributes:
        thread: "M5". diameter, pitch: of the thread. stress_area: m2.
        head_diameter, head_height, key: of the head and its socket.
        thread_length: threaded length of screws too long to be threaded up to the head.
        shortest, longest: of the standard's range.
        hole: medium clearance hole.
    """

    thread: str
    diameter: float
    pitch: float
    stress_area: float
    head_diameter: float
    head_height: float
    key: float
    thread_length: float
    shortest: float
    longest: float
    hole: float


@cache
def screws() -> dict[str, Screw]:
    """Every thread size of the table, by name. The mapping is made once: do not change it."""
    text = files(__package__).joinpath("screws.csv").read_text(encoding="utf-8")
    return {row["thread"]: _screw(row) for row in csv.DictReader(text.splitlines())}


def _screw(row: dict[str, str]) -> Screw:
    def metres(column: str) -> float:
        return float(row[column]) / 1000.0

    return Screw(
        thread=row["thread"],
        diameter=float(row["thread"][1:]) / 1000.0,
        pitch=metres("pitch_mm"),
        stress_area=float(row["stress_area_mm2"]) * 1e-6,
        head_diameter=metres("head_dia_mm"),
        head_height=metres("head_height_mm"),
        key=metres("key_mm"),
        thread_length=metres("thread_length_mm"),
        shortest=metres("shortest_mm"),
        longest=metres("longest_mm"),
        hole=metres("hole_mm"),
    )


def screw(thread: str) -> Screw:
    """The screw of this thread. Raises BadEntry when the table does not hold it."""
    known = screws()
    if thread not in known:
        raise BadEntry(
            "thread", repr(thread), "is not in the table of socket head cap screws", ", ".join(known)
        )
    return known[thread]


def standard_lengths(thread: str) -> tuple[float, ...]:
    """Lengths in which this thread is made, m, rising."""
    size = screw(thread)
    return tuple(
        n / 1000.0 for n in NOMINAL_LENGTHS if size.shortest - 1e-9 <= n / 1000.0 <= size.longest + 1e-9
    )


def choose_length(thread: str, shortest: float, longest: float) -> float | None:
    """The shortest standard length from `shortest` to `longest` (m), or None when there is none."""
    for length in standard_lengths(thread):
        if shortest - 1e-9 <= length <= longest + 1e-9:
            return length
    return None
