"""What several answers of a study rest on, worked out when the first of them asks for it."""

from __future__ import annotations

from functools import cached_property

from core.footing import places
from core.guides.forces import CarriageForces, Chain, forces_of, own_springs, solve_chain
from core.model.setting import Setting
from core.plan import Plan


class Shared:
    """For one setting and its plan, which never change; so nothing here goes out of date.

    Every property raises Mechanism or NotTrustworthy as often as it is asked for.
    """

    def __init__(self, setting: Setting, plan: Plan) -> None:
        self._setting, self._plan = setting, plan

    @cached_property
    def chain(self) -> Chain:
        """Base, gantry, saddle and head in series at the places of the answer about the base."""
        y, x = places(self._setting)
        return solve_chain(self._setting, x, y, self._plan.under, self._plan.gantry)

    @cached_property
    def free_chain(self) -> Chain:
        """The same with the tool at the ends and in the middle of both axes, no guides held rigid."""
        y, x = places(self._setting)
        y = y[[0, y.size // 2, -1]]
        free = own_springs(self._setting)
        return self.chain.at_places(x, y) if free is self._setting else solve_chain(free, x, y)

    @cached_property
    def carriages(self) -> CarriageForces:
        """Forces on all carriages at these places."""
        return forces_of(self.free_chain, own_springs(self._setting))
