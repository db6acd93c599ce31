"""What was done to a project, so that it can be undone and redone; frozen, each change makes a new one.

Edits of one entry in a row (keystrokes) are one step until `seal` is called, as when the entry loses focus.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from core.commands.commands import Command
from core.machine.project import Project

MOST_STEPS = 1000
"""Older steps are forgotten; projects share what they have in common, so this costs little memory."""


@dataclass(frozen=True, slots=True)
class Step:
    """One step: the project on its other side, the words and the key under which further edits merge."""

    project: Project
    label: str
    merge_key: str | None


@dataclass(frozen=True, slots=True)
class History:
    """A project with its past and its undone future.

    Attributes:
        project: as it is now.
        saved: as it was last saved or opened; None for one that never was.
        done: steps to undo, oldest first, each holding the project before it.
        undone: steps to redo, the next one last, each holding the project after it.
        sealed: whether the next edit starts a new step even on the same entry.
    """

    project: Project
    saved: Project | None = None
    done: tuple[Step, ...] = ()
    undone: tuple[Step, ...] = ()
    sealed: bool = True

    def do(self, command: Command) -> History:
        """Apply a command. Raises BadEntry when it is not accepted; this history then stands as it is."""
        changed = command.apply(self.project)
        if changed == self.project:
            return self
        label, key = command.label(self.project), command.merge_key
        done = self.done
        if self._merges(key):
            # The step began further back; typed back to where it began, it is no step at all.
            if done[-1].project == changed:
                return replace(self, project=changed, done=done[:-1], undone=(), sealed=True)
        else:
            done = (*done, Step(self.project, label, key))[-MOST_STEPS:]
        return replace(self, project=changed, done=done, undone=(), sealed=False)

    def _merges(self, key: str | None) -> bool:
        return key is not None and not self.sealed and bool(self.done) and self.done[-1].merge_key == key

    def seal(self) -> History:
        """End the running step."""
        return self if self.sealed else replace(self, sealed=True)

    def undo(self) -> History:
        """One step back; this history itself when there is none."""
        if not self.done:
            return self
        step = self.done[-1]
        ahead = Step(self.project, step.label, step.merge_key)
        return replace(
            self, project=step.project, done=self.done[:-1], undone=(*self.undone, ahead), sealed=True
        )

    def redo(self) -> History:
        """One undone step forward again; this history itself when there is none."""
        if not self.undone:
            return self
        step = self.undone[-1]
        behind = Step(self.project, step.label, step.merge_key)
        return replace(
            self, project=step.project, done=(*self.done, behind), undone=self.undone[:-1], sealed=True
        )

    def mark_saved(self) -> History:
        """The project as it is now is on disk."""
        return replace(self, saved=self.project, sealed=True)

    @property
    def changed(self) -> bool:
        """Whether the project differs from what is on disk."""
        return self.saved is None or self.saved != self.project

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to undo."""
        return bool(self.done)

    @property
    def can_redo(self) -> bool:
        """Whether there is a step to redo."""
        return bool(self.undone)

    @property
    def undo_label(self) -> str:
        """What `undo` would take back, in words; empty when nothing."""
        return self.done[-1].label if self.done else ""

    @property
    def redo_label(self) -> str:
        """What `redo` would do again, in words; empty when nothing."""
        return self.undone[-1].label if self.undone else ""
