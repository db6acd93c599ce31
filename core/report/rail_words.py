"""The sentence that the page on rails begins with: what holds them, or what is in the way of drilling."""

from __future__ import annotations

from collections.abc import Sequence

from core.fasteners import RailAnswer
from core.findings import Finding, first_sentence
from core.report.headlines import Headline, gravest


def rails_headline(rails: Sequence[RailAnswer], findings: Sequence[Finding]) -> Headline:
    """The gravest finding about rails, else how many screws and nuts hold them all."""
    state = gravest(list(findings))
    if state in ("bad", "warning"):
        severity = "limit" if state == "bad" else "warning"
        own = [finding for finding in findings if finding.severity == severity]
        more = f" {len(own) - 1} more." if len(own) > 1 else ""
        return Headline(f"{first_sentence(own[0].message)}{more}", state)
    screws, nuts = (sum(getattr(rail, count) for rail in rails) for count in ("screws", "nuts"))
    behind = f" and {nuts} nuts" if nuts else ""
    return Headline(
        f"{screws} screws{behind} hold the {len(rails)} rails: each has a standard length that fits, and something to hold in.",
        "good",
    )
