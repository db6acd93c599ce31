"""The base from above with the force of every foot on the floor, for one place of the gantry."""

from __future__ import annotations

from core.drawing.primitives import Circle, Drawing, Line, Shape, Text, rectangle
from core.footing import FootingAnswer
from core.machine.layout import Layout
from core.model.standing import Foot
from core.units import UnitSet, show

LEAST = 0.03
MOST = 0.11


def feet_plan(answer: FootingAnswer, lay: Layout, place: int, head: int, units: UnitSet) -> Drawing:
    """Plan as the machine's own: X to the right, Y up.

    Args:
        place, head: numbers of the tool's places along Y and X.
    """
    half, length = lay.sections.side_beam.width / 2.0, lay.side_beam_length
    start = lay.side_y - length / 2.0
    items: list[Shape] = []
    for x in (-lay.side_x, lay.side_x):
        items.append(rectangle(x - half, start, x + half, start + length, "steel", "side_beam", "Side beam"))
    gantry = lay.gantry_y(float(answer.y[place]))
    reach, wide = lay.foot_length / 2.0, lay.side_x + half
    hint = f"Gantry, the tool at y {show(float(answer.y[place]), 'length', units)}"
    items.append(rectangle(-wide, gantry - reach, wide, gantry + reach, "plate", "gantry", hint))
    head_x = float(answer.x[head])
    items.append(Circle(centre=(head_x, gantry), radius=0.06, role="head", key="head", hint="Head"))
    press, hangs = answer.press[place, head], answer.hangs[place, head]
    most = max(float(abs(press).max()), 1.0e-9)
    for k, foot in enumerate(answer.feet):
        items += _foot(foot, float(press[k]), float(hangs[k]), answer.bolted, most, half, k, units)
    return Drawing(items=tuple(items), title="Force of every foot on the floor")


def _foot(
    foot: Foot, force: float, hang: float, bolted: bool, most: float, half: float, number: int, units: UnitSet
) -> list[Shape]:
    """A disc whose area goes with the force, and the force in words outside of the base."""
    at, words = (foot.x, foot.y), show(force, "force", units, 3)
    hint = f"{foot.name.capitalize()}: {words}"
    if hang > 0.0:
        hint += f", hangs {show(hang, 'deflection', units, 3)} in the air"
    size = LEAST + (MOST - LEAST) * (abs(force) / most) ** 0.5
    bad = hang > 0.0 or (force <= 0.0 and not bolted)
    role = "finding" if bad else "block"
    found: list[Shape] = [Circle(centre=at, radius=size, role=role, key=f"foot {number}", hint=hint)]
    if bad:
        for slope in (-1.0, 1.0):
            found.append(Line(start=(at[0] - size, at[1] - slope * size), end=(at[0] + size, at[1] + slope * size),
                              role="finding", hint=hint))  # fmt: skip
    left = foot.side == "left"
    beside = at[0] + (-1.0 if left else 1.0) * (half + MOST + 0.03)
    found.append(Text(at=(beside, at[1]), text=words, anchor="right" if left else "left", role="note"))
    return found
