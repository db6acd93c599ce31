"""How a described thing is declared: every field carries its quantity, allowed range and words.

The same declaration checks values, names the culprit, makes the entry form and the field tables of the documents.
"""

from __future__ import annotations

import math
import sys
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, get_args, get_origin, get_type_hints

import msgspec

from core.errors import BadEntry


@dataclass(frozen=True, slots=True)
class Spec:
    """What a field may hold and how people call it.

    Attributes:
        quantity: a name of `core.units` ("length").
        low, high: allowed range in SI, both ends included; None leaves a side open.
        label: the words beside the entry.
        help: one sentence for whoever hesitates.
    """

    quantity: str
    low: float | None
    high: float | None
    label: str
    help: str = ""


@cache
def specs(struct: type[msgspec.Struct]) -> dict[str, Spec]:
    """The `Spec` of every field of a struct type that carries one, by field name."""
    hints = get_type_hints(struct, include_extras=True)
    found = {name: _spec_in(hints[name]) for name in struct.__struct_fields__}
    return {name: spec for name, spec in found.items() if spec is not None}


def _spec_in(hint: Any) -> Spec | None:
    if get_origin(hint) is Annotated:
        for note in get_args(hint)[1:]:
            if isinstance(note, Spec):
                return note
    for inner in get_args(hint):
        found = _spec_in(inner) if get_origin(inner) is not None else None
        if found is not None:
            return found
    return None


@cache
def _ranges(struct: type[msgspec.Struct]) -> tuple[tuple[str, Spec, float, float], ...]:
    """Name, `Spec` and both ends of every field's range; an open end is the largest number there is."""
    most = sys.float_info.max
    return tuple(
        (name, spec, -most if spec.low is None else spec.low, most if spec.high is None else spec.high)
        for name, spec in specs(struct).items()
    )


class Described(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Base of everything in a machine description: checked when made, so that a bad one never exists."""

    def __post_init__(self) -> None:
        for name, spec, low, high in _ranges(type(self)):
            value = getattr(self, name)
            if value.__class__ is not float or not low <= value <= high:  # nearly all pass here, and quickly
                check_range(name, value, spec)
        self.check()

    def check(self) -> None:
        """Checks between fields; raises BadEntry."""


def check_range(name: str, value: Any, spec: Spec) -> None:
    """Raise BadEntry when a number (or one of the numbers of a nested value) is not finite or out of range."""
    if not isinstance(value, (int, float)) or isinstance(value, bool):
        return
    if not math.isfinite(value):
        raise BadEntry(name, str(value), "is not a number that can be used", _range_text(spec))
    if (spec.low is not None and value < spec.low) or (spec.high is not None and value > spec.high):
        raise BadEntry(name, f"{value:g}", "is out of range", _range_text(spec))


def _range_text(spec: Spec) -> str:
    unit = SI_UNITS.get(spec.quantity, "")
    low, high = spec.low, spec.high
    if low is not None and high is not None:
        return f"{low:g} to {high:g} {unit}".rstrip()
    if low is not None:
        return f"{low:g} {unit} or more".replace("  ", " ")
    return f"up to {high:g} {unit}".rstrip() if high is not None else "any finite number"


SI_UNITS = {
    "length": "m",
    "deflection": "m",
    "force": "N",
    "mass": "kg",
    "stiffness": "N/m",
    "rotational_stiffness": "N m/rad",
    "specific_stiffness": "N",
    "second_moment": "m4",
    "torsion_constant": "m4",
    "area": "m2",
    "temperature": "degC",
    "cutting_pressure": "Pa",
    "rotation_speed": "rev/s",
    "speed": "m/s",
    "linear_density": "kg/m",
    "angle": "rad",
    "power": "W",
    "torque": "N m",
    "acceleration": "m/s2",
    "inertia": "kg m2",
    "distance_run": "m",
}


class Band(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A figure known only within limits: low, likely and high in SI. The field that holds it says which quantity."""

    low: float
    likely: float
    high: float

    def check(self) -> None:
        for name in ("low", "likely", "high"):
            if not math.isfinite(getattr(self, name)):
                raise BadEntry(
                    name, str(getattr(self, name)), "is not a number that can be used", "a finite number"
                )
        if not 0.0 < self.low <= self.likely <= self.high:
            raise BadEntry(
                "low, likely, high",
                f"{self.low:g}, {self.likely:g}, {self.high:g}",
                "do not rise",
                "three figures above zero, each at least the one before",
            )
        if self.high > 1e15:
            raise BadEntry("high", f"{self.high:g}", "is out of range", "up to 1e15")


def band(low: float, likely: float, high: float) -> Band:
    """Short form of `Band`."""
    return Band(low=low, likely=likely, high=high)
