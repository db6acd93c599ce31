"""The gantry from above and, below it, the saddle from the front and larger: every carriage marked, the tightest named."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from core.drawing.primitives import Circle, Drawing, Polygon, Shape, Text
from core.drawing.views.boxes import Box, gantry_boxes, head_boxes, seen
from core.guides import GuidesAnswer
from core.machine.layout import Layout
from core.machine.project import Project
from core.units import UnitSet, show


@dataclass(frozen=True, slots=True)
class _Middle:
    x: float = 0.0
    y: float = 0.0


def carriages_drawing(project: Project, lay: Layout, answer: GuidesAnswer, units: UnitSet) -> Drawing:
    """Both views with the tool in the middle; a carriage's key is its name, its hint its figures."""
    above = seen(gantry_boxes(project, lay, _Middle()), "x", "y")
    above += seen(head_boxes(project, lay, _Middle()), "x", "y")
    box = Drawing(tuple(above)).bounds()
    assert box is not None
    size = box.width
    near = 0.8 * project.machine.saddle.width
    factor = max(1.0, 0.27 * size / near)
    front = Drawing(tuple(seen(_enlarged(project, lay, near, factor), "x", "z")))
    low = front.bounds()
    assert low is not None
    drop = low.top - box.bottom + 0.13 * size
    items: list[Shape] = [*above, *front.moved(0.0, -drop).items]
    items.append(Text(at=(box.left, box.top + 0.04 * size), text="From above", role="note"))
    items.append(Text(at=(box.left, low.top - drop + 0.055 * size), text="Saddle, larger", role="note"))
    radius = 0.009 * size
    for k, carriage in enumerate(answer.carriages):
        x, y, z = carriage.point
        # Y carriages are told apart from above, those of X and Z from the front.
        at = (x, y) if carriage.axis == "Y" else (x * factor, z * factor - drop)
        hint = _hint(answer, k, units)
        if k == answer.tightest:
            items.append(_diamond(at, 3.0 * radius, carriage.name, hint))
            items.append(_label(answer, at, low.top - drop, size))
        items.append(Circle(centre=at, radius=radius, role="screw", key=carriage.name, hint=hint))
    return Drawing(items=tuple(items), title="Carriages")


def _label(answer: GuidesAnswer, at: tuple[float, float], top: float, size: float) -> Text:
    carriage = answer.carriages[answer.tightest]
    words = f"Tightest: {carriage.name}"
    if carriage.axis != "Y":
        return Text(at=(0.0, top + 0.055 * size), text=words, anchor="centre", role="finding")
    side = "left" if at[0] < 0.0 else "right"
    inwards = 0.045 * size if side == "left" else -0.045 * size
    away = 0.05 * size if "front" not in carriage.name else -0.06 * size
    return Text(at=(at[0] + inwards, at[1] + away), text=words, anchor=side, role="finding")  # type: ignore[arg-type]


def _enlarged(project: Project, lay: Layout, near: float, factor: float) -> Iterator[Box]:
    """Beam, X rails, saddle and head within `near` (m) of the middle, seen larger."""
    beam = (box for box in gantry_boxes(project, lay, _Middle()) if box.key in ("beam", "x_rail"))
    for box in (*beam, *head_boxes(project, lay, _Middle())):
        x = tuple(factor * min(max(v, -near), near) for v in box.x)
        z = tuple(factor * v for v in box.z)
        yield replace(box, x=(x[0], x[1]), z=(z[0], z[1]))


def _diamond(at: tuple[float, float], size: float, key: str, hint: str) -> Polygon:
    x, y = at
    outline = ((x - size, y), (x, y - size), (x + size, y), (x, y + size))
    return Polygon(outline=outline, role="finding", key=key, hint=hint)


def _hint(answer: GuidesAnswer, k: int, units: UnitSet) -> str:
    return (
        f"{answer.carriages[k].name}: largest load {show(float(answer.largest[k]), 'force', units)} "
        f"({answer.largest_state[k]}), static safety {answer.safety[k]:.3g}, "
        f"life {show(float(answer.life[k]), 'distance_run', units)}"
    )
