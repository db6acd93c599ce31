"""What to do slot by slot, in sentences: which nuts go in where, in which order, and when an end may be closed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from core.fasteners.slot_plan import SlotNut, SlotPlan


def steps_of(plan: SlotPlan, only: str, holes: int) -> tuple[str, ...]:
    """Sentences for one slot.

    Args:
        only: the one end in use, empty for both. holes: of the rail over it, 0 without a rail.
    """
    words = dict(zip(("start", "end"), plan.ends, strict=True))
    slide = plan.kind == "slide-in"
    if len(plan.bars) > 1:
        steps = [f"Alike in {len(plan.bars)} bars: {', '.join(plan.bars)}."]
    else:
        steps = []
    steps.append(
        f"Deburr the slot's ends and blow out chips; try one {_each(plan)} nut along its whole length."
    )
    if only and slide:
        other = words["end" if only == "start" else "start"]
        steps.append(f"The {other} end is closed by a part, so every nut goes in at the {words[only]} end.")
    for end in ("start", "end"):
        own = [nut for nut in plan.nuts if nut.from_end == end]
        if own:
            steps.append(_in(own, words[end], slide, plan.thread))
    counted = f"Count: {len(plan.nuts)} nuts in this slot"
    parts = [f"{holes} for holes"] if holes else []
    parts += [f"{plan.of_joints} for joints"] if plan.of_joints and holes else []
    parts += [f"{plan.parked} parked"] if plan.parked else []
    threads = Counter(nut.thread for nut in plan.nuts)
    if len(threads) > 1:
        parts.append(" and ".join(f"{count} of {thread}" for thread, count in threads.items()))
    steps.append(f"{counted}{', ' + ', '.join(parts) if parts else ''}.")
    shut = [] if only else [what for what in plan.closed.values() if what]
    if shut and slide:
        steps.append(f"Only now fit {' and '.join(shut)}: afterwards no slide-in nut goes in there.")
    if holes:
        steps.append(
            f"Lay the rail on the {plan.beam}, turn every screw in by hand first, from the middle outwards, then align and "
            "tighten."
        )
    else:
        steps.append("Set the parts on, turn every screw in by hand first, then align and tighten.")
    return tuple(steps)


def _each(plan: SlotPlan) -> str:
    return " and one ".join(dict.fromkeys(nut.thread for nut in plan.nuts)) or plan.thread


def _in(own: Sequence[SlotNut], end: str, slide: bool, thread: str) -> str:
    runs = list(_runs(own, thread))
    listed = f"in this order: {'; '.join(runs)}" if len(runs) > 1 else f"for {runs[0]}"
    if slide:
        return f"Slide {_nuts(len(own))} in at the {end} end, {listed}."
    return f"Put {_nuts(len(own))} in through the opening, from the middle to the {end} end, {listed}."


def _nuts(count: int) -> str:
    return f"{count} nut" + ("s" if count > 1 else "")


def _runs(own: Sequence[SlotNut], thread: str) -> Iterator[str]:
    """Neighbours of one kind in short: "holes 13 to 1", "Uprights to beam, left (2)", "2 parked spares".

    Nuts of another thread than the slot's usual one say so.
    """
    k = 0
    while k < len(own):
        j = k
        while j + 1 < len(own) and _kind(own[j + 1]) == _kind(own[k]):
            j += 1
        many, first, last = j - k + 1, own[k], own[j]
        if first.hole:
            yield f"holes {first.hole} to {last.hole}" if many > 1 else f"hole {first.hole}"
        elif first.joint:
            told = [str(many)] * (many > 1) + [first.thread] * (first.thread != thread)
            yield first.what + (f" ({', '.join(told)})" if told else "")
        else:
            yield f"{many} parked spare" + ("s" if many > 1 else "")
        k = j + 1


def _kind(nut: SlotNut) -> str:
    return "hole" if nut.hole else f"{nut.what} {nut.thread}"
