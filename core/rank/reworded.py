"""A ranking in other units: its figures stand, its sentences are written anew."""

from __future__ import annotations

from dataclasses import replace

import msgspec

from core.machine.project import Display
from core.rank.answer import RankAnswer
from core.rank.fit import Trial
from core.sections import PropertyBook


def reworded(answer: RankAnswer, display: Display, book: PropertyBook) -> RankAnswer:
    """The same ranking of the same machine, with problems and remarks in the units of this display; nothing is solved.

    Errors: NeedsAnalysis when a section other than the beam's has no figures in this book.
    """
    project = msgspec.structs.replace(answer.project, display=display)
    told = Trial(project, book).all(answer.candidates)
    return replace(
        answer,
        project=project,
        problems=tuple(one.problem for one in told),
        remarks=tuple(one.remark for one in told),
    )
