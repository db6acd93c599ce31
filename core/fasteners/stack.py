"""What a rail's screw passes through and screws into, and which lengths therefore work.

Lengths run from the underside of the head: clamped rail, packing, then whatever holds the thread.
"""

from __future__ import annotations

from dataclasses import dataclass

from core.fasteners.screws import Screw
from core.machine.fastening import RailFastening
from core.machine.guides import RailData

# Thread engagement against the diameter, common practice: steel 1.0, aluminium 1.5 (to 2.0).
ENGAGEMENT = {"steel": 1.0, "aluminium": 1.5, "other": 2.0}
FREE_END = 0.0005  # m between the screw's end and the bottom of a slot or the opposite wall, common practice
SHOWING = 2.0  # thread pitches showing beyond a nut, common practice
FEWEST_TURNS = 3.0  # with fewer turns a thread hardly holds at all (common practice)


@dataclass(frozen=True, slots=True)
class Ground:
    """What the rail lies on, m.

    Attributes:
        family: of the material ("steel", "aluminium", "other").
        wall: metal behind the face (0: none known). behind: how far a screw may go in from the face before
            it meets metal that is not drilled. depth: of the whole beam, face to face.
        lip, slot_depth: of the T-slot under the rail (0 without one), both from the face.
    """

    family: str
    wall: float
    behind: float
    depth: float
    lip: float = 0.0
    slot_depth: float = 0.0


@dataclass(frozen=True, slots=True)
class Stack:
    """Workable lengths of one rail's screws, m.

    Attributes:
        clamped: rail under the head, and packing. passed: metal between that and the first turn of thread.
        thread: threaded length offered. needed: engagement that practice asks for.
        shortest, longest: workable lengths; longest may be below shortest, then nothing works.
        thin: the thread offered is less than practice asks for.
    """

    clamped: float
    passed: float
    thread: float
    needed: float
    shortest: float
    longest: float
    thin: bool

    def engagement(self, length: float) -> float:
        """Thread engaged by a screw of this length, m."""
        return min(max(length - self.clamped - self.passed, 0.0), self.thread)


def clamp_stack(rail: RailData, size: Screw, fastening: RailFastening, ground: Ground) -> Stack:
    """Work out the stack of one rail's screws.

    A screw must engage what practice asks for, or all the thread there is when that is less (`thin` tells,
    except for nuts, whose thread is made for their screw); it must not bottom; and its plain shank must not
    reach the thread.
    """
    clamped = rail.rail_height - rail.counterbore_depth + fastening.under_rail
    hold = fastening.hold
    behind = ground.behind - FREE_END
    if hold == "T-nut":
        passed, thread, factor = ground.lip, fastening.nut_thread, ENGAGEMENT["steel"]
        behind = ground.slot_depth - FREE_END
    elif hold == "tapped wall":
        passed, thread, factor = 0.0, ground.wall, ENGAGEMENT[ground.family]
    elif hold == "tapped bar":
        passed, thread, factor = ground.wall, fastening.bar_thickness, ENGAGEMENT["steel"]
    elif hold == "rivet nut":
        passed, thread, factor = ground.wall, fastening.nut_thread, ENGAGEMENT["steel"]
    else:
        return _through_bolt(clamped, size, ground)
    needed = factor * size.diameter
    engaged = min(needed, thread)
    shortest = clamped + passed + engaged
    longest = min(clamped + behind, clamped + passed + size.thread_length)
    is_nut = hold in ("T-nut", "rivet nut")
    return Stack(clamped, passed, thread, needed, shortest, longest, thread < needed - 1e-9 and not is_nut)


def _through_bolt(clamped: float, size: Screw, ground: Ground) -> Stack:
    from core.fasteners.joints.tables import hardware  # here, because that room is built on this one

    nut = hardware()[size.thread].nut_most
    shortest = clamped + ground.depth + nut + SHOWING * size.pitch
    # Beyond the nut nothing stops the screw; two diameters more still look workmanlike and span every
    # length step.
    longest = min(shortest + 2.0 * size.diameter, clamped + ground.depth + size.thread_length)
    return Stack(clamped, ground.depth, nut, nut, shortest, longest, False)
