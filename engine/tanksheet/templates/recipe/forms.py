"""The recipe workbook's rows on nitrogen by form: targets of nitrate and ammonium, which the
amounts honour, and limits of each form's share; and the rows of a tolerance a line."""

from __future__ import annotations

from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.choices import nutrient_units
from tanksheet.sheets.columns import Table
from tanksheet.sheets.measures import unless_pass
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import INPUT_HEIGHT, NUMBER, TABLE_HEIGHT, TEXT
from tanksheet.templates.recipe import forms_working as work
from tanksheet.templates.recipe import target_working as target
from tanksheet.templates.recipe.feed import PRODUCTS, WANTED, each
from tanksheet.templates.recipe.feed_working import both
from tanksheet.templates.recipe.tank_working import largest
from tanksheet.templates.verdicts import Verdicts
from tanksheet.templates.working import itself, kind_of
from tanksheet.units import Percent, Quantity

# Name of a form, its label, its column of the contents, and what the water brings of it.
FORMS = {
    "NO3-N": ("Nitrate, NO3-N", "n_nitrate", "water_n"),
    "NH4-N": ("Ammonium, NH4-N", "n_ammonium", "water_nh4"),
}
FORM_UNITS = (*nutrient_units("N"), work.SHARE)
LIMIT = Quantity(Percent, "share of the nitrogen", 0, 100)
LIMITS = ("Nitrate, at least", "Ammonium, at most", "Urea, at most")
FORM_ROWS = len(FORMS) + len(LIMITS) + 4  # with the heads and the gaps
PATTERN = "[>=100]0;0.0"
MAYBE = "typed maybe"
HID: dict[str, Any] = {"hidden": True, "behind": True}
LINE = Quantity(Percent, "how far off this target may be", 0, 100, above=True)


# what is asked


def forms_table(page: Page) -> tuple[Table, Table]:
    """Targets of the forms, and limits of their shares."""
    page.section("Nitrogen by form", "target", "unit", "arrives", "off, %")
    targets = Table(page, len(FORMS))
    targets.labels(1, [label for label, _, _ in FORMS.values()])
    blank, units = [None] * len(FORMS), ["ppm", work.SHARE]
    label = "Nitrogen of this form at the emitter"
    wanted: dict[str, Any] = {"limits": WANTED, "usual": (0, 100), "rare": True, "style": MAYBE}
    targets.filled("form_targets", 2, label, blank, **wanted)
    usual_words = ("ppm", work.SHARE)
    targets.filled("form_target_units", 3, "Unit", units, words=FORM_UNITS, usual_words=usual_words)
    in_mg = each(work.form_in_mg, "form_targets", "form_target_units", ":wanted[0]")
    targets.computed("form_wanted", 7, in_mg, pattern=PATTERN, **HID)
    parts = [(target.known_part, (water,)) for _, _, water in FORMS.values()]
    targets.computed("form_water", 9, lambda i: parts[i], pattern=PATTERN, known=NUMBER, **HID)
    _heights(targets)
    page.gap()
    page.section("Share of the nitrogen", "limit", "unit", "arrives", "")
    limits = Table(page, len(LIMITS))
    limits.labels(1, list(LIMITS))
    label, blank = "Limit of a share of the nitrogen", [None] * len(LIMITS)
    limit: dict[str, Any] = {"limits": LIMIT, "usual": (0, 100), "rare": True, "style": MAYBE}
    limits.filled("nitrogen_limits", 2, label, blank, **limit)
    limits.labels(3, ["%"] * len(LIMITS), "unit")
    limits.labels(5, ["%"] * len(LIMITS), "unit")
    _heights(limits)
    page.gap()
    return targets, limits


def _heights(table: Table) -> None:
    for i in range(table.rows):
        table.page.sheet.heights[table.first + i] = TABLE_HEIGHT
    table.end()


def tolerance_table(page: Page, labels: list[str]) -> None:
    """A tolerance for each line, in the order in which the amounts take the targets."""
    labels = [*labels, "Alkalinity left", *(label for label, _, _ in FORMS.values())]
    page.section("Tolerance by line", "if another", "unit")
    table = Table(page, len(labels))
    table.labels(1, labels)
    blank = [None] * len(labels)
    label = "Tolerance of this line, blank for that of all"
    line: dict[str, Any] = {"limits": LINE, "usual": (2, 25), "rare": True, "style": MAYBE}
    table.filled("tolerances", 2, label, blank, **line)
    table.labels(3, ["%"] * len(labels), "unit")
    used = each(target.tolerance_of, "tolerances", ":tolerance")
    table.computed("tolerances_used", 7, used, pattern="0.0#", **HID)
    for i in range(len(labels)):
        page.sheet.heights[table.first + i] = INPUT_HEIGHT
    table.end()
    page.gap()


# what arrives


def forms_arrive(page: Page, targets: Table, limits: Table, first: int) -> None:
    """What arrives of each form, and what is off; ``first`` is the place of the first form among
    the targets that the amounts meet."""
    columns = [column for _, column, _ in FORMS.values()]
    products = [(work.arriving, ("doses", f"percent_{column}")) for column in columns]
    targets.computed("form_products", 8, lambda i: products[i], known=NUMBER, **HID)
    arrives = each(both, "form_products", "form_water")
    look: dict[str, Any] = {"pattern": PATTERN, "known": NUMBER, "style": "worked out"}
    targets.computed("form_together", 4, arrives, hidden=True, **look)
    offs = each(target.off_target, "form_together", "form_wanted")
    targets.computed("form_offs", 10, offs, pattern="0.0", **HID)
    _nitrogen_sheet(page.book)
    gaps = [("no_form_gap", "other_arrives"), ("gaps[0]", "other_arrives")]
    targets.computed("form_gaps", 12, lambda i: (work.form_gap, gaps[i]), known=TEXT, **HID)

    def verdict(i: int) -> tuple[Any, tuple[str, ...]]:
        mine = (part(key, i) for key in ("form_wanted", "form_offs"))
        rest = (part("tolerances_used", first + i), part("why_forms", i), part("form_gaps", i))
        return target.target_verdict, (*mine, *rest)

    targets.computed("form_met", 11, verdict, known=TEXT, **HID)
    away = each(target.off_said, "form_offs", "form_met")
    targets.computed("form_off_said", 5, away, style="said right", known=TEXT, hidden=True)
    said = each(unless_pass, "form_met")
    targets.computed("form_said", 6, said, style="grid said", known=TEXT, hidden=True)
    _limits_met(limits)


def _nitrogen_sheet(book: Book) -> None:
    """Which product brings most of a form, and what arrives in other forms."""
    page = add_page(book, "Nitrogen", (32, *[12] * 8), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading("Nitrogen by form", "mg/L at the emitter. Nothing to type here.")
    head = page.sheet.row
    page.end_row()
    table = Table(page, PRODUCTS)
    names = ("ammonium", "urea", "reduced")
    table.heads(["Product", *names, *(f"most {name}" for name in names)], head)
    table.computed("products_by_form", 1, each(itself, "listed"), known=TEXT, style="row name")
    columns: tuple[tuple[Any, tuple[str, ...]], ...] = (
        (work.brought_in_one, ("percent_n_ammonium",)),
        (work.brought_in_one, ("percent_n_urea",)),
        (work.brought, ("percent_n_ammonium", "percent_n_urea")),
    )
    for column, (name, (function, contents)) in enumerate(zip(names, columns, strict=True), 2):
        made = each(function, "doses", *contents)
        table.computed(f"brought_{name}", column, made, pattern="0.0##", known=NUMBER)
    table.end()
    page.sheet.put(1, "largest", "label")
    for column, name in enumerate(names, 2):
        page.place(f"most_{name}", column, largest(PRODUCTS), (f"brought_{name}",), "0.0##")
    page.end_row()
    for column, name in enumerate(names, 5):
        words = each(work.word_if_most, f"brought_{name}", f":most_{name}")
        table.computed(f"words_{name}", column, words, known=TEXT, style="quiet")
    page.sheet.put(1, "the product, or the water", "label")
    for column, name in enumerate(names, 5):
        keys = (f"words_{name}", "listed")
        page.words(f"bringer_{name}", page.sheet.at(column), work.product_of, keys, "quiet")
    page.end_row()
    _other_forms(page)


def _other_forms(page: Page) -> None:
    for key, label, function, keys in (
        ("urea_arrives", "urea", work.arriving, ("doses", "percent_n_urea")),
        ("other_arrives", "of a form nobody gave", work.arriving, ("doses", "percent_n_other")),
        ("other_share", "the same, %", work.share_of, ("other_arrives", "together[0]")),
    ):
        page.sheet.put(1, label, "label")
        if key == "other_share":
            page.back(2, key, function, keys, pattern="0.0")
        else:
            page.place(key, 2, function, keys, "0.0##")
        page.end_row()
    page.sheet.put(1, "nothing is lacking", "label")
    page.words("no_form_gap", page.sheet.at(2), target.no_gap, (), "quiet")
    page.end_row()


def _limits_met(table: Table) -> None:
    arrive = ("form_together[0]", "form_together[1]", "urea_arrives")
    shares = [(work.share_of, (key, "together[0]")) for key in arrive]
    table.computed("nitrogen_shares", 4, lambda i: shares[i], pattern="0.0", style="worked out")
    judges = (work.at_least, work.at_most("ammonium"), work.at_most("urea"))
    gaps, bringers = ("gaps[0]", "gaps[0]", "no_form_gap"), ("reduced", "ammonium", "urea")

    def verdict(i: int) -> tuple[Any, tuple[str, ...]]:
        keys = (
            part("nitrogen_limits", i),
            part("nitrogen_shares", i),
            "other_share",
            gaps[i],
            "tolerance",
        )
        return judges[i], (*keys, f"bringer_{bringers[i]}")

    table.computed("limits_met", 11, verdict, known=TEXT, **HID)
    said = each(work.in_short, "limits_met")
    table.computed("limits_said", 6, said, style="grid said", known=TEXT, hidden=True)


def forms_verdict(page: Page, verdicts: Verdicts) -> None:
    """One line for all that is asked of the forms."""
    _all_said(page.book)
    verdicts.add(
        "nitrogen_forms",
        "Is the nitrogen as asked?",
        work.forms_verdict,
        kinds="forms_kinds",
        said="forms_said",
    )


def _all_said(book: Book) -> None:
    sheet = next(each for each in book.sheets if each.title == "Nitrogen")
    page = Page(book, sheet)
    page.gap()
    rows: list[tuple[Any, tuple[str, ...]]] = [
        (work.together_verdict, ("wanted[0]", *(part("form_wanted", i) for i in range(2)))),
        *((work.called(name), (part("form_met", i),)) for i, name in enumerate(FORMS)),
        *((itself, (part("limits_met", i),)) for i in range(len(LIMITS))),
    ]
    table = Table(page, len(rows))
    table.computed("forms_said", 1, lambda i: rows[i], known=TEXT, style="quiet")
    table.computed("forms_kinds", 2, each(kind_of, "forms_said"), known=TEXT, style="quiet")
    table.end()
