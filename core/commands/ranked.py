"""What can be done with a ranked beam: put it into the machine, or keep it as a variant; one step each."""

from __future__ import annotations

from core.commands.commands import Command, SetEntries
from core.commands.variants import AddBeam, UseBeam
from core.rank import HERE, OWN, Candidate


def use_candidate(candidate: Candidate) -> Command | None:
    """Puts the beam into the machine; None for the beam that is there already.

    A beam of the catalogue comes in its usual metal and fastening, as it was ranked; a variant's beam as the variant has it.
    """
    if candidate.key == OWN:
        return None
    beam = candidate.beam
    if candidate.family == HERE:
        edits = (("machine.gantry.beam", beam), ("machine.x_guides.rail_spacing", candidate.rail_spacing))
        return SetEntries(edits, f"Use the beam of {candidate.name}")
    return UseBeam(beam.section, candidate.name, beam.turned)


def keep_candidate(candidate: Candidate) -> Command | None:
    """Adds a variant with this beam; None for a beam that the project holds already."""
    if candidate.family == HERE:
        return None
    return AddBeam(candidate.beam.section, candidate.name, candidate.beam.turned)
