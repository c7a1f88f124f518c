"""The recipe workbook solved: its products, targets, water and tanks in, amounts and tanks out.

What the workbook says of the outcome has the last word: where a tank is a stop there, its products
are kept apart and all is solved again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, TypeGuard

from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.recalc import Session
from tanksheet.recipes import least_cost
from tanksheet.recipes.feed import Recipe, Target
from tanksheet.recipes.highs import OPTIMAL
from tanksheet.recipes.price_list import Price
from tanksheet.recipes.products import ALKALINITY, ELEMENTS, IONS, NITROGEN, Product
from tanksheet.recipes.solution import Solution
from tanksheet.recipes.stock import Stock
from tanksheet.sheets.book import Book
from tanksheet.sheets.evaluate import chosen_values
from tanksheet.sheets.present import Present, present
from tanksheet.sheets.refreshed import refreshed_in
from tanksheet.sheets.run import default_names
from tanksheet.sheets.settings import set_cells
from tanksheet.sheets.target import Target as File
from tanksheet.tables import is_listed
from tanksheet.templates.recipe.feed_working import LITTLE_LEFT
from tanksheet.templates.recipe.forms import FORMS

LETTERS = "ABC"
WATER = {"NO3-N": "n", "K": "k", "Ca": "ca", "Mg": "mg", "S": "s", "Na": "na", "Cl": "cl"}
MAY_BE_BLANK = {"NH4-N": "nh4", "Fe": "fe", "Mn": "mn", "B": "b"}  # then none is counted
MOST_ROUNDS = 12
KILOGRAM = 1000.0
INSIDE = 1e-6  # share of a tolerance that is left, so that rounding does not cross it


@dataclass(frozen=True)
class Wish:
    """What a person asks for beyond the workbook: prices by product in small letters, targets more
    or other than its own, the tolerance instead of its own, how many products, the scale's step and
    the smallest amount in grams, how many of the tanks, from A on, and whether only whole packs."""

    prices: Mapping[str, Price]
    targets: tuple[Target, ...] = ()
    percent: float | None = None
    most_products: int | None = None
    least: float = 0.0
    step: float = 0.0
    tanks: int = len(LETTERS)
    whole_packs: bool = False


@dataclass(frozen=True)
class Solved:
    """The solution, its recipe, the settings that put it into the workbook, and its stops."""

    solution: Solution
    recipe: Recipe
    stock: Stock
    settings: Mapping[str, Any]
    stops: Mapping[str, str]


def solve(session: Session, plan: Book | None, wish: Wish) -> Solved:
    """Solves the recipe in an open workbook; the file itself is not written to.

    Raises: WorkbookProblem for a workbook that is no recipe, entries that are unusable, a product
    without a price.
    """
    file = File.of(session.package, plan)
    if plan is None or plan.name != "recipe":
        raise WorkbookProblem(
            f"{file.path.name} is no recipe and no season workbook; solve takes one of these, or "
            "problems as .json"
        )
    now = present(session, file, {}, [])
    now.refuse_bad()
    sheet = _Sheet(plan, now)
    recipe, stock = sheet.recipe(wish), sheet.stock(wish.tanks)
    for _ in range(MOST_ROUNDS):
        found = least_cost(recipe, stock)
        if found.status != OPTIMAL and stock.worst == "pass":
            stock = replace(stock, worst="caution")
            continue
        if found.status != OPTIMAL:
            return Solved(found, recipe, stock, {}, {})
        settings = sheet.settings(found)
        stops = stops_of(present(session, file, settings, default_names(file)), file)
        more = _groups_that_stop(found, stops)
        if not more or not set(more) - set(stock.apart):
            break
        stock = replace(stock, apart=(*stock.apart, *more))
    notes = (*found.notes, *sheet.notes(recipe, wish))
    return Solved(replace(found, notes=notes), recipe, stock, settings, stops)


def written(session: Session, path: Path, plan: Book, settings: Mapping[str, Any]) -> bytes:
    """A copy of the workbook with the solution in it and everything worked out anew."""
    file = File.of(session.package, plan)
    inputs = {}
    for name, value in settings.items():
        inputs.update(set_cells(file, name, value))
    return refreshed_in(session, path, inputs)


def stops_of(now: Present, file: File) -> dict[str, str]:
    """What the workbook says with the word "stop", by the name of the verdict."""
    found: dict[str, str] = {}
    for name in default_names(file):
        held = now.value(name)
        for i, value in enumerate(held if isinstance(held, list) else [held]):
            if isinstance(value, SheetError):
                value = f"stop: it shows {value}" if name in ("overall", "together") else ""
            if isinstance(value, str) and value.startswith("stop"):
                found[f"{name}[{i + 1}]" if isinstance(held, list) else name] = value
    return found


def _groups_that_stop(found: Solution, stops: Mapping[str, str]) -> tuple[frozenset[str], ...]:
    """The products of each tank that the workbook stops, to be kept from sharing one."""
    groups = []
    for letter in LETTERS:
        held = frozenset(name for name, tank in found.tanks.items() if tank == letter)
        if f"clear_{letter.lower()}" in stops and len(held) > 1:
            groups.append(held)
    return tuple(groups)


class _Sheet:
    """The recipe workbook's entries in base units, and what its tables make of its products."""

    def __init__(self, plan: Book, now: Present) -> None:
        self.plan, self.now = plan, now
        columns = [f"percent_{c}" for c in (*NITROGEN.values(), *map(str.lower, ELEMENTS))]
        columns += [f"ion_{ion}" for ion in (*IONS, "hydrogen")] + ["densities", "listed"]
        columns += ["wanted", "elements", "form_wanted", "tolerances_used"]
        columns += ["prices_used", "packs_used"]
        keys = {name: plan.ranges[name] for name in columns}
        cells = [key for each in keys.values() for key in each]
        values = chosen_values(plan, now.entries, [*cells, "water_alkali", "alkalinity_wanted"])
        self.tables = {name: [values[key] for key in each] for name, each in keys.items()}
        self.alkalinity = float(values["water_alkali"])  # type: ignore[arg-type]
        self.left = values["alkalinity_wanted"]
        self.rows: dict[str, int] = {}
        for i, name in enumerate(self.tables["listed"]):
            if isinstance(name, str) and name and not isinstance(name, SheetError):
                self.rows.setdefault(name, i)

    def used(self, name: str) -> float:
        value = self.now.used[self.plan.key_for(name)]
        if not isinstance(value, (int, float)):
            place = self.now.target.cells(name)[0].a1
            raise WorkbookProblem(f"{self.now.target.path.name}: {place} ({name}) is blank")
        return float(value)

    def stock(self, count: int) -> Stock:
        litres = {letter: self.used(f"tank_{letter.lower()}") for letter in LETTERS[:count]}
        ph = self.now.used[self.plan.key_for("water_ph")]
        return Stock(
            litres,
            self.used("ratio"),
            self.used("temperature"),
            float(ph) if isinstance(ph, (int, float)) else None,
        )

    def recipe(self, wish: Wish) -> Recipe:
        products = self._products(wish)
        water = {name: self.used(f"water_{short}") for name, short in WATER.items()}
        for name, short in MAY_BE_BLANK.items():
            given = self.now.used[self.plan.key_for(f"water_{short}")]
            water[name] = 0.0 if given == "" else self.used(f"water_{short}")
        water[ALKALINITY] = self.alkalinity
        targets = {target.name: target for target in self._targets(wish.percent)}
        if isinstance(self.left, float) and self.left > 0:
            allowed = self._allowed(wish.percent, len(self.tables["elements"]))
            targets[ALKALINITY] = Target.within(ALKALINITY, self.left, allowed)
        targets |= {target.name: target for target in wish.targets}
        if not targets:
            raise WorkbookProblem(f"{self.now.target.path.name}: no target is given")
        if ALKALINITY not in targets and any((each.alkalinity or 0) < 0 for each in products):
            left = min(LITTLE_LEFT * (1 + INSIDE), self.alkalinity)
            targets[ALKALINITY] = Target(ALKALINITY, at_least=left)
        return Recipe(
            products,
            tuple(targets.values()),
            water,
            self.stock(wish.tanks).feed,
            wish.most_products,
        )

    def notes(self, recipe: Recipe, wish: Wish) -> tuple[str, ...]:
        if ALKALINITY in {each.name for each in wish.targets} or self.left:
            return ()
        kept = [each.at_least for each in recipe.targets if each.name == ALKALINITY]
        return tuple(
            f"{left:.2f} meq/L of alkalinity are kept, lest acid use it up" for left in kept
        )

    def _allowed(self, percent: float | None, line: int) -> float:
        """Percent by which the target of a line may be missed."""
        own = self._number("tolerances_used", line)
        return (own if percent is None else percent) * (1 - INSIDE)

    def _targets(self, percent: float | None) -> list[Target]:
        """Of elements, of forms of nitrogen, and the limits of their shares."""
        names = [*map(str, self.tables["elements"]), "", *FORMS]
        wanted = [*self.tables["wanted"], "", *self.tables["form_wanted"]]
        lines = enumerate(zip(names, wanted, strict=True))
        targets = [
            Target.within(name, float(value), self._allowed(percent, i))
            for i, (name, value) in lines
            if _is_number(value)
        ]
        typed = zip(NITROGEN, self.now.entries["nitrogen_limits"], strict=True)
        limits = {form: float(limit) for form, limit in typed if _is_number(limit)}
        return targets + [
            Target(form, at_least=limit, of="N")
            if form == "NO3-N"
            else Target(form, at_most=limit, of="N")
            for form, limit in limits.items()
        ]

    def _products(self, wish: Wish) -> tuple[Product, ...]:
        file = self.now.target.path.name
        if not self.rows:
            raise WorkbookProblem(f"{file}: no product is chosen; list those that may be used")
        prices = {name: self._price(name, row, wish) for name, row in self.rows.items()}
        lacking = [name for name, price in prices.items() if price is None]
        if lacking:
            raise WorkbookProblem(
                f"{file}: no price is given of {'; '.join(lacking)}; type what a pack costs and "
                "holds on the sheet Cost, or give them with --prices FILE.csv, its first row being "
                "product,price,pack,pack_unit"
            )
        return tuple(
            self._product(name, self.rows[name], price, wish)
            for name, price in prices.items()
            if price is not None
        )

    def _price(self, name: str, row: int, wish: Wish) -> Price | None:
        """As the file of prices has it, else as the sheet Cost has it."""
        given = wish.prices.get(name.lower())
        price, pack = self.tables["prices_used"][row], self.tables["packs_used"][row]
        if given is None and _is_number(price) and _is_number(pack):
            return Price(price, pack)
        return given

    def _product(self, name: str, row: int, price: Price, wish: Wish) -> Product:
        density = self._number("densities", row)
        if price.is_volume and not density > 0:
            raise WorkbookProblem(f"{name!r} is dry: its price must be for a mass, such as 25 kg")
        forms = {form: f"percent_{column}" for form, column in NITROGEN.items()}
        forms |= {each: f"percent_{each.lower()}" for each in ELEMENTS}
        contents = {each: self._number(column, row) for each, column in forms.items()}
        alkalinity = self._number("ion_bicarbonate", row) - self._number("ion_hydrogen", row)
        ions = {ion: self._number(f"ion_{ion}", row) for ion in IONS}
        known = is_listed("fertilizers", name)
        return Product(
            name,
            contents,
            price.price,
            price.kilograms(density),
            least=wish.least,
            step=wish.step,
            whole_packs=wish.whole_packs,
            alkalinity=alkalinity,
            ions=ions | {"bicarbonate": alkalinity} if known else None,
            chemistry=name if known else "",
        )

    def _number(self, column: str, row: int) -> float:
        value = self.tables[column][row]
        return float(value) if isinstance(value, (int, float)) else 0.0

    def settings(self, found: Solution) -> dict[str, Any]:
        """What puts a solution into the workbook: each product in its first row, the rest 0."""
        entries, kept = self.now.entries, {row: name for name, row in self.rows.items()}
        products, tanks = list(entries["products"]), list(entries["tanks"])
        amounts, units = list(entries["amounts"]), list(entries["amount_units"])
        for row in range(len(products)):
            name = kept.get(row)
            products[row] = name
            amounts[row] = 0.0 if name else None
            if name and name in found.tanks:
                grams = found.amounts[name]
                tanks[row] = found.tanks[name]
                amounts[row], units[row] = _weighed(grams)
        return {"products": products, "tanks": tanks, "amounts": amounts, "amount_units": units}


def _weighed(grams: float) -> tuple[float, str]:
    """As people weigh it; a thousandth of a milligram is nothing to anyone."""
    if grams >= KILOGRAM:
        return round(grams / KILOGRAM, 9), "kg"
    return round(grams, 6), "g"


def _is_number(value: Any) -> TypeGuard[float]:
    return isinstance(value, (int, float)) and not isinstance(value, bool)
