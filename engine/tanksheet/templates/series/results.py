"""The results of the first page: the places of the line, the feed, and every verdict."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page
from tanksheet.sheets.rows import TABLE_HEIGHT, TEXT
from tanksheet.templates.recipe import target_working as target
from tanksheet.templates.recipe import working as recipe
from tanksheet.templates.recipe.feed import each, pipe_words, readings
from tanksheet.templates.recipe.pipe import acid_rows, indices
from tanksheet.templates.recipe.tanks import clear_verdicts
from tanksheet.templates.series import line_working as line
from tanksheet.templates.series import mixing_working as mixing
from tanksheet.templates.series import result_working as work
from tanksheet.templates.series import setting_working as setting
from tanksheet.templates.series import standing_working as standing
from tanksheet.templates.series import stock_working as stock
from tanksheet.templates.series.nameplates import unit_verdicts
from tanksheet.templates.series.stock_working import STOCKS
from tanksheet.templates.series.stocks import EACH, LOW
from tanksheet.templates.verdicts import Verdicts
from tanksheet.templates.working import itself

HID: dict[str, Any] = {"hidden": True, "behind": True}


# the places of the line


def places(page: Page) -> None:
    """Setting by setting along the line, then what a meter reads behind each."""
    edition = page.book.edition
    page.section("Along the line", "set to", "or", "draws", "", "")
    table = Table(page, len(STOCKS))
    table.computed("places", 1, _place_names, style="label", known=TEXT)

    def of_place(key: str) -> Any:
        return lambda i: (work.of_place, (f"stock_at_{i + 1}", key))

    by_place = {"set_to": "settings", "set_percent": "percents", "stock_drawn": "drawn"}
    for column, (name, key) in enumerate(by_place.items(), 7):
        table.computed(name, column, of_place(key), behind=True)
    units = tuple(f"unit_{low}" for low in LOW)
    judged = lambda i: (work.verdict_there, (f"stock_at_{i + 1}", *units))  # noqa: E731
    table.computed("verdicts_there", 10, judged, known=TEXT, **HID)
    shown: dict[str, Any] = {"style": "worked out", "known": TEXT, "hidden": True}
    scales = each(work.scale_words, "set_to")
    table.computed("scales_said", 2, scales, **shown)
    table.computed("percents_said", 3, each(work.percent_words, "set_percent"), **shown)
    drawn = each(work.drawn_words(edition), "stock_drawn")
    table.computed("drawn_said", 4, drawn, **shown)
    said = each(work.place_said, "verdicts_there")
    table.computed("places_said", 6, said, style="grid said", known=TEXT, hidden=True)
    for i in EACH:
        page.sheet.heights[table.first + i] = TABLE_HEIGHT
    table.end()
    page.gap()
    _behind_each(page)


def _place_names(i: int) -> tuple[Any, tuple[str, ...]]:
    return work.place_name(work.PLACES[i]), (f"stock_at_{i + 1}", "stock_names", "counts")


def _behind_each(page: Page) -> None:
    page.section("Behind each", "EC, mS/cm", "pH", "pressure", "", "")
    table = Table(page, len(STOCKS))
    names = each(itself, "places")
    table.computed("places_again", 1, names, style="label", known=TEXT, hidden=True)
    for column, (key, lines) in enumerate((("ec", "line_ec"), ("ph", "line_ph")), 7):

        def here(i: int, lines: str = lines) -> tuple[Any, tuple[str, ...]]:
            row, number = f"row_through_{i + 1}", f"stock_at_{i + 1}"
            return work.ec_behind, ("ready", lines, row, "counts", number)

        table.computed(f"{key}_behind", column, here, behind=True)
    shown: dict[str, Any] = {"style": "worked out", "known": TEXT, "hidden": True}
    table.computed("ecs_said", 2, each(work.two_digits, "ec_behind"), **shown)
    table.computed("phs_said", 3, each(work.one_digit, "ph_behind"), **shown)
    pressed = work.pressure_words(page.book.edition)
    pressures = lambda i: (pressed, (f"behind_{i + 1}",))  # noqa: E731
    table.computed("pressures_said", 4, pressures, **shown)
    for i in EACH:
        page.sheet.heights[table.first + i] = 18
    table.end()
    page.gap()


# the feed


def feed_rows(page: Page) -> None:
    page.section("Behind the last injector")
    acid_rows(page, "Acid from the stocks", "Alkalinity left", "feed_ph")
    indices(page)
    readings(page)


def mixing_rows(page: Page) -> None:
    page.section("Mixing in the pipe")
    page.back(
        3, "turbulent", mixing.is_turbulent_flow, tuple(map(page.book.key_for, ("flow", "inside")))
    )
    page.result(
        "mixed_after",
        "A stock is mixed after",
        mixing.length_of,
        unit="m",
        may_be_words=True,
        turbulent="turbulent",
    )
    page.result(
        "mixed_in",
        "... which it reaches in",
        mixing.mixed_in,
        unit="s",
        may_be_words=True,
        length="mixed_after",
    )
    page.gap()


# verdicts


def verdicts_on(verdicts: Verdicts) -> None:
    page = verdicts.page
    page.section("Is it all right?")
    verdicts.add(
        "product_check",
        "Can every product be read?",
        recipe.products_verdict,
        first=True,
        products="listed",
        said="dissolved",
    )
    verdicts.add("flow_check", "Can the flows be read?", stock.flow_verdict, count="stocks_used")
    verdicts.add(
        "settings_check",
        "Are the settings found?",
        setting.settings_verdict,
        tall=38,
        kinds="set_kinds",
        stocks="stock_names",
    )
    page.back(
        3,
        "targets_said",
        target.targets_verdict,
        ("met_kinds", "met", "elements", "off_targets"),
        label="Are the targets met?",
        known=TEXT,
    )
    verdicts.add(
        "targets_check",
        "Are the targets met?",
        line.targets_or_none,
        tall=38,
        count="ready",
        said="targets_said",
    )
    _stocks_and_units(verdicts)
    page.gap()


def _stocks_and_units(verdicts: Verdicts) -> None:
    clear_verdicts(verdicts, "Stock")
    unit_verdicts(verdicts)


def meeting_verdicts(verdicts: Verdicts, dangerous: int) -> None:
    page = verdicts.page
    page.section("What meets what")
    verdicts.add(
        "order_check",
        "Is the order good?",
        line.order_verdict,
        tall=38,
        count="ready",
        score="order_score",
        lowest="lowest_score",
        best="best_order",
        why="order_why",
        unsure="feed_unsure",
    )
    _as_they_enter(verdicts, dangerous)
    for place in (1, 2):
        verdicts.add(
            f"between_{place}",
            f"Behind the {work.PLACES[place - 1]} of them",
            line.between_verdict,
            tall=38,
            count="ready",
            state=f"state_at_{place}",
            follows=f"follows_{place}",
            clear=f"clear_at_{place}",
            acid=f"sour_at_{place}",
            unsure="feed_unsure",
        )
    _of_feed(verdicts)


def _as_they_enter(verdicts: Verdicts, dangerous: int) -> None:
    for k, (letter, low) in enumerate(zip(STOCKS, LOW, strict=True)):
        verdicts.add(
            f"enters_{low}",
            f"Stock {letter} as it enters",
            line.enters_verdict(dangerous),
            tall=38,
            count="ready",
            state=part("states", k),
            kind=part("set_kinds", k),
            worst=f"meeting_worst_{low}",
            names="meeting_rules",
            unsure="feed_unsure",
            before=f"row_before_{low}",
        )


def _of_feed(verdicts: Verdicts) -> None:
    page = verdicts.page
    uses: dict[str, Any] = {"count": "ready", "unsure": "feed_unsure"}
    verdicts.add(
        "feed_acidity",
        "Does the water bear the acid?",
        line.acidity_of_feed,
        said="acidity_said",
        **uses,
    )
    pipe_words(page)
    verdicts.add(
        "feed_clear",
        "Does the feed stay clear?",
        line.clearness_of_feed,
        tall=38,
        said="clearness_said",
        gap="pipe_gap",
        **uses,
    )
    verdicts.add("ec_check", "Is the EC too high?", line.ec_verdict, ec="ec_feed", **uses)
    verdicts.add(
        "mixing_check",
        "Is one mixed before the next?",
        mixing.mixing_verdict(page.book.edition),
        tall=38,
        distance="shortest_gap",
        length="mixed_after",
    )
    _standing(verdicts)
    page.gap()


def _standing(verdicts: Verdicts) -> None:
    verdicts.add(
        "standing_check",
        "And if the line stands?",
        standing.standing_verdict,
        tall=38,
        first=True,
        count="stocks_used",
        ab="standing_ab",
        ac="standing_ac",
        bc="standing_bc",
        chlorine="chlorine_meets",
        unsure="feed_unsure",
    )
