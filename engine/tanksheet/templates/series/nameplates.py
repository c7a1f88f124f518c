"""The sheet Nameplates, and what the injectors make of their settings."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.injector import choice_working as choice
from tanksheet.templates.injector import fit_working as fit
from tanksheet.templates.injector import working as injector
from tanksheet.templates.injector.units import COLUMNS as ALL_COLUMNS
from tanksheet.templates.injector.units import MOST, NOT_ZERO, typed_figures
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.series import unit_working as work
from tanksheet.templates.series.stock_working import STOCKS
from tanksheet.templates.series.stocks import EACH
from tanksheet.templates.series.telling import UNITS
from tanksheet.templates.verdicts import Verdicts
from tanksheet.units import Percent, Quantity

# Lift and suction hose are judged by the workbook injector.
COLUMNS = tuple(column for column in ALL_COLUMNS if column[0] not in ("lifts", "bores"))
SHARE = Quantity(Percent, "part of the line's flow that runs through the unit", 1, 100)
WIDTHS = (14, *[8.5] * 10, 11, 10, 22)
LEAD = (
    "What the nameplates print, and what part of the line's flow runs through each unit where a "
    "bypass takes the rest. A blank is not checked; a blank part is all of the flow."
)
QUIET: dict[str, Any] = {"hidden": True, "behind": True}


def nameplates(book: Book) -> None:
    page = add_page(book, "Nameplates", WIDTHS, landscape=True)
    page.heading("Nameplates", LEAD)
    names = injector.NAMES[book.edition]
    heads = [f"{head}, {names[kind]}" if kind else head for _, head, kind in COLUMNS]
    for column, head in enumerate(["injector of", *heads, "through it, %"], 1):
        page.sheet.put(column, head, "table head")
    page.end_row(40)
    table = Table(page, len(STOCKS))
    table.labels(1, [f"stock {letter}" for letter in STOCKS])
    _typed(table)
    _behind(table)
    table.end()


def _typed(table: Table) -> None:
    edition = table.page.book.edition
    columns = [list(column) for column in zip(*UNITS[edition], strict=True)]
    typed_figures(table, COLUMNS, columns)
    facts: dict[str, Any] = {"limits": SHARE, "usual": (20, 100), "style": "typed narrow"}
    facts["pattern"] = 'General" %"'
    at = 2 + len(COLUMNS)
    table.filled("shares_through", at, "Through the unit", [None] * len(STOCKS), **facts)


def _behind(table: Table) -> None:
    """Each figure in its base unit, and whether a row can be read."""
    us = table.page.book.edition == "us"
    factors, at = injector.FACTORS[table.page.book.edition], 7
    figures = [column for column in COLUMNS if column[0] != "seals"]
    for key, _, kind in figures:
        made = injector.in_base(factors.get(kind, 1.0), MOST, key in NOT_ZERO)
        made = injector.heat_in_base(us) if kind == "heat" else made
        table.computed(f"{key}_here", at, each(made, key), **QUIET)
        at += 1
    for key, function in (("coldests", choice.coldest_of), ("hottests", choice.hottest_of)):
        table.computed(f"{key}_used", at, each(function, f"{key}_here"), **QUIET)
        at += 1
    keys = [f"{key}_here" for key, _, _ in figures]
    for number, some in enumerate((keys[:5], keys[5:]), 1):
        summed = each(injector.sum_of_known, *some)
        table.computed(f"sum_{number}", at, summed, **QUIET)
        at += 1
    table.computed("seal_sums", at, each(injector.seal_sum, "seals"), **QUIET)
    sums = each(injector.sum_of_known, "sum_1", "sum_2", "seal_sums", "seal_sums", "seal_sums")
    table.computed("all_sums", at + 1, sums, **QUIET)
    said = each(work.figures_said, "all_sums", "shares_through")
    table.computed("units_said", len(WIDTHS), said, style="grid said", known=TEXT, hidden=True)


def bears(book: Book) -> None:
    """A hidden sheet: what flow, pressure and stock are to each unit."""
    page = add_page(book, "Units", (30, *[14] * 12), working=True)
    page.sheet.hidden = True
    # A blank that may be a number, for what one unit of several is not asked.
    page.back(2, "no_need", work.no_need, ())
    page.end_row()
    table = Table(page, len(STOCKS))
    states = each(work.state_of, "counts", "all_sums", "seal_sums")
    table.computed("states", 1, states, known=TEXT)
    table.computed("stock_kinds", 2, _stock_kinds, known=TEXT)
    seals = each(work.seal_of, "states", "seals", "stock_kinds")
    table.computed("seal_words", 3, seals, known=TEXT)
    losses = each(work.lost, "states", "through", "losses_here", "loss_flows_here")
    table.computed("lost", 4, losses)
    table.end()
    page.gap()
    _along(page)
    _turned_down(page)


def _stock_kinds(k: int) -> tuple[Any, tuple[str, ...]]:
    low = STOCKS[k].lower()
    return work.stock_kind, (f"sum_acid_{low}", f"sum_chlorine_{low}")


def _along(page: Page) -> None:
    """kPa before and behind each place of the line."""
    for place in range(1, len(STOCKS) + 1):
        name = f"stock_at_{place}"
        page.sheet.put(1, name.replace("_", " "), "row name")
        page.place(name, 2, work.stock_at(place), ("place_a", "place_b"), "0")
        before = f"behind_{place - 1}" if place > 1 else "pressure_before"
        page.back(3, f"lost_{place}", work.lost_at, (name, "lost"))
        keys = tuple(map(page.book.key_for, (before, f"lost_{place}", "neck_loss")))
        page.back(4, f"behind_{place}", work.behind, keys)
        page.end_row()
    behind = tuple(f"behind_{place}" for place in (1, 2))
    page.gap()
    table = Table(page, len(STOCKS))
    here = lambda k: (work.before_of, (f"place_{STOCKS[k].lower()}", "pressure_before", *behind))  # noqa: E731
    table.computed("befores", 2, here)
    table.end()


def _turned_down(page: Page) -> None:
    edition = page.book.edition
    table = Table(page, len(STOCKS))
    flows = ("through_least", "through", "least_flows_here", "most_flows_here")
    flow = each(fit.flow_words(edition, 1), "states", "states", *flows)
    table.computed("flow_words", 2, flow, known=TEXT)
    heat = (":feed_temperature", "least_pressures_here", "most_pressures_here")
    keys = ("flow_words", "befores", ":no_need", *heat, "coldests_used", "hottests_used")
    down = each(fit.pressure_words(edition), *keys, ":no_need")
    table.computed("downs", 3, down, known=TEXT)
    ranges = ("least_flows_here", "most_flows_here", *heat[1:])
    table.computed("known_ranges", 4, each(work.range_known, "states", *ranges), known=NUMBER)
    table.end()


def unit_verdicts(verdicts: Verdicts) -> None:
    for k in EACH:
        letter = STOCKS[k]
        keys = {
            "state": "states",
            "kind": "set_kinds",
            "down": "downs",
            "setting": "settings",
            "richest": "richest_ratios_here",
            "leanest": "leanest_ratios_here",
            "seal": "seal_words",
            "stock": "stock_kinds",
            "before": "befores",
            "known": "known_ranges",
        }
        uses: dict[str, Any] = {name: part(key, k) for name, key in keys.items()}
        label = f"Injector of stock {letter}"
        verdicts.add(f"unit_{letter.lower()}", label, work.unit_verdict, tall=38, **uses)
    verdicts.add(
        "pressure_check",
        "Is enough pressure left?",
        work.pressure_verdict(verdicts.page.book.edition),
        count="stocks_used",
        before="pressure_before",
        needed="pressure_needed",
        left="behind_3",
    )
