"""Strength of joints: tightening torque, preload, what the partners bear, margins against slipping and opening."""

from __future__ import annotations

from core.fasteners.strength.find import (
    JointsAnswer,
    JointStrength,
    find_joints,
    find_torque,
    preload_at,
    strength_of,
)
from core.fasteners.strength.margins import Margin
from core.fasteners.strength.partners import Limit, partner_limits
from core.fasteners.strength.preload import Preload, allowed_preload, torque_factor

__all__ = [
    "JointStrength",
    "JointsAnswer",
    "Limit",
    "Margin",
    "Preload",
    "allowed_preload",
    "find_joints",
    "find_torque",
    "partner_limits",
    "preload_at",
    "strength_of",
    "torque_factor",
]
