"""A joint drawn small: its clamp stack cut through one screw, and the places of its screws seen from their heads."""

from __future__ import annotations

from collections.abc import Iterator

from core.drawing.primitives import Circle, Dimension, Drawing, Line, Polyline, Shape, Text, rectangle
from core.drawing.views.boxes import stuff_role
from core.fasteners.joints import FittedJoint, JointStack, Layer
from core.fasteners.joints.tables import hardware
from core.fasteners.screws import Screw
from core.units import UnitSet, show

BOTTOM = 0.003  # m of metal drawn under a blind hole


def stack_drawing(joint: FittedJoint, units: UnitSet) -> Drawing:
    """Layers from the head down, the screw to scale, thread engaged and room left beyond its end; empty when welded."""
    stack, size = joint.stack, joint.size
    if stack is None:
        return Drawing(title=joint.label)
    length = stack.shortest if stack.length is None else stack.length
    wide = 1.6 * size.head_diameter
    items: list[Shape] = []
    labels: list[tuple[float, str]] = []
    level = 0.0
    for layer in stack.layers:
        items += _layer(layer, level, size, wide, units)
        labels.append((level - layer.thickness / 2.0, _words(layer, units)))
        level -= layer.thickness
    if stack.layers[-1].kind == "thread":
        engaged = show(stack.engagement, "length", units)
        labels.append((-length + min(stack.engagement, 0.1 * length), f"thread engaged {engaged}"))
    if stack.free is not None:
        end = -(length + stack.free)
        words = "Bottom of the slot, the hole or the room behind the wall"
        if end - BOTTOM > -1.7 * length:  # the far wall of a tube is too far off to be drawn
            items.append(rectangle(-wide, end - BOTTOM, wide, end, "hidden", "bottom", words))
        labels.append((max(end, -1.05 * length), f"{show(stack.free, 'length', units)} left beyond its end"))
    items += _screw(stack, size, length)
    label = f"screw {show(length, 'length', units)}" if stack.length is not None else "no length fits"
    items.append(Dimension(start=(-wide, -length), end=(-wide, 0.0), offset=0.5 * wide, label=label))
    items += _labels(labels, wide, (size.head_height, min(level, -length) - BOTTOM))
    return Drawing(items=tuple(items), title=f"{joint.label}, clamp stack")


def _words(layer: Layer, units: UnitSet) -> str:
    thick = show(layer.thickness, "length", units)
    return f"{layer.what} {thick}" + (", passed" if layer.kind == "passed" else "")


def _labels(labels: list[tuple[float, str]], wide: float, span: tuple[float, float]) -> Iterator[Shape]:
    """Words beside the stack at even distances, each with a line to its part."""
    room = 0.25 * (span[0] - span[1])
    top, bottom = span[0] + room, span[1] - room
    step = (top - bottom) / len(labels)
    for k, (at, words) in enumerate(labels):
        level = top - (k + 0.5) * step
        elbow = 1.45 * wide
        yield Line(start=(wide, at), end=(elbow, level), role="dimension")
        yield Text(at=(elbow + 0.03 * (top - bottom), level), text=words, role="note")
    yield Text(at=(elbow + 0.95 * (top - bottom), top), text="", role="note")  # room for the words


def _role(layer: Layer) -> str:
    if layer.kind in ("washer", "nut"):
        return "block"
    if layer.what in ("T-nut", "rivet nut", "tapped bar"):
        return "block"
    return "steel" if layer.metal == "steel" else stuff_role(layer.metal)


def _layer(layer: Layer, top: float, size: Screw, wide: float, units: UnitSet) -> Iterator[Shape]:
    """Both halves of one part, beside the screw's hole, with its words."""
    ware = hardware()[size.thread]
    narrow = {"washer": ware.washer_outer / 2.0, "nut": 0.58 * ware.nut_across}.get(layer.kind, wide)
    if layer.what in ("T-nut", "rivet nut"):
        narrow = 1.1 * size.head_diameter
    hole = size.hole / 2.0 if layer.kind in ("washer", "clamped", "passed") else size.diameter / 2.0
    low, thick = top - layer.thickness, show(layer.thickness, "length", units)
    hint = f"{layer.what[:1].upper()}{layer.what[1:]}, {thick}"
    for sign in (-1.0, 1.0):
        left, right = sorted((sign * hole, sign * narrow))
        yield rectangle(left, low, right, top, _role(layer), layer.kind, hint)


def _screw(stack: JointStack, size: Screw, length: float) -> Iterator[Shape]:
    """Head, shank and the turns that hold."""
    r = size.diameter / 2.0
    head = size.head_diameter / 2.0
    yield rectangle(-head, 0.0, head, size.head_height, "screw", "screw", "Head, ISO 4762")
    yield rectangle(
        -size.key / 2.0, 0.5 * size.head_height, size.key / 2.0, size.head_height, "hole", "screw"
    )
    yield rectangle(
        -r, -length, r, 0.0, "screw", "screw", "The screw; lengths run from the underside of its head"
    )
    start = stack.clamped + stack.passed
    if stack.layers[-1].kind == "nut":
        start = sum(layer.thickness for layer in stack.layers) - stack.thread
    turns = max(1, round(stack.engagement / size.pitch))
    step = stack.engagement / turns
    for sign in (-1.0, 1.0):
        points = []
        for k in range(turns):
            top = -(start + k * step)
            points += [(sign * r, top), (sign * 0.8 * r, top - step / 2.0)]
        points.append((sign * r, -(start + stack.engagement)))
        yield Polyline(vertices=tuple(points), role="load", key="thread", hint="Thread engaged")
    yield Line(start=(0.0, 1.4 * size.head_height), end=(0.0, -length - 0.3 * size.head_height), role="axis")


def pattern_drawing(joint: FittedJoint, radius: float, units: UnitSet) -> Drawing:
    """The face with every screw, and round each the zone that it presses together, m; a weld's outline when welded."""
    if joint.pattern is None:
        a, b = joint.site.box
        corners = ((-a / 2, -b / 2), (a / 2, -b / 2), (a / 2, b / 2), (-a / 2, b / 2), (-a / 2, -b / 2))
        shapes: list[Shape] = [rectangle(-a / 2, -b / 2, a / 2, b / 2, "plate", "face", "The end of the bar")]
        shapes.append(
            Polyline(vertices=corners, role="load", key="weld", hint="Fillet weld, all round unless entered")
        )
        return Drawing(items=(*shapes, *_around((a, b), units)), title=f"{joint.label}, weld")
    pattern = joint.pattern
    a, b = pattern.face
    items: list[Shape] = [
        rectangle(-a / 2, -b / 2, a / 2, b / 2, "plate", "face", "The face where the parts meet")
    ]
    for number, (u, v) in enumerate(pattern.places, start=1):
        hint = f"Screw {number}: {show(u, 'length', units)} along, {show(v, 'length', units)} across from the middle"
        if radius:
            items.append(
                Circle(
                    centre=(u, v), radius=radius, role="hidden", hint="Zone that the screw presses together"
                )
            )
        items.append(
            Circle(
                centre=(u, v),
                radius=joint.size.head_diameter / 2.0,
                role="screw",
                key=f"screw {number}",
                hint=hint,
            )
        )
        items.append(Circle(centre=(u, v), radius=joint.size.key / 2.0, role="hole", hint=hint))
    items += _around((a, b), units)
    u, v = pattern.places[-1]
    if pattern.along > 1:
        u = (pattern.along // 2 - (pattern.along - 1) / 2.0) * pattern.pitch_along
        items.append(Dimension(start=(u - pattern.pitch_along, v), end=(u, v), offset=b / 2.0 - v + 0.08 * max(a, b),
                               label=show(pattern.pitch_along, "length", units)))  # fmt: skip
    u = pattern.places[-1][0]
    if pattern.across > 1:
        items.append(Dimension(start=(u, v), end=(u, v - pattern.pitch_across), offset=a / 2.0 - u + 0.08 * max(a, b),
                               label=show(pattern.pitch_across, "length", units)))  # fmt: skip
    return Drawing(items=tuple(items), title=f"{joint.label}, screws")


def _around(face: tuple[float, float], units: UnitSet) -> Iterator[Shape]:
    a, b = face
    out = 0.1 * max(a, b)
    yield Dimension(start=(-a / 2, -b / 2), end=(a / 2, -b / 2), offset=-out, label=show(a, "length", units))
    yield Dimension(start=(-a / 2, -b / 2), end=(-a / 2, b / 2), offset=out, label=show(b, "length", units))
