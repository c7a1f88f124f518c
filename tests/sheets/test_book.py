"""A plan refuses what would make a workbook that does not compute."""

from __future__ import annotations

from typing import Any

import pytest

from small_books import doubled, page_of, small_book
from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Entry, Formula
from tanksheet.sheets.page import add_page
from tanksheet.sheets.rows import BASE, OTHER
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.xlsx.address import Address


def entry(key: str) -> Entry:
    return Entry(key, (Address("Main", 50, 2),), (1.0,), key)


def formula(key: str, *arguments: str) -> Formula:
    return Formula(key, Address("Main", 51, 2), doubled, arguments, key, key)


@pytest.mark.parametrize("key", ["tank", "tank_unit", "doubled", "tank_in_L", "way_check"])
def test_a_key_stands_once(key: str) -> None:
    with pytest.raises(ValueError, match=f"'{key}' stands twice in small"):
        small_book().add_entry(entry(key))
    with pytest.raises(ValueError, match=f"'{key}' stands twice in small"):
        small_book().add_formula(formula(key, "tank"))
    with pytest.raises(ValueError, match=f"'{key}' stands twice in small"):
        small_book().add_range(key, ("doubled",))


def test_a_formula_uses_what_stands_above_it() -> None:
    with pytest.raises(ValueError, match="late uses 'missing', which no row above defines"):
        small_book().add_formula(formula("late", "missing"))


@pytest.mark.parametrize("key", ["A1", "ec25", "XFD1048576", "R1C1", "r", "c", "R2", "C", "ppm1"])
def test_cell_like_names_are_refused(key: str) -> None:
    """Microsoft's reference, "Names in formulas": no name may read like A1 or R1C1."""
    with pytest.raises(ValueError, match="would be read as a cell"):
        small_book().add_entry(entry(key))


@pytest.mark.parametrize("key", ["true", "TRUE", "true_ratio", "False_start", "falsehood"])
def test_names_that_begin_like_constants_are_refused(key: str) -> None:
    with pytest.raises(ValueError, match="or a constant"):
        small_book().add_entry(entry(key))


@pytest.mark.parametrize("key", ["xfe1", "a1048577", "tank_1", "row_1", "abcd1", "mass1x"])
def test_names_that_only_look_a_little_like_cells_pass(key: str) -> None:
    book = small_book()
    book.add_entry(entry(key))
    assert key in book.entries


def test_an_unknown_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="pot: 'hogshead' is not among"):
        page_of(small_book()).input("pot", "Pot", "tank", 1, "hogshead", usual=(1, 2))


def test_a_unit_of_something_else_is_refused() -> None:
    with pytest.raises(ValueError, match="pot: 'psi' is not among"):
        page_of(small_book()).input("pot", "Pot", "tank", 1, "psi", usual=(1, 2))


def test_an_unknown_quantity_is_refused() -> None:
    with pytest.raises(KeyError, match="no_such_quantity"):
        page_of(small_book()).input("pot", "Pot", "no_such_quantity", 1, "L", usual=(1, 2))


def test_a_result_refuses_a_parameter_that_the_function_lacks() -> None:
    with pytest.raises(ValueError, match=r"has no parameters \['volumes'\]"):
        page_of(small_book()).result("more", "More", doubled, unit="L", volumes="tank")


def test_a_result_refuses_a_quantity_that_is_not_there() -> None:
    with pytest.raises(ValueError, match="more uses 'barrel'"):
        page_of(small_book()).result("more", "More", doubled, unit="L", volume="barrel")


def test_inputs_lead_to_their_value_in_the_base_unit() -> None:
    book = small_book()
    assert book.key_for("tank") == "tank_in_L"
    assert book.key_for("flow") == "flow_in_Lmin"
    assert book.key_for("method") == "method_checked"
    assert book.key_for("doubled") == "doubled"


def test_named_cells_cover_entries_formulas_and_ranges() -> None:
    book = small_book()
    book.add_range("both", ("doubled", "minutes"))
    named = book.named_cells()
    assert named["tank"] == (Address("Main", 2, 2),)
    assert named["tank_unit"] == (Address("Main", 2, 3),)
    assert named["tank_in_L"] == (Address("Behind Main", 2, BASE),)
    assert named["tank_means"] == (Address("Main", 2, OTHER),)
    assert named["both"] == (book.formulas["doubled"].cell, book.formulas["minutes"].cell)


def test_parts_of_runs_are_known_by_position() -> None:
    assert part("readings", 2) == "readings[2]"
    assert part("grid", 1, 3) == "grid[1,3]"
    book = Book("runs", "Runs", "")
    page = add_page(book, "Main")
    page.axes(("down", "ratio", (1, 2)), ("along", "target", (5, 6)), "", ("0", "0"))
    assert {"down[0]", "down[1]", "along[0]", "along[1]"} <= book.known


def test_a_small_plan_builds() -> None:
    assert workbook_bytes(small_book()).startswith(b"PK")


def test_a_body_outside_the_subset_is_named_by_file_and_line() -> None:
    from tanksheet.errors import NotCompilable

    def looped(volume: Any) -> Any:
        return [volume for _ in "ab"]

    book = small_book()
    page_of(book).result("looped", "Looped", looped, unit="L", volume="tank")
    with pytest.raises(NotCompilable, match=r"test_book\.py:\d+: "):
        workbook_bytes(book)
