"""General 3D frames, batch-first: members, springs, supports; one verified solver; places along members;
energy.

Everything is SI, in global axes unless a name says local.
"""

from core.frame.assemble import self_weight, stiffness, transform, weight_per_length
from core.frame.energy import Shares, interior_energy, member_energy, shares, spring_energy
from core.frame.frame import DOFS, Frame, FrameBuilder, Members, Springs
from core.frame.mechanism import Mechanism
from core.frame.solve import NotTrustworthy, Solution, flexibility, solve
from core.frame.station import Station, station_interior, station_matrix, station_uniform

__all__ = [
    "DOFS",
    "Frame",
    "FrameBuilder",
    "Mechanism",
    "Members",
    "NotTrustworthy",
    "Shares",
    "Solution",
    "Springs",
    "Station",
    "flexibility",
    "interior_energy",
    "member_energy",
    "self_weight",
    "shares",
    "solve",
    "spring_energy",
    "station_interior",
    "station_matrix",
    "station_uniform",
    "stiffness",
    "transform",
    "weight_per_length",
]
