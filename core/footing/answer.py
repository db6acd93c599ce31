"""The answer about the base for the gantry at every place along Y: feet, level and twist of the rails, share in the give."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.findings import Finding
from core.footing.feet import settle
from core.footing.judge import judge
from core.footing.level import line_left
from core.frame import NotTrustworthy
from core.frame.assemble import stiffness as frame_stiffness
from core.guides.forces import FORCES, WEIGHT, Chain, solve_chain
from core.machine.project import Project
from core.model.condensed import Under
from core.model.contact import y_table
from core.model.moving import condense_head, tip_compliance
from core.model.setting import Setting
from core.model.standing import Foot, Points, Standing, stand

Floats = npt.NDArray[np.float64]
ALONG_Y = 17  # the places at which the plan has solved the base already
BALANCE = 1.0e-6
NOTHING = 1.0e-12  # m


@dataclass(frozen=True, slots=True)
class FootingAnswer:
    """Figures with the tool at ny places along Y and nx along X (left end, middle, right end); f feet.

    Attributes:
        y (ny,), x (nx,): tool places, m. feet: see `Foot`. bolted: whether supports are held down.
        press (ny, nx, f): force of each foot on the floor, N. hangs (ny, nx, f): clearance under a foot in the air, m.
        left, right (ny, nx): height of each rail under the gantry, mean of its carriages, against the unloaded line, m.
        rolling_left, rolling_right (ny, nx): the same by the gantry's weight alone.
        uneven_left, uneven_right (ny, nx): the part that uneven feet put in.
        tilt (ny, nx): right rail's height less the left one's, m.
        twist: largest change of the tilt over the travel with the head in the middle, m.
        level: largest distance of a rail's height from its own best line, head in the middle, m; level_side which.
        sag: deepest sinking of a rail under the rolling gantry, m. sag_y: where.
        give (ny, nx, 3): the base's part of the tip's compliance along X, Y, Z, m/N. share: the same as a share.
        weight: of all, N. findings: what is to be said.
    """

    y: Floats
    x: Floats
    feet: tuple[Foot, ...]
    bolted: bool
    press: Floats
    hangs: Floats
    left: Floats
    right: Floats
    rolling_left: Floats
    rolling_right: Floats
    uneven_left: Floats
    uneven_right: Floats
    tilt: Floats
    twist: float
    level: float
    level_side: str
    sag: float
    sag_y: float
    give: Floats
    share: Floats
    weight: float
    findings: tuple[Finding, ...] = ()


def places(setting: Setting) -> tuple[Floats, Floats]:
    """Tool places along Y (ny,) and X (left end, middle, right end) that the answer looks at, m."""
    work = setting.machine.work
    y = np.linspace(-work.travel_y / 2.0, work.travel_y / 2.0, ALONG_Y)
    return y, np.array([-work.travel_x / 2.0, 0.0, work.travel_x / 2.0])


def find_footing(
    setting: Setting,
    project: Project,
    under: Under | None = None,
    whole: Floats | None = None,
    chain: Chain | None = None,
) -> FootingAnswer:
    """Answer for a machine.

    Args:
        under: the base as the plan solved it, used where it still fits. whole: (ny, nx, 3, 3) compliance of the tip at
            `places` where it is known, m/N. chain: the chain of bodies at `places`, where it is solved already.

    Errors: Mechanism when the base moves freely; NotTrustworthy when forces do not balance.
    """
    y, x = places(setting)
    chain = solve_chain(setting, x, y, under) if chain is None else chain
    base = stand(setting, chain.gantry.under.base)
    datum = y - setting.layout.spindle_y
    contacts = base.carriages(datum)
    loads = chain.y_forces[..., WEIGHT]
    feet_by_rails = base.at_feet(contacts)
    height = base.weight[base.foot_dofs] + np.einsum("nfs,nxs->nxf", feet_by_rails, loads)
    spread = np.array(setting.machine.y_guides.places())
    rails = base.rails(datum, spread)
    by_contacts = base.between(rails, contacts)
    rolling = np.einsum("nrs,nxs->nxr", by_contacts, loads)
    press, hangs, uneven = _settled(base, chain, contacts, rails, by_contacts, height, datum)
    total = -float(loads[0, 0] @ contacts.lower[0, :, 2]) + base.own_weight
    _check(base, contacts, loads, press)
    sunk = base.sunk(rails)[:, None]
    sides = [_mean_sides(part, spread.size) for part in (rolling + uneven + sunk, rolling, uneven)]
    (left, right), (rolling_left, rolling_right), (uneven_left, uneven_right) = sides
    give, share = _give(setting, chain, datum, whole)
    tilt = right - left
    levels = {"left": line_left(y, left[:, 1]), "right": line_left(y, right[:, 1])}
    side = max(levels, key=lambda s: float(np.abs(levels[s]).max()))
    lowest = np.minimum(rolling_left, rolling_right).min(axis=1)
    answer = FootingAnswer(
        y=y, x=x, feet=base.feet, bolted=not base.lifts, press=press, hangs=hangs, left=left, right=right,
        rolling_left=rolling_left, rolling_right=rolling_right, uneven_left=uneven_left, uneven_right=uneven_right,
        tilt=tilt, twist=_clean(float(np.ptp(tilt[:, 1]))), level=_clean(float(np.abs(levels[side]).max())), level_side=side,
        sag=-float(lowest.min()), sag_y=float(y[int(np.argmin(lowest))]), give=give, share=share, weight=total,
    )  # fmt: skip
    return judge(project, answer)


def _clean(length: float) -> float:
    """Zero for what is nothing but rounding."""
    return 0.0 if length < NOTHING else length


def _mean_sides(heights: Floats, each: int) -> tuple[Floats, Floats]:
    """Mean of the left and of the right rail's points, from (..., 2 * each)."""
    return heights[..., :each].mean(axis=-1), heights[..., each:].mean(axis=-1)


def _settled(
    base: Standing,
    chain: Chain,
    contacts: Points,
    rails: Points,
    by_contacts: Floats,
    height: Floats,
    datum: Floats,
) -> tuple[Floats, Floats, Floats]:
    """Force and clearance of every foot (ny, nx, f), and what uneven or hanging feet add to the rails (ny, nx, r)."""
    k = base.foot_stiffness
    gap = np.array([foot.gap for foot in base.feet])
    press, hangs = -k * height, np.zeros_like(height)
    uneven = np.zeros((*height.shape[:2], rails.xi.shape[1]))
    if not gap.any() and (not base.lifts or (press >= 0.0).all()):
        return press, hangs, uneven
    # The gantry holds the two sides together: it resists when the base is twisted.
    hold = _hold(base, chain, datum)
    feet_by_rails = base.at_feet(contacts)
    rails_by_feet = np.swapaxes(feet_by_rails, -1, -2)
    own = _under_carriages(base.setting, chain, datum)
    back = np.linalg.solve(np.eye(own.shape[-1]) + hold @ own, hold @ rails_by_feet)
    give = base.moved[np.ix_(base.foot_dofs, base.foot_dofs)] - feet_by_rails @ back
    at_rails = np.swapaxes(base.at_feet(rails), -1, -2) - by_contacts @ back
    for n in range(height.shape[0]):
        for m in range(height.shape[1]):
            extra, press[n, m], hangs[n, m] = settle(height[n, m], gap, give[n], k, base.lifts)
            uneven[n, m] = at_rails[n] @ extra
    return press, hangs, uneven


def _hold(base: Standing, chain: Chain, datum: Floats) -> Floats:
    """(ny, s, s) stiffness that the gantry with its Y springs adds between the points of the base, N/m."""
    springs = y_table(base.setting, datum).stiffness
    own = frame_stiffness(chain.gantry.frame)
    row, back = np.unique(springs, axis=0, return_inverse=True)  # racks and belts are alike all along
    upper = chain.gantry.upper
    pulled = row[:, :, None] * upper
    found = np.linalg.solve(own + upper.T @ pulled, np.swapaxes(pulled, -1, -2))
    hold = row[:, :, None] * np.eye(row.shape[1]) - pulled @ found
    return np.asarray(hold[back.ravel()])


def _give(setting: Setting, chain: Chain, datum: Floats, whole: Floats | None) -> tuple[Floats, Floats]:
    """The base's part of the tip's compliance (ny, nx, 3) m/N and its share, from the strain energy in the base.

    Source: theorem of Clapeyron; twice the energy under a unit force is the compliance along it.
    """
    unit = chain.y_forces[..., FORCES]
    own = _under_carriages(setting, chain, datum)
    give = np.einsum("nxsd,nst,nxtd->nxd", unit, own, unit, optimize=True)
    if whole is None:
        whole = tip_compliance(chain.gantry, chain.riding, condense_head(setting))
    return give, give / np.einsum("nxdd->nxd", whole)


def _under_carriages(setting: Setting, chain: Chain, datum: Floats) -> Floats:
    """(ny, s, s) flexibility of the base under the Y springs, without the springs themselves, m/N."""
    own = chain.gantry.under.soft.copy()
    s = np.arange(own.shape[-1])
    own[:, s, s] -= 1.0 / y_table(setting, datum).stiffness
    return own


def _check(base: Standing, contacts: Points, loads: Floats, press: Floats) -> None:
    """The feet carry the base and all that rolls on it."""
    rolling = -np.einsum("ns,nxs->nx", contacts.lower[..., 2], loads)
    wanted = rolling + base.own_weight
    wrong = float(np.max(np.abs(press.sum(axis=-1) - wanted) / wanted))
    if not wrong <= BALANCE:
        raise NotTrustworthy(f"the feet do not carry the weight (relative error {wrong:.1e})")
