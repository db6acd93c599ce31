"""Variants: the same machine with listed entries that differ, and nothing else.

A change holds its value as plain JSON data, read with the entry's own type when the variant is applied, so that a list which
the description has outgrown is told of entry by entry instead of failing as a whole.
"""

from __future__ import annotations

import types
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING, Annotated, Any, Union, get_args, get_origin, get_type_hints

import msgspec

from core.errors import BadEntry
from core.fields import Band, Described, Spec

if TYPE_CHECKING:
    from core.machine.project import Project

ROOTS = ("machine", "straightness", "heat", "cases")
"""What a variant may change. Limits, names, prices and units are common to all, or nothing could be compared."""


class Change(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One entry that differs: its dotted path and its value as plain JSON data."""

    path: Annotated[str, Spec("count", None, None, "Entry")]
    value: Any = None

    def check(self) -> None:
        root, _, rest = self.path.partition(".")
        if root not in ROOTS or not rest:
            accepted = "an entry below " + ", ".join(ROOTS)
            raise BadEntry("path", repr(self.path), "is no entry that a variant may change", accepted)


class Variant(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A named machine to compare: the project's own with these changes."""

    name: Annotated[str, Spec("count", None, None, "Name")]
    note: Annotated[str, Spec("count", None, None, "Note")] = ""
    changes: Annotated[tuple[Change, ...], Spec("count", None, None, "Entries that differ")] = ()

    def check(self) -> None:
        if not self.name.strip():
            raise BadEntry("name", repr(self.name), "is empty", "a name for the variant")
        paths = sorted(change.path for change in self.changes)
        for first, second in pairwise(paths):
            if first == second:
                raise BadEntry("changes", first, "stands twice in one variant", "each entry once")


def check_variants(variants: tuple[Variant, ...]) -> None:
    """Raise BadEntry when two variants have one name."""
    names = [variant.name for variant in variants]
    for name in names:
        if names.count(name) > 1:
            raise BadEntry("variants", repr(name), "names two variants", "a name of its own for each variant")


@dataclass(frozen=True, slots=True)
class Fault:
    """A change that could not be applied: its row in the variant, its path, and what is wrong, without full stop."""

    row: int
    path: str
    problem: str


@dataclass(frozen=True, slots=True)
class Applied:
    """A variant's project: all changes that could be applied; `faults` are those that could not."""

    project: Project
    faults: tuple[Fault, ...]


def apply_variant(project: Project, variant: Variant) -> Applied:
    """The project with a variant's changes and without variants of its own; never raises for a change that does not fit."""
    base = msgspec.structs.replace(project, variants=())
    plain = _plain(base)
    changes = tuple(enumerate(variant.changes))
    whole = _with_changes(base, plain, [change for _, change in changes])
    if not isinstance(whole, str):
        return Applied(whole, ())
    faults = [
        Fault(row, change.path, said)
        for row, change in changes
        if isinstance(said := _with_changes(base, plain, [change]), str)
    ]
    # What is good by itself may still not fit together: taken one after the other, the later one is at fault.
    broken = {fault.row for fault in faults}
    kept: list[Change] = []
    applied: Project = base
    for row, change in changes:
        if row in broken:
            continue
        tried = _with_changes(base, plain, [*kept, change])
        if isinstance(tried, str):
            faults.append(Fault(row, change.path, tried))
        else:
            kept.append(change)
            applied = tried
    return Applied(applied, tuple(sorted(faults, key=lambda fault: fault.row)))


def _with_changes(base: Project, plain: dict[str, Any], changes: list[Change]) -> Project | str:
    """The changed project, or what is wrong."""
    content: Any = plain
    try:
        for change in changes:
            content = _set(content, change.path.split("."), change.value)
    except LookupError as error:
        return f"there is no such entry any more ({error.args[0]})"
    try:
        return msgspec.convert(content, type(base))
    except msgspec.ValidationError as error:
        cause = error.__cause__
        if isinstance(cause, BadEntry):
            return f"{cause.value} {cause.problem}; accepted: {cause.accepted}"
        return f"its value no longer fits: {error}"


def _set(content: Any, steps: list[str], value: Any) -> Any:
    """A copy of plain data with one entry replaced; LookupError when the path names nothing."""
    step, rest = steps[0], steps[1:]
    if isinstance(content, dict):
        if step not in content:
            raise LookupError(step)
        return {**content, step: _set(content[step], rest, value) if rest else value}
    if isinstance(content, list):
        if not step.isdigit() or int(step) >= len(content):
            raise LookupError(step)
        row = int(step)
        return [
            *content[:row], _set(content[row], rest, value) if rest else value, *content[row + 1 :],
        ]  # fmt: skip
    raise LookupError(step)


def differences(base: Project, other: Project) -> tuple[Change, ...]:
    """Every entry in which `other` differs, as changes of `base`.

    Sections, drives, motors, bands and lists are one entry each: half of one seldom fits the other half of another.
    """
    found: list[Change] = []
    for root in ROOTS:
        _differ(root, getattr(base, root), getattr(other, root), True, found)
    return tuple(found)


def _differ(path: str, one: Any, other: Any, opens: bool, found: list[Change]) -> None:
    if one == other:
        return
    if opens and isinstance(one, msgspec.Struct) and type(one) is type(other):
        inside = _inner(type(one))
        for name in one.__struct_fields__:
            _differ(f"{path}.{name}", getattr(one, name), getattr(other, name), inside[name], found)
    elif path == "cases" and len(one) == len(other):
        for row, (mine, theirs) in enumerate(zip(one, other, strict=True)):
            _differ(f"{path}.{row}", mine, theirs, True, found)
    elif path in ROOTS:
        raise BadEntry(path, f"{len(other)} rows", "cannot be compared", f"as many as here, {len(one)}")
    else:
        found.append(Change(path=path, value=_plain(other)))


@cache
def _inner(struct: type[msgspec.Struct]) -> dict[str, bool]:
    """Which fields of a struct open into entries of their own: those that always hold one type of struct, but no band."""
    hints = get_type_hints(struct, include_extras=True)
    return {name: _opens(hints[name]) for name in struct.__struct_fields__}


def _opens(hint: Any) -> bool:
    while get_origin(hint) is Annotated:
        hint = get_args(hint)[0]
    if get_origin(hint) in (Union, types.UnionType):
        return False
    return isinstance(hint, type) and issubclass(hint, msgspec.Struct) and hint is not Band


def entry_of(project: Project, path: str) -> str:
    """The path of the entry that a change would list for this path: the whole section for its wall."""
    steps = path.split(".")
    here: Any = project
    for count, step in enumerate(steps):
        if isinstance(here, tuple):
            if not step.isdigit() or int(step) >= len(here):
                raise BadEntry(path, step, "does not exist", f"rows 0 to {len(here) - 1}")
            here = here[int(step)]
            continue
        if not isinstance(here, msgspec.Struct) or step not in here.__struct_fields__:
            raise BadEntry(path, step, "does not exist", "a path of fields and row numbers")
        opens = _inner(type(here))[step] or (count == 0 and step == "cases")
        here = getattr(here, step)
        if not opens:
            return ".".join(steps[: count + 1])
    return path


def entries_of(project: Project) -> tuple[str, ...]:
    """The paths of all entries that a variant of this project could list, in the order of the description."""
    found: list[str] = []
    for root in ROOTS:
        if root == "cases":
            for row, case in enumerate(project.cases):
                _collect(f"{root}.{row}", case, found)
        else:
            _collect(root, getattr(project, root), found)
    return tuple(found)


def _collect(path: str, struct: msgspec.Struct, found: list[str]) -> None:
    for name, opens in _inner(type(struct)).items():
        if opens:
            _collect(f"{path}.{name}", getattr(struct, name), found)
        else:
            found.append(f"{path}.{name}")


def with_project(base: Project, variant: Variant, changed: Project, also: tuple[str, ...] = ()) -> Variant:
    """The variant that gives `changed`: entries listed before stay listed in their order even when they no longer differ, new
    differences follow. `also` lists entries that need not differ either.
    """
    new = {change.path: change for change in differences(base, changed)}
    faults = {fault.path for fault in apply_variant(base, variant).faults}
    kept = []
    for change in variant.changes:
        if change.path in faults and not any(path == change.path for path in also):
            kept.append(change)
        elif not any(path.startswith(change.path + ".") for path in new) and not _below(
            change.path, set(new)
        ):
            kept.append(Change(path=change.path, value=_value_at(changed, change.path, change.value)))
    listed = {change.path for change in kept}
    more = [change for path, change in new.items() if path not in listed and not _below(path, listed)]
    listed |= {change.path for change in more}
    more += [
        Change(path=path, value=_value_at(changed, path, None))
        for path in also
        if path not in listed and not _below(path, listed)
    ]
    return msgspec.structs.replace(variant, changes=(*kept, *more))


def _below(path: str, listed: set[str]) -> bool:
    return any(path.startswith(one + ".") for one in listed)


def _value_at(project: Project, path: str, otherwise: Any) -> Any:
    here: Any = project
    for step in path.split("."):
        try:
            here = here[int(step)] if isinstance(here, tuple) else getattr(here, step)
        except (AttributeError, IndexError, ValueError):
            return otherwise
    return _plain(here)


def _plain(value: Any) -> Any:
    """Plain JSON data: dictionaries, lists, texts, numbers, truth values and None."""
    return msgspec.json.decode(msgspec.json.encode(value))


def free_name(name: str, variants: tuple[Variant, ...]) -> str:
    """This name, or with a number behind it when a variant has it already."""
    taken = {variant.name for variant in variants}
    free, number = name, 2
    while free in taken:
        free = f"{name} {number}"
        number += 1
    return free
