"""What may be done meanwhile, axis by axis: nothing, by hand, or a slow jog up to an acceleration. Never cutting."""

from __future__ import annotations

from collections.abc import Sequence

from core.fasteners.interim.answer import STATE_WORDS, AxisInterim, RailInterim
from core.findings import Finding
from core.machine.interim import InterimWork
from core.machine.motion import Motion
from core.units import UnitSet, show, show_number

LEAST_JOG = 0.05
"""m/s2; an axis that may not even do this is moved by hand."""
BOWS = 5.0
"""Times the give allowed; a rail that gives more between its screws lets its carriages jam (an assumption)."""
RIDES = {"x": ("x", "z"), "y": ("y", "x", "z"), "z": ("z",)}
"""Rails that feel an axis move: its own and those of what it carries."""
NUMBER = {"x": 0, "y": 1, "z": 2}


def judge_axis(
    axis: str, rails: Sequence[RailInterim], work: InterimWork, motion: Motion, units: UnitSet
) -> AxisInterim:
    """The state of one axis, with its reason."""
    own = [rail for rail in rails if rail.axis == axis]
    refusal = _refusal(own, work)
    if refusal:
        return AxisInterim(axis, "refused", refusal, None)
    carried = [rail for rail in rails if rail.axis in RIDES[axis]]
    left_out = sorted({rail.axis.upper() for rail in carried if _refusal([rail], work)})
    beware = f" Nothing may ride on the {' and '.join(left_out)} rails meanwhile." if left_out else ""
    # Rails with all their screws are as planned: the strength of the joints judges them, not this plan.
    felt = [rail for rail in carried if rail.still and rail.axis.upper() not in left_out]
    if not felt:
        return AxisInterim(axis, "all here", f"No hole of these rails is left open.{beware}", None)
    speed = min(rail.accelerations[NUMBER[axis]] for rail in felt if rail.accelerations is not None)
    planned = getattr(motion, axis).acceleration
    giver = max(felt, key=lambda r: r.give or 0.0)
    give = giver.give or 0.0
    weakest = min(felt, key=lambda r: r.accelerations[NUMBER[axis]] if r.accelerations else 0.0)
    if give > BOWS * work.most_give:
        text = (
            f"The {giver.label} gives {show(give, 'deflection', units)} between its screws, over {BOWS:g} times the "
            f"{show(work.most_give, 'deflection', units)} allowed: carriages run off line and jam. More screws would help."
        )
        return AxisInterim(axis, "refused", text, None)
    if give > work.most_give:
        text = (
            f"The {giver.label} gives {show(give, 'deflection', units)} between its screws, more than "
            f"{show(work.most_give, 'deflection', units)}; more screws would help.{beware}"
        )
        return AxisInterim(axis, "by hand", text, None)
    if speed < LEAST_JOG:
        text = f"The {weakest.label} keeps its margin only below {show(LEAST_JOG, 'acceleration', units)}.{beware}"
        return AxisInterim(axis, "by hand", text, None)
    allowed = min(speed, planned)
    text = (
        f"Up to {show(allowed, 'acceleration', units)} the {weakest.label} keeps a slip margin of "
        f"{show_number(work.margin, 'ratio', units)} with low friction"
        + (" (its planned acceleration)." if allowed == planned else ".")
        + beware
    )
    return AxisInterim(axis, "slow jog", text, allowed)


def _refusal(own: Sequence[RailInterim], work: InterimWork) -> str:
    """Why these rails may carry nothing; empty when they may."""
    loose = [rail for rail in own if not rail.held]
    if loose:
        some = sum(len(rail.now) for rail in loose)
        names = " and ".join(rail.label for rail in loose) if len(loose) < len(own) else "these rails"
        if not some:
            here = f"Screws, or what they go into, are missing for {names}"
        else:
            here = f"Only {some} screw{'s' if some > 1 else ''} can be set for {names}"
        return f"{here}; a rail wants one at both ends of every piece."
    short = [rail for rail in own if rail.still]
    if any(rail.hand_margin is None for rail in short):
        return "The forces on the rails are not known, because the machine has no answer yet."
    if not short:
        return ""
    if any(rail.preload[0] <= 0.0 for rail in short):
        return "No standard screw fits these rails yet, so nothing is known of its preload."
    weak = min(short, key=lambda rail: rail.hand_margin[0] if rail.hand_margin else 0.0)
    assert weak.hand_margin is not None
    assert weak.rest_margin is not None
    if weak.hand_margin[0] >= work.margin:
        return ""
    if weak.rest_margin[0] < work.margin:
        return (
            f"Under weight alone the {weak.label} has a slip margin of {weak.rest_margin[0]:.2g} with low friction; "
            f"{work.margin:g} is wanted."
        )
    return (
        f"Pushed by hand the {weak.label} has a slip margin of {weak.hand_margin[0]:.2g} with low friction; "
        f"{work.margin:g} is wanted."
    )


def findings_of(axes: Sequence[AxisInterim], rails: Sequence[RailInterim], units: UnitSet) -> list[Finding]:
    """One finding an axis: a warning where it is refused although some screws are here."""
    found = []
    for axis in axes:
        if axis.state == "all here":
            continue
        own = [rail for rail in rails if rail.axis == axis.axis]
        filled, holes = sum(len(r.now) for r in own), sum(r.holes for r in own)
        name = f"{axis.axis.upper()} axis"
        text = f"{name}, {filled} of {holes} screws: {STATE_WORDS[axis.state]}. {axis.reason}"
        refused = axis.state == "refused"
        found.append(
            Finding(
                "interim-refused" if refused else "interim-state",
                "warning" if refused and filled else "note",
                "stock",
                text,
                float(filled),
                float(holes),
                "count",
                name,
            )
        )
    return found
