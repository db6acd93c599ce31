"""The one family of errors that the engine raises on purpose.

Each names the entry that caused it and says what would be accepted, so that a screen or a command line can show it as it stands.
"""

from __future__ import annotations


class GantrywrightError(Exception):
    """Base of every error raised on purpose; its text is a full sentence for a person."""


class BadEntry(GantrywrightError, ValueError):
    """An entry that cannot be used.

    Also a ValueError, so that msgspec turns it into a located validation error while decoding a file.

    Args:
        where: the entry, as a dotted field path or a plain name ("beam.length").
        value: what was given, as text.
        problem: what is wrong with it, a clause without full stop ("is below the smallest length").
        accepted: what would be accepted, a clause without full stop ("0.05 m to 12 m").
    """

    def __init__(self, where: str, value: str, problem: str, accepted: str) -> None:
        self.where = where
        self.value = value
        self.problem = problem
        self.accepted = accepted
        super().__init__(f"{where}: {value} {problem}. Accepted: {accepted}.")


class NeedsAnalysis(GantrywrightError):
    """A section whose properties have yet to be found by section analysis, which takes seconds.

    Args:
        section: the section description, to be handed to the analysis.
    """

    def __init__(self, section: object, name: str) -> None:
        self.section = section
        super().__init__(
            f"The section {name} has not been analysed yet; its torsion constant and shear areas are missing."
        )
