"""Works out every variant whole, one after the other, and puts the rows together."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from core.bill import cost_of
from core.certainty.bands import load_inputs
from core.certainty.inputs import uncertain_inputs
from core.comparison.answer import ComparisonAnswer, Ends, Fact, Figure, Listed, VariantAnswer
from core.comparison.cost import cost_differences, with_difference
from core.comparison.entries import entry_words, value_words
from core.comparison.rows import FACTS, ROWS, case_row
from core.comparison.values import values_of
from core.errors import BadEntry
from core.findings import Finding, ordered
from core.machine.project import Project
from core.machine.variants import Variant, apply_variant
from core.plan import Plan, begin_plan, by_pieces
from core.sections import PropertyBook
from core.units import show

OWN = "This machine"
Tell = Callable[[int, int], None]


def _never() -> bool:
    return False


def find_comparison(
    plan: Plan,
    book: PropertyBook,
    stale: Callable[[], bool] = _never,
    tell: Tell | None = None,
    known: ComparisonAnswer | None = None,
) -> ComparisonAnswer | None:
    """The machine of a plan and each of its project's variants; None as soon as `stale` says so.

    Args:
        tell: told (machines done, machines altogether) after each. known: an earlier answer; machines that are still the
            same, seen from the same place, are taken from it.

    Errors: NeedsAnalysis. A change or an entry that cannot be used is a finding, and the variant has no answer.
    """
    base = msgspec.structs.replace(plan.project, variants=())
    variants = plan.project.variants
    answers = [_own(plan, base, book, known)]
    for row, variant in enumerate(variants):
        if tell is not None:
            tell(row + 1, len(variants) + 1)
        if stale():
            return None
        answers.append(_variant(row, variant, plan, base, book, known))
    if tell is not None:
        tell(len(variants) + 1, len(variants) + 1)
    costs = cost_differences(answers)
    machines = tuple(with_difference(one, cost) for one, cost in zip(answers, costs, strict=True))
    faults = [
        finding for answer in machines[1:] for finding in answer.findings if finding.code == "variant-entry"
    ]
    figures = _figures(plan.project, machines)
    return ComparisonAnswer(machines, figures, _facts(machines), tuple(faults), costs)


def _own(plan: Plan, base: Project, book: PropertyBook, known: ComparisonAnswer | None) -> VariantAnswer:
    found = _known(known, base, plan)
    if found is not None and found.name == OWN:
        return found
    return _answer(OWN, "", base, (), by_pieces(plan), book, ())


def _variant(
    row: int, variant: Variant, plan: Plan, base: Project, book: PropertyBook, known: ComparisonAnswer | None
) -> VariantAnswer:
    applied = apply_variant(plan.project, variant)
    listed = _listed(variant, base, applied.project)
    if applied.faults:
        findings = tuple(
            _fault(row, variant, fault.row, fault.path, fault.problem) for fault in applied.faults
        )
        return VariantAnswer(variant.name, variant.note, applied.project, listed, None, {}, {}, {}, findings)
    before = _known(known, applied.project, plan)
    if before is not None and before.plan is not None:
        named = (variant.name, variant.note, before.project, listed, before.plan, before.values, before.facts)
        return VariantAnswer(*named, before.uncertain, before.findings, before.cost)
    try:
        own = begin_plan(applied.project, book, plan.place, plan.under)
        return _answer(
            variant.name, variant.note, applied.project, listed, own, book, _moved(base, applied.project)
        )
    except BadEntry as error:
        number = next(
            (
                k
                for k, c in enumerate(variant.changes)
                if error.where.startswith(c.path) or c.path.endswith(f".{error.where}")
            ),
            None,
        )
        said = f"{error.value} {error.problem}; accepted: {error.accepted}"
        findings = (_fault(row, variant, number, error.where, said),)
        return VariantAnswer(variant.name, variant.note, applied.project, listed, None, {}, {}, {}, findings)


def _known(known: ComparisonAnswer | None, project: Project, plan: Plan) -> VariantAnswer | None:
    """An earlier answer for the same machine seen from the same place."""
    for machine in known.machines if known is not None else ():
        if machine.plan is not None and machine.plan.place == plan.place and machine.project == project:
            return machine
    return None


def _answer(
    name: str, note: str, project: Project, listed: tuple[Listed, ...], plan: Plan, book: PropertyBook,
    more: tuple[Finding, ...],
) -> VariantAnswer:  # fmt: skip
    values, facts = values_of(plan, book)
    uncertain = {i.path: (i.low, i.likely, i.high) for i in uncertain_inputs(project.machine)}
    uncertain |= {i.path: (i.low, i.likely, i.high) for i in load_inputs(project.cases)}
    findings = ordered([*plan.findings, *more])
    cost = cost_of(project, plan)
    return VariantAnswer(name, note, project, listed, plan, values, facts, uncertain, findings, cost)


def _listed(variant: Variant, base: Project, changed: Project) -> tuple[Listed, ...]:
    return tuple(
        Listed(
            change.path, entry_words(base, change.path), value_words(changed, change.path), value_words(base, change.path)
        )
        for change in variant.changes
    )  # fmt: skip


def _fault(row: int, variant: Variant, number: int | None, path: str, problem: str) -> Finding:
    where = f"variants.{row}" if number is None else f"variants.{row}.changes.{number}.value"
    text = f'Variant "{variant.name}", entry {path}: {problem}. Set it again, or drop it; until then it has no answer.'
    return Finding("variant-entry", "warning", where, text)


def _moved(base: Project, changed: Project) -> tuple[Finding, ...]:
    one, other = base.machine.x_guides.rail_spacing, changed.machine.x_guides.rail_spacing
    if one == other or base.machine.gantry.beam == changed.machine.gantry.beam:
        return ()
    text = (
        f"With this beam the X rails stand {show(other, 'length', base.units)} apart instead of "
        f"{show(one, 'length', base.units)}."
    )
    return (Finding("rails-moved", "note", "machine.x_guides.rail_spacing", text, other, one, "length"),)


def _figures(project: Project, machines: tuple[VariantAnswer, ...]) -> tuple[Figure, ...]:
    rows = (*(case_row(number, case.name) for number, case in enumerate(project.cases)), *ROWS)
    found = []
    for row in rows:
        ends = tuple(machine.values.get(row.key, Ends()) for machine in machines)
        found.append(
            Figure(row.key, row.label, row.quantity, row.better, ends, row.note, row.upper, row.told)
        )
    return tuple(found)


def _facts(machines: tuple[VariantAnswer, ...]) -> tuple[Fact, ...]:
    return tuple(
        Fact(key, words, tuple(machine.facts.get(key, "") for machine in machines), note)
        for key, words, note in FACTS
    )
