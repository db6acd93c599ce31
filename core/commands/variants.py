"""What can be done to variants: an entry set in one, a change dropped, one made from a section or a file, one made the machine.

Rows are added, removed, moved and renamed by the commands for every list.
"""

from __future__ import annotations

from dataclasses import dataclass

import msgspec

from core.commands.commands import OwnStep, changed_at, check_index
from core.commands.words import entry_label, value_at
from core.errors import BadEntry
from core.fasteners import beam_of, with_beam
from core.machine.project import Project
from core.machine.variants import (
    ROOTS,
    Variant,
    apply_variant,
    differences,
    entry_of,
    free_name,
    with_project,
)
from core.sections import Section

BEAM = "machine.gantry.beam."


def _variant(project: Project, index: int) -> Variant:
    check_index("variants", index, project.variants)
    return project.variants[index]


def _name(project: Project, index: int) -> str:
    return project.variants[index].name if 0 <= index < len(project.variants) else ""


def _put(project: Project, index: int, variant: Variant) -> Project:
    return changed_at(project, f"variants.{index}", variant)


def _plus(project: Project, variant: Variant) -> Project:
    return changed_at(project, "variants", (*project.variants, variant))


@dataclass(frozen=True, slots=True)
class SetInVariant:
    """Sets an entry in one variant; the machine keeps its own. Other than the machine, the variant then lists that entry.

    With another beam the X rails move to the beam's slots where its T-nuts ask for it, which the variant lists too.
    """

    index: int
    path: str
    value: object

    @property
    def merge_key(self) -> str | None:
        return f"set {self.path} in variant {self.index}"

    def apply(self, project: Project) -> Project:
        try:
            return self._applied(project)
        except BadEntry as error:
            if error.where.startswith("variants"):
                raise
            where = f"variants.{self.index}.{error.where}"
            raise BadEntry(where, error.value, error.problem, error.accepted) from error

    def _applied(self, project: Project) -> Project:
        variant = _variant(project, self.index)
        if self.path.partition(".")[0] not in ROOTS:
            raise BadEntry(
                self.path, "this entry", "is common to all variants", "an entry below " + ", ".join(ROOTS)
            )
        entry = entry_of(project, self.path)
        bare = _without_faults(project, variant, entry)
        changed = apply_variant(project, bare).project
        changed = changed_at(changed, self.path, self.value)
        if self.path.startswith(BEAM):
            machine = with_beam(changed.machine, changed.machine.gantry.beam)
            changed = msgspec.structs.replace(changed, machine=machine)
        return _put(project, self.index, with_project(project, variant, changed, (entry,)))

    def label(self, project: Project) -> str:
        return f"Change {entry_label(project, self.path)} in {_name(project, self.index)}".rstrip()


def _without_faults(project: Project, variant: Variant, entry: str) -> Variant:
    """The variant without a change of this entry that does not fit, so that a good value can take its place."""
    faults = {fault.path for fault in apply_variant(project, variant).faults}
    kept = tuple(c for c in variant.changes if not (c.path in faults and c.path == entry))
    return msgspec.structs.replace(variant, changes=kept)


@dataclass(frozen=True, slots=True)
class DropChange(OwnStep):
    """Takes one change out of a variant, which then has what the machine has."""

    index: int
    path: str

    def apply(self, project: Project) -> Project:
        variant = _variant(project, self.index)
        kept = tuple(change for change in variant.changes if change.path != self.path)
        if len(kept) == len(variant.changes):
            listed = (
                ", ".join(change.path for change in variant.changes) or "none, for the variant lists none"
            )
            raise BadEntry(self.path, "this entry", f"is not listed in {variant.name}", listed)
        return _put(project, self.index, msgspec.structs.replace(variant, changes=kept))

    def label(self, project: Project) -> str:
        return f"Take {entry_label(project, self.path)} from the machine in {_name(project, self.index)}".rstrip()


@dataclass(frozen=True, slots=True)
class CopyVariant(OwnStep):
    """Adds a copy of a variant behind it."""

    index: int

    def apply(self, project: Project) -> Project:
        variant = _variant(project, self.index)
        copy = msgspec.structs.replace(variant, name=free_name(f"{variant.name} copy", project.variants))
        rows = project.variants
        return changed_at(project, "variants", (*rows[: self.index + 1], copy, *rows[self.index + 1 :]))

    def label(self, project: Project) -> str:
        return f"Copy variant {_name(project, self.index)}".rstrip()


@dataclass(frozen=True, slots=True)
class AddBeam(OwnStep):
    """Adds a variant with another section for the gantry beam, in its usual metal and with its usual fastening.

    The X rails move to the beam's slots where its T-nuts ask for it.
    """

    section: Section
    name: str
    turned: bool | None = None

    def apply(self, project: Project) -> Project:
        machine = with_beam(
            project.machine, beam_of(project.machine.gantry.beam, self.section, turned=self.turned)
        )
        changed = msgspec.structs.replace(project, machine=machine)
        name = free_name(self.name.strip() or "Beam", project.variants)
        empty = Variant(name=name)
        return _plus(project, with_project(project, empty, changed, (f"{BEAM}section",)))

    def label(self, project: Project) -> str:
        return f"Compare {self.name}".rstrip()


@dataclass(frozen=True, slots=True)
class UseBeam(OwnStep):
    """Gives the machine's own gantry beam another section, in its usual metal and with its usual fastening."""

    section: Section
    name: str
    turned: bool | None = None

    def apply(self, project: Project) -> Project:
        beam = beam_of(project.machine.gantry.beam, self.section, turned=self.turned)
        return changed_at(project, "machine", with_beam(project.machine, beam))

    def label(self, project: Project) -> str:
        return f"Use beam {self.name}".rstrip()


@dataclass(frozen=True, slots=True)
class TakeWhatDiffers(OwnStep):
    """Adds a variant that lists all in which another project (another file, or this one as last saved) differs from this."""

    other: Project
    name: str

    def apply(self, project: Project) -> Project:
        variant = Variant(
            name=free_name(self.name.strip() or "Variant", project.variants),
            changes=differences(project, self.other),
        )
        faults = apply_variant(project, variant).faults
        if faults:
            raise BadEntry(
                faults[0].path,
                "what differs",
                f"does not fit here: {faults[0].problem}",
                "a project like this",
            )
        return _plus(project, variant)

    def label(self, project: Project) -> str:
        return f"Compare with {self.name}".rstrip()


@dataclass(frozen=True, slots=True)
class UseVariant(OwnStep):
    """Makes a variant the machine; in its row the machine as it was is kept. All other variants stay the machines they were.

    A variant with a change that does not fit is refused: what it would become is not known.
    """

    index: int

    def apply(self, project: Project) -> Project:
        chosen = _variant(project, self.index)
        applied = apply_variant(project, chosen)
        if applied.faults:
            fault = applied.faults[0]
            where = f"variants.{self.index}.changes.{fault.row}.value"
            raise BadEntry(where, fault.path, f"does not fit: {fault.problem}", "a change that fits, or none")
        rows = []
        for number, variant in enumerate(project.variants):
            if number == self.index:
                before = free_name("Machine before", project.variants)
                rows.append(Variant(name=before, changes=differences(applied.project, project)))
                continue
            theirs = apply_variant(project, variant)
            faulty = {fault.row for fault in theirs.faults}
            broken = tuple(c for row, c in enumerate(variant.changes) if row in faulty)
            changes = differences(applied.project, theirs.project)
            known = {change.path for change in changes}
            rows.append(
                msgspec.structs.replace(
                    variant, changes=(*changes, *(c for c in broken if c.path not in known))
                )
            )
        return changed_at(applied.project, "variants", tuple(rows))

    def label(self, project: Project) -> str:
        return f"Use variant {_name(project, self.index)}".rstrip()


def value_in(project: Project, index: int, path: str) -> object:
    """What an entry stands at in a variant (in the machine when the index is -1). Raises BadEntry."""
    here = project if index < 0 else apply_variant(project, _variant(project, index)).project
    return value_at(here, path)
