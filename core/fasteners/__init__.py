"""Rail holes, screw lengths, nuts and packs: hole by hole, from the machine description.

`rails` answers for every rail of a project, `joints` for everything else that is screwed, `totals` adds up what to buy.
"""

from __future__ import annotations

from core.fasteners.fitted import beam_of, with_beam
from core.fasteners.holes import Holes, place_holes
from core.fasteners.joints import FittedJoint, joints
from core.fasteners.rails import RailAnswer, rails
from core.fasteners.screws import Screw, screw, screws, standard_lengths
from core.fasteners.site import held
from core.fasteners.stack import Stack, clamp_stack
from core.fasteners.totals import FastenerTotal, totals

__all__ = [
    "FastenerTotal",
    "FittedJoint",
    "Holes",
    "RailAnswer",
    "Screw",
    "Stack",
    "beam_of",
    "clamp_stack",
    "held",
    "joints",
    "place_holes",
    "rails",
    "screw",
    "screws",
    "standard_lengths",
    "totals",
    "with_beam",
]
