"""What is said beside entries and in the verdict: what was refused, what cannot be worked with, what an answer finds."""

from __future__ import annotations

from app.answers import Answer
from app.shell import State, VerdictBand
from app.widgets.remark import Remark
from core.commands import entry_label
from core.findings import Finding
from core.machine.project import Project

STANDS = "The answers shown are those of the last good state."


class Remarks:
    """Sentences by dotted path, from the entry that was typed last and from the newest answer."""

    def __init__(self) -> None:
        self._refused: dict[str, str] = {}
        self._unworkable: dict[str, str] = {}

    def refuse(self, path: str, sentence: str) -> None:
        """An edit was not taken."""
        self._refused = {path: sentence}

    def forgive(self) -> bool:
        """An edit was taken; whether one before it was not."""
        refused, self._refused = self._refused, {}
        return bool(refused)

    def cannot_work(self, path: str, sentence: str) -> None:
        """The project as it stands gives no answer because of this entry."""
        self._unworkable = {path: sentence}

    def works(self) -> None:
        """There is an answer, or another project to ask about."""
        self._unworkable = {}

    def by_path(self, answer: Answer | None) -> dict[str, str]:
        """What stands beside each entry."""
        return {**_findings(answer), **self._unworkable, **self._refused}

    def say(self, band: VerdictBand, project: Project, answer: Answer | None) -> bool:
        """Say the verdict; False when there is something else to say first."""
        for path, sentence in (self._refused or self._unworkable).items():
            words = entry_label(project, path)
            band.say("problem", f"{words[:1].upper()}{words[1:]}: {sentence} {STANDS}")
            return False
        if answer is None:
            band.say("wait", "The first answers are being worked out.")
            return False
        verdict = answer.verdict
        severe = sum(finding.severity == "warning" for finding in answer.findings)
        state: State = ("warning" if severe else "good") if verdict.good else "bad"
        band.say(state, verdict.figures if state == "good" and verdict.figures else verdict.text)
        notes = sum(finding.severity == "note" for finding in answer.findings)
        band.count_findings(len(answer.findings) - notes, notes)
        return True


def _findings(answer: Answer | None) -> dict[str, str]:
    """Findings that concern an entry, by its path; limits of the load cases that are passed are told by the verdict."""
    found: dict[str, list[Finding]] = {}
    for finding in answer.findings if answer is not None else ():
        told = finding.severity == "warning" or finding.where.startswith("machine.")
        if told and finding.severity != "note":
            found.setdefault(finding.where, []).append(finding)
    return {
        path: Remark([f.message for f in own], any(f.severity == "limit" for f in own))
        for path, own in found.items()
    }
