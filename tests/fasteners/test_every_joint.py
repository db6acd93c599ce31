"""Every joint of the frame is there, in slotted profiles and in tubes, with each drive and each way of holding a screw."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from app import paths
from app.cli.solving import with_sections
from core.fasteners import joints
from core.machine.drives import BallScrew, RackPinion, ToothedBelt
from core.machine.joints import Joint
from core.machine.layout import layout
from core.machine.project import Project, replace_at
from core.sections import RectangularHollow
from core.storage import load_project
from tests.fasteners.machines import changed
from tests.fasteners.test_slot_plan import EVERY, profiled

ALWAYS = {
    *(f"{axis}_{part}" for axis in "xyz" for part in ("blocks", "nut", "motor")),
    "foot", "seat", "mount", "legs", "feet", "cross", "low_cross", "low_rails",
}  # fmt: skip
HOLDS = ("tapped hole", "tapped bar", "T-nut", "rivet nut", "through bolt")
TUBES = {
    "gantry__beam__section": RectangularHollow(height=0.16, width=0.08, wall=0.004, finish="hot finished")
}


def machine(slotted: bool, **entries: object) -> Project:
    return profiled(**entries) if slotted else changed(**TUBES, **entries)


@pytest.mark.parametrize(
    ("slotted", "seat", "drive", "face"),
    list(
        product(
            (True, False),
            ("on top", "in front", "between"),
            (BallScrew, RackPinion, ToothedBelt),
            ("top", "outside"),
        )
    ),
)
def test_the_list_is_whole_and_each_has_its_screw_or_says_why(
    slotted: bool, seat: str, drive: Any, face: str
) -> None:
    project = machine(
        slotted,
        gantry__upright__seat=seat,
        x_drive=drive(),
        y_drive=drive(),
        head__drive=drive(),
        base__rail_face=face,
    )
    made, findings = joints(project, layout(project.machine, EVERY))
    keys = {joint.key for joint in made}
    part = "rack" if drive is RackPinion else "ends"
    wanted = ALWAYS | {f"{axis}_{part}" for axis in "xyz"}
    wanted |= {"cap"} if seat != "between" else set()
    wanted |= {"angle"} if face == "outside" else set()
    assert wanted <= keys
    told = {finding.place for finding in findings if finding.severity == "limit"}
    for joint in made:
        fitted = joint.welded or (joint.stack is not None and joint.stack.length is not None)
        assert fitted or joint.label in told, joint.label


@pytest.mark.parametrize(("slotted", "hold"), list(product((True, False), HOLDS)))
def test_each_hold_of_each_joint_works_or_says_what_would_help(slotted: bool, hold: str) -> None:
    first = machine(slotted)
    paths_of = {joint.site.path for joint in joints(first, layout(first.machine, EVERY))[0]}
    for path in paths_of:
        project = replace_at(first, path, Joint(hold=hold, made="bolted"))
        assert isinstance(project, Project)
        made, findings = joints(project, layout(project.machine, EVERY))
        for joint in (one for one in made if one.site.path == path):
            own = [f for f in findings if f.place == joint.label and f.severity == "limit"]
            works = joint.stack is not None and joint.stack.length is not None
            assert works or own, (path, hold)
            assert all(
                "would help" in f.message or "Enter it" in f.message for f in own if f.code != "thin-thread"
            )


@pytest.mark.parametrize("file", paths.demo_projects(), ids=lambda file: file.stem)
def test_demos_have_every_joint_without_a_broken_limit(file: Any) -> None:
    project = load_project(file)
    made, findings = with_sections(lambda book: joints(project, layout(project.machine, book)))
    assert {joint.key for joint in made} >= ALWAYS
    assert all(joint.welded or joint.stack.length is not None for joint in made)
    assert not [finding for finding in findings if finding.severity == "limit"]
