"""The interim fitting plan as plain JSON (SI) and as tables in the user's units."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from core.fasteners.interim import STATE_WORDS, InterimAnswer, RailInterim, State
from core.report.headlines import Headline
from core.report.tables import Cell, Column, Table, figure_column, number, text_column
from core.units import UnitSet

SHORT_WORDS: dict[State, str] = {
    "refused": "not to be moved",
    "by hand": "by hand only",
    "slow jog": "slow jog",
    "all here": "all screws here",
}


def interim_json(answer: InterimAnswer) -> dict[str, Any]:
    """What is here, where it goes, what is left of the margin, what may be moved. Margins are low, likely, high."""
    return {
        "recorded": answer.recorded,
        "complete": answer.complete,
        "parts_not_here": list(answer.not_here),
        "never_done": "an interim state: no cutting, and not done before every screw is in",
        "kinds": [
            {
                "key": kind.key,
                "what": kind.what,
                "spec": kind.spec,
                "needed": kind.needed,
                "here": kind.here,
                "used_now": kind.used,
                "missing": kind.missing,
            }
            for kind in answer.kinds
        ],
        "axes": [
            {
                "axis": axis.axis,
                "state": axis.state,
                "reason": axis.reason,
                "acceleration_m_per_s2": axis.acceleration,
                "cutting": False,
            }
            for axis in answer.axes
        ],
        "rails": [_rail(rail) for rail in answer.rails],
        "rails_come_first": True,
        "offers_to_joints": [
            {
                "joint": offer.key,
                "label": offer.label,
                "joints": offer.count,
                "can_be_screwed_now": offer.can,
                "could_be_if_rails_took_none": offer.without_rails,
                "shared_with_rails": list(offer.shared),
                "missing": [{"spec": spec, "pieces": pieces} for spec, pieces in offer.short],
                "left_by_rails": [{"spec": spec, "pieces": pieces} for spec, pieces in offer.left],
            }
            for offer in answer.offers
        ],
    }


def _rail(rail: RailInterim) -> dict[str, Any]:
    longest = rail.longest
    return {
        "key": rail.key,
        "label": rail.label,
        "holes": rail.holes,
        "fill_now_in_this_order": list(rail.now),
        "still_open": list(rail.still),
        "longest_open_m": None if longest is None else longest.length,
        "longest_open_from_m": None if longest is None else longest.start,
        "open_under_resting_carriages_m": rail.at_rest,
        "resting_carriages_m": list(rail.rests),
        "both_ends_of_every_piece": rail.held,
        "preload_of_one_screw_N": list(rail.preload),
        "slip_margin_under_weight": _list(rail.rest_margin),
        "slip_margin_with_push": _list(rail.hand_margin),
        "slip_margin_at_planned_acceleration": _list(rail.planned_margin),
        "acceleration_x_y_z_m_per_s2": _list(rail.accelerations),
        "give_between_screws_m": rail.give,
    }


def _list(values: Sequence[float] | None) -> list[float | None] | None:
    """A figure without end stands as null."""
    return None if values is None else [v if v < 1e300 else None for v in values]


def axes_table(answer: InterimAnswer, units: UnitSet) -> Table:
    """What each axis may do meanwhile."""
    rows = tuple(
        (
            axis.axis.upper(),
            STATE_WORDS[axis.state],
            number(axis.acceleration, "acceleration", units),
            axis.reason,
        )
        for axis in answer.axes
    )
    columns = (
        text_column("Axis"),
        text_column("Meanwhile"),
        figure_column("Acceleration up to", "acceleration", units, 3),
        text_column("Why"),
    )
    return Table("What may be moved meanwhile", columns, rows)


def kinds_table(answer: InterimAnswer, units: UnitSet) -> Table:
    """Screws and nuts: needed, here, used now, still to come."""
    rows = tuple(
        (kind.what, kind.spec, kind.needed, kind.here, kind.used, kind.missing) for kind in answer.kinds
    )
    columns = (
        text_column("Fastener"),
        text_column("Specification"),
        Column("Needed"),
        Column("Here"),
        Column("Used now"),
        Column("Missing"),
    )
    return Table("Screws and nuts that are here", columns, rows)


def offers_table(answer: InterimAnswer, units: UnitSet) -> Table:
    """What the rails leave for each kind of joint, and how many of these joints can be screwed now."""
    rows = tuple(
        (
            offer.label,
            f"{offer.can} of {offer.count}",
            f"{offer.without_rails} of {offer.count}",
            "; ".join(offer.shared) or "nothing",
            _pieces(offer.left) or "nothing",
            _pieces(offer.short) or "nothing",
        )
        for offer in answer.offers
    )
    columns = (
        text_column("Joint"),
        text_column("Can be screwed now"),
        text_column("If rails took none"),
        text_column("Shared with rails"),
        text_column("Left by the rails"),
        text_column("Missing"),
    )
    return Table("What the rails leave for joints", columns, rows)


def _pieces(rows: Sequence[tuple[str, int]]) -> str:
    return "; ".join(f"{number} {spec}" for spec, number in rows if number > 0)


def offers_words(answer: InterimAnswer) -> str:
    """One sentence: that rails come first, and which joints can be screwed now."""
    first = "Rails have the first claim on what joints take too"
    shared = list(dict.fromkeys(spec for offer in answer.offers for spec in offer.shared))
    first += f" ({'; '.join(shared)})." if shared else "; here they share nothing."
    can = [f"{offer.label} ({offer.can} of {offer.count})" for offer in answer.offers if offer.can]
    told = f"{', '.join(can[:2])}{f' and {len(can) - 2} more kinds' if len(can) > 2 else ''}"
    now = f"What is left is enough for: {told}." if can else "What is left is enough for no joint."
    late = [offer.label for offer in answer.offers if offer.can < offer.without_rails]
    waits = f" Wait for the rails' sake: {', '.join(late)}." if late else ""
    return f"{first} {now}{waits}"


def interim_table(answer: InterimAnswer, units: UnitSet) -> Table:
    """Every rail: holes to fill now, the longest open stretch, slip margins, give, and what is still to be fitted."""
    rows: list[tuple[Cell, ...]] = []
    for rail in answer.rails:
        rows.append(
            (
                rail.label,
                f"{len(rail.now)} of {rail.holes}",
                runs(sorted(rail.now)),
                number(None if rail.longest is None else rail.longest.length, "length", units),
                number(rail.at_rest if rail.rests else None, "length", units),
                *(_low(margin) for margin in (rail.rest_margin, rail.hand_margin, rail.planned_margin)),
                *(None if rail.planned_margin is None else rail.planned_margin[k] for k in (1, 2)),
                number(rail.give, "deflection", units),
                runs(rail.still),
            )
        )
    columns = (
        text_column("Rail"),
        text_column("Filled now"),
        text_column("Holes to fill now"),
        figure_column("Longest open stretch", "length", units, 4),
        figure_column("Open under a resting carriage", "length", units, 4),
        Column("Margin, weight", digits=2),
        Column("Margin, push", digits=2),
        Column("Margin, speeding up", digits=2),
        Column("The same, likely", digits=2),
        Column("The same, high", digits=2),
        figure_column("Gives between screws", "deflection", units, 2),
        text_column("Still to fit"),
    )
    return Table("Interim fitting plan", columns, tuple(rows))


def _low(margin: Sequence[float] | None) -> float | None:
    return None if margin is None else margin[0]


def interim_headline(answer: InterimAnswer) -> Headline:
    """How far the order has arrived, and what that allows."""
    needed = sum(kind.needed for kind in answer.kinds)
    missing = sum(kind.missing for kind in answer.kinds)
    if not answer.recorded:
        words = "Nothing is recorded yet: enter what is on hand and what has arrived, and see what may be fitted meanwhile."
        return Headline(words, "note")
    if answer.complete:
        words = "Every screw and nut of the rails is here: fit them all, tighten them to their torque; the interim plan ends."
        open_ = [
            f"{offer.label} ({offer.can} of {offer.count})"
            for offer in answer.offers
            if offer.can < offer.count
        ]
        if not open_:
            return Headline(words, "good")
        more = f" and {len(open_) - 1} more" if len(open_) > 1 else ""
        return Headline(
            f"{words} Joints still want screws: {open_[0]}{more}; nothing is to be moved before.", "note"
        )
    states = ", ".join(f"{axis.axis.upper()} {SHORT_WORDS[axis.state]}" for axis in answer.axes)
    short = (
        f"{missing} of {needed} screws and nuts of the rails are still missing"
        if missing
        else "Every screw and nut of the rails is here"
    )
    gone = f"; not here yet: {_few(answer.not_here)}" if answer.not_here else ""
    words = f"{short}{gone}. Meanwhile: {states}. No cutting."
    return Headline(words, "warning")


def _few(names: Sequence[str], most: int = 3) -> str:
    more = len(names) - most
    return f"{', '.join(names[:most])}{f' and {more} more' if more > 0 else ''}"


def order_table(answer: InterimAnswer, units: UnitSet) -> Table:
    """Holes of every rail in the order they are filled."""
    rows = tuple((rail.label, ", ".join(str(number) for number in rail.now)) for rail in answer.rails)
    return Table("Order of filling", (text_column("Rail"), text_column("Holes, in this order")), rows)


def runs(numbers: Sequence[int]) -> str:
    """Rising numbers in short: runs as "3-7", even steps as "1, 3, 5 ... 21", nothing as "none"."""
    if not numbers:
        return "none"
    made, k = [], 0
    while k < len(numbers):
        j, step = k, numbers[k + 1] - numbers[k] if k + 1 < len(numbers) else 1
        while j + 1 < len(numbers) and numbers[j + 1] - numbers[j] == step:
            j += 1
        if step == 1 and j - k >= 2:
            made.append(f"{numbers[k]}-{numbers[j]}")
        elif j - k >= 3:
            made.append(f"{numbers[k]}, {numbers[k + 1]} ... {numbers[j]}")
        else:
            j = k
            made.append(str(numbers[k]))
        k = j + 1
    return ", ".join(made)
