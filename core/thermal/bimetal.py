"""Two bars of different metal side by side: how they bend when they grow by different amounts.

Screwed rails lie between two bounds: bonded (no slip at any screw), as here, and free (they slide), where nothing bends.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Bar:
    """One of the two: Young's modulus Pa, area m2, second moment about its own axis m4, expansion 1/K."""

    young: float
    area: float
    second_moment: float
    expansion: float


@dataclass(frozen=True, slots=True)
class Pair:
    """Two bars bonded along their length, `distance` m between their centroids.

    The beam may bow by itself too: `bow`, 1/(m K), positive when its ends turn towards the rail.

    Source: S. Timoshenko, Analysis of bi-metal thermostats, J. Opt. Soc. Am. 11 (1925) 233-255, written for any two
    sections: kappa = (a_b - a_r) dT e EA* / (E_r I_r + E_b I_b + EA* e^2), EA* = 1 / (1/E_r A_r + 1/E_b A_b).
    """

    beam: Bar
    rail: Bar
    distance: float
    bow: float = 0.0

    @property
    def together(self) -> float:
        """EA*: both axial stiffnesses in series, N."""
        beam, rail = self.beam, self.rail
        return 1.0 / (1.0 / (beam.young * beam.area) + 1.0 / (rail.young * rail.area))

    def curvature(self, change: Floats) -> Floats:
        """Curvature 1/m for changes of temperature (K), any shape; positive when the ends turn towards the rail."""
        own = sum(bar.young * bar.second_moment for bar in (self.beam, self.rail))
        resist = own + self.together * self.distance**2
        change = np.asarray(change, float)
        unlike = (self.beam.expansion - self.rail.expansion) * change
        alone = self.beam.young * self.beam.second_moment * self.bow * change
        return np.asarray((unlike * self.distance * self.together + alone) / resist)

    def force(self, change: Floats) -> Floats:
        """Pull in the rail, N, and as much push in the beam; what the bending relieves is taken off."""
        unlike = (self.beam.expansion - self.rail.expansion) * np.asarray(change, float)
        return np.asarray(self.together * (unlike - self.curvature(change) * self.distance))
