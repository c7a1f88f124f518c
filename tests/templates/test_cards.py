"""Cards and labels of the recipe workbook: what is on them, and what must never be.

Signal words: 29 CFR 1910.1200, appendix C, C.4 (as GHS annex 1). Units in the same cell and nothing
trailing: the ISMP list of error-prone dose designations. Fewer than eleven steps before a pause:
the "checklist for checklists" (both from memory).
"""

from __future__ import annotations

import csv
import functools
import random
import re
from collections.abc import Iterator
from typing import Any

import pytest

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Sheet
from tanksheet.sheets.evaluate import evaluate
from tanksheet.sheets.style import LOOKS
from tanksheet.tables import DATA
from tanksheet.templates import book
from tanksheet.templates.recipe.telling import SAFETY

Values = dict[str, Any]
PRINTED = ("Card A", "Card B", "Card C", "Card page 2", "Cards", "Labels", "Large labels")
TANKS = "abc"
UNITS = r"(kg|g|mg|lb|oz|fl oz|gal|mL|L|mS/cm|h|ppm|mmol|mol|meq)"
AMOUNT = re.compile(rf"\d\s*{UNITS}\b")
WHOLE_AMOUNT = re.compile(r"(\d+\xa0)?\d+(\.\d+)? (kg|g|lb|oz|fl oz|gal|mL|L)( \d+(\.\d)? oz)?")
SETTING = re.compile(r"1 : \d+(\.\d+)?")
# The signal word that the hazard behind a code of data/hazards.csv asks for: appendix C, C.4, by
# class and category; "" where the code is no class of it.
SIGNALS = {
    "burns": "danger",  # skin corrosion, C.4.4
    "eyes": "danger",  # serious eye damage, C.4.5, category 1
    "eyes_sting": "warning",  # the same, category 2A
    "skin": "warning",  # skin irritation, C.4.4, category 2
    "swallowed": "warning",  # acute toxicity, oral, C.4.1, category 4
    "poison": "danger",  # the same, category 3
    "fumes": "danger",  # acute toxicity, inhaled, C.4.3, categories 1 to 3
    "unborn": "danger",  # toxic to reproduction, C.4.9, category 1
    "airways": "warning",  # single exposure, C.4.11, category 3
    "dust": "warning",  # repeated exposure, C.4.12, category 2
    "fire": "warning",  # oxidizing solids, C.4.27, category 3
    "fire_strong": "danger",  # the same, category 2
    "fish": "warning",  # GHS annex 1: hazardous to the aquatic environment, acute 1
}
NO_CLASS = {"none", "ammonia", "foams", "gels", "gas_acid", "gas_acid_ammonium", "heat", "explodes"}
WORST = ("danger", "warning", "none")


@functools.cache
def table(name: str) -> tuple[dict[str, str], ...]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as stream:
        return tuple(csv.DictReader(stream))


@functools.cache
def words(language: str = "english") -> dict[str, str]:
    return {row["key"]: row[language] for row in table("words")}


HAZARDS = {row["product"]: row for row in table("hazards")}
KINDS = {row["product"]: row["kind"] for row in table("fertilizers")}


def plan() -> Book:
    return book("recipe")


def settings(products: list[str], tanks: list[str], amounts: list[float], **more: Any) -> Values:
    """Grams of products in tanks of 1,000 L, with soft water and no target."""
    rest = 12 - len(products)
    made: Values = {
        "products": [*products, *[None] * rest],
        "tanks": [*tanks, *["A"] * rest],
        "amounts": [*amounts, *[None] * rest],
        "amount_units": ["g"] * 12,
        "targets": [None] * len(plan().entries["targets"].cells),
        "target_alkalinity": None,
        **{f"tank_{low}": 1000.0 for low in TANKS},
    }
    return made | more


@functools.cache
def random_recipes() -> tuple[tuple[Values, Values], ...]:
    """Recipes of every kind, a third of them harmless, with what the workbook makes of them."""
    draw = random.Random("cards")
    found = []
    for number in range(90):
        names = list(KINDS)
        if number % 3 == 0:
            names = [n for n in names if "nitrate" in n or "EDTA" in n or n.startswith("nitric")]
        count = draw.randint(1, 12)
        products = [draw.choice(names) for _ in range(count)]
        tanks = [draw.choice("ABC" if number % 2 else "AB") for _ in products]
        if number % 5 == 0:
            tanks = ["B"] * count
        amounts = [round(draw.uniform(1, 900), 1) for _ in products]
        given = settings(products, tanks, amounts)
        found.append((given, evaluate(plan(), given)))
    return tuple(found)


def on_sheet(values: Values, title: str, of: Book | None = None) -> dict[str, str]:
    """What the cells of a sheet show, by key, formulas and fixed words."""
    formulas = (of or plan()).formulas
    return {k: str(v) for k, v in values.items() if formulas[k].cell.sheet == title}


def card(values: Values, low: str) -> dict[str, str]:
    return on_sheet(values, f"Card {low.upper()}")


def steps(values: Values, low: str) -> list[tuple[str, str]]:
    """What and how much, of the steps that there are."""
    lines = [str(values[part(f"lines_{low}", i)]) for i in range(16)]
    doses = [str(values[part(f"doses_{low}", i)]) for i in range(16)]
    assert all(line or not dose for line, dose in zip(lines, doses, strict=True))
    return [(line, dose) for line, dose in zip(lines, doses, strict=True) if line]


def in_tank(given: Values, low: str) -> list[str]:
    rows = zip(given["products"], given["tanks"], given["amounts"], strict=True)
    return [p for p, tank, amount in rows if p and amount and tank == low.upper()]


def cards_to_mix() -> Iterator[tuple[Values, Values, str]]:
    for given, values in random_recipes():
        for low in TANKS:
            if values[f"state_{low}"] == "mix":
                yield given, values, low


def test_there_are_cards_of_each_kind() -> None:
    states = [v[f"state_{low}"] for _, v in random_recipes() for low in TANKS]
    counts = {word: states.count(word) for word in ("mix", "stop", "whole", "unused")}
    assert min(counts.values()) >= 10, counts


# a stopped tank


def test_a_stopped_card_holds_no_amount() -> None:
    for _, values in random_recipes():
        for low in TANKS:
            if values[f"state_{low}"] == "mix":
                continue
            shown = card(values, low)
            assert not [text for text in shown.values() if AMOUNT.search(text)]
            assert not [text for text in shown.values() if SETTING.search(text)]
            assert steps(values, low) == []


def test_a_stopped_card_says_title_stop_reason_and_cure_and_nothing_else() -> None:
    """30 kg of potassium nitrate in 100 L at 10 degrees C do not dissolve (CRC: 17.3 % by mass)."""
    given = {"amounts": [8, 30, *[None] * 10]}
    shown = {k: v for k, v in card(evaluate(plan(), given), "a").items() if v}
    who = ("name_on_a", "version_on_a")
    assert shown.pop("card_a") == "Tank A"
    assert all(shown.pop(key) for key in who)
    assert list(shown.values()) == [
        "STOP: do not mix",
        "A product is at or beyond what dissolves at this temperature.",
        "A larger tank, a smaller ratio, or a warmer tank.",
    ]


def test_a_verdict_of_a_stopped_tank_begins_with_stop() -> None:
    for _, values in random_recipes():
        for low in TANKS:
            said = str(values[f"card_{low}_verdict"])
            stopped = values[f"state_{low}"] in ("stop", "whole")
            assert said.lower().startswith("stop") == stopped
            if str(values[f"clear_{low}"]).startswith("stop") or str(values["overall"]).startswith(
                "stop"
            ):
                assert stopped or values[f"state_{low}"] == "unused"


def test_a_recipe_that_stops_gives_no_card_to_mix() -> None:
    """The feed, not a tank: acid beyond all alkalinity."""
    given = settings(["nitric acid 60 %"], ["C"], [90000.0])
    values = evaluate(plan(), given)
    assert str(values["clear_c"]).partition(":")[0] != "stop"
    assert str(values["overall"]).startswith("stop")
    assert values["state_c"] == "whole"
    assert not [text for text in card(values, "c").values() if AMOUNT.search(text)]


def test_what_was_not_checked_keeps_its_amounts_and_says_so() -> None:
    """Nobody gave the ions of a label."""
    own = settings(["my bag"], ["A"], [500.0])
    own["own_names"] = ["my bag", *[None] * 19]
    own["own_k"] = [20.0, *[None] * 19]
    values = evaluate(plan(), own)
    assert str(values["clear_a"]).startswith("not checked")
    shown = card(values, "a")
    assert shown["box_a_here"].startswith("not checked: Nobody gave the ions")
    assert ("my bag", "500 g") in steps(values, "a")
    assert shown["signal_on_a"] == "READ THE LABEL"


def test_an_unused_tank_says_so() -> None:
    values = evaluate(plan(), settings(["potassium nitrate"], ["A"], [500.0]))
    shown = {k: v for k, v in card(values, "c").items() if v}
    assert shown["first_words_on_c"] == "Not used in this recipe."
    assert not [text for text in shown.values() if AMOUNT.search(text)]
    assert values["who_a"] == "version 3, card 1 of 1"


# steps


def test_every_product_of_a_tank_is_on_its_card_once_with_its_amount() -> None:
    for given, values, low in cards_to_mix():
        names = {str(values[part("card_names", i)]) for i in range(12)}
        got = sorted(step for step in steps(values, low) if step[0] in names)
        rows = range(len([p for p in given["products"] if p]))
        wanted = sorted(
            (str(values[part("card_names", i)]), str(values[part("weights", i)]))
            for i in rows
            if given["tanks"][i] == low.upper() and given["amounts"][i]
        )
        assert got == wanted
        listed = [on_sheet(values, "Cards")[f"short_name_{i}"] for i in range(1, 13)]
        assert not {name for name, _ in wanted} - set(listed)


def test_water_comes_first_acid_after_it_and_salts_after_acid() -> None:
    seen = 0
    short = {row["english"]: row["product"] for row in table("product_names")}
    for given, values, low in cards_to_mix():
        lines = [line for line, _ in steps(values, low)]
        assert lines[0] == words()["water"]
        assert lines[-2:] == [words()["fill"], f"{words()['set']} {low.upper()}"]
        kinds = [KINDS[short[line]] for line in lines if line in short]
        order = ["acid", "salt", "liquid", "chelate"]
        assert kinds == sorted(kinds, key=order.index)
        acid = [p for p in in_tank(given, low) if KINDS[p] == "acid"]
        assert (words()["acid"] in lines) == bool(acid)
        if acid:
            seen += 1
            assert lines[1] == words()["acid"]  # on a line of its own: slowly, into the water
            assert kinds[: len(acid)] == ["acid"] * len(acid)
    assert seen >= 5


def test_ten_steps_before_the_pause_and_the_rest_on_a_second_page() -> None:
    for number, second in ((8, False), (9, True), (12, True)):
        given = settings(["potassium nitrate"] * number, ["B"] * number, [100.0] * number)
        values = evaluate(plan(), given)
        first, more = card(values, "b"), on_sheet(values, "Card page 2")
        before = [first[f"step_{i}_b"] for i in range(1, 11) if first[f"step_{i}_b"]]
        after = [more[f"step_{i}_second"] for i in range(11, 16) if more[f"step_{i}_second"]]
        wanted = [line for line, _ in steps(values, "b")[:-1]]
        assert before + after == wanted
        assert bool(after) == second
        assert (first["step_set_b"] == "") == second
        assert (first["ec_on_b"] == "") == second
        assert (more["step_set_2"] == "Set injector B") == second
        assert (more["ec_on_2"] != "") == second
        assert (first["going_on_b_here"] == words()["go_on"]) == second


# amounts


def test_every_amount_has_its_unit_in_its_cell() -> None:
    for _, values, low in cards_to_mix():
        for line, dose in steps(values, low):
            if line == words()["acid"]:
                assert dose == ""
            elif line.startswith(words()["set"]):
                assert SETTING.fullmatch(dose)
            else:
                assert WHOLE_AMOUNT.fullmatch(dose), (line, dose)


def test_no_amount_stands_in_a_sentence() -> None:
    for _, values, low in cards_to_mix():
        for title in (f"Card {low.upper()}", "Cards", "Labels", "Large labels"):
            for key, text in on_sheet(values, title).items():
                if AMOUNT.search(text) and not key.startswith("stock_"):
                    whole = WHOLE_AMOUNT.fullmatch(text)
                    assert whole or re.fullmatch(r"[\d.]+ (mS/cm|h)", text), (key, text)


def test_us_cards_speak_pounds_and_gallons() -> None:
    """7,353.9 g are 16 lb 3.4 oz (1 lb is 453.59237 g); 25 gal half full is 12.5 gal."""
    us = book("recipe", "us")
    values = evaluate(us, {})
    assert values["used_amounts[0]"] == pytest.approx(7353.9, abs=0.1)
    assert ("calcium nitrate 15.5-0-0", "16 lb 3.4 oz") in steps(values, "a")
    assert steps(values, "a")[0][1] == "12.5 gal"
    assert steps(values, "a")[-2][1] == "25 gal"
    for low in TANKS:
        for line, dose in steps(values, low)[:-1]:
            assert WHOLE_AMOUNT.fullmatch(dose) or line == words()["acid"], dose


def test_both_stop_bounds_stand_in_words() -> None:
    """The bounds of the readings that the page shows: 10 % of the EC, 0.5 of the pH."""
    values = evaluate(plan(), {})
    shown = card(values, "a")
    ec, ph = float(str(values["ec_feed"])), float(str(values["feed_ph"]))
    low, high = (float(x) for x in re.findall(r"\d+\.\d+", shown["ec_stop_a"]))
    assert (low, high) == pytest.approx((ec * 0.9, ec * 1.1), abs=0.006)
    low, high = (float(x) for x in re.findall(r"\d+\.\d+", shown["ph_stop_a"]))
    assert (low, high) == pytest.approx((ph - 0.5, ph + 0.5), abs=0.051)
    assert shown["lasts_on_a"] == "5.56 h"  # 100 L at 1:100 of 30 L/min: 100 / 18
    assert shown["makes_on_a"] == "10\xa0000 L"


# hazards


def test_the_bar_has_the_worst_signal_word_of_the_products() -> None:
    seen = set()
    for given, values, low in cards_to_mix():
        signals = {HAZARDS[p]["signal"] for p in in_tank(given, low)}
        worst = next(each for each in WORST if each in signals)
        seen.add(worst)
        wanted = "" if worst == "none" else words()[worst]
        assert card(values, low)["signal_on_" + low] == wanted
        label = on_sheet(values, "Large labels")
        assert label[f"label_signal_large_{low}"] == wanted
    assert len(seen) == 3


def test_a_card_tells_every_hazard_of_its_products() -> None:
    for given, values, low in cards_to_mix():
        shown = " ".join(card(values, low).values())
        for product in in_tank(given, low):
            row = HAZARDS[product]
            codes = {c for key in ("hazards", "aid", "spill") for c in row[key].split("/")}
            for code in codes - {"none"}:
                assert words()[code] in shown, (product, code)


@pytest.mark.parametrize("product", HAZARDS)
def test_signal_words_are_those_of_the_hazard_classes(product: str) -> None:
    row = HAZARDS[product]
    codes = row["hazards"].split("/")
    assert set(codes) <= SIGNALS.keys() | NO_CLASS
    asked = {SIGNALS.get(code, "none") for code in codes}
    # Harm to fish alone asks for a word only in its worst category.
    assert row["signal"] == next(each for each in WORST if each in asked)


def test_acids_and_chlorine_ask_for_a_face_shield() -> None:
    for product, row in HAZARDS.items():
        if KINDS[product] == "acid" or "hypochlorite" in product:
            assert row["wear"] == "wear_shield" and "burns" in row["hazards"], product


def test_every_product_has_hazards_and_names() -> None:
    assert list(HAZARDS) == list(KINDS) == [row["product"] for row in table("product_names")]
    for row in table("product_names"):
        for language in ("english", "spanish"):
            assert 0 < len(row[language]) <= 31, row
    for row in table("hazards"):
        codes = "/".join(row[key] for key in ("hazards", "wear", "aid", "spill")).split("/")
        assert set(codes) - {"none"} <= words().keys(), row


def test_names_on_cards_tell_products_apart() -> None:
    for language in ("english", "spanish"):
        names = [row[language].lower() for row in table("product_names")]
        assert len(set(names)) == len(names)


# languages


def test_every_word_stands_in_every_language() -> None:
    for name in ("words", "clash_words"):
        for row in table(name):
            assert all(text.strip() for text in row.values()), row
    assert [r["clash"] for r in table("clash_words")] == [r["clash"] for r in table("clashes")]


def test_reasons_hold_no_figure() -> None:
    """They stand on stopped cards."""
    for row in table("clash_words"):
        for column in ("english", "english_cure", "spanish", "spanish_cure"):
            assert not re.search(r"\d", row[column]), row[column]


def test_a_spanish_card_has_no_english_word() -> None:
    english, spanish = words(), words("spanish")
    away = {text for key, text in english.items() if text != spanish[key] and len(text) > 3}
    for given in ({}, {"amounts": [8, 30, *[None] * 10]}, {"tanks": ["B"] * 12}):
        values = evaluate(plan(), {**given, "card_language": "Spanish"})
        for title in PRINTED:
            for key, text in on_sheet(values, title).items():
                assert not [word for word in away if word.lower() in text.lower()], (key, text)
    values = evaluate(plan(), {"card_language": "Spanish"})
    assert values["card_a"] == "Tanque A"
    assert values["signal_on_a"] == "PELIGRO"
    assert ("nitrato de potasio", "4.9 kg") in steps(values, "a")


def test_the_page_of_all_tanks_has_the_safety_lines_of_the_recipe() -> None:
    shown = on_sheet(evaluate(plan(), {}), "Cards")
    assert {shown["all_tanks_safety_1"], shown["all_tanks_safety_2"]} == set(SAFETY)


def test_a_language_of_no_list_is_the_first() -> None:
    assert evaluate(plan(), {"card_language": "no such"})["card_a"] == "Tank A"


def test_our_words_fit_into_a_formula() -> None:
    """Excel takes 255 characters of text in a formula."""
    for name in ("words", "clash_words"):
        assert max(len(text) for row in table(name) for text in row.values()) <= 255


# names, labels


def test_name_and_version_stand_on_cards_and_labels() -> None:
    values = evaluate(plan(), {"recipe_name": "Basil, spring", "recipe_version": 2.5})
    for title in ("Card A", "Card B", "Card C", "Cards", "Labels", "Large labels"):
        shown = " ".join(on_sheet(values, title).values())
        assert "Basil, spring" in shown and "version 2.5" in shown, title


def test_a_label_stands_on_the_sheet_for_its_size() -> None:
    """Up to 500 L two share a page; above it a label has one of its own."""
    for litres, at, other in ((500.0, "small", "large"), (501.0, "large", "small")):
        values = evaluate(plan(), settings(["urea"], ["A"], [100.0], tank_a=litres))
        title = {"small": "Labels", "large": "Large labels"}
        here, there = on_sheet(values, title[at]), on_sheet(values, title[other])
        assert (here[f"item_1_{at}_a"], here[f"much_1_{at}_a"]) == ("urea", "100 g")
        assert here[f"ratio_{at}_a"] == "1 : 100"
        assert "its label is on the sheet" in there[f"item_1_{other}_a"]
        assert there[f"much_1_{other}_a"] == there[f"ratio_{other}_a"] == ""


def test_a_label_names_every_product_of_its_tank() -> None:
    for given, values, low in cards_to_mix():
        label = on_sheet(values, "Large labels")
        shown = " ".join(v for k, v in label.items() if k.endswith(f"large_{low}"))
        for i, product in enumerate(given["products"]):
            if product and given["amounts"][i] and given["tanks"][i] == low.upper():
                assert str(values[part("card_names", i)]) in shown
        others = [o.upper() for o in TANKS if o != low and values[f"state_{o}"] != "unused"]
        never = label[f"never_large_{low}"]
        assert all(re.search(rf"\b{other}\b", never) for other in others), never


def test_a_stopped_tank_has_no_label() -> None:
    values = evaluate(plan(), {"amounts": [8, 30, *[None] * 10]})
    for title in ("Labels", "Large labels"):
        shown = on_sheet(values, title).values()
        assert not [text for text in shown if AMOUNT.search(text) or SETTING.search(text)]


# print and type


PAPERS = {"metric": (210.0, 297.0), "us": (215.9, 279.4)}  # mm: ISO 216 A4, ANSI Letter


def pixels(width: float) -> int:
    return int(width * 7 + 5)


def printed_scale(sheet: Sheet, edition: str) -> float:
    """The scale that makes a sheet fit one page, margins of 12 mm, 14 at the foot."""
    wide, tall = PAPERS[edition]
    if sheet.landscape:
        wide, tall = tall, wide
    width = sum(map(pixels, sheet.widths)) * 25.4 / 96
    height = sum(sheet.heights.get(row, 12.75) for row in range(1, sheet.row)) * 25.4 / 72
    return min((wide - 24) / width, (tall - 26) / height)


@pytest.mark.parametrize("edition", PAPERS)
def test_cards_are_printed_at_four_fifths_at_least(edition: str) -> None:
    sheets = [each for each in book("recipe", edition).sheets if each.one_page]
    assert [each.title for each in sheets] == ["Card A", "Card B", "Card C", "Card page 2", "Cards"]
    for sheet in sheets:
        assert printed_scale(sheet, edition) >= 0.8, sheet.title


@pytest.mark.parametrize("edition", PAPERS)
def test_labels_fit_their_pages_at_their_scale(edition: str) -> None:
    for sheet in book("recipe", edition).sheets:
        if sheet.title not in ("Labels", "Large labels"):
            continue
        assert sheet.scale >= 80
        wide, tall = PAPERS[edition][:: -1 if sheet.landscape else 1]
        width = sum(map(pixels, sheet.widths)) * 25.4 / 96 * sheet.scale / 100
        assert width <= wide - 24
        edges = [0, *sheet.breaks, sheet.row - 1]
        assert len(edges) == (3 if sheet.title == "Labels" else 4)
        for first, last in zip(edges, edges[1:], strict=False):
            rows = range(first + 1, last + 1)
            height = sum(sheet.heights.get(row, 12.75) for row in rows) * 25.4 / 72
            assert height * sheet.scale / 100 <= tall - 26, (sheet.title, first)


def test_the_box_for_hazard_diamonds_is_large_enough() -> None:
    """50 by 38 mm, as printed."""
    for sheet in plan().sheets:
        if sheet.title in ("Labels", "Large labels"):
            box = next(spec for spec in sheet.specs if spec.style == "label box")
            wide = pixels(sheet.widths[box.cell.column - 1]) * 25.4 / 96
            rows = range(box.cell.row, box.cell.row + box.down)
            tall = sum(sheet.heights[row] for row in rows) * 25.4 / 72
            assert wide * sheet.scale / 100 >= 50 and tall * sheet.scale / 100 >= 38


def test_sizes_of_type() -> None:
    """What is read at arm's length: sizes in points, as the design of the pages has them."""
    sizes = {
        "card tank": 34,
        "card signal": 16,
        "card step": 14,
        "card amount": 22,
        "card pair": 17,
        "card words": 12,
        "label letter": 165,
        "label item": 16,
        "label amount": 18,
        "label setting": 40,
        "label signal": 26,
        "label hazard": 14,
        "label aid": 12,
        "label never": 18,
    }
    assert {key: LOOKS[key].size for key in sizes} == sizes


def test_no_helper_stands_beside_a_card() -> None:
    for sheet in plan().sheets:
        if sheet.title.startswith(("Card", "Label", "Large")) and not sheet.hidden:
            assert max(s.cell.column + s.across - 1 for s in sheet.specs) <= len(sheet.widths)
            assert "quiet" not in {spec.style for spec in sheet.specs}
