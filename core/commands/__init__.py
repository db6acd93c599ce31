"""Every change that can be made to a project, as data, and the history that undoes and redoes them.

Nothing here knows of a window; a command makes a new frozen project and leaves the old one as it was.
"""

from __future__ import annotations

from core.commands.commands import (
    AddRow,
    Command,
    MoveRow,
    RemoveRow,
    ReplaceProject,
    SetEntries,
    SetEntry,
)
from core.commands.history import History
from core.commands.variants import (
    AddBeam,
    CopyVariant,
    DropChange,
    SetInVariant,
    TakeWhatDiffers,
    UseBeam,
    UseVariant,
    value_in,
)
from core.commands.words import entry_label, value_at

__all__ = [
    "AddBeam",
    "AddRow",
    "Command",
    "CopyVariant",
    "DropChange",
    "History",
    "MoveRow",
    "RemoveRow",
    "ReplaceProject",
    "SetEntries",
    "SetEntry",
    "SetInVariant",
    "TakeWhatDiffers",
    "UseBeam",
    "UseVariant",
    "entry_label",
    "value_at",
    "value_in",
]
