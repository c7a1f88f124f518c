"""The recipe workbook's hidden sheet Card plan: what cards and labels say, in which order.

Everything that a card or label shows is worked out here, in the chosen language; their own cells
only place it.
"""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Formula
from tanksheet.sheets.columns import Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import card_working as card
from tanksheet.templates.recipe import expect_working as expect
from tanksheet.templates.recipe import label_working as label
from tanksheet.templates.recipe import wording
from tanksheet.templates.recipe import working as work
from tanksheet.templates.recipe.feed import PRODUCTS, each
from tanksheet.templates.recipe.reasons import RULES

# What is weighed, in grams, and the words for it: the only place where cards read the amounts.
AMOUNTS, WEIGHTS = "used_amounts", "weights"
ON_A_PAGE = 10  # steps before the pause
STEPS = PRODUCTS + 4  # water, the word before acids, the products, the mark, the injector
SCALES = {"metric": "kg", "us": "lb and oz"}
LETTERS = tuple(letter.lower() for letter in work.TANKS)
KEYS = list(wording.WORDS)


def say(key: str) -> str:
    """The key of our words in the chosen language."""
    return part("card_words", KEYS.index(key))


def places(keys: tuple[str, ...]) -> tuple[int, ...]:
    return tuple(KEYS.index(key) + 1 for key in keys)


def card_plan(book: Book) -> None:
    page = add_page(book, "Card plan", (30, *[16] * 12), landscape=True)
    page.sheet.hidden = True
    page.heading("What cards and labels say", "Nothing to type here.")
    speech = card.language_number(wording.LANGUAGES)
    number(page, "card_speech", speech, ("card_language",))
    text(page, "card_name", card.typed_words, ("recipe_name",))
    text(page, "card_version", card.typed_words, ("recipe_version",))
    _words(page)
    _products(page)
    for low in LETTERS:
        _state(page, low)
    for i, low in enumerate(LETTERS):
        _order(page, low, work.TANKS[i])
        _said(page, low)
    _all_tanks(page)
    for low in LETTERS:
        _expected(page, low)
    _second(page)


def number(page: Page, name: str, function: Any, keys: tuple[str, ...]) -> None:
    _put(page, name, function, keys, NUMBER, hidden=True)


def text(page: Page, name: str, function: Any, keys: tuple[str, ...], hidden: bool = True) -> None:
    _put(page, name, function, keys, TEXT, hidden)


def _put(
    page: Page, name: str, function: Any, keys: tuple[str, ...], known: Any, hidden: bool
) -> None:
    page.sheet.put(1, name, "row name")
    keys = tuple(page.book.key_for(key) for key in keys)
    formula = Formula(name, page.sheet.at(2), function, keys, name, name, known)
    page.formula(formula, "grid words", hidden=hidden)
    page.end_row()


def _words(page: Page) -> None:
    """Our words, and reason and cure of each rule, in the chosen language."""
    for key, texts in (
        ("card_words", tuple(wording.WORDS.values())),
        ("card_reasons", wording.REASONS),
        ("card_cures", wording.CURES),
    ):
        table = Table(page, len(texts))
        table.labels(1, KEYS if key == "card_words" else [str(r["clash"]) for r in RULES])
        table.computed(
            key,
            2,
            lambda i, texts=texts: (card.phrase(texts[i]), ("card_speech",)),  # type: ignore[misc]
            known=TEXT,
            hidden=True,
        )
        table.end()
        page.gap()


def _products(page: Page) -> None:
    table = Table(page, PRODUCTS)
    table.labels(1, [f"product {i + 1}" for i in range(PRODUCTS)])
    names = each(card.named(wording.COLUMNS), "listed", ":card_speech")
    table.computed("card_names", 2, names, known=TEXT, hidden=True)
    codes = each(card.hazard_codes, "listed")
    table.computed("hazard_codes", 3, codes, known=TEXT, hidden=True)
    table.end()
    page.gap()


def _state(page: Page, low: str) -> None:
    text(page, f"state_{low}", card.state, (f"clear_{low}", "overall"))
    number(page, f"card_used_{low}", card.one_if_used, (f"state_{low}",))
    where = f"worst_{low}"
    for name, run, whole in (
        ("card_reason", "card_reasons", "whole"),
        ("card_cure", "card_cures", "whole_cure"),
    ):
        failed = "failed" if whole == "whole" else "failed_cure"
        keys = (f"state_{low}", where, run, say(failed), say(whole))
        text(page, f"{name}_{low}", card.reason, keys)
    words = ("do_not_mix", "not_used", "caution", "not_checked", "open", "well")
    keys = (f"state_{low}", where, f"card_reason_{low}", f"card_cure_{low}", "overall")
    verdict = (*keys, *(say(word) for word in words))
    text(page, f"card_{low}_verdict", card.verdict, verdict, hidden=False)


# what goes in, in order


def _order(page: Page, low: str, letter: str) -> None:
    table = Table(page, PRODUCTS)
    codes, state = f"codes_{low}", f":state_{low}"
    table.labels(1, [f"tank {letter}, {i + 1}" for i in range(PRODUCTS)])
    table.computed(
        codes,
        2,
        lambda i: (
            card.order_code(letter, i + 1),
            (state[1:], *(part(name, i) for name in ("listed", "used_tanks", AMOUNTS))),
        ),
        hidden=True,
    )
    ranked = lambda i: (card.place_in_list(i + 1), (codes,))  # noqa: E731
    table.computed(f"places_{low}", 3, ranked, hidden=True)
    hazards = each(expect.in_tank, codes, "hazard_codes")
    table.computed(f"hazards_{low}", 4, hazards, known=TEXT, hidden=True)
    table.end()
    number(page, f"card_products_{low}", card.how_many, (codes,))
    text(page, f"others_{low}", label.others(PRODUCTS), (f"places_{low}", "card_names"))
    number(page, f"card_acid_{low}", card.one_if_acid, (codes,))
    _amounts(page, low)
    text(page, f"set_words_{low}", card.set_words(letter), (say("set"),))
    _steps(page, low)


def _amounts(page: Page, low: str) -> None:
    """Water to begin with and to end at, and the setting of the injector."""
    edition = page.book.edition
    text(page, f"half_{low}", card.half_in(edition), (f"tank_{low}",))
    text(page, f"full_{low}", card.full_in(SCALES[edition]), (f"tank_{low}",))
    text(page, f"setting_{low}", card.setting_words, ("ratio_set",))


def _steps(page: Page, low: str) -> None:
    table = Table(page, STEPS)
    table.labels(1, [f"step {i + 1}" for i in range(STEPS)])
    after = (f"state_{low}", f"card_products_{low}", f"card_acid_{low}", f"places_{low}")

    def step(i: int) -> tuple[Any, tuple[str, ...]]:
        return (card.step_at(i + 1), after) if i else (card.first_step(), after[:1])

    steps = f"steps_{low}"
    table.computed(steps, 2, step, hidden=True)
    words = (say("water"), say("acid"), say("fill"), f"set_words_{low}")
    lines = lambda i: (card.line, (part(steps, i), "card_names", *words))  # noqa: E731
    table.computed(f"lines_{low}", 3, lines, known=TEXT)
    amounts = (WEIGHTS, *(f"{name}_{low}" for name in ("half", "full", "setting")))
    doses = lambda i: (card.dose, (part(steps, i), *amounts))  # noqa: E731
    table.computed(f"doses_{low}", 4, doses, known=TEXT)
    table.end()


# what is said besides


def _said(page: Page, low: str) -> None:
    state, codes = f"state_{low}", f"tank_codes_{low}"
    text(page, codes, expect.joined(PRODUCTS), (f"hazards_{low}",))
    for name, told in (
        ("hazards_said", wording.HAZARDS),
        ("aid_said", wording.AID + wording.SPILLS),
    ):
        raw = f"{name}_raw_{low}"
        text(page, raw, expect.told(told, places(told)), (codes, "card_words"))
        text(page, f"{name}_{low}", expect.behind_blank, (raw,))
    signals = tuple(say(key) for key in ("danger", "warning", "unknown"))
    text(page, f"signal_{low}", expect.signal, (codes, *signals))
    text(page, f"bar_{low}", expect.bar, (state, f"signal_{low}", say("do_not_mix")))
    text(page, f"wear_{low}", expect.wear, (codes, *(say(key) for key in wording.WEAR)))
    keys: tuple[str, ...] = (state, f"hazards_said_{low}", f"card_reason_{low}", say("not_used"))
    text(page, f"first_words_{low}", expect.words_or_reason, keys)
    keys = (state, f"aid_said_{low}", f"card_cure_{low}")
    text(page, f"second_words_{low}", expect.words_or_cure, keys)
    for size in ("small", "large"):
        keys = (state, f"tank_{low}")
        text(page, f"label_{size}_{low}", label.label_state(size == "small"), keys)
    text(page, f"box_{low}", expect.boxed, (state, f"card_{low}_verdict", say("well")))


def _all_tanks(page: Page) -> None:
    """The cards that there are, and the products of all tanks in one order."""
    used = tuple(f"card_used_{low}" for low in LETTERS)
    number(page, "cards_in_all", label.three, used)
    number(page, "card_number_a", card.itself, used[:1])
    number(page, "card_number_b", card.card_number, (used[1], "card_number_a"))
    number(page, "card_number_c", card.card_number, (used[2], "card_number_b"))
    for low in LETTERS:
        words = (say("version"), "card_version", say("card"), f"card_number_{low}", say("of"))
        text(page, f"who_{low}", expect.who, (*words, "cards_in_all"))
    name = ("card_name", say("version"), "card_version")
    text(page, "who_on_label", expect.who_on_label, name)
    products = tuple(f"card_products_{low}" for low in LETTERS)
    number(page, "cards_products", label.three, products)
    table = Table(page, PRODUCTS)
    table.labels(1, [f"all tanks, {i + 1}" for i in range(PRODUCTS)])
    codes = each(label.code_of_all, *(f"codes_{low}" for low in LETTERS))
    table.computed("all_codes", 2, codes, hidden=True)
    ranked = lambda i: (label.at_rank(i + 1), ("all_codes", "cards_products"))  # noqa: E731
    table.computed("ranked_codes", 3, ranked, hidden=True)
    table.end()


def _expected(page: Page, low: str) -> None:
    """What to expect at the emitter, said where the steps end."""
    state, end = f"state_{low}", f"ending_{low}"
    tank = (f"card_products_{low}", f"card_acid_{low}")
    text(page, end, expect.ending(ON_A_PAGE), (state, *tank))
    text(page, f"going_on_{low}", expect.going_on, (end, say("go_on"), say("stir")))
    readings(page, low, end)
    text(page, f"lasts_{low}", expect.number_words(" h"), (end, f"hours_{low}"))
    makes = expect.feed_words(SCALES[page.book.edition])
    text(page, f"makes_{low}", makes, (end, f"tank_{low}", "ratio"))


def readings(page: Page, low: str, end: str) -> None:
    """EC and pH, and between which of them feeding may go on."""
    words = tuple(say(key) for key in ("stop_outside", "to"))
    text(page, f"card_ec_{low}", expect.number_words(" mS/cm"), (end, "ec_feed"))
    keys = (end, "ec_feed", *words, say("do_not_feed"), say("no_reading"))
    text(page, f"ec_bounds_{low}", expect.ec_bounds, keys)
    text(page, f"card_ph_{low}", expect.ph_words, (end, "feed_ph"))
    keys = (end, "feed_ph", *words, say("ask_first"), say("no_reading"))
    text(page, f"ph_bounds_{low}", expect.ph_bounds, keys)


def _second(page: Page) -> None:
    """The second page, of the one tank that needs it."""
    text(page, "second_tank", expect.goes_on, tuple(f"ending_{low}" for low in LETTERS))
    text(page, "state_2", expect.second_state, ("second_tank",))
    readings(page, "2", "state_2")
    for name, run in (("hours_2", "hours"), ("held_2", "tank")):
        keys = ("second_tank", *(f"{run}_{low}" for low in LETTERS))
        _put(page, name, expect.of_tank, keys, None, hidden=True)
    text(page, "lasts_2", expect.number_words(" h"), ("state_2", "hours_2"))
    makes = expect.feed_words(SCALES[page.book.edition])
    text(page, "makes_2", makes, ("state_2", "held_2", "ratio"))
    for name in ("bar", "wear", "who", "set_words"):
        keys = ("second_tank", *(f"{name}_{low}" for low in LETTERS))
        text(page, f"{name}_second", expect.of_tank, keys)
