"""Headlines of the pages: the figure that matters, its limit, and how things stand."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from core.findings import first_sentence
from core.machine.project import Project, replace_at
from core.plan import make_plan
from core.report import headlines
from core.sections.book import stock_book
from core.storage import load_project
from core.study import make_study

DEMOS = sorted((Path(__file__).resolve().parents[2] / "demo_projects").glob("*.json"))
BOOK = stock_book()


def study_of(project: Project) -> Any:
    return make_study(make_plan(project, BOOK), BOOK)


def every(project: Project, study: Any) -> list[headlines.Headline]:
    units = project.units
    found = [headlines.cutting_headline(case, units) for case in study.cutting.cases]
    vibration = study.vibration
    pairs = zip(vibration.speeds, vibration.stability, strict=True)
    found += [headlines.vibration_headline(speeds, depth, units) for speeds, depth in pairs]
    found += [headlines.guides_headline(study.guides)]
    found += [headlines.axis_headline(axis, [], units) for axis in study.drives.axes]
    found += [headlines.racking_headline(study.drives.racking, [], units)]
    found += [headlines.heat_headline(study.heat, project)]
    found += [headlines.footing_headline(study.footing, project.limits.rail_level, units)]
    return [*found, headlines.form_headline(study.form, units)]


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_each_is_a_sentence_with_few_digits(path: Path) -> None:
    metric = load_project(path)
    study = study_of(metric)
    inch = replace_at(metric, "display.length", "in")
    for headline in [*every(metric, study), *every(inch, study)]:
        assert headline.words[0].isupper()
        assert headline.words.endswith(".")
        assert len(headline.words) < 230
        for word in headline.words.replace(",", " ").split():
            digits = word.strip("();.").lstrip("0.").replace(".", "").rstrip("0")
            assert not digits.isdecimal() or len(digits) <= 4, headline.words


def test_a_short_spindle_is_seen() -> None:
    project = replace_at(load_project(DEMOS[0]), "machine.head.spindle.power", 200.0)
    case = study_of(project).cutting.cases[0]
    assert headlines.cutting_headline(case, project.units).state == "warning"


def test_an_overloaded_carriage_is_over_its_limit() -> None:
    project = replace_at(Project(), "machine.y_guides.rating.static", 300.0)
    assert headlines.guides_headline(study_of(project).guides).state == "bad"


def test_the_finding_of_an_axis_becomes_its_headline() -> None:
    project = replace_at(Project(), "machine.motion.x.rapid", 0.3)
    drives = study_of(project).drives
    found = [f for f in drives.findings if f.where.startswith(("machine.motion.x", "machine.x_drive"))]
    headline = headlines.axis_headline(drives.axes[0], found, project.units)
    assert headline.state == "bad"
    assert any(f.message.startswith(headline.words) for f in found)


def test_first_sentences_end_where_a_sentence_ends() -> None:
    assert first_sentence("It bends by 0.16 mm. Stiffen it.") == "It bends by 0.16 mm."
    assert first_sentence("One, e.g. 0.5 m") == "One, e.g. 0.5 m"
