"""The card of the week that is shown, and its amounts on the first page."""

from __future__ import annotations

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.card_sheet import (
    AMOUNT,
    FOURTH,
    READ,
    STATE,
    WHAT,
    Placed,
    card_sheet,
    cautions,
    heads,
    log,
    ticked,
    verdict_box,
)
from tanksheet.templates.field_event.card_working import if_mix
from tanksheet.templates.recipe import tank_working as mixing
from tanksheet.templates.recipe import working as recipe
from tanksheet.templates.recipe.cards import PAIRED, placed
from tanksheet.templates.recipe.feed import each
from tanksheet.templates.season import card_working as work
from tanksheet.templates.season import runs_working as runs
from tanksheet.templates.season.telling import SAFETY
from tanksheet.templates.season.weeks import LETTERS
from tanksheet.templates.season.weeks_working import PRODUCTS

STEP = 34  # points


def shown_amounts(table: Table) -> None:
    """On the first page: what to weigh of each product for an event of the week shown."""
    page = table.page
    made = each(work.amount_of(page.book.edition), "shown_kgs", "densities")
    table.computed("weights", 2, made, style="weight", known=TEXT, hidden=True)
    page.soft_if_stopped([page.sheet.at(2, table.first + i) for i in range(PRODUCTS)])


def card(book: Book) -> None:
    title, name = (work.title_of, ("shown_label",)), (work.season_said, ("season_name",))
    page = card_sheet(book, "Week card", title, name)
    _state(page)
    words = ("in this order, acid first", "each event", "done", "", "scale, meter reads")
    heads(page, "card_head", words, if_mix)
    _steps(page)
    log(page, ("date, start", "stop", "", "EC at far end", "by"), if_mix, 18, 18)
    cautions(page, SAFETY)


def _state(page: Page) -> None:
    """The verdict, unless it passes; what the products do to a person."""
    for column, (name, key) in enumerate(
        (
            ("shown_fed", "fed"),
            ("shown_run", "run_hours"),
            ("shown_inject", "inject_hours"),
            ("shown_line", "in_line"),
        ),
        3,
    ):
        page.back(column, name, runs.of_week, (key, "week"))
    page.end_row(1)
    page.back(2, STATE, work.card_state, ("overall", "shown_fed"), known=TEXT)
    for column, letter in enumerate(recipe.TANKS, 3):
        name, made = f"shown_{letter.lower()}", mixing.total(letter)
        page.back(column, name, made, ("used_tanks", "shown_kgs"), known=NUMBER)
    keys: tuple[str, ...] = ("overall", "shown_fed")
    verdict_box(page, (work.card_said, keys))
    for k in range(PRODUCTS):
        keys = (STATE, part("listed", k), part("weights", k))
        placed(page, f"card_hazard_{k + 1}", WHAT, work.hazard_of, keys, "card column", READ)
        page.end_row(14)


def _step(page: Page, name: str, step: Placed, dose: Placed, into: Placed | None = None) -> None:
    """What to do, how much, a box to tick, where it goes, and room for a meter."""
    placed(page, f"{name}_step", WHAT, step[0], step[1], "card step")
    placed(page, f"{name}_dose", AMOUNT, dose[0], dose[1], PAIRED[page.book.edition])
    if into:
        placed(page, f"{name}_into", FOURTH, into[0], into[1], "card words")
    ticked(page, STEP, (READ, READ))


def _steps(page: Page) -> None:
    edition = page.book.edition
    _step(
        page,
        "card_rinse",
        (if_mix("Rinse; fill each half with water"), (STATE,)),
        (if_mix(""), (STATE,)),
    )
    for k in range(PRODUCTS):
        weight = part("weights", k)
        _step(
            page,
            f"card_product_{k + 1}",
            (work.step_of, (STATE, part("listed", k), weight)),
            (work.dose_of, (STATE, weight)),
            (work.mix_of, (STATE, part("used_tanks", k), weight)),
        )
    for letter, low in zip(recipe.TANKS, LETTERS, strict=True):
        mixed, tank = f"shown_{low}", page.book.key_for(f"tank_{low}")
        _step(
            page,
            f"card_mark_{low}",
            (work.mark_of(letter), (STATE, mixed)),
            (work.full_of(edition), (STATE, mixed, tank)),
            (work.rate_of(edition), (STATE, mixed, tank, "shown_inject")),
        )
    for name, words, key in (
        ("card_water", "Plain water, till all lines are full", "fill_time"),
        ("card_inject", "Inject for", "shown_inject"),
        ("card_flush", "Then plain water for", "flush_time"),
    ):
        keys = (STATE, page.book.key_for(key))
        _step(page, name, (if_mix(words), (STATE,)), (work.clock, keys))
    for name, words, function, key in (
        ("card_events", "Events in this week", work.events_said, "shown_events"),
        ("card_line", "Product in the line", work.grams_said, "shown_line"),
    ):
        placed(page, f"{name}_label", WHAT, if_mix(words), (STATE,), "card label")
        placed(page, f"{name}_said", AMOUNT, function, (STATE, key), "card pair")
        page.end_row(22)
