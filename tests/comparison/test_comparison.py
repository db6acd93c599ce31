"""Variants answered whole: each figure is that of the machine it stands for, and no sentence says more than the figures."""

from __future__ import annotations

from dataclasses import replace

import msgspec
import pytest

from core.catalogue import entries
from core.commands import AddBeam, SetEntry, SetInVariant, UseVariant
from core.comparison import (
    ROUNDING,
    ComparisonAnswer,
    Ends,
    Figure,
    differing,
    fair_pair,
    find_comparison,
    grade,
    sentence,
    sentences,
)
from core.errors import BadEntry
from core.machine.layout import figures_of
from core.machine.project import Project, replace_at
from core.machine.sheet import SheetValues
from core.machine.variants import Change, Variant, apply_variant, differences
from core.materials import material
from core.plan import make_plan
from core.sections import RectangularHollow, TSlot
from core.sections.book import stock_book
from core.study import make_study

BOOK = stock_book()
SLOTTED = next(e.section for e in entries() if isinstance(e.section, TSlot) and e.section.height == 0.16)


def compared(project: Project, **more: object) -> ComparisonAnswer:
    found = find_comparison(make_plan(project, BOOK), BOOK, **more)  # type: ignore[arg-type]
    assert found is not None
    return found


def with_slotted(**changes: object) -> Project:
    project = Project()
    for path, value in changes.items():
        project = SetEntry(path.replace("__", "."), value).apply(project)
    return AddBeam(SLOTTED, "Slotted").apply(project)


@pytest.fixture(scope="module")
def answer() -> ComparisonAnswer:
    return compared(with_slotted())


def test_each_figure_is_that_of_the_machine_it_stands_for(answer: ComparisonAnswer) -> None:
    project = with_slotted()
    used = make_study(make_plan(UseVariant(0).apply(project), BOOK), BOOK, slow=False)
    assert used is not None
    assert used.plan.stiffness is not None
    assert used.plan.sag is not None
    assert used.vibration is not None
    assert used.bands is not None
    for number, case in enumerate(used.plan.stiffness.cases):
        assert answer.figure(f"case_{number}").likely[1] == pytest.approx(case.worst, rel=1e-9)
        assert answer.figure(f"case_{number}").ends[1].high == pytest.approx(
            used.bands.cases[number].spread.high, rel=1e-9
        )
    assert answer.figure("sag").likely[1] == pytest.approx(used.plan.sag.beam_worst, rel=1e-9)
    assert answer.figure("path_error").likely[1] == pytest.approx(used.plan.sag.worst_residual, rel=1e-9)
    assert answer.figure("first_mode").likely[1] == pytest.approx(used.vibration.modes[0].frequency, rel=1e-9)
    rails = [rail for rail in used.plan.rails if rail.axis == "x"]
    assert answer.figure("screws").likely[1] == sum(rail.screws for rail in rails)
    assert answer.figure("nuts").likely == (
        0.0,
        float(sum(rail.nuts for rail in rails)),
    )  # a steel tube is tapped


def test_the_bare_beam_is_the_pocket_calculators(answer: ComparisonAnswer) -> None:
    plan = answer.machines[1].plan
    assert plan is not None
    shape, span = plan.layout.sections.beam, 2.0 * plan.layout.joint_x
    assert answer.figure("beam_vertical").likely[1] == pytest.approx(
        48.0 * 70e9 * shape.iyy / span**3, rel=1e-12
    )
    assert answer.figure("beam_torsion").likely[1] == pytest.approx(27e9 * shape.it / span, rel=1e-12)


def test_a_slotted_beam_takes_the_rails_to_its_slots_and_says_so() -> None:
    found = compared(with_slotted(machine__x_guides__rail_spacing=0.09))
    spacing = found.figure("rail_spacing").likely
    assert spacing[0] == 0.09
    assert spacing[1] != 0.09
    codes = {finding.code for finding in found.machines[1].findings}
    assert "rails-moved" in codes
    assert "rail-off-slot" not in codes
    assert "machine.x_guides.rail_spacing" in {listed.path for listed in found.machines[1].listed}


def test_the_largest_difference_comes_first_and_what_is_the_same_is_apart(answer: ComparisonAnswer) -> None:
    apart, same, told, alike = differing(answer)
    spreads = [figure.spread for figure in apart]
    assert spreads == sorted(spreads, reverse=True)
    assert all(spread > ROUNDING for spread in spreads)
    assert all(figure.spread <= ROUNDING for figure in same)
    assert {f.key for f in apart} | {f.key for f in same} == {f.key for f in answer.figures}
    assert {"section", "material", "fastening"} <= {fact.key for fact in told}
    assert not {fact.key for fact in told} & {fact.key for fact in alike}


def test_a_variant_that_lists_nothing_is_the_machine() -> None:
    found = compared(Project(variants=(Variant(name="Same"),)))
    apart, _, told, _ = differing(found)
    assert (apart, told) == ((), ())
    assert "no difference" in sentence(found, 1, Project().units)


def row(better: str, *ends: Ends, upper: bool = False) -> Figure:
    return Figure("key", "Deflection", "deflection", better, ends, upper=upper)  # type: ignore[arg-type]


def test_no_difference_is_called_one_that_is_not_clear() -> None:
    apart = row("less", Ends(1.0, 1.2, 0.9, 0.95, 1.1), Ends(2.0, 2.4, 1.8, 1.9, 2.2))
    assert (grade(apart, 0, 1, False), grade(apart, 1, 0, False)) == ("better", "worse")
    overlap = row("less", Ends(1.0, 1.3, 0.8, 0.8, 1.3), Ends(1.1, 1.5, 0.9, 0.9, 1.5))
    assert grade(overlap, 0, 1, True) == "better at both ends"
    assert grade(overlap, 1, 0, True) == "worse at both ends"
    assert grade(overlap, 0, 1, False) == "unclear"  # not the same unknowns
    crossing = row("less", Ends(1.0, 1.6, 0.8, 0.8, 1.6), Ends(1.1, 1.5, 0.9, 0.9, 1.5))
    assert grade(crossing, 0, 1, True) == "unclear"
    assert grade(row("more", Ends(1.0), Ends(2.0)), 0, 1, True) == "worse"
    assert grade(row("less", Ends(1.0), Ends(1.0 + 0.5 * ROUNDING)), 0, 1, True) == "same"
    assert grade(row("", Ends(1.0), Ends(2.0)), 0, 1, True) == "unknown"
    assert grade(row("less", Ends(), Ends(2.0)), 0, 1, True) == "unknown"
    bound = row("less", Ends(1.0), Ends(2.0), upper=True)  # both begin at 0, but what may come differs
    assert grade(bound, 0, 1, True) == "better"
    assert bound.band(0) == (0.0, 1.0)


def test_sentences_name_what_is_won_lost_and_unclear(answer: ComparisonAnswer) -> None:
    units = Project().units
    said = sentences(answer, units)
    assert len(said) == 2
    assert all(text.endswith(".") for text in said)
    wins, _, loses = said[1].partition("; loses in ")
    better = answer.figure("path_error").likely
    assert better[0] is not None
    assert better[1] is not None
    assert ("path error" in (wins if better[1] < better[0] else loses)) is True
    ends = tuple(replace_ends(e) for e in answer.figure("case_0").ends)
    wide = replace(answer, figures=(replace(answer.figure("case_0"), ends=ends),))
    machines = (wide.machines[0], replace(wide.machines[1], uncertain={"other": (1.0, 2.0, 3.0)}))
    assert "no clear difference" in sentence(replace(wide, machines=machines), 1, units)
    assert "against slotted" in sentence(answer, 0, units, against=1).lower()


def replace_ends(ends: Ends) -> Ends:
    return ends._replace(low=1e-9, high=1.0)


def test_a_change_that_does_not_fit_is_a_finding_and_never_a_crash() -> None:
    bad = Variant(name="Old", changes=(Change(path="machine.gantry.wings", value=1),))
    metal = Variant(name="Odd", changes=(Change(path="machine.gantry.beam.material", value="cheese"),))
    found = compared(Project(variants=(bad, metal, Variant(name="Good"))))
    assert [machine.stands for machine in found.machines] == [True, False, False, True]
    assert {finding.code for finding in found.findings} == {"variant-entry"}
    assert [finding.where for finding in found.findings] == [
        "variants.0.changes.0.value",
        "variants.1.changes.0.value",
    ]
    assert all(
        name in text for name, text in zip(("Old", "Odd"), [f.message for f in found.findings], strict=True)
    )
    assert all("no figures" in sentence(found, number, Project().units) for number in (1, 2))
    assert "no figures" in sentence(found, 3, Project().units, against=1)


def test_a_machine_that_cannot_stand_has_no_figures_but_its_row() -> None:
    low = Variant(
        name="Low",
        changes=(
            Change(path="machine.work.clearance", value=0.0),
            Change(path="machine.base.top", value=0.5),
        ),
    )
    found = compared(Project(variants=(low,)))
    if found.machines[1].stands:
        pytest.skip("this machine stands after all")
    assert found.figure("case_0").likely[1] is None
    assert "no figures" in sentence(found, 1, Project().units)


def test_what_is_still_the_same_is_not_worked_out_again() -> None:
    project = with_slotted()
    first = compared(project)
    changed = SetInVariant(0, "machine.gantry.beam.overhang", 0.06).apply(project)
    again = compared(changed, known=first)
    assert again.machines[0] is first.machines[0]
    assert again.machines[1].plan is not first.machines[1].plan
    renamed = compared(SetEntry("variants.0.name", "Other").apply(project), known=first)
    assert renamed.machines[1].name == "Other"
    assert renamed.machines[1].plan is first.machines[1].plan


def test_it_stops_when_nobody_waits_and_tells_how_far_it_is() -> None:
    project = with_slotted()
    plan = make_plan(project, BOOK)
    assert find_comparison(plan, BOOK, stale=lambda: True) is None
    told: list[tuple[int, int]] = []
    find_comparison(plan, BOOK, tell=lambda done, whole: told.append((done, whole)))
    assert told == [(1, 2), (2, 2)]


@pytest.mark.parametrize("by", ["outer size", "mass"])
@pytest.mark.parametrize("own", ["tube", "slotted"])
def test_extruded_against_welded_treats_both_fairly(own: str, by: str) -> None:
    project = Project() if own == "tube" else UseVariant(0).apply(with_slotted())
    plan = make_plan(project, BOOK)
    pair = fair_pair(project, plan.layout, by)  # type: ignore[arg-type]
    extruded, welded = (apply_variant(project, variant).project for variant in pair)
    assert len({variant.name for variant in (*project.variants, *pair)}) == len(project.variants) + 2
    assert all(by in variant.note for variant in pair)
    slot, tube = extruded.machine.gantry.beam, welded.machine.gantry.beam
    assert isinstance(slot.section, TSlot)
    assert isinstance(tube.section, RectangularHollow)
    assert slot.rail_fastening.hold == "T-nut"
    assert tube.rail_fastening.hold != "T-nut"
    assert not [weld for weld in extruded.straightness.welds if weld.part == "gantry beam"]
    assert [weld for weld in welded.straightness.welds if weld.part == "gantry beam"]
    # Apart from the beam, its rails' places and its welds both are the machine itself.
    for changed in (extruded, welded):
        paths = {change.path for change in differences(project, changed)}
        assert all(
            path.startswith(("machine.gantry.beam.", "machine.x_guides.rail_spacing", "straightness."))
            for path in paths
        )
    found = compared(msgspec.structs.replace(project, variants=pair))
    codes = [{finding.code for finding in machine.findings} for machine in found.machines[1:]]
    assert not codes[0] & {"no-slot", "rail-off-slot", "rail-off-face", "rail-over-slot"}
    assert not codes[1] & {"rail-off-face", "no-wall"}
    heights, masses = found.figure("height").likely, found.figure("beam_mass").likely
    nearer = heights if by == "outer size" else masses
    assert nearer[1] == pytest.approx(nearer[2], rel=0.35)
    assert found.figure("weld_bow").likely[1] == 0.0
    assert (found.figure("weld_bow").likely[2] or 0.0) > 0.0
    assert (found.figure("heat_bow").likely[1] or 0.0) > 10.0 * (found.figure("heat_bow").likely[2] or 0.0)
    assert len({fact.texts[1] == fact.texts[2] for fact in found.facts if fact.key == "moving_later"}) == 1


def test_a_partner_counts_with_its_typed_data_sheet() -> None:
    project = Project()
    lay = make_plan(project, BOOK).layout
    first = apply_variant(project, fair_pair(project, lay, "mass", BOOK)[0]).project.machine.gantry.beam
    computed = figures_of(project.machine, BOOK, first.section, first.material)
    heavier = 3.0 * computed.linear_mass(material(first.material).density)
    sheet = SheetValues(section=first.section, linear_mass=heavier)
    typed = replace_at(project, "machine.datasheet", (sheet,))
    assert isinstance(typed, Project)
    again = apply_variant(typed, fair_pair(typed, lay, "mass", BOOK)[0]).project.machine.gantry.beam
    assert again.section != first.section  # it is no longer of nearly equal mass


def test_prices_and_hours_are_the_users_own() -> None:
    bare = compared(with_slotted())
    assert bare.figure("price").likely == (None, None)
    assert bare.figure("weld_price").likely == (0.0, 0.0)
    project = with_slotted(hole_work__t_nut=3.0)
    project = SetEntry("prices.fitting_rate", 30.0).apply(project)
    found = compared(project)
    screws = found.figure("screws").likely[1]
    assert screws is not None
    assert found.figure("hole_hours").likely[1] == pytest.approx(screws * 3.0 / 60.0)
    assert found.figure("fitting_price").likely[1] == pytest.approx(screws * 3.0 / 60.0 * 30.0, abs=0.01)


def test_a_bad_variant_is_refused_as_an_entry() -> None:
    for variants in ((Variant(name="A"), Variant(name="A")),):
        with pytest.raises(BadEntry):
            Project(variants=variants)
    for bad in ({"path": "limits.sag"}, {"path": "machine"}, {"path": ""}):
        with pytest.raises(BadEntry):
            Change(**bad)
    with pytest.raises(BadEntry):
        Variant(name="A", changes=(Change(path="machine.rigid", value=[]),) * 2)
