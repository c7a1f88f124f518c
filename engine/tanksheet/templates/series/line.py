"""The hidden sheets of what meets what: the line with each set of stocks in it, and each stock as
it enters what stands before it."""

from __future__ import annotations

from typing import Any

from tanksheet.calc.feed import feed_ph
from tanksheet.calc.meter import feed_conductivity
from tanksheet.sheets.book import Book, part
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.templates.recipe import feed_working as feed
from tanksheet.templates.recipe import pipe_working as pipe
from tanksheet.templates.recipe import reason_working as reason
from tanksheet.templates.recipe.feed import IONS, STRENGTH, WATER, each
from tanksheet.templates.recipe.reasons import RULES, SUMS, ranked
from tanksheet.templates.recipe.tanks import Placed, counted, ph_rows, settling, tank_row
from tanksheet.templates.series import line_working as work
from tanksheet.templates.series import mixing_working as mixing
from tanksheet.templates.series import standing_working as standing
from tanksheet.templates.series.setting_working import ORDERS
from tanksheet.templates.series.stock_working import PRODUCTS, STOCKS, brought_of
from tanksheet.templates.series.stocks import EACH, LOW
from tanksheet.templates.working import itself

PHOSPHATE = "dihydrogen_phosphate"
# What a stock brings: its ions, and what else a rule asks for, by the column of the contents.
BROUGHT = {
    **{ion: f"ion_{ion}" for ion in IONS},
    "urea": "ureas",
    "iron": "irons",
    "copper": "coppers",
    "acids": "acids",
}
# Of these a rule asks where a stock enters.
MEETING = tuple(name for name in BROUGHT if name != "acids")
LINES = 2 ** len(STOCKS)
IN_WATER = {line.ion for line in WATER.values() if line.ion}
OF = "meeting_"
# Rules that one stock's own tank has judged already, and those that say how near a tank is to
# settling over weeks: here all passes by in seconds, and the feed behind is judged by indices.
ALONE = ("strong acid", "much molybdate", "iron in air", "gypsum near", "calcium phosphate near")
IN_TANK = ("sum_crystals", "sum_gypsum_index", "sum_dicalcium_index")


def _in_line(row: int) -> list[int]:
    """Which stocks are in the line of a row."""
    return [k for k in EACH if row >> k & 1]


# the line with some of the stocks


def lines(book: Book) -> None:
    page = add_page(book, "Lines", (30, *[12] * 40), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading("The line with some of the stocks", "mmol/L. Nothing to type here.")
    _brought(page)
    head = page.sheet.row
    page.end_row()
    table = Table(page, LINES)
    names = ["+".join(STOCKS[k] for k in _in_line(row)) or "water" for row in range(LINES)]
    table.labels(1, names, "row name")
    columns = _Columns(page, table, head)
    for name in BROUGHT:
        columns.add(f"line_{name}", _sum_of(name))
    _worked_out(columns)
    table.end()
    page.gap()
    _orders(page)


class _Columns:
    """Columns of the lines, one beside the other."""

    def __init__(self, page: Page, table: Table, head: int) -> None:
        self.page, self.table, self.head, self.at = page, table, head, 2

    def add(self, key: str, make: Maker, words: bool = False) -> None:
        sheet, before = self.page.sheet, self.page.sheet.row
        sheet.row = self.head
        sheet.put(self.at, key.replace("_", " "), "table head")
        sheet.row = before
        known = TEXT if words else NUMBER
        self.table.computed(key, self.at, make, known=known, style="quiet", pattern="0.0###")
        self.at += 1


def _brought(page: Page) -> None:
    """What each stock brings to a litre of feed."""
    names = list(BROUGHT)
    table = Table(page, len(names))
    table.labels(1, [f"brought, {name.replace('_', ' ')}" for name in names], "row name")
    for k, low in enumerate(LOW):

        def made(i: int, k: int = k) -> tuple[Any, tuple[str, ...]]:
            return brought_of, (part("rates", k), f"strengths_{LOW[k]}", BROUGHT[names[i]])

        table.computed(f"brought_{low}", 2 + k, made, known=NUMBER, pattern="0.0###")
    table.end()
    page.gap()


def _sum_of(name: str) -> Maker:
    place = list(BROUGHT).index(name)

    def make(row: int) -> tuple[Any, tuple[str, ...]]:
        keys = [part(f"brought_{LOW[k]}", place) for k in _in_line(row)]
        if name in IN_WATER:
            keys.append(f"water_ion_{name}")
        sums = (work.none_of, itself, work.two_of, work.three_of, work.four_of)
        return sums[len(keys)], tuple(keys)

    return make


def _worked_out(columns: _Columns) -> None:
    def of_line(*names: str) -> tuple[str, ...]:
        return tuple(f"line_{name}" for name in names)

    add = columns.add
    add("line_carbonate", each(feed.both, "line_bicarbonate", ":water_alkali"))
    add("line_strength", each(feed.strength_of, *of_line(*STRENGTH)))
    known = (":water_alkali", ":water_ph", ":feed_temperature", *of_line("hydrogen", "bicarbonate"))
    given = ("ammonium", "sulfate", "silicate", "borate", "calcium", "magnesium", "strength")
    add("line_ph", each(feed_ph, *known, *of_line(PHOSPHATE, *given)))
    add("line_left", each(feed.left_over, ":water_alkali", *of_line("bicarbonate", "hydrogen")))
    add("line_acid", each(work.beyond, *of_line("hydrogen", "carbonate")))
    add("line_held", each(work.carbonate_left, "line_left"))
    at = (*of_line("calcium", "left", "ph"), ":feed_temperature", "line_strength")
    add("line_lime", each(feed.calcite, *at))
    add("line_phosphate", each(feed.dicalcium, *of_line("calcium", PHOSPHATE, "ph", "strength")))
    at = of_line("magnesium", "ammonium", PHOSPHATE, "ph", "strength")
    add("line_struvite", each(pipe.struvite, *at))
    add("line_gypsum", each(pipe.gypsum, *of_line("calcium", "sulfate", "strength")))
    spent = of_line("chlorine", "ammonium", "urea", "thiosulfate", "complex", "metal", "acids")
    add("line_spoiled", each(pipe.spoiled_by_chlorine, *spent))
    also = of_line("struvite", "gypsum", "spoiled", "silicate", "ph")
    add("line_also", each(pipe.also, *also), words=True)
    named = of_line("lime", "phosphate", "ph", "metal", "silicate", "calcium", "also")
    add("line_clear", each(feed.clear_verdict, *named), words=True)
    add("line_sour", each(feed.acidity_verdict, *of_line("hydrogen", "left", "ph")), words=True)
    ions = (*STRENGTH[:8], "carbonate", PHOSPHATE, "thiosulfate", "ph")
    add("line_ec", each(feed_conductivity, *of_line(*ions)))
    add("line_counts", _count)
    add("line_some", each(work.some_but_not_all, "line_counts", ":stocks_used"))
    judged = of_line("clear", "lime", "phosphate", "some")
    add("line_bad", each(work.badness, *judged))


def _count(row: int) -> tuple[Any, tuple[str, ...]]:
    """How many stocks are in the line of a row."""
    keys = tuple(part("ones_used", k) for k in _in_line(row))
    return (work.none_of, itself, work.two_of, work.three_of)[len(keys)], keys


def _orders(page: Page) -> None:
    """How each order of the stocks stands."""
    table = Table(page, len(ORDERS))

    def named(i: int) -> tuple[Any, tuple[str, ...]]:
        return work.named(ORDERS[i]), ()

    def score(i: int) -> tuple[Any, tuple[str, ...]]:
        first, second, _ = _letters(i)
        rows = (2**first, 2**first + 2**second)
        keys = (part(key, row) for key in ("line_bad", "line_counts") for row in rows)
        return work.score_of, (*keys, part("late_silicates", i))

    def late(i: int) -> tuple[Any, tuple[str, ...]]:
        stocks = _letters(i)
        silicates = tuple(f"sum_silicate_{LOW[k]}" for k in stocks)
        return work.silicate_first, (*(part("counts", k) for k in stocks[:2]), *silicates)

    table.computed("orders", 1, named, known=TEXT, style="row name")
    table.computed("late_silicates", 4, late, known=NUMBER)
    table.computed("order_scores", 2, score, known=NUMBER, pattern="0.0##")
    best = each(work.word_if_best, "order_scores", ":order_scores")
    table.computed("order_words", 3, best, known=TEXT)
    table.end()
    page.gap()
    _row(page, "order_score", work.of_order, "order", "orders", "order_scores")
    _row(page, "lowest_score", work.lowest_of, "order_scores")
    _row(page, "best_order", work.best_order, "order_words", "orders", words=True)
    acids = tuple(f"sum_hydrogen_{low}" for low in LOW)
    _row(page, "first_acid", work.first_sour, "best_order", *acids)
    silicates = tuple(f"sum_silicate_{low}" for low in LOW)
    _row(page, "order_why", work.reason_of, "first_acid", *silicates, words=True)


def _letters(i: int) -> list[int]:
    """The stocks of an order, by their number."""
    return [STOCKS.index(letter) for letter in ORDERS[i].split(", ")]


def _row(page: Page, name: str, function: Any, *keys: str, words: bool = False) -> None:
    page.sheet.put(1, name.replace("_", " "), "row name")
    found = tuple(page.book.key_for(key) for key in keys)
    page.back(2, name, function, found, known=TEXT if words else NUMBER, pattern="0.0##")
    page.end_row()


# each stock as it enters


def entering(book: Book) -> int:
    """What one part of each stock does in nine of the line before it; gives how many of the rules,
    the first of them, are about poison."""
    page = add_page(book, "Entering", (34, *[11] * 12), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading("Each stock as it enters", "mmol/L, one part in ten. Nothing to type here.")
    for place, low in enumerate(LOW, 1):
        keys = (f"place_{low}", *(f"place_{other}" for other in LOW))
        _row(page, f"row_before_{low}", work.before_row, *keys)
        _row(page, f"row_through_{place}", work.through_row(place), *keys[1:])
    _at_places(page)
    for name in (*MEETING, "acid", "alkali", "carbonate"):
        _meeting(page, name)
    for label, row in _rows():
        tank_row(page, label, row)
    return _ranks(page)


def _at_places(page: Page) -> None:
    """The line behind the first and the second place, and what follows."""
    for place in (1, 2):
        row, number = f"row_through_{place}", f"stock_at_{place}"
        _row(page, f"state_at_{place}", work.of_line, "states", number, words=True)
        _row(page, f"clear_at_{place}", work.of_line, "line_clear", row, words=True)
        _row(page, f"sour_at_{place}", work.of_line, "line_sour", row, words=True)
        _row(page, f"counts_at_{place}", work.of_line, "line_counts", row)
        _row(page, f"follows_{place}", work.follows, "stocks_used", f"counts_at_{place}")
    for place in range(1, len(STOCKS) + 1):
        _row(page, f"one_at_{place}", work.of_line, "ones_used", f"stock_at_{place}")
    ones = tuple(f"one_at_{place}" for place in range(1, len(STOCKS) + 1))
    keys = tuple(page.book.key_for(key) for key in (*ones, "gap_first", "gap_second"))
    page.sheet.put(1, "shortest gap", "row name")
    page.back(2, "shortest_gap", mixing.distance_of, keys)
    page.end_row()


def _meeting(page: Page, name: str) -> None:
    """A sum where stock and line meet."""
    column = {"alkali": "line_hydrogen", "carbonate": "line_held"}.get(name, f"line_{name}")
    taken = work.alkali_of_line if name == "alkali" else work.of_line
    before = (f"before_{name}", taken, (column, "row_before_*"), "0.0###")
    tank_row(page, f"line, {name.replace('_', ' ')}", before)
    met = (f"{OF}sum_{name}", work.meeting, (f"sum_{name}_*", f"before_{name}_*"), "0.0###")
    tank_row(page, name.replace("_", " "), met)


def _rows() -> list[tuple[str, Placed]]:
    """The rows of a tank, of what meets here."""
    strength = tuple(f"sum_{ion}_*" for ion in STRENGTH)
    rows = [
        ("ionic strength", ("sum_strength", feed.strength_of, strength, "#,##0")),
        *ph_rows()[:2],
        *settling(),
        *(row for row in counted(PRODUCTS) if row[1][0] in ("sum_lime", "sum_nitric")),
    ]
    rows = [row for row in rows if row[1][0] not in IN_TANK]
    renamed = {"used_ph_*": f"{OF}worked_ph_*", "temperature": "feed_temperature"}
    own = {f"{row[0].strip('+')}_*" for _, row in rows}
    own |= {f"sum_{name}_*" for name in (*MEETING, "acid", "alkali", "carbonate")}
    changed = []
    for label, (name, made, keys, pattern) in rows:
        keys = tuple(f"{OF}{key}" if key in own else renamed.get(key, key) for key in keys)
        changed.append((label, (f"{OF}{name}", made, keys, pattern)))
    return changed


def _ranks(page: Page) -> int:
    """How bad each rule is where stock and line meet, those about poison first."""
    formulas = page.book.formulas
    for low in LOW:
        page.book.aliases[f"{OF}used_ph_{low}"] = f"{OF}worked_ph_{low}"
    fit = [
        rule
        for rule in RULES
        if rule["clash"] not in ALONE
        and all(
            f"{OF}sum_{SUMS.get(rule[side], rule[side])}_a" in formulas for side in ("one", "other")
        )
    ]
    fit.sort(key=lambda rule: "poison" not in rule["words"])
    page.gap()
    table = Table(page, len(fit))
    names = lambda i: (work.named(str(fit[i]["clash"])), ())  # noqa: E731
    table.computed("meeting_rules", 1, names, known=TEXT, style="row name")
    for i, low in enumerate(LOW):
        ranked(table, low, 2 + i, len(LOW), fit, OF)
    table.end()
    worst = (f"{OF}worst", reason.worst_of, (f"{OF}ranks_*",), "0")
    tank_row(page, "worst", worst)
    _standing(page)
    return sum("poison" in rule["words"] for rule in fit)


# undiluted


def _standing(page: Page) -> None:
    """What each two stocks do undiluted, should the line stand."""
    for name, function, sums in (
        ("hard", reason.hard_of, ("sum_calcium_*", "sum_magnesium_*", "sum_metal_*")),
        ("amines", feed.both, ("sum_ammonium_*", "sum_urea_*")),
    ):
        tank_row(page, name, (f"stock_{name}", function, sums, "0.0##"))
    spoiling = ("sum_acid_*", "sum_ammonium_*", "water_ion_ammonium", "sum_urea_*")
    tank_row(page, "harm to chlorine", ("spoiling", standing.spoils_chlorine, spoiling, "0.0##"))
    keys = [f"{name}_{low}" for name in ("sum_chlorine", "spoiling") for low in LOW]
    _row(page, "chlorine_meets", standing.chlorine_meets, *keys)
    sides = ("sum_bicarbonate", "sum_silicate", "sum_thiosulfate", "sum_acid", "sum_chlorine")
    for one, other in ((0, 1), (0, 2), (1, 2)):
        two = (LOW[one], LOW[other])
        keys = [f"{side}_{low}" for side in ("stock_hard", *sides, "stock_amines") for low in two]
        name = f"standing_{two[0]}{two[1]}"
        _row(page, f"at_once_{two[0]}{two[1]}", reason.violent, *keys, words=True)
        counts = (part("counts", one), part("counts", other))
        _row(page, name, standing.standing_said, *counts, f"at_once_{two[0]}{two[1]}", words=True)
