"""How the machine vibrates: modes, speeds to avoid, dynamic compliance of the tip and the depth of cut it bears."""

from core.vibration.answer import VibrationAnswer, find_vibration
from core.vibration.chatter import Stability
from core.vibration.mode import ModeAnswer
from core.vibration.receptance import Receptance
from core.vibration.reduced import Reduced, frequencies_at, reduce
from core.vibration.speeds import Avoid, SpeedMap, nearest_quiet

__all__ = [
    "Avoid",
    "ModeAnswer",
    "Receptance",
    "Reduced",
    "SpeedMap",
    "Stability",
    "VibrationAnswer",
    "find_vibration",
    "frequencies_at",
    "nearest_quiet",
    "reduce",
]
