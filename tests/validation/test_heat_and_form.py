"""Heat, delivery tolerances, welds and shims against handbooks, printed tables and reference libraries."""

from __future__ import annotations

import csv
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from core.fasteners import rails as find_rails
from core.form import allowed, weld_bow
from core.form.shims import find_survey
from core.machine.drives import BallScrew
from core.machine.form import Heights, Reading
from core.machine.heat import Heat
from core.machine.layout import find_sections, lay_out, layout
from core.machine.project import Project, replace_at
from core.materials import material
from core.model.setting import Setting
from core.sections import BoltedPlate, FlatBar, properties, stock_book
from core.sections.built_up_properties import unjoined
from core.thermal import Bar, Pair, bow_line, find_heat

DATA = Path(__file__).parent / "data" / "form_tolerances.csv"
ROWS = list(csv.DictReader(DATA.read_text(encoding="utf-8").splitlines()))
STEEL, ALUMINIUM = (210e9, 12e-6), (70e9, 23e-6)


def strip(metal: tuple[float, float], thickness: float, width: float = 0.03) -> Bar:
    young, expansion = metal
    return Bar(young, width * thickness, width * thickness**3 / 12.0, expansion)


@pytest.mark.outside(
    what="Curvature and bow of a strip of two metals, steel 20 mm on aluminium 40 mm, 10 K",
    source="Timoshenko, J. Opt. Soc. Am. 11 (1925) 233-255, recomputed",
    status="computed",
    tolerance="1e-6 relative",
)
def test_timoshenko_strip() -> None:
    pair = Pair(strip(ALUMINIUM, 0.040), strip(STEEL, 0.020), 0.030)
    curvature = pair.curvature(np.array([10.0]))
    assert curvature[0] == pytest.approx(2.737327e-3, rel=1e-6)  # 1/m
    bow = bow_line(np.array([0.5]), curvature, (0.0, 1.0), np.array([0.0, 1.0]))[0, 0]
    assert -bow == pytest.approx(0.34217e-3, rel=2e-5)  # printed to five figures


@pytest.mark.outside(
    what="Curvature of strips of any thicknesses and moduli in Timoshenko's own form with m and n",
    source="Timoshenko, J. Opt. Soc. Am. 11 (1925) 233-255, equation for the curvature",
    status="computed",
    tolerance="1e-9 relative",
)
@pytest.mark.parametrize("m", [0.2, 0.5, 1.0, 3.0])
@pytest.mark.parametrize("n", [0.3, 1.0, 4.0])
def test_timoshenko_own_form(m: float, n: float) -> None:
    height, dt, a1, a2, young = 0.05, 35.0, 11e-6, 24e-6, 70e9
    t2 = height / (1.0 + m)
    t1 = m * t2  # m = t1/t2, n = E1/E2
    pair = Pair(strip((young, a2), t2), strip((n * young, a1), t1), height / 2.0)
    expected = 6.0 * (a2 - a1) * dt * (1 + m) ** 2
    expected /= height * (3.0 * (1 + m) ** 2 + (1 + m * n) * (m**2 + 1 / (m * n)))
    assert pair.curvature(np.array([dt]))[0] == pytest.approx(expected, rel=1e-9)


@pytest.mark.outside(
    what="A beam curved by heat and held on three and four supports, by a frame of straight pieces with the same curvature",
    source="openseespy, elastic beams with the curvature as rotation between them",
    status="reference library",
    tolerance="2e-3 of the largest height",
)
@pytest.mark.parametrize("supports", [(0.0, 0.9, 2.0), (0.2, 0.7, 1.3, 1.9)])
def test_held_bow_against_a_frame_library(supports: tuple[float, ...]) -> None:
    ops = pytest.importorskip("openseespy.opensees")
    pieces, length, curvature = 200, 2.0, 1.7e-3
    x = np.linspace(0.0, length, pieces + 1)
    ops.wipe()
    ops.model("basic", "-ndm", 2, "-ndf", 3)
    for number, place in enumerate(x):
        ops.node(number, float(place), 0.0)
    ops.geomTransf("Linear", 1)
    stiff = 1.0e4
    for number in range(pieces):
        ops.element("elasticBeamColumn", number, number, number + 1, 1.0, stiff, 1.0, 1)
    for number in range(pieces + 1):
        held = bool(np.min(np.abs(np.array(supports) - x[number])) < 1e-9)
        ops.fix(number, 1 if number == 0 else 0, 1 if held else 0, 0)
    ops.timeSeries("Linear", 1)
    ops.pattern("Plain", 1, 1)
    # A constant curvature by heat is, for the nodes, a pair of opposite end moments E I kappa on the whole beam.
    ops.load(0, 0.0, 0.0, -stiff * curvature)
    ops.load(pieces, 0.0, 0.0, stiff * curvature)
    for name, arguments in (
        ("system", ("BandGeneral",)), ("numberer", ("RCM",)), ("constraints", ("Plain",)),
        ("integrator", ("LoadControl", 1.0)), ("algorithm", ("Linear",)), ("analysis", ("Static",)),
    ):  # fmt: skip
        getattr(ops, name)(*arguments)
    assert ops.analyze(1) == 0
    theirs = np.array([ops.nodeDisp(number, 2) for number in range(pieces + 1)])
    ops.wipe()
    ours = bow_line(x, np.array([curvature]), (0.0, length), np.array(supports))[0]
    assert np.abs(ours - theirs).max() <= 2e-3 * np.abs(theirs).max()


@pytest.mark.outside(
    what="Bow by two 5 mm fillets over 2 m on a 120 x 80 x 5 tube",
    source="Blodgett, Design of Welded Structures, bow = 0.005 Aw L^2 d / I (formula from memory)",
    status="computed",
    tolerance="0.005 mm, printed to two decimals",
)
def test_blodgett_bow() -> None:
    assert weld_bow(25e-6, 2.0, 0.045, 3_531_412e-12) == pytest.approx(6.37e-3, abs=5e-6)


def _limits(text: str) -> tuple[float, float]:
    """Two sizes in mm that fall into a range as the table writes it: just inside both ends."""
    if text.startswith("<="):
        return 0.5 * float(text[2:]), float(text[2:])
    if text.startswith(">"):
        return float(text[1:]) + 0.1, 2.0 * float(text[1:])
    low, high = (float(part) for part in text.split("-"))
    return low + 0.1, high


def _ranged() -> list[tuple[str, str, str, float, float, float]]:
    """Standard, item, class, width mm, and size and limit in mm, for every row that goes by ranges of length."""
    found = []
    for row in ROWS:
        name = row["standard and item"]
        if match := re.fullmatch(r"ISO 13920 (linear|straightness/flatness/parallelism) class (.)", name):
            standard, item, kind, width = (
                "ISO 13920",
                "lengths" if match[1] == "linear" else "flatness",
                match[2],
                0.0,
            )
        elif match := re.fullmatch(r"ISO 2768-1 linear (.)", name):
            standard, item, kind, width = "ISO 2768-1", "lengths", match[1], 0.0
        elif match := re.fullmatch(r"ISO 2768-2 straightness/flatness (.) .*", name):
            standard, item, kind, width = "ISO 2768-2", "flatness", match[1], 0.0
        elif name == "EN 12020-2 straightness over total length":
            standard, item, kind, width = "EN 12020-2", "straightness", "", 0.0
        elif match := re.fullmatch(r"EN 12020-2 twist, width (.*)", name):
            standard, item, kind, width = "EN 12020-2", "twist", "", _limits(match[1])[1]
        else:
            continue
        limit = float(re.sub("[^0-9.]", "", row["limit"]))
        found += [(standard, item, kind, width, size, limit) for size in _limits(row["range"])]
    return found


@pytest.mark.outside(
    what="Every row of the classes and tolerances that go by ranges of length (over 180 rows, both ends of each)",
    source="EN 12020-2, ISO 13920, ISO 2768-1, ISO 2768-2 as listed in form_tolerances.csv",
    status="memory high",
    tolerance="exact; the EN 12020-2 rows are themselves from memory, medium or low",
)
def test_ranged_rows() -> None:
    cases = _ranged()
    assert len(cases) > 360
    for standard, item, kind, width, size, limit in cases:
        found = allowed(standard, item, size / 1e3, kind, width / 1e3)
        assert found is not None, (standard, item, kind, size)
        assert found.limit == pytest.approx(limit / 1e3), (standard, item, kind, width, size)


@pytest.mark.outside(
    what="Straightness, twist and hollow faces of steel tubes at worked lengths",
    source="EN 10219-2:2006/2019 and EN 10210-2:2006, tolerances on straightness, twist and concavity",
    status="found",
    tolerance="exact",
)
@pytest.mark.parametrize(
    ("standard", "item", "length", "expected"),
    [
        ("EN 10219-2", "straightness", 2.0, 3.0),
        ("EN 10219-2", "straightness", 6.0, 9.0),
        ("EN 10219-2", "straightness over a span", 6.0, 3.0),
        ("EN 10219-2", "twist", 2.0, 3.0),
        ("EN 10219-2", "hollow face", 2.0, 0.96),
        ("EN 10210-2", "straightness", 2.0, 4.0),
        ("EN 10210-2", "twist", 3.0, 3.5),
        ("EN 10210-2", "hollow face", 3.0, 1.2),
    ],
)
def test_tubes(standard: str, item: str, length: float, expected: float) -> None:
    found = allowed(standard, item, length, width=0.12)
    assert found is not None
    assert found.limit == pytest.approx(expected / 1e3)
    assert found.status == "found"


@pytest.mark.outside(
    what="Straightness of extruded profiles at worked lengths",
    source="EN 755-9, 1.5 mm on each 1000 mm and 0.6 mm on any 300 mm",
    status="memory high",
    tolerance="exact",
)
def test_profiles() -> None:
    for length, expected in ((1.0, 1.5), (2.4, 3.6)):
        found = allowed("EN 755-9", "straightness", length)
        assert found is not None
        assert found.limit == pytest.approx(expected / 1e3)
    local = allowed("EN 755-9", "straightness over a span", 2.4)
    assert local is not None
    assert (local.limit, local.span) == pytest.approx((0.0006, 0.3))


@pytest.mark.outside(
    what="Best line through measured heights, and one slope for two rails",
    source="numpy.polyfit and scipy.optimize.lsq_linear on the same readings",
    status="reference library",
    tolerance="1e-9 m",
)
def test_best_line_and_plane() -> None:
    from scipy.optimize import lsq_linear

    project = Project()
    rails = tuple(r for r in find_rails(project, layout(project.machine, stock_book()))[0] if r.axis == "x")
    rng = np.random.default_rng(7)
    places = [np.sort(rng.uniform(0.0, 1.4, 12)), np.sort(rng.uniform(0.0, 1.4, 9))]
    values = [rng.normal(0.0, 3e-4, p.size) for p in places]
    rows = [
        tuple(Reading(height=float(h), place=float(p)) for p, h in zip(*pair, strict=True))
        for pair in zip(places, values, strict=True)
    ]
    one = find_survey("X", Heights(first=rows[0]), rails, 1e-5, "keep the tilt")
    assert one is not None
    slope, offset = np.polyfit(places[0], values[0], 1)
    assert (one.slope, one.rails[0].line[1]) == pytest.approx((slope, offset), abs=1e-9)
    both = find_survey("X", Heights(first=rows[0], second=rows[1]), rails, 1e-5, "keep the tilt")
    assert both is not None
    columns = np.zeros((21, 3))
    columns[:, 0] = np.concatenate(places)
    columns[:12, 1] = columns[12:, 2] = 1.0
    best = lsq_linear(columns, np.concatenate(values), method="bvls", tol=1e-14).x
    assert (both.slope, both.rails[0].line[1], both.rails[1].line[1]) == pytest.approx(tuple(best), abs=1e-9)


@pytest.mark.outside(
    what="Push and buckling load of a screw held at both ends: k times growth, Euler with half the length",
    source="exact beam theory: effective length L/2 with both ends fixed; shaft and two bearings in series",
    status="computed",
    tolerance="1e-9 relative",
)
def test_held_screw() -> None:
    drive = BallScrew(ends="fixed-fixed", diameter=0.0175)
    project = replace_at(Project(heat=Heat(warmest=30.0, screw_warming=5.0)), "machine.x_drive", drive)
    lay = layout(project.machine, stock_book())
    held = find_heat(Setting(project.machine, lay), project).screws[0]
    young, length = 207e9, 2.0 * lay.joint_x
    area, second = np.pi * 0.0175**2 / 4.0, np.pi * 0.0175**4 / 64.0
    growth = (11.5e-6 * 15.0 - 12e-6 * 10.0) * length
    pliant = length / (young * area) + 2.0 / drive.bearing_stiffness.likely
    assert held.push[1] == pytest.approx(growth / pliant, rel=1e-9)
    assert held.buckling == pytest.approx(np.pi**2 * young * second / (length / 2.0) ** 2, rel=1e-9)


@pytest.mark.outside(
    what="bow by its plate alone of an aluminium flat with a steel plate of its width: a strip of two metals, both ways up",
    source="S. Timoshenko, Analysis of bi-metal thermostats, J. Opt. Soc. Am. 11 (1925) 233-255: "
    "6 (a2 - a1) dT (1 + m)^2 / h (3 (1 + m)^2 + (1 + m n)(m^2 + 1 / m n)), bow L^2 / 8 of it",
    status="memory high",
    tolerance="1e-4, the bow over curvature by whole steps along the beam",
)
@pytest.mark.parametrize("face", ["top", "bottom", "left", "right"])
def test_a_plate_alone_bows_as_a_strip_of_two_metals(face: str) -> None:
    thick, thin, width = 0.04, 0.008, 0.06
    flat = (
        FlatBar(height=thick, width=width)
        if face in ("top", "bottom")
        else FlatBar(height=width, width=thick)
    )
    section = BoltedPlate(
        profile=flat, plate_width=width, plate_thickness=thin, face=face, joint="fully joined"
    )  # type: ignore[arg-type]
    project = replace_at(
        Project(heat=Heat(coldest=20.0, warmest=45.0)), "machine.gantry.beam.section", section
    )
    project = replace_at(project, "machine.gantry.beam.material", "en_aw_6060_t66")  # type: ignore[arg-type]
    shape = unjoined(section, lambda piece: properties(piece, stock_book()), "en_aw_6060_t66")
    machine = project.machine  # type: ignore[union-attr]
    sections = replace(find_sections(Project().machine, stock_book()), beam=shape)
    lay = lay_out(machine, sections, machine.x_guides.rail_spacing)
    bow = find_heat(Setting(machine, lay, "likely", stock_book()), project).bows[0]  # type: ignore[arg-type]
    steel, aluminium = material("s235"), material("en_aw_6060_t66")
    m, n = thin / thick, steel.young / aluminium.young
    part = 6 * (1 + m) ** 2 / (3 * (1 + m) ** 2 + (1 + m * n) * (m**2 + 1 / (m * n)))
    curvature = (aluminium.expansion - steel.expansion) * 25.0 * part / (thick + thin)
    found = bow.plate_across if face in ("top", "bottom") else bow.plate
    assert abs(found[1]) == pytest.approx(curvature * (2 * lay.joint_x) ** 2 / 8, rel=1e-4)
    assert found[0] == 0.0
    # Ends towards the plate when warm: it is the shorter. Rails are in front, which is the section's left.
    side = {"top": -1.0, "bottom": 1.0, "left": -1.0, "right": 1.0}[face]
    assert found[1] * side > 0.0
