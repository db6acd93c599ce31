"""On which page a finding is seen best; what is not listed stands beside its entry on the page of the machine."""

from __future__ import annotations

from core.findings import Finding

_STARTS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("bend", ("deflection-", "path-error-", "sag-")),
    ("stiffen", ("wide-band",)),
    ("base", ("foot-", "rail-twist", "rail-level", "base-soft", "no-such-foot")),
    ("cutting", ("spindle-", "chip-")),
    ("vibration", ("near-", "chatter-")),
    ("guides", ("carriage-",)),
    ("drives", ("screw-whirl", "screw-buckling", "belt-", "motor-", "coarse-", "inertia-", "stop-", "runs-on",
                "z-falls", "racking")),
    ("heat", ("heat-",)),
    ("form", ("form-", "weld-", "shim-")),
    ("rails", ("rail-without-", "end-distance-", "rail-off-", "rail-on-", "rail-over-", "no-slot", "screw-wider-",
               "nut-too-", "no-wall", "thin-thread", "no-screw-", "hole-", "joints-not-", "piece-too-short", "slot-ends-",
               "nuts-clash", "interim-")),
    ("section", ("datasheet-", "section-", "two-metals-")),
    ("money", ("price-", "no-price", "spent-", "over-budget")),
    ("parts", ("more-", "fitted-", "stock-")),
    ("cuts", ("bar-", "cuts-", "piece-too-long")),
    ("compare", ("variant-", "rails-moved")),
)  # fmt: skip


def page_of(finding: Finding) -> str:
    """The key of the page."""
    if finding.where.startswith("machine.joints"):
        return "joints"
    for page, starts in _STARTS:
        if finding.code.startswith(starts):
            return page
    return "machine"
