"""The answer about all joints: torque and what limits it, preload, margins against slipping and opening, the tightest."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

import numpy as np

from core.fasteners.joints import FittedJoint
from core.fasteners.rails import RailAnswer
from core.fasteners.strength.alternating import fatigue_margin, load_factor
from core.fasteners.strength.base_wrenches import base_wrenches
from core.fasteners.strength.group import group_of, spread, zone_radius
from core.fasteners.strength.judge import judge
from core.fasteners.strength.margins import Loads, Margin, loads_of, slip_and_gap, weld_margin
from core.fasteners.strength.partners import Limit, partner_limits
from core.fasteners.strength.preload import USED, Preload, allowed_preload, torque_factor
from core.fasteners.strength.prying import Stub, plate_margin, stub_of
from core.fasteners.strength.rail_joints import rail_joints, slot_of
from core.fasteners.strength.states import States, states_of
from core.fasteners.strength.weld import weld_strength
from core.fasteners.strength.wrenches import Wrenches, upper_wrenches
from core.findings import Finding
from core.guides.forces import Chain, own_springs, solve_chain
from core.machine.joints import Joints
from core.machine.project import Project
from core.model.setting import Setting
from core.stiffness.answer import table_grid

SCATTER = {"torque wrench": 0.1, "by feel": 0.35}  # of the torque, common practice
SETTLING = (0.9, 0.95, 1.0)  # of the preload that is left when faces have settled, common practice


@dataclass(frozen=True, slots=True)
class JointStrength:
    """Strength of one kind of joint; SI.

    Attributes:
        joint: the joint as built; of rails, the screws under one carriage. counted: whether its screws are counted here.
        torque: to tighten with, N m, as entered or the least of all limits; 0 when welded. entered: whether it was.
        own_torque: what the screw alone bears, N m. limits: of its partners, weakest first. governs: which one set the torque.
        preload: of one screw.
        slip, gap: None when welded. weld: None when screwed. All None when no forces could be found.
        radius: of a screw's pressed zone, m. fatigue: of the screw under pull that comes and goes. plate: of a plate that a bar
            pulls at from between the screws, with prying; None where there is none. stub: its figures.
        load_factor: share of a pull that the screw feels at most.
    """

    joint: FittedJoint
    counted: bool
    torque: float
    entered: bool
    own_torque: float
    limits: tuple[Limit, ...]
    governs: str
    preload: Preload
    slip: Margin | None
    gap: Margin | None
    weld: Margin | None
    radius: float
    fatigue: Margin | None = None
    plate: Margin | None = None
    stub: Stub | None = None
    load_factor: float = 0.0

    @property
    def least(self) -> Margin | None:
        """The smallest likely margin of this joint."""
        known = [m for m in (self.slip, self.gap, self.weld, self.fatigue, self.plate) if m is not None]
        return min(known, key=lambda m: m.likely) if known else None


@dataclass(frozen=True, slots=True)
class JointsAnswer:
    """Every joint; `tightest` is the number of the one with the smallest likely margin, None without forces.

    `balance` is the largest unbalanced share of any body in the solution that the forces come from.
    """

    joints: tuple[JointStrength, ...]
    tightest: int | None
    wanted: float
    balance: float
    findings: tuple[Finding, ...]


def find_joints(
    setting: Setting,
    project: Project,
    joints: tuple[FittedJoint, ...],
    rails: tuple[RailAnswer, ...],
    chain: Chain | None = None,
    *,
    stands: bool = True,
) -> JointsAnswer:
    """Answer for a machine with the tool at both ends and the middle of X and Y.

    Args:
        chain: the forces of all springs with no guides held rigid, where they are known already; its places are looked at.
        stands: whether the machine can be solved; without forces there are torques but no margins.

    Errors: Mechanism when the base moves freely; NotTrustworthy when forces do not balance.
    """
    free = own_springs(setting)
    if chain is None and stands:
        x, y = (grid[[0, grid.size // 2, -1]] for grid in table_grid(setting))
        chain = solve_chain(free, x, y)
    loads = {} if chain is None else _loads(free, project, chain)
    every = [(joint, True) for joint in joints]
    every += [(joint, False) for joint in rail_joints(project, setting.layout, rails)]
    found = []
    for joint, counted in every:
        made = None if joint.key not in loads else loads[joint.key](joint.site.names)
        section = slot_of(project, setting.layout, joint)
        found.append(strength_of(joint, counted, project.machine.joints, made, section))
    margins = [np.inf if s.least is None else s.least.likely for s in found]
    tightest = int(np.argmin(margins)) if np.isfinite(min(margins)) else None
    wanted, balance = project.machine.joints.wanted_margin, 0.0 if chain is None else chain.balance
    return JointsAnswer(tuple(found), tightest, wanted, balance, judge(project, tuple(found)))


def _loads(setting: Setting, project: Project, chain: Chain) -> dict[str, Callable[[tuple[str, ...]], Loads]]:
    """By kind of joint, what makes its loads."""
    units: Wrenches = upper_wrenches(setting, chain) | base_wrenches(setting, chain)
    states = states_of(project)
    x, y = (p.ravel() for p in np.meshgrid(chain.riding.x, chain.gantry.y))
    turning = States(("largest torque of its motor",), states.amounts[:1])
    return {
        key: partial(loads_of, unit, states=turning if key.endswith("_motor") else states, x=x, y=y)
        for key, unit in units.items()
    }


def strength_of(
    joint: FittedJoint, counted: bool, with_: Joints, loads: Loads | None, section: object = None
) -> JointStrength:
    """Strength of one kind of joint under its loads; without loads only its torque."""
    if joint.stack is None or joint.pattern is None:
        bears = weld_strength(joint.site.clamped[0].metal) * joint.weld_throat
        weld = None if loads is None else weld_margin(loads, joint.site.box, joint.weld_length, bears)
        nothing = Preload(0.0, 0.0, 0.0)
        return JointStrength(joint, counted, 0.0, False, 0.0, (), "weld", nothing, None, None, weld, 0.0)
    limits = partner_limits(joint, section)
    torque, own, governs = find_torque(joint, with_, limits)
    entered = joint.site.joint.torque is not None
    preload = preload_at(joint, with_, torque)
    holds = borne(preload, joint, with_, limits) if entered else preload
    radius = zone_radius(joint)
    slip = gap = fatigue = plate = None
    stub, share = stub_of(joint, limits), load_factor(joint, radius)
    if loads is not None:
        friction = (with_.friction.low, with_.friction.likely, with_.friction.high)
        found = spread(group_of(joint.pattern.places, radius), loads.wrench)
        slip, gap = slip_and_gap(loads, found, holds, friction)
        fatigue = fatigue_margin(loads, found, joint, radius)
        plate = None if stub is None else plate_margin(loads, found, stub)
    return JointStrength(
        joint,
        counted,
        torque,
        entered,
        own,
        limits,
        governs,
        preload,
        slip,
        gap,
        None,
        radius,
        fatigue,
        plate,
        stub,
        share,
    )


def borne(preload: Preload, joint: FittedJoint, with_: Joints, limits: tuple[Limit, ...]) -> Preload:
    """As much of a preload as stays: an entered torque cannot leave more than screw and weakest partner bear, N."""
    mu, own = with_.screw_friction, joint.site.joint.property_class
    screws = [allowed_preload(joint.size.thread, own, f) / USED for f in (mu.high, mu.likely, mu.low)]
    weakest = limits[0] if limits else None
    parts = (np.inf,) * 3 if weakest is None else (weakest.low, weakest.likely, weakest.high)
    each = zip((preload.low, preload.likely, preload.high), screws, parts, strict=True)
    low, likely, high = (float(min(three)) for three in each)
    return Preload(low, likely, high)


def find_torque(joint: FittedJoint, with_: Joints, limits: tuple[Limit, ...]) -> tuple[float, float, str]:
    """Torque to tighten with, what the screw alone bears (N m), and what set the former.

    The screw is taken to 90 % of its yield strength at the likely friction of screws, as printed tables are; its partners to
    the low end of what they bear, at the low end of that friction and with the tool's scatter, which is when they get most.
    """
    thread, mu = joint.size.thread, with_.screw_friction
    own = allowed_preload(thread, joint.site.joint.property_class, mu.likely) * torque_factor(
        thread, mu.likely
    )
    torques = {"screw": own}
    for limit in limits:
        torques[limit.what] = limit.low * torque_factor(thread, mu.low) / (1.0 + SCATTER[with_.tightened])
    governs = min(torques, key=lambda what: torques[what])
    entered = joint.site.joint.torque
    return (torques[governs], own, governs) if entered is None else (entered, own, "entered")


def preload_at(joint: FittedJoint, with_: Joints, torque: float) -> Preload:
    """Preload that a torque gives: friction of the screw, scatter of the tool, settling."""
    mu, scatter, thread = with_.screw_friction, SCATTER[with_.tightened], joint.size.thread
    low, likely, high = (torque / torque_factor(thread, f) for f in (mu.high, mu.likely, mu.low))
    return Preload(
        low * (1.0 - scatter) * SETTLING[0], likely * SETTLING[1], high * (1.0 + scatter) * SETTLING[2]
    )
