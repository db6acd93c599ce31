"""A slot along its beam: where each T-nut comes to stand, how many go in at each end, and what closes an end later."""

from __future__ import annotations

from core.drawing.primitives import Anchor, Arrow, Drawing, Line, Shape, Text, rectangle
from core.fasteners.slots import SlotPlan
from core.units import UnitSet, show

NUT = 0.006
"""Half length of a nut as it is drawn, at least; m."""


def slot_drawing(plan: SlotPlan, units: UnitSet) -> Drawing:
    """The beam seen onto its slot, start at x = 0; numbers tell the order at each end."""
    length = plan.length
    half = 0.018 * length
    nut = max(NUT, 0.004 * length)
    items: list[Shape] = [
        rectangle(0.0, -2.2 * half, length, 2.2 * half, "aluminium", "beam", plan.beam.capitalize()),
        rectangle(0.0, -half, length, half, "slot", "slot", plan.label),
        *_covers(plan, half, units),
    ]
    words = dict(zip(("start", "end"), plan.ends, strict=True))
    own = {end: [n for n in plan.nuts if n.from_end == end] for end in ("start", "end")}
    for end, nuts in own.items():
        for k, one in enumerate(nuts):
            what = one.what if one.parked else f"for {one.what}"
            place = show(one.place, "length", units)
            hint = f"Nut {one.order} {one.thread} at the {words[end]} end, {what}, {place} from the {words['start']} end"
            role = "screw" if one.hole else "grip" if one.parked else "block"
            items.append(
                rectangle(
                    one.place - nut,
                    -0.8 * half,
                    one.place + nut,
                    0.8 * half,
                    role,
                    f"nut {end} {one.order}",
                    hint,
                )
            )
            if k in (0, len(nuts) - 1) or (one.order % 5 == 0 and len(nuts) - one.order >= 3):
                side = -1.0 if end == "start" else 1.0
                first = one.order == 1 and all(
                    own.values()
                )  # two of them stand beside each other in the middle
                at = (one.place + (side * nut if first else 0.0), 2.2 * half + 0.018 * length)
                anchor: Anchor = ("right" if side < 0.0 else "left") if first else "centre"
                items.append(Text(at=at, text=str(one.order), anchor=anchor, role="note"))
    for end, x, sign in (("start", 0.0, 1.0), ("end", length, -1.0)):
        if plan.closed[end]:
            out = x - sign * 0.012 * length
            items.append(
                rectangle(
                    min(x, out),
                    -3.2 * half,
                    max(x, out),
                    3.2 * half,
                    "plate",
                    f"closed {end}",
                    plan.closed[end],
                )
            )
        count = plan.count(end)
        if count and plan.kind == "slide-in":
            tail = x - sign * 0.09 * length
            label = f"{count} nut" + ("s" if count > 1 else "")
            reach = (tail, 0.0), (x - sign * 0.02 * length, 0.0)
            items.append(Arrow(start=reach[0], end=reach[1], role="load", label=label))
    border = sum(n.from_end == "start" for n in plan.nuts)
    if 0 < border < len(plan.nuts):
        places = sorted(n.place for n in plan.nuts)
        x = (places[border - 1] + places[border]) / 2.0
        items.append(Line(start=(x, -3.0 * half), end=(x, 3.0 * half), role="axis"))
    return Drawing(tuple(items), f"T-nuts, {plan.label}")


def _covers(plan: SlotPlan, half: float, units: UnitSet) -> list[Shape]:
    """What stands over the slot: the rail, and the parts of joints, as bands along the beam's edges."""
    found: list[Shape] = []
    if plan.covered is not None:
        low, high = plan.covered
        words = f"{plan.label}, {show(low, 'length', units)} to {show(high, 'length', units)}"
        found.append(rectangle(low, 1.25 * half, high, 1.95 * half, "steel", "rail over it", words))
    for part in plan.parts:
        low, high = part.kept or (part.middle - part.reach, part.middle + part.reach)
        words = f"{part.name}, {show(low, 'length', units)} to {show(high, 'length', units)}"
        found.append(rectangle(low, -1.95 * half, high, -1.25 * half, "plate", f"part {part.name}", words))
    return found
