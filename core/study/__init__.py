"""The second stage: all that is answered after statics, fasteners and parts have been shown."""

from core.study.make import make_study
from core.study.results import Study

__all__ = ["Study", "make_study"]
