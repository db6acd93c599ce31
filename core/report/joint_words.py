"""The sentences about joints that the page and the terminal say: the tightest of all, and one joint in full."""

from __future__ import annotations

import math

from core.fasteners.strength import JointsAnswer, JointStrength, Margin
from core.fasteners.strength.prying import MODES
from core.report.headlines import Headline, gravest
from core.units import UnitSet, show, tell


def joints_headline(found: JointsAnswer) -> Headline:
    """The joint with the smallest margin, and how many fasteners there are."""
    screws = sum(one.joint.screws for one in found.joints)
    count = f"{screws} screws besides those of the rails"
    if found.tightest is None:
        return Headline(
            f"{count}; the machine carries no load as described, so there are no margins.", "warning"
        )
    one = found.joints[found.tightest]
    least = one.least
    assert least is not None
    does = next(words for margin, words in _does(one) if margin is least)
    words = (
        f"Tightest: {_inside(one.joint.label)} ({least.name}), which {does} at {times(least.likely)} "
        f"its loads ({times(least.low)} with all figures low); {found.wanted:g} times is wanted. {count[:1].upper()}{count[1:]}."
    )
    return Headline(words, gravest(found.findings))


def _inside(label: str) -> str:
    """A label within a sentence: axes keep their capital letter."""
    return label if label[1:2] == " " else f"{label[:1].lower()}{label[1:]}"


def _does(one: JointStrength) -> tuple[tuple[Margin | None, str], ...]:
    return (
        (one.slip, "slips"),
        (one.gap, "opens at its edge"),
        (one.weld, "is at its weld's limit"),
        (one.fatigue, "is at its screws' fatigue limit"),
        (one.plate, "has its plate bent"),
    )


def joint_words(one: JointStrength, wanted: float, units: UnitSet) -> str:
    """Screws, torque with what set it, and margins with when they are least."""
    joint = one.joint
    if joint.stack is None:
        said = (
            f"{_count(joint.count, 'joint')} welded, {show(joint.weld_length, 'length', units)} each with a throat of "
            f"{show(joint.weld_throat, 'length', units)}."
        )
        return said if one.weld is None else f"{said} {_margin('The weld is at its limit at', one.weld)}"
    told = f"{_count(joint.count, 'joint')}, {joint.screws} screws {joint.screw_text}, into: {joint.hold}."
    if not one.counted:
        told = f"Screws {joint.screw_text} under a carriage, into: {joint.hold}; counted with the rails."
    washers = f" {joint.washers} washers." if joint.washers else ""
    nuts = f" {joint.nuts} nuts." if joint.nuts else ""
    set_by = "as entered" if one.entered else f"set by: {one.governs}"
    torque = (
        f" Torque {tell(one.torque, 'torque', units)}, {set_by} (the screw alone bears "
        f"{tell(one.own_torque, 'torque', units)}); preload {_force(one.preload.low, units)} to "
        f"{_force(one.preload.high, units)}, likely {_force(one.preload.likely, units)}."
    )
    slip = "" if one.slip is None else " " + _margin("Slips at", one.slip)
    gap = "" if one.gap is None else " " + _margin("Opens at", one.gap)
    return f"{told}{nuts}{washers}{_depth(one, units)}{torque}{slip}{gap}{_more(one)}"


def _depth(one: JointStrength, units: UnitSet) -> str:
    """Where the depth of a carriage's holes comes from, as long as nobody has entered it."""
    joint = one.joint
    if not joint.site.partner.blind or joint.stack is None or joint.site.joint.thread is not None:
        return ""
    depth = show(joint.stack.thread, "length", units)
    return f" Holes {depth} deep in the carriage: typical of the size, from memory; measure yours and enter it as thread offered."


def _more(one: JointStrength) -> str:
    """Fatigue, and prying where a bar pulls at a plate from between its screws."""
    said = (
        "" if one.fatigue is None else " " + _margin("Its screws are at their fatigue limit at", one.fatigue)
    )
    if one.stub is None or one.plate is None:
        return said
    pried = (
        "" if one.stub.mode == 3 else f"; prying then adds {_force_words(one.stub.levered, one.stub.bears)}"
    )
    return f"{said} Pulled apart, {MODES[one.stub.mode]}, at {times(one.plate.likely)} its loads{pried}."


def _force_words(levered: float, bears: float) -> str:
    return f"{100.0 * levered / bears:.0f} % to each screw's pull"


def _margin(words: str, margin: Margin) -> str:
    if math.isinf(margin.likely):
        return f"{words} no load that is looked at."
    if margin.low > 100.0:
        return f"{words} {times(margin.low)} its loads."
    return (
        f"{words} {times(margin.likely)} its loads ({times(margin.low)} to {times(margin.high)}), {margin.name}, "
        f"{margin.state}."
    )


def _count(number: int, word: str) -> str:
    return f"{number} {word}" + ("s" if number > 1 else "")


def times(value: float) -> str:
    """A margin in words; beyond a hundred nobody cares."""
    return "over 100 times" if value > 100.0 else f"{value:.3g} times"


def _force(value: float, units: UnitSet) -> str:
    return tell(value, "force", units)
