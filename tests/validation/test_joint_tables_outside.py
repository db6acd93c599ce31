"""Tables of joints against outside figures: washers, nuts, heads, carriages' holes, strength classes, metals."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from core.fasteners.joints.tables import carriage_holes, hardware
from core.fasteners.screws import screw, screws
from core.fasteners.strength.partners import RM
from core.fasteners.strength.preload import TENSILE, USED, YIELD
from core.materials import material

DATA = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((DATA / name).read_text(encoding="utf-8").splitlines()))


WASHERS = {
    "M3": (7, 0.5), "M4": (9, 0.8), "M5": (10, 1), "M6": (12, 1.6), "M8": (16, 1.6), "M10": (20, 2), "M12": (24, 2.5),
}  # fmt: skip
NUTS = {
    "M3": (2.15, 2.4, 5.5), "M4": (2.9, 3.2, 7), "M5": (4.4, 4.7, 8), "M6": (4.9, 5.2, 10), "M8": (6.44, 6.8, 13),
    "M10": (8.04, 8.4, 16), "M12": (10.37, 10.8, 18),
}  # fmt: skip
HEADS = {"M3": 5.07, "M4": 6.53, "M5": 8.03, "M6": 9.38, "M8": 12.33, "M10": 15.33, "M12": 17.23}
SHORTEST = {"M3": 5, "M4": 6, "M5": 8, "M6": (8, 10), "M8": (10, 12), "M10": 16, "M12": 20}
CARRIAGES = {
    15: (38, 30, "M5"), 20: (53, 40, "M6"), 25: (57, 45, "M8"), 30: (72, 52, "M10"), 35: (82, 62, "M10"),
    45: (100, 80, "M12"),
}  # fmt: skip


@pytest.mark.outside(
    what="washers, nuts and bearing faces of heads M3 to M12",
    source="ISO 7089 (outer diameter, thickness), ISO 4032 (least and most height, flats), ISO 4762 (least bearing diameter)",
    status="memory high",
    tolerance="exact",
)
@pytest.mark.parametrize("thread", WASHERS)
def test_hardware(thread: str) -> None:
    ware = hardware()[thread]
    ours = (ware.washer_outer, ware.washer, ware.nut_least, ware.nut_most, ware.nut_across, ware.bearing)
    assert [round(v * 1e3, 6) for v in ours] == [*WASHERS[thread], *NUTS[thread], HEADS[thread]]
    assert list(hardware()) == list(screws()) == list(WASHERS)
    assert f"M{screw(thread).diameter * 1e3:g}" == thread, (
        "a metric thread is named by its diameter (ISO 261)"
    )


@pytest.mark.outside(
    what="shortest standard socket head cap screws M3 to M12",
    source="ISO 4762, from memory; M6 and M8 begin at one of two lengths there",
    status="memory high",
    tolerance="exact",
)
@pytest.mark.parametrize("thread", SHORTEST)
def test_shortest_screws(thread: str) -> None:
    ours, allowed = round(screw(thread).shortest * 1e3, 6), SHORTEST[thread]
    assert ours in (allowed if isinstance(allowed, tuple) else (allowed,))


@pytest.mark.outside(
    what="mounting holes of flanged carriages of rail sizes 15 to 45: distance across, along, thread",
    source="main dimensions of the ISO 12090-1 series of profiled rails, from memory",
    status="memory high",
    tolerance="exact",
)
@pytest.mark.parametrize("size", CARRIAGES)
def test_carriages_holes(size: int) -> None:
    holes = carriage_holes()[size]
    assert (round(holes.across * 1e3, 6), round(holes.along * 1e3, 6), holes.thread) == CARRIAGES[size]
    assert set(carriage_holes()) == set(CARRIAGES)


@pytest.mark.outside(
    what="tensile strength of the classes 8.8, 10.9 and 12.9 times the stress area, M3 to M12",
    source="ISO 898-1, table of minimum ultimate tensile loads",
    status="memory high",
    tolerance="0.5 %, the table's rounding",
)
@pytest.mark.parametrize("row", rows("fasteners_iso.csv"), ids=lambda r: r["thread"])
@pytest.mark.parametrize("grade", list(TENSILE))
def test_tensile_loads(row: dict[str, str], grade: str) -> None:
    load = TENSILE[grade] * screw(row["thread"]).stress_area
    assert load == pytest.approx(float(row[f"minUTL_{grade}_N"]), rel=5e-3)


@pytest.mark.outside(
    what="yield strength of the classes 8.8, 10.9 and 12.9, and the share that tightening uses",
    source="ISO 898-1 Rp0.2 up to M16 and 90 % by VDI 2230, as in the table of torques recomputed beside the program",
    status="memory high",
    tolerance="exact",
)
@pytest.mark.parametrize("row", rows("fasteners_vdi2230.csv"), ids=lambda r: f"{r['thread']} {r['class']}")
def test_yield_strength(row: dict[str, str]) -> None:
    assert YIELD[row["class"]] == float(row["Rp0.2min_MPa"]) * 1e6
    assert USED == 0.9


@pytest.mark.outside(
    what="tensile strength of the metals that threads are cut in",
    source="EN 755-2 (thinnest rows), EN 10025-2 (up to 16 mm: S235 360, S355 470 MPa), from memory",
    status="memory high",
    tolerance="exact; a carriage's body and rivet nuts are cautious figures of our own",
)
def test_metals() -> None:
    printed = {"en_aw_6060_t66": 195, "en_aw_6063_t66": 245, "en_aw_6082_t6": 290, "s235": 360, "s355": 470}
    assert {key: RM[key] / 1e6 for key in printed} == printed
    for key in printed:
        assert RM[key] >= material(key).yield_strength
