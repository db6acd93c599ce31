"""The base from above with the force of every foot on the floor, for one place of the gantry."""

from __future__ import annotations

from core.drawing.primitives import Circle, Drawing, Line, Shape, Text, rectangle
from core.footing import FootingAnswer
from core.machine.layout import Layout
from core.units import UnitSet, show

LEAST = 0.015
MOST = 0.075


def feet_plan(answer: FootingAnswer, lay: Layout, place: int, head: int, units: UnitSet) -> Drawing:
    """Plan lying on its side: Y runs to the right and the left rail stands below, so that long tables fit.

    Args:
        place, head: numbers of the tool's places along Y and X.
    """
    half, length = lay.sections.side_beam.width / 2.0, lay.side_beam_length
    start = lay.side_y - length / 2.0
    items: list[Shape] = []
    for x in (-lay.side_x, lay.side_x):
        items.append(rectangle(start, x - half, start + length, x + half, "steel", "side_beam", "Side beam"))
    gantry = lay.gantry_y(float(answer.y[place]))
    reach = lay.foot_length / 2.0
    items.append(
        rectangle(gantry - reach, -lay.side_x - half, gantry + reach, lay.side_x + half, "plate", "gantry",
                  f"Gantry, the tool at y {show(float(answer.y[place]), 'length', units)}")
    )  # fmt: skip
    head_x = float(answer.x[head])
    items.append(Circle(centre=(gantry, head_x), radius=0.05, role="head", key="head", hint="Head"))
    press, hangs = answer.press[place, head], answer.hangs[place, head]
    most = max(float(abs(press).max()), 1.0e-9)
    room = half + MOST + 0.09
    for k, foot in enumerate(answer.feet):
        force, at = float(press[k]), (foot.y, foot.x)
        words = show(force, "force", units, 3)
        hint = f"{foot.name.capitalize()}: {words}"
        standing = answer.bolted or hangs[k] <= 0.0
        if not standing:
            hint += f", hangs {show(float(hangs[k]), 'deflection', units)} in the air"
        size = LEAST + (MOST - LEAST) * (abs(force) / most) ** 0.5
        role = "block" if standing and force > 0.0 else "finding"
        items.append(Circle(centre=at, radius=size, role=role, key=f"foot {k}", hint=hint))
        if role == "finding":
            items.append(
                Line(start=(at[0] - size, at[1]), end=(at[0] + size, at[1]), role="finding", hint=hint)
            )
        side = -1.0 if foot.side == "left" else 1.0
        items.append(Text(at=(at[0], at[1] + side * room), text=words, anchor="centre", role="note"))
    items.append(Text(at=(start, -lay.side_x + room), text="left rail", anchor="left", role="dimension"))
    items.append(Text(at=(start, lay.side_x - room), text="right rail", anchor="left", role="dimension"))
    return Drawing(items=tuple(items), title="Force of every foot on the floor")
