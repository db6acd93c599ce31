"""A finding as plain JSON data, with its unit at the end of its keys."""

from __future__ import annotations

import math
from typing import Any

from core.findings import Finding

_UNITS = {
    "length": "m",
    "deflection": "m",
    "force": "N",
    "mass": "kg",
    "stiffness": "N_per_m",
    "stress": "Pa",
    "temperature": "degC",
}


def finding_json(finding: Finding) -> dict[str, Any]:
    """`code`, `severity`, `where`, `message`, `place`, and `value_…`, `limit_…` where there are any."""
    unit = _UNITS.get(finding.quantity, finding.quantity)
    said: dict[str, Any] = {
        "code": finding.code,
        "severity": finding.severity,
        "where": finding.where,
        "message": finding.message,
        "place": finding.place,
    }
    for name, value in (("value", finding.value), ("limit", finding.limit)):
        if value is not None:
            said[f"{name}_{unit}"] = float(value) if math.isfinite(value) else None
    return said
