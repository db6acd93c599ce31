"""Files of older versions: each still opens, means what it meant, and a bad one is refused at its field."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest

from core.machine.variants import apply_variant
from core.sections import RectangularHollow
from core.sections.t_slot import STOCK
from core.storage import BadFile, load_project, project_bytes, read_project

FIXTURES = Path(__file__).parent / "fixtures"


@pytest.mark.parametrize("file", sorted(FIXTURES.glob("v*.json")), ids=lambda file: file.name)
def test_files_of_every_version_still_open(file: Path) -> None:
    project = load_project(file)
    assert project.name == f"File of version {file.stem[1:]}"
    assert project.machine.work.travel_x == 1.234
    assert project.cases[1].limit == 0.00045
    variant = project.variants[0]
    assert apply_variant(project, variant).project.machine.gantry.beam.section == RectangularHollow(
        height=0.12, width=0.08, wall=0.004, finish="hot finished"
    )
    assert read_project(project_bytes(project), "again") == project


def old_file(**fields: Any) -> bytes:
    """The file of version 1 with entries (dotted with __) changed."""
    content = json.loads((FIXTURES / "v1.json").read_bytes())
    for path, value in fields.items():
        *steps, last = path.split("__")
        here = content
        for step in steps:
            here = here[int(step) if step.isdigit() else step]
        here[last] = value
    return json.dumps(content, indent=2).encode()


def test_beams_to_compare_of_version_1_become_variants_of_what_differs() -> None:
    project = load_project(FIXTURES / "v1.json")
    old = json.loads((FIXTURES / "v1.json").read_bytes())["project"]["alternatives"]
    assert [v.name for v in project.variants] == [beam["name"] for beam in old]
    paths = {change.path for change in project.variants[0].changes}
    assert "machine.gantry.beam.section" in paths
    assert all(path.startswith(("machine.gantry.beam.", "machine.x_guides.rail_spacing")) for path in paths)


def test_a_slotted_beam_of_version_1_keeps_its_rails_on_its_slots() -> None:
    content = json.loads((FIXTURES / "v1.json").read_bytes())
    beam = content["project"]["alternatives"][0]["beam"]
    beam["section"] = msgspec.to_builtins(next(s for s in STOCK if s.height == 0.16))
    beam["rail_fastening"]["hold"] = "T-nut"
    content["project"]["machine"]["x_guides"]["rail_spacing"] = 0.09
    content["project"]["alternatives"].append({**content["project"]["alternatives"][0]})
    project = read_project(json.dumps(content).encode(), "old")
    assert len({v.name for v in project.variants}) == len(project.variants)
    moved = apply_variant(project, project.variants[0]).project.machine.x_guides.rail_spacing
    assert moved != 0.09
    assert project.machine.x_guides.rail_spacing == 0.09


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"project__alternatives__0__beam__overhang": -1.0}, "project.alternatives.0.beam.overhang"),
        ({"project__alternatives__0__beam__colour": 1}, "project.alternatives.0.beam.colour"),
        ({"project__alternatives": 3}, "project.alternatives"),
        ({"project__machine__work__travel_x": -1.0}, "project.machine.work.travel_x"),
        ({"project__variants": []}, "project.variants"),
        ({"extra": 1}, "extra"),
        ({"project": []}, "project"),
    ],
)
def test_a_bad_file_of_version_1_is_refused_at_its_field(fields: dict[str, Any], field: str) -> None:
    with pytest.raises(BadFile) as caught:
        read_project(old_file(**fields), "old.json")
    error = caught.value
    assert error.field == field
    assert error.line is not None
