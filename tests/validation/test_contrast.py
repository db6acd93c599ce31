"""The sum behind every claim of legible text, held against a published pair of colours."""

from __future__ import annotations

import pytest

from app.look.palette import contrast


@pytest.mark.outside(
    what="Contrast of grey #767676 on white",
    source="W3C, Understanding WCAG 2.1, success criterion 1.4.3 (4.54:1 for #767676 on white)",
    status="memory high",
    tolerance="0.005",
)
def test_contrast_of_a_published_pair() -> None:
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
