"""What would make a standard screw fit a joint: each remedy is tried in the joint's own stack before it is named."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import msgspec

from core.fasteners.joints.layers import NUT_PLAY, joint_stack
from core.fasteners.joints.sites import JointSite, clamp
from core.fasteners.screws import Screw, screw, screws

PACKINGS = tuple(k / 1000.0 for k in range(1, 31))
DEPTHS = tuple(k / 1000.0 for k in range(3, 41))
SINKS = tuple(k / 1000.0 for k in range(1, 31))
PLATES = (0.005, 0.006, 0.008, 0.01, 0.012, 0.015, 0.02, 0.025, 0.03)
LEAST_NUT = 0.6  # diameters of thread that a nut should have, common practice
UNDER_HEAD = 0.5  # diameters of metal left under a sunk head, common practice


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change of one entry of the joint that makes a standard length work; `words` fit after "would help"."""

    entry: str
    value: float | str
    words: str


def remedies(site: JointSite, size: Screw, hold: str, words: Callable[[float], str]) -> tuple[Remedy, ...]:
    """The smallest change of each entry that helps: packing, nut or hole, sunk heads, washers, clamped part, other screws."""
    found = []
    for make in (_packing, _thread, _sunk, _washer, _plate, _size):
        first = next((r for r in make(site, size, hold, words) if _helps(site, size, hold, r)), None)
        if first is not None:
            found.append(first)
    return tuple(found)


def _helps(site: JointSite, size: Screw, hold: str, remedy: Remedy) -> bool:
    joint = msgspec.structs.replace(site.joint, **{remedy.entry: remedy.value})
    clamped = site.clamped
    if remedy.entry == "plate":
        clamped = (*clamp(joint, clamped[0].what, clamped[0].thickness, clamped[0].metal), *clamped[1:])
    used = screw(str(remedy.value)) if remedy.entry == "screw" else size
    made = joint_stack(joint, clamped, site.partner, used, hold)
    return made.length is not None and not made.thin


def _packing(site: JointSite, size: Screw, hold: str, words: Callable[[float], str]) -> Iterator[Remedy]:
    for value in PACKINGS:
        if value > site.joint.spacer:
            yield Remedy("spacer", value, f"packing of {words(value)}")
    for value in reversed(PACKINGS):
        if value < site.joint.spacer:
            yield Remedy("spacer", value, f"packing of only {words(value)}")
    if site.joint.spacer:
        yield Remedy("spacer", 0.0, "no packing")


def _thread(site: JointSite, size: Screw, hold: str, words: Callable[[float], str]) -> Iterator[Remedy]:
    ground = site.partner.ground
    if hold == "through bolt" or site.partner.thread:  # a carriage has the thread it has
        return
    for value in DEPTHS:
        if hold in ("T-nut", "rivet nut") and value < LEAST_NUT * size.diameter:
            continue
        if hold == "T-nut" and value <= ground.slot_depth - ground.lip - NUT_PLAY:
            yield Remedy("thread", value, f"T-nuts with {words(value)} of thread")
        elif hold == "rivet nut":
            yield Remedy("thread", value, f"rivet nuts with {words(value)} of thread")
        elif hold == "tapped bar":
            yield Remedy("thread", value, f"a bar {words(value)} thick")
        elif hold == "tapped hole" and value <= ground.wall:
            yield Remedy("thread", value, f"holes tapped {words(value)} deep")


def _sunk(site: JointSite, size: Screw, hold: str, words: Callable[[float], str]) -> Iterator[Remedy]:
    for value in SINKS:
        if site.joint.sunk < value <= site.clamped[0].thickness - UNDER_HEAD * size.diameter:
            yield Remedy("sunk", value, f"heads sunk by {words(value)}")


def _washer(site: JointSite, size: Screw, hold: str, words: Callable[[float], str]) -> Iterator[Remedy]:
    if site.joint.washer != "yes" and not site.joint.sunk:
        yield Remedy("washer", "yes", "a washer under each head")
    if site.joint.washer == "yes":
        yield Remedy("washer", "no", "no washers")


def _plate(site: JointSite, size: Screw, hold: str, words: Callable[[float], str]) -> Iterator[Remedy]:
    """Only of parts that are described nowhere else: the others are as thick as the machine says."""
    if site.stock:
        now = site.clamped[0].thickness
        for value in sorted(PLATES, key=lambda t: abs(t - now)):
            yield Remedy("plate", value, f"a {site.clamped[0].what} of {words(value)}")


def _size(site: JointSite, size: Screw, hold: str, words: Callable[[float], str]) -> Iterator[Remedy]:
    """The next sizes; carriages and motors have holes of one size."""
    if site.partner.thread or site.key.endswith("_motor"):
        return
    for other in sorted(screws().values(), key=lambda s: abs(s.diameter - size.diameter)):
        wide = hold == "T-nut" and other.diameter > site.partner.slot + 1e-6
        if other.thread != size.thread and not wide:
            yield Remedy("screw", other.thread, f"{other.thread} screws")
