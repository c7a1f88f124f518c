"""What a season workbook asks for, what may be bought for it, and its entries for an answer."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeGuard

from tanksheet.errors import WorkbookProblem
from tanksheet.recipes.price_list import Price
from tanksheet.recipes.workbook import MAY_BE_BLANK, WATER, Wish
from tanksheet.sheets.book import Book
from tanksheet.sheets.evaluate import chosen_values
from tanksheet.sheets.present import Present
from tanksheet.tables import is_listed, look_up
from tanksheet.templates.products import NAMES
from tanksheet.templates.recipe.working import TANKS, holds
from tanksheet.templates.season.weeks_working import (
    LEAST_KG,
    NUTRIENTS,
    POUND,
    PRODUCTS,
    WEEKS,
    holds_of,
)

LOW = tuple(nutrient.lower() for nutrient in NUTRIENTS)


@dataclass(frozen=True)
class Candidate:
    """A product that may be bought: percent of each nutrient, price of a kilogram, the most
    kilograms that dissolve in each week of the plan, and its row in the workbook, if it has one."""

    name: str
    percents: tuple[float, ...]
    price_kg: float
    chemistry: str
    most: tuple[float, ...]
    row: int | None = None
    price: Price | None = None  # as a file of prices gives it


@dataclass(frozen=True)
class Plan:
    """``asked`` and ``needs`` are kilograms by nutrient and week, ``weeks`` those that are fed."""

    asked: tuple[tuple[float, ...], ...]
    needs: tuple[tuple[float, ...], ...]
    events: tuple[float, ...]
    weeks: tuple[int, ...]
    candidates: tuple[Candidate, ...]
    litres: Mapping[str, float]
    water: Mapping[str, float]
    temperature: float
    entries: Mapping[str, Any]
    pounds: bool
    notes: tuple[str, ...] = ()

    def only(self, some: frozenset[str]) -> Plan:
        return replace(self, candidates=tuple(e for e in self.candidates if e.name in some))

    @property
    def with_calcium(self) -> frozenset[str]:
        at = NUTRIENTS.index("Ca")
        return frozenset(each.name for each in self.candidates if each.percents[at] > 0)

    def room(self, each: Candidate, percent: float) -> list[float]:
        """The most of a product that each week can take within its plan."""
        found = []
        for week, most in zip(self.weeks, each.most, strict=True):
            ends = [most]
            for i, held in enumerate(each.percents):
                if held > 0 and self.asked[i][week] > 0:
                    whole = self.needs[i][week] + self.asked[i][week] * percent / 100
                    ends.append(100 * whole / held)
            whole = sum(need[week] for need in self.needs) + sum(a[week] for a in self.asked)
            least = min(held for held in each.percents if held > 0)
            found.append(min(*ends, 100 * whole / least + 1))
        return found


def read(book: Book, now: Present, wish: Wish) -> Plan:
    """Raises: WorkbookProblem for a plan that lacks something, or a product without a price."""
    file = now.target.path.name
    keys = ("plan_check", "events", "listed", "prices_used", "packs_used", "kg_used")
    columns = [*keys, *(f"asked_{low}" for low in LOW), *(f"need_{low}" for low in LOW)]
    columns += [f"holds_{low}" for low in LOW] + ["water_alkali"]
    cells = {name: book.ranges.get(name, (book.key_for(name),)) for name in columns}
    values = chosen_values(book, now.entries, [key for each in cells.values() for key in each])
    table = {name: [values[key] for key in each] for name, each in cells.items()}
    (said,) = table["plan_check"]
    if not str(said).startswith("pass"):
        raise WorkbookProblem(f"{file}: the plan is not complete: {said}")
    asked = tuple(_floats(table[f"asked_{low}"]) for low in LOW)
    needs = tuple(_floats(table[f"need_{low}"]) for low in LOW)
    weeks = tuple(w for w in range(WEEKS) if any(a[w] > LEAST_KG for a in asked))
    litres = {letter: _used(book, now, f"tank_{letter.lower()}") for letter in TANKS}
    plan = Plan(
        asked,
        needs,
        _floats(table["events"]),
        weeks,
        (),
        litres,
        _water(book, now, *_floats(table["water_alkali"])),
        _used(book, now, "temperature"),
        now.entries,
        book.edition == "us",
    )
    return _with_products(plan, table, file, wish)


def _floats(values: Sequence[Any]) -> tuple[float, ...]:
    return tuple(float(value) for value in values)


def _used(book: Book, now: Present, name: str) -> float:
    value = now.used[book.key_for(name)]
    if not isinstance(value, (int, float)):
        place = now.target.cells(name)[0].a1
        raise WorkbookProblem(f"{now.target.path.name}: {place} ({name}) is blank")
    return float(value)


def _water(book: Book, now: Present, alkalinity: float) -> dict[str, float]:
    """mg/L of what the water brings, blank for nothing where the workbook takes it so."""
    water = {name: _used(book, now, f"water_{short}") for name, short in WATER.items()}
    for name, short in MAY_BE_BLANK.items():
        given = now.used[book.key_for(f"water_{short}")]
        water[name] = 0.0 if given == "" else _used(book, now, f"water_{short}")
    ph = now.used[book.key_for("water_ph")]
    if isinstance(ph, (int, float)):
        water["pH"] = float(ph)
    return water | {"alkalinity": alkalinity}


# products


def _with_products(plan: Plan, table: Mapping[str, Any], file: str, wish: Wish) -> Plan:
    """The workbook's own products, and those of the file of prices that it does not list."""
    found: list[Candidate] = []
    notes, lacking = [], []
    for row, name in enumerate(table["listed"]):
        if not isinstance(name, str) or not name or name in [each.name for each in found]:
            continue
        percents = tuple(float(table[f"holds_{low}"][row]) for low in LOW)
        given, price = wish.prices.get(name.lower()), table["kg_used"][row]
        if given is None and not _is_number(price):
            lacking.append(name)
            continue
        price_kg = price if given is None else given.price / given.kilograms(_density(name, given))
        made = _candidate(plan, name, percents, price_kg)
        found.append(replace(made, row=row, price=given))
    if lacking:
        raise WorkbookProblem(
            f"{file}: no price is given of {'; '.join(lacking)}; type what a pack costs and holds "
            "on the sheet Order, or give them with --prices FILE.csv, its first row being "
            "product,price,pack,pack_unit"
        )
    more, acids = _from_prices(plan, {each.name.lower() for each in found}, wish)
    found += more
    if acids:
        notes.append(f"acids are left to be chosen by hand: {', '.join(acids)}")
    found = [each for each in found if any(each.percents)]
    if not found:
        raise WorkbookProblem(
            f"{file}: no product that brings a nutrient is chosen; list those that may be used, or "
            "give a file of prices"
        )
    return replace(plan, candidates=tuple(found), notes=tuple(notes))


def _from_prices(plan: Plan, here: set[str], wish: Wish) -> tuple[list[Candidate], list[str]]:
    """Products of the file of prices that the list knows and the workbook has not; and the acids
    among them, which nobody but a person is to choose."""
    found, acids = [], []
    listed = {name.lower(): name for name in NAMES}
    for key, given in wish.prices.items():
        if key in here or key not in listed:
            continue
        name = listed[key]
        percents = tuple(float(holds_of(nutrient)(name)) for nutrient in NUTRIENTS)
        if look_up("fertilizers", "kind", name) == "acid":
            acids.append(name)
        elif any(percents):
            price_kg = given.price / given.kilograms(_density(name, given))
            found.append(replace(_candidate(plan, name, percents, price_kg), price=given))
    return found, acids


def _density(name: str, price: Price) -> float:
    listed = is_listed("fertilizers", name)
    density = float(look_up("fertilizers", "density_kgL", name)) if listed else 0.0
    if price.is_volume and not density > 0:
        raise WorkbookProblem(
            f"{name!r}: its density is not known here: its price must be for a mass, such as 25 kg"
        )
    return density


def _candidate(plan: Plan, name: str, percents: tuple[float, ...], price_kg: float) -> Candidate:
    chemistry = name if is_listed("fertilizers", name) else ""
    limit = holds(chemistry, plan.temperature) if chemistry else ""
    largest = max(plan.litres.values())
    most = tuple(
        limit * largest * plan.events[week] / 1000 if isinstance(limit, float) else math.inf
        for week in plan.weeks
    )
    return Candidate(name, percents, float(price_kg), chemistry, most)


# the answer


def settings(plan: Plan, amounts: Mapping[str, float], tanks: Mapping[str, str]) -> dict[str, Any]:
    """What puts a season into the workbook: products that it has keep their row, and with it their
    price; others take the rows that are left. All amounts stand on the sheet By hand."""
    used = [each for each in plan.candidates if each.name in tanks]
    rows: dict[int, Candidate] = {each.row: each for each in used if each.row is not None}
    free = [row for row in range(PRODUCTS) if row not in rows]
    blank = [row for row in free if not plan.entries["products"][row]]
    for each in used:
        if each.row is None:
            row = (blank or free)[0]
            free.remove(row)
            if row in blank:
                blank.remove(row)
            rows[row] = each
    made = {name: list(plan.entries[name]) for name in ("products", "tanks", "chosen_for")}
    made |= {name: list(plan.entries[name]) for name in ("prices", "pack_sizes", "pack_units")}
    made["shares_typed"] = [None] * PRODUCTS
    made["packs_on_hand"] = list(plan.entries["packs_on_hand"])
    for row in range(PRODUCTS):
        made[f"by_hand_{row + 1}"] = _typed_weeks(plan, rows.get(row), amounts)
    for row, each in rows.items():
        made["products"][row], made["tanks"][row] = each.name, tanks[each.name]
        made["chosen_for"][row] = _brought_most(plan, each)
        if each.row is None:
            made["packs_on_hand"][row] = None
        if each.price is not None:
            unit = "L" if each.price.is_volume else "kg"
            made["prices"][row], made["pack_sizes"][row] = each.price.price, each.price.pack
            made["pack_units"][row] = unit
    return dict(made)


def _typed_weeks(
    plan: Plan, each: Candidate | None, amounts: Mapping[str, float]
) -> list[float | None]:
    """As they are typed: a number, 0 too, in each week that asks for something."""
    unit = POUND if plan.pounds else 1.0
    typed: list[float | None] = [None] * WEEKS
    for week in plan.weeks:
        mass = amounts.get(f"{each.name}, week {week + 1}", 0.0) if each else 0.0
        typed[week] = round(mass / unit, 9)
    return typed


def _brought_most(plan: Plan, each: Candidate) -> str:
    """The nutrient of which a product holds most, among those that are asked for."""
    asked = [sum(of) for of in plan.asked]
    held = [p if a > 0 else 0.0 for p, a in zip(each.percents, asked, strict=True)]
    return NUTRIENTS[held.index(max(held))]


def _is_number(value: Any) -> TypeGuard[float]:
    return isinstance(value, (int, float)) and not isinstance(value, bool)
