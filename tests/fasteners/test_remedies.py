"""Every remedy that is named for a joint without a standard screw works when it is done; each kind of remedy is met."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from core.fasteners import FittedJoint, joints
from core.fasteners.joints.remedies import Remedy, remedies
from core.machine.joints import Joint
from core.machine.layout import layout
from core.machine.project import Project
from core.sections import RectangularHollow
from tests.fasteners.machines import BOOK, PROFILE, changed

TUBE = RectangularHollow(height=0.16, width=0.08, wall=0.004, finish="hot finished")
WORDS = "{:.4f}".format


def seat(project: Project, key: str = "seat") -> tuple[FittedJoint, set[str]]:
    lay = layout(project.machine, BOOK)
    made, findings = joints(project, lay)
    joint = next(one for one in made if one.key == key)
    return joint, {finding.code for finding in findings if finding.place == joint.label}


def of(joint: FittedJoint) -> dict[str, Remedy]:
    return {remedy.entry: remedy for remedy in remedies(joint.site, joint.size, joint.hold, WORDS)}


@settings(max_examples=80, deadline=None)
@given(
    plate=st.floats(0.003, 0.06),
    spacer=st.sampled_from([0.0, 0.003, 0.02]),
    thread=st.sampled_from(["M4", "M5", "M6", "M8", "M10"]),
    hold=st.sampled_from(["tapped hole", "tapped bar", "rivet nut", "through bolt", "T-nut"]),
    offered=st.sampled_from([None, 0.004, 0.008]),
    washer=st.sampled_from(["automatic", "yes", "no"]),
)
def test_what_is_named_helps(
    plate: float, spacer: float, thread: Any, hold: Any, offered: float | None, washer: Any
) -> None:
    section = PROFILE if hold == "T-nut" else TUBE
    start = Joint(plate=plate, spacer=spacer, screw=thread, hold=hold, thread=offered, washer=washer)
    joint, codes = seat(changed(gantry__beam__section=section, joints__seat=start))
    assume("no-screw-length" in codes)
    for remedy in of(joint).values():
        done = msgspec.structs.replace(start, **{remedy.entry: remedy.value})
        mended, after = seat(changed(gantry__beam__section=section, joints__seat=done))
        assert mended.stack is not None
        assert mended.stack.length is not None, remedy
        assert not after & {"no-screw-length", "thin-thread"}, remedy


CASES = [
    ("mount", "tapped hole", 0.0145, {"spacer", "thread", "screw"}),
    ("mount", "tapped hole", 0.0150, {"washer", "thread"}),
    ("seat", "tapped hole", 0.0365, {"sunk", "plate"}),
    ("seat", "tapped bar", 0.0325, {"sunk", "plate", "screw"}),
    ("seat", "rivet nut", 0.0325, {"thread", "sunk", "plate", "screw"}),
    ("mount", "through bolt", 0.0155, {"sunk", "plate", "screw"}),
    ("seat", "T-nut", 0.0040, {"spacer", "thread", "sunk", "plate"}),
]


@pytest.mark.parametrize(("key", "hold", "plate", "entries"), CASES)
def test_each_kind_is_met(key: str, hold: Any, plate: float, entries: set[str]) -> None:
    """Packing, another nut, a deeper hole, a washer, sunk heads, another plate, other screws: each where it is to be had."""
    section = PROFILE if hold == "T-nut" else TUBE
    start = Joint(plate=plate, screw="M4", hold=hold, washer="no")
    project = changed(gantry__beam__section=section, **{f"joints__{key}": start})
    joint, codes = seat(project, key)
    assert "no-screw-length" in codes
    found = of(joint)
    assert entries <= set(found)
    lay = layout(project.machine, BOOK)
    said = next(f.message for f in joints(project, lay)[1] if f.code == "no-screw-length")
    for entry in entries - {"sunk", "spacer", "plate", "thread"}:
        assert found[entry].words.lower() in said.lower()


def test_where_nothing_helps_the_finding_still_says_what_might() -> None:
    start = Joint(hold="through bolt", screw="M8")
    project = changed(gantry__beam__section=TUBE, joints__seat=start)
    joint, codes = seat(project)
    assert "no-screw-length" in codes
    assert of(joint) == {}
    said = next(
        f.message for f in joints(project, layout(project.machine, BOOK))[1] if f.code == "no-screw-length"
    )
    assert "studs" in said
