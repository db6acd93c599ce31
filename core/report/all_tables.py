"""Every table of a project by the name of its file, for the window and the command line alike."""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.report.answer_tables import cases_table, curve_table, findings_table, path_table
from core.report.bill_tables import bill_table, groups_table, money_table, spendings_table, work_table
from core.report.build_tables import fasteners_table, parts_table
from core.report.cut_tables import bars_table, buy_table, order_table, sections_table
from core.report.price_tables import prices_table
from core.report.study import study_tables
from core.report.study.cost_differences import costs_table
from core.report.tables import Table

if TYPE_CHECKING:
    from core.findings import Finding
    from core.plan import Plan
    from core.study import Study


def all_tables(plan: Plan, study: Study | None, findings: tuple[Finding, ...]) -> dict[str, Table]:
    """The tables of the plan, and those of its study when there is one."""
    tables = {
        "load_cases": cases_table(plan, None if study is None else study.bands),
        "fasteners": fasteners_table(plan),
        "parts": parts_table(plan),
        "deflection_along_x": curve_table(plan),
        "sag_and_path_error": path_table(plan),
        "findings": findings_table(plan, findings),
    }
    tables |= _buying(plan)
    if study is not None and study.comparison is not None and (costs := costs_table(study.comparison)).rows:
        tables["variants_cost"] = costs
    return tables if study is None else tables | study_tables(study)


def _buying(plan: Plan) -> dict[str, Table]:
    """The bill, its money and the cut list; tables that would be empty are left out."""
    bill = plan.bill
    if bill is None:
        return {}
    tables = {
        "bill": bill_table(bill, plan.project.units),
        "cost_by_group": groups_table(bill),
        "money": money_table(bill),
        "work": work_table(bill),
        "spent": spendings_table(bill),
        "prices": prices_table(plan.project),
    }
    if bill.cuts is not None:
        units = plan.project.units
        tables |= {
            "cut_list": order_table(bill.cuts, units),
            "cut_list_bars": bars_table(bill.cuts, units),
            "cut_list_by_section": sections_table(bill.cuts, units),
            "bars_to_buy": buy_table(bill.cuts, units),
        }
    return {name: table for name, table in tables.items() if table.rows}
