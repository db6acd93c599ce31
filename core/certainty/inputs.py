"""What is known only within limits: every `Band` of the machine's description, found by walking its structs.

A band that a later field brings in comes along by itself; whether it moves an answer is found in `springs`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, get_args, get_type_hints

import msgspec

from core.errors import BadEntry
from core.fields import Band, band, specs
from core.machine.project import Machine


@dataclass(frozen=True, slots=True)
class UncertainInput:
    """One figure that is known only within limits.

    Attributes:
        path: its dotted path in the project ("machine.x_guides.normal_stiffness").
        label: the words of the part and of the entry ("X guides: Normal stiffness of a carriage").
        quantity: name in `core.units`.
        low, likely, high: SI.
        automatic: whether the entry is left empty and the figure is the program's own typical one.
    """

    path: str
    label: str
    quantity: str
    low: float
    likely: float
    high: float
    automatic: bool = False


def uncertain_inputs(machine: Machine) -> tuple[UncertainInput, ...]:
    """Every band of a machine whose ends differ, in the order of the description."""
    return tuple(i for i in _walk(machine, "machine", "") if i.low < i.high)


def with_values(machine: Machine, values: dict[str, float]) -> Machine:
    """The machine with the bands at some paths ("machine....") replaced by exact figures."""
    changed: Any = machine
    for path, value in values.items():
        _, _, rest = path.partition(".")
        changed = _replaced(changed, rest.split("."), band(value, value, value))
    return changed  # type: ignore[no-any-return]


def _replaced(struct: Any, steps: list[str], value: Band) -> Any:
    inner = value if len(steps) == 1 else _replaced(getattr(struct, steps[0]), steps[1:], value)
    return msgspec.structs.replace(struct, **{steps[0]: inner})


def _walk(struct: msgspec.Struct, path: str, part: str) -> Iterator[UncertainInput]:
    declared = specs(type(struct))
    for name in struct.__struct_fields__:
        value, spec, where = getattr(struct, name), declared.get(name), f"{path}.{name}"
        words = spec.label if spec is not None else name.replace("_", " ")
        found = value if isinstance(value, Band) else None
        if value is None and name in _optional_bands(type(struct)):
            found = _automatic(struct, name)
        if found is not None:
            quantity = spec.quantity if spec is not None else "count"
            label = f"{part}: {words}" if part else words
            yield UncertainInput(
                where, label, quantity, found.low, found.likely, found.high, not isinstance(value, Band)
            )
        elif isinstance(value, msgspec.Struct):
            yield from _walk(value, where, words)


@cache
def _optional_bands(struct: type[msgspec.Struct]) -> frozenset[str]:
    """Names of the fields that may hold a band or nothing."""
    hints = get_type_hints(struct)
    return frozenset(
        n for n, hint in hints.items() if Band in get_args(hint) and type(None) in get_args(hint)
    )


def _automatic(struct: msgspec.Struct, name: str) -> Band | None:
    """The band that an empty entry stands for: the property of the field's name without its last word.

    None when that band follows another entry of the struct, for then it is no input of its own.
    """
    short = name.rpartition("_")[0]
    found = getattr(struct, short, None)
    if not isinstance(found, Band):
        return None
    for other in _optional_bands(type(struct)) - {name}:
        own = getattr(struct, other) or getattr(struct, other.rpartition("_")[0], None)
        if not isinstance(own, Band):
            continue
        doubled = band(2.0 * own.low, 2.0 * own.likely, 2.0 * own.high)
        try:
            moved = getattr(msgspec.structs.replace(struct, **{other: doubled}), short)
        except BadEntry:
            continue
        if moved != found:
            return None
    return found
