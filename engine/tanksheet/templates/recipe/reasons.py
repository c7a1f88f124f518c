"""The recipe workbook's reasons: every rule in every tank, and what each pair of products does."""

from __future__ import annotations

import re
from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Mark, begins_with
from tanksheet.sheets.columns import Maker, Table
from tanksheet.sheets.page import add_page
from tanksheet.sheets.rows import NUMBER, TEXT
from tanksheet.tables import rows
from tanksheet.templates.recipe import feed_working as feed
from tanksheet.templates.recipe import reason_working as reason
from tanksheet.templates.recipe import working as work
from tanksheet.templates.recipe.feed import PRODUCTS, each

RULES: list[dict[str, Any]] = [dict(row) for row in rows("clashes")]
# What a side of a clash is called on the sheet Tanks, and what a sentence names its product by.
SUMS = {"phosphate": "dihydrogen_phosphate"}
NAMES = {
    "phosphate": ("dihydrogen_phosphate",) * 2,
    "lime": ("bicarbonate", "bicarbonate"),
    "carbonate": ("bicarbonate", "bicarbonate"),
    "nitric": ("acid", "acid"),
    "gypsum": ("calcium", "sulfate"),
    "gypsum_index": ("calcium", "sulfate"),
    "dicalcium": ("calcium", "dihydrogen_phosphate"),
    "dicalcium_index": ("calcium", "dihydrogen_phosphate"),
    "struvite": ("magnesium", "dihydrogen_phosphate"),
    "product_share": ("share", "share"),
}
AT_ONCE = "hard carbonate silicate thiosulfate acid chlorine amines".split()
IN_TIME = "calcium sulfur phosphate alkali amines strength".split()
COLUMNS = {
    "phosphate": "tank_dihydrogen_phosphate",
    "carbonate": "tank_bicarbonate",
    "amines": "amines",
    "hard": "hard",
    "sulfur": "sulfur",
    "strength": "ionic",
}


def reasons(book: Book) -> None:
    """One row a rule: how much of it each tank holds, how bad that is, and the words for it."""
    page = add_page(book, "Reasons", (34, *[11] * 6, 60, 60, 60), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading(
        "Why each tank passes or not",
        "Every rule in every tank. A rank up to 199 is a stop, up to 299 a caution, up to 399 not "
        "checked; 999 is nothing to say. Nothing to type here.",
    )
    heads = ["Rule", *(f"amount {x}" for x in work.TANKS), *(f"rank {x}" for x in work.TANKS)]
    page.end_row()
    table = Table(page, len(RULES))
    table.heads([*heads, *(f"words {x}" for x in work.TANKS)], page.sheet.row - 1)
    table.labels(1, [str(rule["clash"]) for rule in RULES])
    for i, letter in enumerate(work.TANKS):
        judged(table, letter.lower(), 2 + i, len(work.TANKS), RULES)
    table.end()
    page.gap()
    for name, function, keys in (
        ("worst", reason.worst_of, "ranks_*"),
        ("second", reason.second_of, "ranks_*"),
    ):
        page.sheet.put(1, name, "label")
        for i, letter in enumerate(work.TANKS):
            low = letter.lower()
            page.place(f"{name}_{low}", 5 + i, function, (keys.replace("*", low),), "0")
        page.end_row()


def judged(table: Table, low: str, column: int, step: int, rules: list[dict[str, Any]]) -> None:
    """A tank's columns: the amount of each rule, how bad it is, and the words for it.

    They read ``sum_<side>_<low>``, ``from_<side>_<low>``, ``used_ph_<low>`` and ``tank_<low>``.
    """
    ranked(table, low, column, step, rules)
    words: dict[str, Any] = {"known": TEXT, "style": "grid words"}
    table.computed(f"words_{low}", column + 2 * step, _words(low, rules), **words)


def ranked(
    table: Table, low: str, column: int, step: int, rules: list[dict[str, Any]], of: str = ""
) -> None:
    """The amount of each rule and how bad it is; ``of`` begins the name of all that is read."""
    amounts: dict[str, Any] = {"pattern": "0.0##", "known": NUMBER}
    table.computed(f"{of}amounts_{low}", column, _amount(low, rules, of), **amounts)
    table.computed(f"{of}ranks_{low}", column + step, _rank(low, rules, of), pattern="0")


def _sides(rule: dict[str, Any], low: str, of: str) -> tuple[str, ...]:
    """Keys of the one side and the other."""
    return tuple(f"{of}sum_{SUMS.get(rule[side], rule[side])}_{low}" for side in ("one", "other"))


def _amount(low: str, rules: list[dict[str, Any]], of: str) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        rule = rules[i]
        shares = (rule["one_share"], rule["other_share"], rule["factor"])
        if rule["ph_above"] < 0 and rule["ph_below"] > 14:
            return reason.amount_of(*shares), _sides(rule, low, of)
        gated = reason.amount_at(*shares, rule["ph_above"], rule["ph_below"])
        return gated, (*_sides(rule, low, of), f"{of}used_ph_{low}")

    return make


def _rank(low: str, rules: list[dict[str, Any]], of: str) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        limits = (rules[i][f"{word}_above"] for word in ("unchecked", "caution", "stop"))
        return reason.rank_of(i + 1, *limits), (part(f"{of}amounts_{low}", i),)

    return make


def named_by(rule: dict[str, Any]) -> tuple[str, str]:
    """What the sentence of a rule names its two products by."""
    one, _ = NAMES.get(rule["one"], (rule["one"],) * 2)
    _, other = NAMES.get(rule["other"], (rule["other"],) * 2)
    return str(one), str(other)


def _words(low: str, rules: list[dict[str, Any]]) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        rule = rules[i]
        pieces = re.split(r"\{(\w+)\}", f"{rule['words']}; {rule['cure']}")
        wanted = tuple(pieces[1::2])
        one, other = named_by(rule)
        amount = part(f"amounts_{low}", i)
        keys = {
            "one": (f"from_{one}_{low}",),
            "other": (f"from_{other}_{low}",),
            "amount": (amount,),
            "total": (amount, f"tank_{low}"),
        }
        made = reason.WORDS[wanted](rule["clash"], *pieces[::2])
        arguments = (key for want in wanted for key in keys[want])
        return made, (part(f"ranks_{low}", i), *arguments)

    return make


# pairs


def keep_apart(book: Book) -> None:
    """What each product would do to each other one, were they in one tank."""
    page = add_page(book, "Keep apart", (27, *[8.5] * 12), landscape=True, working=True)
    page.heading(
        "What must not share a tank",
        "Each pair of products as strong as it stands in its tank. Together: they share a "
        "tank now, whose verdict says how much comes of it. Apart: they do not; keep it so.",
    )
    page.sheet.put(1, "Product", "table head")
    for j in range(PRODUCTS):
        page.sheet.put(2 + j, j + 1, "table head")
    page.end_row()
    table = Table(page, PRODUCTS)
    names = lambda i: (reason.numbered(i + 1), (part("listed", i),))  # noqa: E731
    table.computed("pair_products", 1, names, known=TEXT, style="label")
    sums = {
        "amines": each(feed.both, "tank_ammonium", "tank_urea"),
        "sulfur": each(feed.both, "tank_sulfate", "tank_thiosulfate"),
        "hard": each(reason.hard_of, "tank_calcium", "tank_magnesium", "tank_metal"),
    }
    for i, (name, maker) in enumerate(sums.items(), 15):
        table.computed(name, i, maker, style="quiet", known=NUMBER)
    for j in range(PRODUCTS):
        table.computed(f"violent_{j + 1}", 18 + j, _violent(j), known=TEXT, style="quiet")
        table.computed(f"pair_{j + 1}", 2 + j, _pair(j), known=TEXT, style="pair")
    cells = [
        page.sheet.at(2 + j, table.first + i) for i in range(PRODUCTS) for j in range(PRODUCTS)
    ]
    for word, style in (("together", "stop"), ("apart", "caution")):
        mark = begins_with(cells[0].cell, word)
        page.sheet.marks.append(Mark(tuple(cells), mark, style))
    for i in range(PRODUCTS):
        page.sheet.heights[table.first + i] = 26
    table.end()


def _columns(names: list[str], *rows: int) -> tuple[str, ...]:
    columns = [COLUMNS.get(name, f"tank_{name}") for name in names]
    return tuple(part(column, row) for column in columns for row in rows)


def _violent(j: int) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        return (reason.no_pair, ()) if i <= j else (reason.violent, _columns(AT_ONCE, i, j))

    return make


def _pair(j: int) -> Maker:
    def make(i: int) -> tuple[Any, tuple[str, ...]]:
        if i <= j:
            return reason.no_pair, ()
        names = (part("listed", i), part("listed", j), part("used_tanks", i), part("used_tanks", j))
        at_once = part(f"violent_{j + 1}", i)
        return reason.pair, (*names, at_once, *_columns(IN_TIME, i, j))

    return make
