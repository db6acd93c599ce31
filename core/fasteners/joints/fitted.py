"""Every joint with its screws chosen: pattern, stack, length, counts; and what does not fit."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from core.fasteners.joints.axis_sites import axis_sites
from core.fasteners.joints.base_sites import base_sites
from core.fasteners.joints.gantry_sites import gantry_sites
from core.fasteners.joints.layers import JointStack, choose_hold, joint_stack
from core.fasteners.joints.one_part import about_shared, with_one_thickness
from core.fasteners.joints.pattern import Pattern, find_pattern
from core.fasteners.joints.sites import JointSite
from core.fasteners.joints.words import about_joint
from core.fasteners.screws import Screw, screw
from core.findings import Finding
from core.machine.layout import Layout
from core.machine.project import Project
from core.units import show

STOCK_PLATES = (
    0.005,
    0.006,
    0.008,
    0.01,
    0.012,
    0.015,
    0.018,
    0.02,
    0.022,
    0.025,
    0.03,
)  # m, common practice
SIZES = ("M12", "M10", "M8", "M6", "M5", "M4", "M3")
NUTTED = ("T-nut", "rivet nut", "through bolt")


@dataclass(frozen=True, slots=True)
class FittedJoint:
    """One kind of joint as it is built; lengths in m.

    Attributes:
        site: the parts that meet. count: equal joints. welded: then there are no screws.
        size: the screw. hold: what it goes into. pattern, stack: None when welded.
        weld_length, weld_throat: of one joint, 0 when screwed.
        screws, washers, nuts: of all equal joints together.
    """

    site: JointSite
    count: int
    welded: bool
    size: Screw
    hold: str
    pattern: Pattern | None
    stack: JointStack | None
    weld_length: float
    weld_throat: float
    screws: int
    washers: int
    nuts: int

    @property
    def key(self) -> str:
        return self.site.key

    @property
    def label(self) -> str:
        return self.site.label

    @property
    def screw_text(self) -> str:
        """The screw in words ("ISO 4762 M8 x 30, 8.8"); "welded" without one."""
        if self.stack is None:
            return "welded"
        length = self.stack.length
        size = self.size.thread if length is None else f"{self.size.thread} x {length * 1000:g}"
        return f"ISO 4762 {size}, {self.site.joint.property_class}"


def joints(project: Project, layout: Layout) -> tuple[tuple[FittedJoint, ...], tuple[Finding, ...]]:
    """All joints of the machine but those of the rails, gantry first, and findings about what does not fit."""

    def words(value: float) -> str:
        return show(value, "length", project.units)

    found: list[FittedJoint] = []
    said: list[Finding] = []
    sites = with_one_thickness(_sites(project, layout), STOCK_PLATES, _works)
    said += about_shared(sites, words)
    for site in sites:
        joint = fit(site)
        found.append(joint)
        said += _about(joint, words)
    return tuple(found), tuple(said)


def _sites(project: Project, layout: Layout) -> Iterator[JointSite]:
    yield from gantry_sites(project.machine, layout)
    yield from axis_sites(project.machine, layout)
    yield from base_sites(project.machine, layout)


def fit(site: JointSite) -> FittedJoint:
    """Choose the screws of one kind of joint."""
    joint, count = site.joint, len(site.names)
    size = screw(_usual(site) if joint.screw == "automatic" else joint.screw)
    if site.can_weld and (joint.made == "welded" or (joint.made == "automatic" and site.welds)):
        round_ = 2.0 * (site.box[0] + site.box[1])
        length = joint.weld_length or round_
        return FittedJoint(site, count, True, size, "weld", None, None, length, joint.weld_throat, 0, 0, 0)
    hold = choose_hold(site.partner, size, site.strong) if joint.hold == "automatic" else joint.hold
    pattern = find_pattern(joint, site.wish, site.face, size, site.lines if hold == "T-nut" else ())
    stack = _stack(site, size, hold)
    cut, kept = site.cut
    lost = sum(u + site.face[0] / 2.0 > kept + 1e-9 for u, _ in pattern.places)
    screws = pattern.count * count - cut * lost
    return FittedJoint(
        site, count, False, size, hold, pattern, stack, 0.0, 0.0, screws, screws * stack.washers,
        screws if hold in NUTTED else 0,
    )  # fmt: skip


def _works(site: JointSite) -> bool:
    """Whether the screws of a site have a standard length; a welded one has none to find."""
    stack = fit(site).stack
    return stack is None or stack.length is not None


def _usual(site: JointSite) -> str:
    """The usual screw; where T-nuts hold it, the largest up to that which passes the slot."""
    slot = site.partner.slot
    if not slot or site.joint.hold not in ("automatic", "T-nut"):
        return site.thread
    smaller = SIZES[SIZES.index(site.thread) :]
    return next((thread for thread in smaller if screw(thread).diameter <= slot + 1e-6), site.thread)


def _stack(site: JointSite, size: Screw, hold: str) -> JointStack:
    """The stack; a plate that nobody has described is as thick as lets a standard length work, near the usual thickness."""
    made = joint_stack(site.joint, site.clamped, site.partner, size, hold)
    if made.length is not None or not site.stock or site.joint.plate is not None:
        return made
    usual, *rest = site.clamped
    for thickness in sorted(STOCK_PLATES, key=lambda t: abs(t - usual.thickness)):
        other = joint_stack(
            site.joint, (replace(usual, thickness=thickness), *rest), site.partner, size, hold
        )
        if other.length is not None:
            return other
    return made


def _about(joint: FittedJoint, words: Callable[[float], str]) -> list[Finding]:
    if joint.pattern is None or joint.stack is None:
        return []
    return about_joint(joint.site, joint.size, joint.hold, joint.pattern, joint.stack, words)
