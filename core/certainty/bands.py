"""Bands of the headline figures from a few thousand machines drawn within the given limits.

Each sample is answered exactly (see `gaps`; for shares of built-up bars see `joined`), and one of them is solved once more as a
whole frame before anything is shown.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from core.certainty.answer import BandsAnswer, CaseBand, Cause, Spread
from core.certainty.chain import FORCES, WEIGHT, Chain, make_chain
from core.certainty.chance import (
    SEED,
    band_of,
    log_triangular,
    rank_correlation,
    ranks,
    strata,
    triangular,
)
from core.certainty.first_mode import check_first_mode, first_mode
from core.certainty.inputs import UncertainInput, uncertain_inputs, with_values
from core.certainty.joined import Mix, find_joints, mix, with_shares
from core.certainty.springs import SpringShares
from core.certainty.words import wide_findings
from core.cutting import tip_force
from core.frame import NotTrustworthy
from core.machine.loads import LoadCase
from core.model.place import solve_place
from core.model.setting import Setting
from core.plan import Plan
from core.stiffness.deflection import DIRECTIONS

Floats = npt.NDArray[np.float64]
SAMPLES, CURVE_SAMPLES, CURVE_PLACES = 2048, 512, 7
# The whole frame merges nodes nearer than 2 mm, the condensed answer does not.
AGREE = 5e-3


@dataclass(frozen=True, slots=True)
class Draw:
    """Rows of figures: the samples, then likely, both corners, and each input at its low and at its high end.

    Attributes:
        inputs: k of them, of the springs first, then the loads, then the joints of built-up bars.
        values: (n + 3 + 2 k, k) SI. samples: n. springs, joints: how many of the inputs belong to them.
    """

    inputs: tuple[UncertainInput, ...]
    values: Floats
    samples: int
    springs: int
    joints: int = 0

    @property
    def shares(self) -> Floats:
        """(rows, q) of the joints of built-up bars."""
        return self.values[:, self.values.shape[1] - self.joints :]

    @property
    def corners(self) -> Floats:
        """(8, p) a few rows of `softer` that reach far in many directions: both corners, and both ends by turns."""
        likely = np.array([i.likely for i in self.inputs[: self.springs]])
        low, high = (np.array([getattr(i, e) for i in self.inputs[: self.springs]]) for e in ("low", "high"))
        pick = np.random.default_rng(SEED).random((6, self.springs)) < 0.5
        return np.asarray(likely / np.concatenate([[low, high], np.where(pick, low, high)]) - 1.0)

    @property
    def softer(self) -> Floats:
        """(rows, p) relative added compliance of the spring inputs."""
        likely = np.array([i.likely for i in self.inputs[: self.springs]])
        return np.asarray(likely / self.values[:, : self.springs] - 1.0)


def draw(
    springs: tuple[UncertainInput, ...],
    loads: tuple[UncertainInput, ...],
    samples: int,
    joints: tuple[UncertainInput, ...] = (),
) -> Draw:
    """Samples of all inputs, each from its own distribution, and the rows that are wanted besides."""
    inputs = (*springs, *loads, *joints)
    chances = [strata(i.path, samples) for i in inputs]
    few = len(inputs) - len(joints)
    columns = [
        (log_triangular if k < few else triangular)(i.low, i.likely, i.high, chance)
        for k, (i, chance) in enumerate(zip(inputs, chances, strict=True))
    ]
    drawn = np.column_stack(columns) if columns else np.zeros((samples, 0))
    low, likely, high = (np.array([getattr(i, end) for i in inputs]) for end in ("low", "likely", "high"))
    number = np.arange(len(inputs))
    soft = (number < len(springs)) | (number >= few)
    ends = [likely, np.where(soft, high, low), np.where(soft, low, high)]
    for end in (low, high):
        ends += [np.where(number == k, end, likely) for k in range(len(inputs))]
    every = np.concatenate([drawn, np.array(ends).reshape(len(ends), len(inputs))])
    return Draw(inputs, every, samples, len(springs), len(joints))


def load_inputs(cases: tuple[LoadCase, ...]) -> tuple[UncertainInput, ...]:
    """The force of every load case that is known only within limits, N."""
    found = []
    for number, case in enumerate(cases):
        low, likely, high = (float(np.linalg.norm(tip_force(case, s))) for s in ("low", "likely", "high"))
        if low < high:
            label = f"{case.name}: cutting force"
            found.append(UncertainInput(f"cases.{number}.load", label, "force", low, likely, high))
    return tuple(found)


def find_bands(setting: Setting, plan: Plan, samples: int = SAMPLES) -> BandsAnswer | None:
    """Bands of a plan; None when the plan has no answer of its own.

    Errors: Mechanism, NotTrustworthy.
    """
    stiffness, sag = plan.stiffness, plan.sag
    if stiffness is None or sag is None:
        return None
    project = plan.project
    shares = SpringShares(setting, uncertain_inputs(setting.machine))
    joints = find_joints(setting)
    drawn = draw(shares.inputs, load_inputs(project.cases), samples, tuple(joint.input for joint in joints))
    mixed = mix(joints, drawn.shares)
    here = make_chain(setting, stiffness.place_y, shares, gantry=plan.gantry)
    ends = [None if one is None else make_chain(one, stiffness.place_y, shares) for one in mixed.settings]
    chains = {stiffness.place_y: (here, ends)}
    few = replace(drawn, values=drawn.values[: min(CURVE_SAMPLES, samples)])
    curve = _along(here, few, stiffness.x)
    curve = replace(
        curve,
        moved=mixed.of(
            curve.moved, [None if e is None else _along(e, few, stiffness.x).moved for e in ends], 1
        ),
    )
    above, ranked = head_samples(here, drawn), ranks(drawn.values[:samples])
    cases, checked, solved = [], 0.0, dict[tuple[float, float], Floats]()
    for number, (case, answer) in enumerate(zip(project.cases, stiffness.cases, strict=True)):
        at = (answer.worst_x, answer.worst_y)
        if at not in solved:
            if at[1] not in chains:
                further = [None if e is None else make_chain(e.setting, at[1], shares, e) for e in ends]
                chains[at[1]] = make_chain(setting, at[1], shares, here, plan.gantry), further
            one, further = chains[at[1]]
            found = [None if e is None else tip_samples(e, at[0], drawn, above) for e in further]
            solved[at] = mixed.of(tip_samples(one, at[0], drawn, above), found)
            checked = max(checked, _check(setting, drawn, at, solved[at]))
        low, high = curve.band(case, few, number)
        moved = deflections(solved[at], case) * _force(drawn, number)
        along = (low * answer.along_x, high * answer.along_x)
        cases.append(_case(case, number, at, moved, drawn, ranked, along))
    spread_sag = _sag(here, ends, mixed, drawn, sag.x, sag.beam, project.limits.sag)
    path = _path(curve, sag.x, sag.path[:, 2], project.limits.path_error)
    at = (stiffness.place_x, stiffness.place_y)
    mode = _first_mode(setting, at, shares, drawn, mixed)
    answer_ = BandsAnswer(
        drawn.inputs, samples, few.values.shape[0], stiffness.x, stiffness.place_y, tuple(cases), spread_sag, path, mode,
        checked, (),
    )  # fmt: skip
    return replace(answer_, findings=wide_findings(project, answer_))


def tip_samples(chain: Chain, x: float, drawn: Draw, above: Floats | None = None) -> Floats:
    """(rows, 3, 3) compliance of the tip at x, m/N.

    Args:
        above: what the head gives to it, where that is known: it is the same at all places.
    """
    (below,) = chain.at(np.array([x]))
    above = head_samples(chain, drawn) if above is None else above
    return above + below.narrowed(drawn.corners, FORCES).respond(drawn.softer)


def head_samples(chain: Chain, drawn: Draw) -> Floats:
    """(rows, 3, 3) compliance of the tip, m/N, with the saddle held still."""
    return chain.above.respond(drawn.softer, FORCES)


def deflections(compliance: Floats, case: LoadCase) -> Floats:
    """Size (n,) of the tip's deflection, m, under a case's likely force in its worst direction.

    Args:
        compliance: (n, 3, 3).
    """
    force = tip_force(case)
    if not case.any_direction or not np.any(force[:2]):
        return np.asarray(np.linalg.norm(compliance @ force, axis=-1))
    # |C f|^2 is a quadratic form of the direction: six figures a sample instead of a vector for each direction.
    columns = np.ascontiguousarray(compliance.transpose(2, 1, 0))  # (force, movement, n)
    pairs = [(0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2)]
    angles = np.linspace(0.0, 2.0 * np.pi, DIRECTIONS, endpoint=False)
    size = float(np.hypot(force[0], force[1]))
    turned = np.stack([size * np.cos(angles), size * np.sin(angles), np.full_like(angles, force[2])])
    terms = np.stack([turned[a] * turned[b] * (1.0 if a == b else 2.0) for a, b in pairs])
    forms = np.stack([(columns[a] * columns[b]).sum(axis=0) for a, b in pairs])
    return np.asarray(np.sqrt((terms.T @ forms).max(axis=0)))


def _force(drawn: Draw, number: int) -> Floats:
    """Factor (rows,) on a case's likely force."""
    for k, i in enumerate(drawn.inputs):
        if i.path == f"cases.{number}.load":
            return np.asarray(drawn.values[:, k] / i.likely)
    return np.ones(drawn.values.shape[0])


def _spread(values: Floats, likely: float, limit: float | None) -> Spread:
    low, high = band_of(values, likely)
    within = 1.0 if limit is None else float(np.mean(values <= limit))
    return Spread(likely, float(low), float(high), limit, within, np.sort(values))


def _case(
    case: LoadCase,
    number: int,
    at: tuple[float, float],
    found: Floats,
    drawn: Draw,
    ranked: Floats,
    along: tuple[Floats, Floats],
) -> CaseBand:
    n, k = drawn.samples, len(drawn.inputs)
    correlation = rank_correlation(drawn.values[:n], found[:n], ranked)
    whole = float(np.sum(correlation**2))
    causes = [
        Cause(
            i, float(found[n + 3 + j]), float(found[n + 3 + k + j]), float(correlation[j]),
            float(correlation[j] ** 2) / whole if whole else 0.0,
        )
        for j, i in enumerate(drawn.inputs)
    ]  # fmt: skip
    mine = [c for c in causes if c.swing > 1e-9 * found[n]]
    ordered = tuple(sorted(mine, key=lambda c: -c.swing))
    spread = _spread(found[:n], float(found[n]), case.limit)
    best, worst = float(found[n + 1]), float(found[n + 2])
    return CaseBand(case.name, number, at[0], at[1], spread, best, worst, ordered, *along)


@dataclass(frozen=True, slots=True)
class _Curve:
    """The tip's movement (places, n, 4, 4) of samples and (places, 4, 4) likely, at places x along X."""

    x: Floats
    moved: Floats
    likely: Floats
    wanted: Floats

    def band(self, case: LoadCase, few: Draw, number: int) -> tuple[Floats, Floats]:
        """Ends of the band over the likely deflection at every wanted place; each at most or at least one."""
        likely = deflections(self.likely[:, :3, :3], case)
        every = deflections(self.moved[..., :3, :3].reshape(-1, 3, 3), case)
        found = every.reshape(self.x.size, -1).T
        found = found * _force(few, number)[:, None] / likely
        low, high = band_of(found, np.ones(self.x.size))
        return np.interp(self.wanted, self.x, low), np.interp(self.wanted, self.x, high)


def _along(chain: Chain, few: Draw, wanted: Floats) -> _Curve:
    x = np.linspace(wanted[0], wanted[-1], CURVE_PLACES)
    above, corners = chain.above.respond(few.softer), few.corners
    found = chain.at(x)
    moved = [above + below.narrowed(corners).respond(few.softer) for below in found]
    return _Curve(x, np.array(moved), np.array([chain.above.start + below.start for below in found]), wanted)


def _onto(x: Floats, wanted: Floats) -> Floats:
    """(k, w): values at x (k,) carried to `wanted` (w,) by the polynomial through them, for what changes smoothly."""
    scale = float(np.abs(x).max()) or 1.0
    return np.asarray(
        np.linalg.solve(np.vander(x / scale, increasing=True).T, np.vander(wanted / scale, x.size, True).T)
    )


def _sag(
    chain: Chain, ends: list[Chain | None], mixed: Mix, drawn: Draw, x: Floats, line: Floats, limit: float
) -> Spread:
    places = np.linspace(x[0], x[-1], CURVE_PLACES)
    likely = chain.beam(places)[1]
    found = mixed.of(
        _lines(chain, places, drawn), [None if end is None else _lines(end, places, drawn) for end in ends]
    )
    every = line + (found - likely) @ _onto(places, x)
    return _spread(np.abs(every).max(axis=-1), float(np.abs(line).max()), limit)


def _lines(chain: Chain, places: Floats, drawn: Draw) -> Floats:
    """(n, places) heights of the beam's line of the samples."""
    gaps = chain.beam(places)[0]
    return gaps.narrowed(drawn.corners).respond(drawn.softer[: drawn.samples])[:, :-1, -1]


def _path(curve: _Curve, x: Floats, height: Floats, limit: float) -> Spread:
    change = curve.moved[:, :, 2, WEIGHT] - curve.likely[:, None, 2, WEIGHT]
    every = np.concatenate([np.zeros((1, x.size)), change.T @ _onto(curve.x, x)]) + height
    basis = np.linalg.qr(np.column_stack([np.ones(x.size), x]))[0]
    worst = np.abs(every - every @ basis @ basis.T).max(axis=-1)
    return _spread(worst[1:], float(worst[0]), limit)


def _first_mode(
    setting: Setting, at: tuple[float, float], shares: SpringShares, drawn: Draw, mixed: Mix
) -> Spread:
    def squares(one: Setting) -> Floats:
        """(n + 1,) of the periods, which go with the give."""
        return first_mode(one, *at, shares, drawn.softer[: drawn.samples + 1], drawn.corners) ** -2.0

    ends = [None if one is None else squares(one) for one in mixed.settings]
    found = mixed.of(squares(setting), ends) ** -0.5
    likely, values = float(found[-1]), found[:-1]
    if drawn.springs or drawn.joints:
        row = int(np.argmin(values))
        check_first_mode(_sample(setting, drawn, row), *at, float(values[row]))
    return _spread(values, likely, None)


def _sample(setting: Setting, drawn: Draw, row: int) -> Setting:
    """The setting with the figures of one row."""
    pairs = zip(drawn.inputs[: drawn.springs], drawn.values[row, : drawn.springs], strict=True)
    machine = with_values(setting.machine, {i.path: float(v) for i, v in pairs})
    joints = drawn.inputs[len(drawn.inputs) - drawn.joints :]
    values = {i.path: float(v) for i, v in zip(joints, drawn.shares[row], strict=True)}
    return (
        with_shares(replace(setting, machine=machine), values)
        if values
        else replace(setting, machine=machine)
    )


def _check(setting: Setting, drawn: Draw, at: tuple[float, float], found: Floats) -> float:
    """Solve the sample with the softest machine as a whole frame. Raises NotTrustworthy when it differs."""
    if not (drawn.springs or drawn.joints):
        return 0.0
    row = int(np.argmax(np.trace(found[: drawn.samples], axis1=1, axis2=2)))
    whole = solve_place(_sample(setting, drawn, row), *at).compliance
    apart = float(np.abs(found[row] - whole).max() / np.abs(whole).max())
    if not apart <= AGREE:
        raise NotTrustworthy("a sample of the bands and the whole frame disagree")
    return apart
