"""The guide's comparison for a pocket calculator, recomputed from its own text and held against the program."""

from __future__ import annotations

import re

import pytest

from app import paths
from core.comparison import find_comparison
from core.machine.project import Project, replace_at
from core.machine.variants import Change, Variant
from core.materials import material
from core.plan import make_plan
from core.sections import RectangularHollow, TSlot, properties
from core.sections.book import stock_book
from core.sections.t_slot import STOCK

BOOK = stock_book()
HEADING = "## Try it on a pocket calculator"
POWERS = {"³": "**3", "⁴": "**4"}


def lines() -> list[tuple[str, str]]:
    """(left side, right side) of every equation in the guide's section, in order."""
    text = (paths.guide() / "compare.md").read_text(encoding="utf-8")
    part = text[text.index(HEADING) :].split("\n## ")[0] if HEADING in text else ""
    return [(left, right) for left, right in re.findall(r"^    (.+) = (\S+)$", part, re.MULTILINE)]


def worth(expression: str) -> float:
    """An expression of figures, × / ( ) and powers, and of nothing else."""
    plain = expression.replace("×", "*")
    for sign, power in POWERS.items():
        plain = plain.replace(sign, power)
    plain = re.sub(r"(?<=\d) (?=\d{3}\b)", "", plain)
    assert re.fullmatch(r"[\d.e*/() -]+", plain), plain
    return float(eval(plain))  # figures and signs only, see above


def half_digit(printed: str) -> float:
    """Half of the last printed digit, of a figure between one and ten times its power of ten."""
    figure, _, power = printed.partition("e")
    return 0.5 * 10.0 ** (int(power or 0) - len(figure.partition(".")[2]))


def slotted() -> TSlot:
    return next(section for section in STOCK if (section.height, section.width) == (0.16, 0.08))


TUBE = RectangularHollow(height=0.12, width=0.08, wall=0.005, finish="cold formed")


@pytest.mark.outside(
    what="Extruded against welded by hand: E I, P L^3/48 E I, 5 w L^4/384 E I of the guide's two beams",
    source="Roark's Formulas, Table 8.1 (pinned beams); Timoshenko, Strength of Materials",
    status="computed",
    tolerance="half of the last printed digit; 1 % where a line goes on with rounded figures",
)
def test_the_guides_equations_hold() -> None:
    found = lines()
    assert len(found) == 11
    for number, (left, right) in enumerate(found):
        slack = half_digit(right) if number < 2 else max(half_digit(right), 0.01 * float(right))
        assert worth(left) == pytest.approx(float(right), abs=slack * 1.0001), left


@pytest.mark.outside(
    what="The same comparison by the program: the bare beams' rows, sag and mass of a length",
    source="Roark's Formulas, Table 8.1 (pinned beams); Timoshenko, Strength of Materials",
    status="computed",
    tolerance="0.2 % (half of the last printed digit)",
)
def test_the_program_says_the_same_of_the_bare_beams() -> None:
    printed = [float(right) for _, right in lines()]
    # A beam between uprights whose joints are 1.5 m apart.
    project = replace_at(Project(), "machine.gantry.beam.section", TUBE)
    plan = make_plan(project, BOOK)  # type: ignore[arg-type]
    spare = 2.0 * plan.layout.joint_x - 1.5
    project = replace_at(project, "machine.work.travel_x", project.machine.work.travel_x - spare)  # type: ignore[attr-defined]
    changes = (
        Change(path="machine.gantry.beam.section", value={"kind": "t_slot", **_measures(slotted())}),
        Change(path="machine.gantry.beam.material", value="en_aw_6063_t66"),
    )
    project = replace_at(project, "variants", (Variant(name="Slotted", changes=changes),))
    answer = find_comparison(make_plan(project, BOOK), BOOK)  # type: ignore[arg-type]
    assert answer is not None
    tube, profile = answer.figure("beam_vertical").likely
    assert tube is not None
    assert profile is not None
    assert 500.0 / profile * 1e3 == pytest.approx(printed[2], rel=2e-3)
    assert 500.0 / tube * 1e3 == pytest.approx(printed[3], rel=2e-3)
    assert profile / tube == pytest.approx(printed[8], rel=1e-2)


def test_the_figures_that_the_text_begins_with_are_the_programs() -> None:
    text = (paths.guide() / "compare.md").read_text(encoding="utf-8")
    for section, metal, second, area in (
        (slotted(), "en_aw_6063_t66", "9 488 657", "3551.2"),
        (TUBE, "s235", "3 531 412", "1835.6"),
    ):
        shape, stuff = properties(section, BOOK), material(metal)
        assert second in text
        assert area in text
        assert round(shape.iyy * 1e12) == int(second.replace(" ", ""))
        assert round(shape.area * 1e6, 1) == float(area)
        assert f"{stuff.young / 1e6:,.0f}".replace(",", " ") in text
        assert f"{stuff.density * 1e-9:.3g}".replace("e-06", "e-6") in text


def _measures(section: TSlot) -> dict[str, float]:
    return {name: getattr(section, name) for name in section.__struct_fields__}
