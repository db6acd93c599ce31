"""Joints of the frame other than the rails: patterns, clamp stacks, screws and how many of each."""

from __future__ import annotations

from core.fasteners.joints.fitted import FittedJoint, fit, joints
from core.fasteners.joints.layers import JointStack, Layer, Partner
from core.fasteners.joints.pattern import Pattern

__all__ = ["FittedJoint", "JointStack", "Layer", "Partner", "Pattern", "fit", "joints"]
