"""What the season's mixes and line hold at their strongest, and every verdict on the season."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import working as recipe
from tanksheet.templates.recipe.feed import each, feed_sheet, pipe_words, readings
from tanksheet.templates.recipe.pipe import acid_rows, indices
from tanksheet.templates.recipe.reasons import reasons
from tanksheet.templates.recipe.tanks import clear_verdicts, tank_sheets
from tanksheet.templates.season import judge_working as judge
from tanksheet.templates.season import runs_working as runs
from tanksheet.templates.season import supply_working as supply
from tanksheet.templates.season import weeks_working as work
from tanksheet.templates.season.weeks import LETTERS, LOW
from tanksheet.templates.season.weeks_working import NUTRIENTS, PRODUCTS
from tanksheet.templates.verdicts import Verdicts
from tanksheet.templates.working import itself


def strongest(book: Book) -> None:
    """Each product over the season: how much of it, and how strong it gets in mix and line."""
    page = add_page(book, "Strongest", (34, *[12] * 14), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading("Each product over the season", "kg, g/L. Nothing to type here.")
    head = page.sheet.row
    page.end_row()
    table = Table(page, PRODUCTS)
    columns = (
        *("product", "season kg", "season g", "event kg", "event g", "least event kg"),
        *("g/L in mix", "g/L of line", "limit", "share", "shown kg", "acid"),
    )
    table.heads(columns, head)
    known: dict[str, Any] = {"known": NUMBER, "pattern": "0.0###"}
    table.computed("products_here", 1, each(itself, "listed"), known=TEXT, style="row name")

    def of_column(function: Any, key: str, *more: str) -> Any:
        return lambda k: (function, (f"{key}_{k + 1}", *more))

    table.computed("season_kgs", 2, of_column(work.total_of, "kg_of", "ones"), **known)
    table.computed("used_amounts", 3, each(runs.in_grams, "season_kgs"), **known)
    table.computed("event_kgs", 4, of_column(runs.most_of, "event_of"), **known)
    table.computed("event_grams", 5, each(runs.in_grams, "event_kgs"), **known)
    table.computed("least_kgs", 6, of_column(runs.least_fed, "event_of", "fed"), **known)
    tanks = tuple(f":tank_{low}" for low in LETTERS)
    mixed = each(recipe.in_tank, "event_grams", "used_tanks", *tanks)
    table.computed("strengths", 7, mixed, **known)
    table.computed("doses", 8, of_column(runs.most_of, "line_of"), **known)
    table.computed("limits", 9, each(recipe.holds, "listed", ":temperature"))
    table.computed("shares", 10, each(recipe.share_of_limit, "strengths", "limits"))
    table.computed("shown_kgs", 11, of_column(runs.of_week, "event_of", "week"), **known)
    made = each(judge.uneven, "ion_hydrogen", "event_kgs", "least_kgs")
    table.computed("uneven", 12, made, known=TEXT)
    table.end()
    _extremes(page)


def _extremes(page: Page) -> None:
    """Weeks and events that are fed, and the most of any week."""
    for name, function, key in (
        ("weeks_fed", work.total_of, "fed"),
        ("events_in_all", work.total_of, "fed_events"),
    ):
        page.sheet.put(1, name.replace("_", " "), "row name")
        page.place(name, 2, function, (key, "ones"), "0")
        page.end_row()
    for name, key in (("most_drawn", "draw_numbers"), ("most_in_line", "in_line")):
        page.sheet.put(1, name.replace("_", " "), "row name")
        page.place(name, 2, runs.most_of, (key,), "0.0##")
        page.end_row()


def behind(book: Book) -> None:
    """Ions of line and mixes, and what they do."""
    feed_sheet(book)
    tank_sheets(book)
    # A sentence may name what comes of it in the whole tank: of one whose size is no number it must
    # still say what is wrong.
    page = add_page(book, "Tank sizes", (20, 14), working=True)
    page.sheet.hidden = True
    kept = dict(book.aliases)
    for low in LETTERS:
        page.sheet.put(1, f"mix {low}", "row name")
        page.place(f"sure_{low}", 2, runs.number_or_none, (f"tank_{low}",), "0.0")
        page.end_row()
        book.aliases[f"tank_{low}"] = f"sure_{low}"
    reasons(book)
    book.aliases = kept


def totals(page: Page) -> None:
    """The season's table: plan, credits, products, and how far off they are."""
    us = page.book.edition == "us"
    unit = "lb" if us else "kg"
    page.section("The season", f"plan, {unit}", "credits", "products", "off, %", "")
    table = Table(page, len(NUTRIENTS))
    names = lambda i: (supply.named(NUTRIENTS[i]), ())  # noqa: E731
    table.computed("total_names", 1, names, style="label", known=TEXT, hidden=True)

    def over_weeks(function: Any, key: str, *more: str) -> Any:
        def make(i: int) -> tuple[Any, tuple[str, ...]]:
            own = tuple(each.replace("*", LOW[i]) for each in (f"{key}_*", *more))
            return function, own

        return make

    quiet: dict[str, Any] = {"behind": True, "pattern": "0.0##"}
    asked = over_weeks(work.total_of, "asked", "ones")
    table.computed("asked_kg", 7, asked, known=NUMBER, **quiet)
    table.computed(
        "credit_kg", 8, over_weeks(work.total_of, "credit", "ones"), known=NUMBER, **quiet
    )
    table.computed("need_kg", 11, over_weeks(work.total_of, "need", "ones"), known=NUMBER, **quiet)
    given = over_weeks(work.total_of, "given", "ones")
    table.computed("given_kg", 9, given, known=NUMBER, **quiet)
    off = each(supply.total_off, "asked_kg", "need_kg", "given_kg")
    table.computed("off_percent", 5, off, style="worked out", pattern="0")
    judged = ("off_percent", "asked_kg", "credit_kg")
    kinds = lambda i: (supply.total_kind(NUTRIENTS[i]), tuple(part(key, i) for key in judged))  # noqa: E731
    table.computed("off_total_kinds", 10, kinds, behind=True, known=TEXT, hidden=True)
    for column, key in ((2, "asked"), (3, "credit"), (4, "given")):
        made = each(runs.mass_in(us), f"{key}_kg")
        table.computed(
            f"{key}_shown", column, made, style="worked out", pattern="#,##0", hidden=True
        )
    said = each(supply.total_said, *judged)
    table.computed("totals_said", 6, said, style="grid said", known=TEXT, hidden=True)
    for i in range(len(NUTRIENTS)):
        page.sheet.heights[table.first + i] = 18
    table.end()
    page.gap()


def line_rows(page: Page) -> None:
    """The line with each product as strong as it gets in any week."""
    page.section("In the line, at its strongest")
    acid_rows(page, "Acid from the products", "Alkalinity left", "line_ph")
    page.result("feed_ph", "pH at which settling is judged", judge.higher_ph, unit="pH")
    indices(page)
    readings(page)


FED: dict[str, Any] = {"fed": "weeks_fed", "labels": "week_labels"}


def verdicts_on(verdicts: Verdicts) -> None:
    page = verdicts.page
    page.section("Is it all right?")
    verdicts.add(
        "plan_check",
        "Is the plan complete?",
        supply.plan_verdict,
        typed="rates_typed",
        soil="soil_in_all",
        lacking="lacking_water",
        labels="week_labels",
        asked="asked_in_all",
    )
    verdicts.add(
        "product_check",
        "Can the products be used?",
        supply.products_verdict,
        fed="weeks_fed",
        words="product_kinds",
        products="cost_names",
    )
    verdicts.add(
        "supply_check",
        "Is the plan met?",
        supply.supply_verdict,
        tall=38,
        plan="plan_check",
        kinds="off_total_kinds",
        nutrient="off_nutrient",
        judged="off_kinds",
        week_name="off_label",
    )
    _runs(verdicts)
    _mixes(verdicts)
    _line(verdicts)


def _runs(verdicts: Verdicts) -> None:
    edition = verdicts.page.book.edition
    verdicts.add(
        "time_check", "Do the runs allow it?", judge.time_verdict, kinds="time_kinds", **FED
    )
    verdicts.add(
        "pump_check",
        "Can the injectors?",
        judge.pump_verdict(edition),
        tall=38,
        kinds="pump_kinds",
        over="over_drawn",
        under="under_drawn",
        most="most_drawn",
        **FED,
    )
    verdicts.add(
        "strength_check",
        "Is the line too strong?",
        judge.strength_verdict,
        kinds="line_kinds",
        most="most_in_line",
        **FED,
    )


def _mixes(verdicts: Verdicts) -> None:
    clear_verdicts(verdicts, "Mix")
    verdicts.add(
        "even_check",
        "Is acid even?",
        judge.even_verdict,
        tall=38,
        fed="weeks_fed",
        found="uneven",
        products="listed",
    )


def _line(verdicts: Verdicts) -> None:
    page = verdicts.page
    timed: dict[str, Any] = {"fed": "weeks_fed", "timed": "time_kinds"}
    verdicts.add(
        "feed_acidity",
        "Does the water bear the acid?",
        judge.acidity_verdict,
        said="acidity_said",
        unsure="feed_unsure",
        **timed,
    )
    pipe_words(page)
    verdicts.add(
        "feed_clear",
        "Does the line stay clear?",
        judge.clear_verdict,
        tall=38,
        said="clearness_said",
        unsure="feed_unsure",
        gap="pipe_gap",
        **timed,
    )
    verdicts.add("ec_check", "Is the EC too high?", judge.ec_verdict, unsure="feed_unsure", **timed)
    page.gap()
