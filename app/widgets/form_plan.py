"""What entries a described thing needs, read from its type: one plan a field, no widgets.

A field's `Spec` (any object among its annotations with `quantity`, `low`, `high`, `label` and `help`) gives
words, unit and
range; the type itself says which kind of entry it is. Whole structs, kinds to choose from and rows of structs
nest.
"""

from __future__ import annotations

import enum
import math
import types
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

import msgspec

Kind = Literal["quantity", "count", "text", "switch", "choice", "flags", "band", "group", "union", "rows"]
BAND_FIELDS = ("low", "likely", "high")
UNTYPED = ("points",)
"""Quantities that nobody types, such as the points of an imported outline: their fields get no entry."""


@dataclass(frozen=True, slots=True)
class FieldPlan:
    """One field.

    Attributes:
        name: the struct's field name.
        kind: which entry it gets.
        label, help: words for the user.
        quantity: a name of `core.units` for figures.
        low, high: allowed range in SI; None leaves a side open.
        optional: None is allowed and means that the program derives it (or, for structs, that there is none).
        structs: the struct types of a group, union, band or rows.
        choices: (value, words) of a choice or of flags.
    """

    name: str
    kind: Kind
    label: str
    help: str = ""
    quantity: str = "ratio"
    low: float | None = None
    high: float | None = None
    optional: bool = False
    structs: tuple[type[msgspec.Struct], ...] = ()
    choices: tuple[tuple[Any, str], ...] = ()


def words_for(name: str) -> str:
    """A name of the code as words: "cold_formed" becomes "Cold formed"."""
    words = name.replace("_", " ").strip()
    words = words.replace("t slot", "T-slot")  # a letter's shape, not a word
    return words[:1].upper() + words[1:]


def kind_words(struct: type[msgspec.Struct]) -> str:
    """The words for a kind in a selector: from its tag."""
    tag = struct.__struct_config__.tag
    return words_for(str(tag) if tag is not None else struct.__name__)


def plan_of(struct: type[msgspec.Struct]) -> tuple[FieldPlan, ...]:
    """The plans of a struct's fields in order; raises TypeError naming a field that no entry fits."""
    hints = get_type_hints(struct, include_extras=True)
    return tuple(
        _plan_field(struct, name, hints[name])
        for name in struct.__struct_fields__
        if getattr(_unwrapped(hints[name])[1], "quantity", "") not in UNTYPED
    )


def _unwrapped(hint: Any) -> tuple[Any, Any]:
    """The bare type and the spec among its annotations, if any; looks inside optional ones too."""
    spec = None
    while get_origin(hint) is Annotated:
        hint, *notes = get_args(hint)
        spec = spec or next(
            (note for note in notes if hasattr(note, "label") and hasattr(note, "quantity")), None
        )
    return hint, spec


def _is_struct(hint: Any) -> bool:
    return isinstance(hint, type) and issubclass(hint, msgspec.Struct)


def _plan_field(struct: type[msgspec.Struct], name: str, hint: Any) -> FieldPlan:
    bare, spec = _unwrapped(hint)
    members = [bare]
    optional = False
    if get_origin(bare) in (Union, types.UnionType):
        members = []
        for member in get_args(bare):
            inner, inner_spec = _unwrapped(member)
            spec = spec or inner_spec
            optional = optional or inner is type(None)
            members += [] if inner is type(None) else [inner]
    common = {
        "name": name,
        "label": getattr(spec, "label", "") or words_for(name),
        "help": getattr(spec, "help", "") or "",
        "optional": optional,
    }
    kind = _kind(members, optional, spec)
    if kind is None:
        raise TypeError(f"The field {name} of {struct.__name__} has a type that no entry fits: {hint}.")
    quantity = getattr(spec, "quantity", "") or "ratio"
    low, high = getattr(spec, "low", None), getattr(spec, "high", None)
    return FieldPlan(**common, **kind, quantity=quantity, low=low, high=high)


def _kind(members: list[Any], optional: bool, spec: Any) -> dict[str, Any] | None:
    """Which entry serves these member types, with what it needs; None when none does."""
    first = members[0]
    if all(_is_struct(member) for member in members):
        if len(members) == 1 and tuple(first.__struct_fields__) == BAND_FIELDS:
            return {"kind": "band", "structs": (first,)}
        single = len(members) == 1 and not optional
        return {"kind": "group" if single else "union", "structs": tuple(members)}
    if len(members) == 2 and set(members) == {int, float}:
        first, members = float, [float]
    if len(members) > 1:
        return None
    if get_origin(first) is Literal:
        return {"kind": "choice", "choices": tuple((v, words_for(str(v))) for v in get_args(first))}
    if isinstance(first, type) and issubclass(first, enum.Enum):
        return {"kind": "choice", "choices": tuple((v, words_for(v.name.lower())) for v in first)}
    if get_origin(first) in (tuple, list):
        return _many_kind(get_args(first))
    plain = {float: "quantity", int: "count", str: "text", bool: "switch"}.get(first)
    return None if plain is None else {"kind": plain}


def _many_kind(arguments: tuple[Any, ...]) -> dict[str, Any] | None:
    """Rows of structs of one type or of a union of them, or flags out of a fixed list."""
    inner, _ = _unwrapped(arguments[0])
    if get_origin(inner) is Literal:
        return {"kind": "flags", "choices": tuple((v, words_for(str(v))) for v in get_args(inner))}
    members = get_args(inner) if get_origin(inner) in (Union, types.UnionType) else (inner,)
    bare = tuple(_unwrapped(member)[0] for member in members)
    return {"kind": "rows", "structs": bare} if all(_is_struct(member) for member in bare) else None


def fresh(struct: type[msgspec.Struct], old: Any = None) -> Any:
    """A struct to begin with when the user picks a kind: same-named fields are kept, then defaults, then mid-
    range.

    Raises ValueError or TypeError when not even that is a valid struct.
    """
    kept = {}
    if isinstance(old, msgspec.Struct):
        shared = set(struct.__struct_fields__) & set(old.__struct_fields__)
        kept = {name: getattr(old, name) for name in shared}
    first = _first_values(struct)
    try:
        made = struct(**{**first, **kept})
        return msgspec.convert(msgspec.to_builtins(made), struct)
    except (TypeError, ValueError):
        return struct(**first)


def _first_values(struct: type[msgspec.Struct]) -> Mapping[str, Any]:
    """Values for the fields that have no default."""
    values: dict[str, Any] = {}
    required = {field.name for field in msgspec.structs.fields(struct) if field.required}
    for plan in plan_of(struct) if required else ():
        if plan.name not in required or plan.optional:
            continue
        if plan.kind in ("group", "union"):
            values[plan.name] = fresh(plan.structs[0])
        elif plan.kind == "band":
            values[plan.name] = plan.structs[0](**dict.fromkeys(BAND_FIELDS, _middle(plan)))
        elif plan.kind == "choice":
            values[plan.name] = plan.choices[0][0]
        else:
            plain = {
                "quantity": _middle(plan),
                "count": round(_middle(plan)),
                "text": "",
                "switch": False,
                "rows": (),
                "flags": (),
            }
            values[plan.name] = plain[plan.kind]
    return values


def _middle(plan: FieldPlan) -> float:
    low, high = plan.low, plan.high
    if low is None or high is None or not (math.isfinite(low) and math.isfinite(high)):
        return low if low is not None and math.isfinite(low) else 0.0
    return math.sqrt(low * high) if low > 0.0 else (low + high) / 2.0
