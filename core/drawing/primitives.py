"""The display list: frozen shapes in metres (x to the right, y up), each with a role and never with a colour.

A view of the machine is made here as a `Drawing`; painting it, on screen or into a file, is somebody else's
task.
Sizes of letters, arrowheads and line widths belong to the painter, so a drawing stays legible at every scale.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from core.errors import BadEntry

Point = tuple[float, float]
Anchor = Literal["left", "centre", "right"]

ROLES = frozenset(
    {
        "beam",
        "steel",
        "aluminium",
        "rail",
        "block",
        "plate",
        "table",
        "head",
        "sheet",
        "floor",
        "slot",
        "screw",
        "hole",
        "hidden",
        "axis",
        "dimension",
        "note",
        "deflected",
        "load",
        "finding",
        "grip",
    }
)
"""What a shape stands for. The painter maps each to line, width, dash and filling."""


@dataclass(frozen=True, slots=True)
class Bounds:
    """Smallest upright rectangle around something, in metres."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom

    def joined(self, other: Bounds) -> Bounds:
        """The rectangle around both."""
        return Bounds(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )


def _around(points: Iterable[Point]) -> Bounds:
    xs, ys = zip(*points, strict=True)
    return Bounds(min(xs), min(ys), max(xs), max(ys))


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """What every shape carries.

    Attributes:
        role: one of `ROLES`.
        key: name of the thing it shows ("beam", "load"), so that a click or a drag can be told apart; may be
            empty.
        hint: a sentence shown when the pointer rests on it; may be empty.
    """

    role: str
    key: str = ""
    hint: str = ""

    def __post_init__(self) -> None:
        if self.role not in ROLES:
            raise BadEntry("role", repr(self.role), "is not a role of the drawing", ", ".join(sorted(ROLES)))
        for x, y in self.points():
            if not (math.isfinite(x) and math.isfinite(y)):
                where = self.key or self.role
                raise BadEntry(
                    where, f"({x}, {y})", "is not a place that can be drawn", "finite coordinates in metres"
                )

    def points(self) -> tuple[Point, ...]:
        """Every point that the shape reaches, in metres."""
        raise NotImplementedError

    def bounds(self) -> Bounds:
        """Smallest rectangle around the shape, in metres; letters are not counted."""
        return _around(self.points())

    def moved(self, dx: float, dy: float) -> Shape:
        """The same shape shifted by (dx, dy) metres."""
        raise NotImplementedError


def _shift(points: tuple[Point, ...], dx: float, dy: float) -> tuple[Point, ...]:
    return tuple((x + dx, y + dy) for x, y in points)


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(Shape):
    """A straight line from start to end, metres."""

    start: Point
    end: Point

    def points(self) -> tuple[Point, ...]:
        return (self.start, self.end)

    def moved(self, dx: float, dy: float) -> Line:
        start, end = _shift((self.start, self.end), dx, dy)
        return replace(self, start=start, end=end)


@dataclass(frozen=True, slots=True, kw_only=True)
class Polyline(Shape):
    """A chain of at least two vertices, open, metres."""

    vertices: tuple[Point, ...]

    def __post_init__(self) -> None:
        _enough(self.vertices, 2, self.role)
        Shape.__post_init__(self)

    def points(self) -> tuple[Point, ...]:
        return self.vertices

    def moved(self, dx: float, dy: float) -> Polyline:
        return replace(self, vertices=_shift(self.vertices, dx, dy))


@dataclass(frozen=True, slots=True, kw_only=True)
class Polygon(Shape):
    """A filled outline of at least three vertices with any number of holes in it, metres; each closes by
    itself.
    """

    outline: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...] = ()

    def __post_init__(self) -> None:
        for ring in (self.outline, *self.holes):
            _enough(ring, 3, self.role)
        Shape.__post_init__(self)

    def points(self) -> tuple[Point, ...]:
        return self.outline + tuple(point for hole in self.holes for point in hole)

    def moved(self, dx: float, dy: float) -> Polygon:
        return replace(
            self,
            outline=_shift(self.outline, dx, dy),
            holes=tuple(_shift(hole, dx, dy) for hole in self.holes),
        )

    def area(self) -> float:
        """Filled area, m2, holes taken off."""
        return _ring_area(self.outline) - sum(_ring_area(hole) for hole in self.holes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle(Shape):
    """A circle by centre and radius, metres; filled when its role is."""

    centre: Point
    radius: float

    def points(self) -> tuple[Point, ...]:
        (x, y), r = self.centre, self.radius
        return ((x - r, y), (x + r, y), (x, y - r), (x, y + r))

    def moved(self, dx: float, dy: float) -> Circle:
        return replace(self, centre=(self.centre[0] + dx, self.centre[1] + dy))


@dataclass(frozen=True, slots=True, kw_only=True)
class Text(Shape):
    """A line of letters at a place in metres; its size is the painter's. `turn` is in radians,
    anticlockwise.
    """

    at: Point
    text: str
    anchor: Anchor = "left"
    turn: float = 0.0

    def points(self) -> tuple[Point, ...]:
        return (self.at,)

    def moved(self, dx: float, dy: float) -> Text:
        return replace(self, at=(self.at[0] + dx, self.at[1] + dy))


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrow(Shape):
    """An arrow with its head at `end`, metres, with an optional label beside its tail."""

    start: Point
    end: Point
    label: str = ""

    def points(self) -> tuple[Point, ...]:
        return (self.start, self.end)

    def moved(self, dx: float, dy: float) -> Arrow:
        start, end = _shift((self.start, self.end), dx, dy)
        return replace(self, start=start, end=end)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension(Shape):
    """A dimension between two points, metres.

    `offset` (m) moves the dimension line to the left of the direction from start to end (negative: to the
    right).
    The label is ready text, because only the caller knows the user's units.
    """

    start: Point
    end: Point
    offset: float
    label: str
    role: str = "dimension"

    def line(self) -> tuple[Point, Point]:
        """Both ends of the dimension line, metres."""
        (x0, y0), (x1, y1) = self.start, self.end
        length = math.hypot(x1 - x0, y1 - y0)
        if length == 0.0:
            nx, ny = 0.0, 1.0
        else:
            nx, ny = -(y1 - y0) / length, (x1 - x0) / length
        ox, oy = nx * self.offset, ny * self.offset
        return (x0 + ox, y0 + oy), (x1 + ox, y1 + oy)

    def points(self) -> tuple[Point, ...]:
        return (self.start, self.end, *self.line())

    def moved(self, dx: float, dy: float) -> Dimension:
        start, end = _shift((self.start, self.end), dx, dy)
        return replace(self, start=start, end=end)


@dataclass(frozen=True, slots=True)
class Drawing:
    """A display list in painting order: later shapes lie on top.

    Attributes:
        items: the shapes.
        title: what the view shows ("Front"), for a screen reader and a file's title.
    """

    items: tuple[Shape, ...] = ()
    title: str = ""

    def __iter__(self) -> Iterator[Shape]:
        return iter(self.items)

    def bounds(self) -> Bounds | None:
        """Smallest rectangle around all shapes, metres; None for an empty drawing."""
        total: Bounds | None = None
        for item in self.items:
            box = item.bounds()
            total = box if total is None else total.joined(box)
        return total

    def moved(self, dx: float, dy: float) -> Drawing:
        """The whole drawing shifted by (dx, dy) metres."""
        return replace(self, items=tuple(item.moved(dx, dy) for item in self.items))

    def with_items(self, more: Iterable[Shape]) -> Drawing:
        """This drawing with more shapes on top."""
        return replace(self, items=self.items + tuple(more))

    def of_key(self, key: str) -> tuple[Shape, ...]:
        """Every shape that stands for the thing named `key`."""
        return tuple(item for item in self.items if item.key == key)


def rectangle(
    left: float, bottom: float, right: float, top: float, role: str, key: str = "", hint: str = ""
) -> Polygon:
    """An upright rectangle as a polygon, metres."""
    outline = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Polygon(outline=outline, role=role, key=key, hint=hint)


def _ring_area(ring: tuple[Point, ...]) -> float:
    twice = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True))
    return abs(twice) / 2.0


def _enough(ring: tuple[Point, ...], least: int, role: str) -> None:
    if len(ring) < least:
        raise BadEntry(role, f"a shape of {len(ring)} points", "cannot be drawn", f"at least {least} points")
