"""Built-up beams in a machine: rows of the parts list, rails on their slots and plates, the metal that goes with them."""

from __future__ import annotations

import pytest

from core.catalogue import built_ups
from core.fasteners import beam_of
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.materials import material
from core.parts.masses import beam_mass
from core.plan import make_plan
from core.sections import properties, stock_book

BEAM = "machine.gantry.beam"


def machine_with(entry):
    project = Project()
    return replace_at(project, BEAM, beam_of(project.machine.gantry.beam, entry.section))


@pytest.mark.parametrize("entry", built_ups(), ids=lambda entry: entry.key)
def test_a_built_up_beam_in_a_machine(entry):
    project = machine_with(entry)
    beam = project.machine.gantry.beam
    assert beam.material == entry.metal
    plan = make_plan(project, stock_book())
    assert plan.stiffness is not None
    rows = [line for line in plan.parts if line.what.startswith("Gantry beam")]
    assert len(rows) >= 1
    assert all(row.what != "Gantry beam" for row in rows)
    whole = beam_mass(project.machine, plan.layout)
    assert sum(row.mass for row in rows) == pytest.approx(whole, rel=1e-9)
    for row in rows:
        # Each piece weighs what it weighs by itself, but for the chords at round corners.
        own = properties(row.section, stock_book()).area
        expected = own * material(row.material).density * plan.layout.beam_length
        assert row.mass_each == pytest.approx(expected, rel=2e-3)


def test_a_fully_joined_pair_is_stiffer_in_the_machine_than_an_unjoined_one():
    entry = next(e for e in built_ups() if e.key == "t_slots_80x80_stacked")
    project = machine_with(entry)
    loose = replace_at(project, f"{BEAM}.section.joint", "unjoined")
    worst = [make_plan(p, stock_book()).stiffness.cases[0].worst for p in (project, loose)]
    assert worst[0] < worst[1]
    assert (
        layout(project.machine, stock_book()).sections.beam.iyy
        > 3.0 * layout(loose.machine, stock_book()).sections.beam.iyy
    )
