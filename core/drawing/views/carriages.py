"""The gantry from above and, below it, from the front, with every carriage marked and the tightest one named."""

from __future__ import annotations

from dataclasses import dataclass

from core.drawing.primitives import Circle, Drawing, Polygon, Shape, Text
from core.drawing.views.boxes import gantry_boxes, head_boxes, seen
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
    above = _view(project, lay, "y")
    front = Drawing(_view(project, lay, "z"))
    box, low = Drawing(above).bounds(), front.bounds()
    assert box is not None
    assert low is not None
    size = low.width
    drop = low.top - box.bottom + 0.09 * size
    items: list[Shape] = [*above, *front.moved(0.0, -drop).items]
    items.append(Text(at=(box.left, box.top + 0.035 * size), text="From above", role="note"))
    items.append(Text(at=(box.left, low.top - drop + 0.035 * size), text="From the front", role="note"))
    radius = 0.007 * size
    for k, carriage in enumerate(answer.carriages):
        x, y, z = carriage.point
        # Y carriages are told apart from above, those of X and Z from the front.
        at = (x, y) if carriage.axis == "Y" else (x, z - drop)
        hint = _hint(answer, k, units)
        if k == answer.tightest:
            items.append(_diamond(at, 2.4 * radius, carriage.name, hint))
            name = f"{carriage.name}: {100 * answer.use[k]:.0f} % of what is allowed"
            up = 0.045 * size if carriage.axis == "Y" else -0.045 * size
            items.append(Text(at=(x, at[1] + up), text=name, anchor="centre", role="finding"))
        else:
            items.append(Circle(centre=at, radius=radius, role="screw", key=carriage.name, hint=hint))
    return Drawing(items=tuple(items), title="Carriages")


def _view(project: Project, lay: Layout, up: str) -> tuple[Shape, ...]:
    boxes = [*gantry_boxes(project, lay, _Middle()), *head_boxes(project, lay, _Middle())]
    return tuple(seen(iter(boxes), "x", up))


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
