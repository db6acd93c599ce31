"""The clamp stack of a joint, part by part from the head, and which screw lengths work in it.

Lengths run from the underside of the head. The rule is that of the rails (`core.fasteners.stack`): enough thread, no
bottoming, and no plain shank where thread is wanted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from core.fasteners.joints.tables import hardware
from core.fasteners.screws import Screw, choose_length
from core.fasteners.stack import ENGAGEMENT, FEWEST_TURNS, FREE_END, SHOWING, Ground
from core.machine.joints import Joint

LayerKind = Literal["washer", "clamped", "passed", "thread", "nut", "free"]
BAR = 0.012  # m, a bar or end plate behind a wall that nobody has entered
NUT_THREAD = {"M3": 0.003, "M4": 0.004, "M5": 0.0055, "M6": 0.0065, "M8": 0.0085, "M10": 0.010, "M12": 0.012}
"""Thread in a T-nut or rivet nut, m: typical, from memory, low; measure yours."""


NUT_PLAY = 0.001  # m between a T-nut and the slot's bottom


@dataclass(frozen=True, slots=True)
class Layer:
    """One part that the screw passes or enters, m. `metal` is a key of the materials, or "steel"."""

    what: str
    thickness: float
    metal: str
    kind: LayerKind


@dataclass(frozen=True, slots=True)
class Partner:
    """What holds the thread.

    Attributes:
        what: words. metal: key. ground: walls, slot and room behind the face.
        thread: depth of thread that the part is sold with (carriages); 0: as deep as practice asks for. slot: opening, m.
        hollow: whether something can be put behind the wall. blind: whether the sold hole ends with its thread.
    """

    what: str
    metal: str
    ground: Ground
    thread: float = 0.0
    slot: float = 0.0
    hollow: bool = False
    blind: bool = False


@dataclass(frozen=True, slots=True)
class JointStack:
    """Stack and lengths of one joint's screws, m.

    Attributes:
        layers: from the head, washers included. clamped: of the layers before the thread's part, passed metal excluded.
        passed: metal of the partner before the thread. thread: offered. needed: asked for by practice.
        shortest, longest: workable lengths. length: the standard one chosen, None when none works.
        engagement: thread engaged. free: room left beyond the screw's end, None where nothing stops it.
        thin: less thread than practice asks for. washers: for each screw.
    """

    layers: tuple[Layer, ...]
    clamped: float
    passed: float
    thread: float
    needed: float
    shortest: float
    longest: float
    length: float | None
    engagement: float
    free: float | None
    thin: bool
    washers: int


def choose_hold(partner: Partner, size: Screw, strong: bool) -> str:
    """What the screws go into when nobody says: a slot, a wall thick enough, else a nut or a bar behind the wall.

    Nothing can be put inside a slotted profile, so a screw that does not pass its slot is told instead.
    """
    ground = partner.ground
    if partner.slot:
        return "T-nut"
    if (
        partner.thread
        or not partner.hollow
        or ground.wall >= ENGAGEMENT[ground.family] * size.diameter - 1e-9
    ):
        return "tapped hole"
    return "tapped bar" if strong else "rivet nut"


def joint_stack(
    joint: Joint, clamped: tuple[Layer, ...], partner: Partner, size: Screw, hold: str
) -> JointStack:
    """The stack with washers where they are wanted, or wherever a standard length allows one."""
    want = joint.washer
    made = _stack(joint, clamped, partner, size, hold, want != "no" and joint.sunk == 0.0)
    if want == "automatic" and made.length is None and made.washers:
        bare = _stack(joint, clamped, partner, size, hold, False)
        return bare if bare.length is not None else made
    return made


def _stack(
    joint: Joint, clamped: tuple[Layer, ...], partner: Partner, size: Screw, hold: str, washer: bool
) -> JointStack:
    ware = hardware()[size.thread]
    layers = [Layer("washer ISO 7089", ware.washer, "steel", "washer")] if washer else []
    first, *rest = clamped
    layers.append(Layer(first.what, max(first.thickness - joint.sunk, 0.0), first.metal, "clamped"))
    layers += rest
    if joint.spacer:
        layers.append(Layer("packing", joint.spacer, "steel", "clamped"))
    grip = sum(layer.thickness for layer in layers)
    passed, thread, needed, room, bottom = _held(joint, partner, size, hold)
    through = hold == "through bolt"
    if passed:
        layers.append(Layer(partner.what, passed, partner.metal, "passed"))
    if through:
        if washer:
            layers.append(Layer("washer ISO 7089", ware.washer, "steel", "washer"))
            passed += ware.washer
        layers.append(Layer("nut ISO 4032", thread, "steel", "nut"))
        shortest = grip + passed + thread + SHOWING * size.pitch
        longest = min(shortest + 2.0 * size.diameter, grip + passed + size.thread_length)
        thin = False
    else:
        names = {"T-nut": "T-nut", "rivet nut": "rivet nut", "tapped bar": "tapped bar"}
        metal = "steel" if hold in names else partner.metal
        layers.append(Layer(names.get(hold, partner.what), thread, metal, "thread"))
        shortest = grip + passed + min(needed, thread)
        longest = min(grip + room, grip + passed + size.thread_length)
        # Nuts are sold as strong as their screw with less thread than that, but never with a turn or two.
        least = FEWEST_TURNS * size.pitch if hold in ("T-nut", "rivet nut") else needed
        thin = thread < least - 1e-9
    length = choose_length(size.thread, shortest, longest)
    used = shortest if length is None else length
    engaged = min(max(used - grip - passed, 0.0), thread)
    free = None if bottom is None else grip + bottom - used
    return JointStack(
        tuple(layers), grip, passed, thread, needed, shortest, longest, length, engaged, free, thin,
        (2 if through else 1) if washer else 0,
    )  # fmt: skip


def _held(
    joint: Joint, partner: Partner, size: Screw, hold: str
) -> tuple[float, float, float, float, float | None]:
    """Metal passed before the thread, thread offered, thread needed, how far in from the face a screw may go, and where
    something stops it, m."""
    ground, own = partner.ground, joint.thread
    steel = ENGAGEMENT["steel"] * size.diameter
    if hold == "through bolt":
        nut = hardware()[size.thread].nut_most
        return ground.depth, nut, nut, float("inf"), None
    given = own or NUT_THREAD[size.thread]
    if hold == "T-nut":
        given = own or min(
            given, ground.slot_depth - ground.lip - NUT_PLAY
        )  # the nut has to go into the slot
        return ground.lip, given, steel, ground.slot_depth - FREE_END, ground.slot_depth
    if hold == "rivet nut":
        return ground.wall, given, steel, ground.behind - FREE_END, ground.behind
    if hold == "tapped bar":
        return ground.wall, own or BAR, steel, ground.behind - FREE_END, ground.behind
    needed = ENGAGEMENT[ground.family] * size.diameter
    if partner.blind:
        # A hole that the part is sold with ends where its thread ends: the screw stays clear of its bottom.
        depth = own or partner.thread
        return 0.0, depth, needed, depth - FREE_END, depth
    # Where nothing else is said a hole is tapped half a diameter deeper than practice asks for, as far as the metal goes.
    thread = own or partner.thread or min(ground.wall, needed + 0.5 * size.diameter)
    if partner.hollow:
        return 0.0, thread, needed, ground.behind - FREE_END, ground.behind
    # A blind hole is drilled three turns deeper than its thread, where there is metal for it; through a plate, flush.
    bottom = min(thread + 3.0 * size.pitch, ground.wall)
    return 0.0, thread, needed, bottom - (FREE_END if bottom < ground.wall - 1e-9 else 0.0), bottom
