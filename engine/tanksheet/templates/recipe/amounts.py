"""The recipe workbook's hidden sheet "Amounts": how much of each product, worked out live."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tanksheet.sheets.book import Book, part
from tanksheet.sheets.cells import Formula
from tanksheet.sheets.page import Page, add_page
from tanksheet.sheets.rows import NUMBER
from tanksheet.templates.recipe import amounts_working as work
from tanksheet.templates.recipe import feed_working as feed
from tanksheet.templates.recipe.feed import NITROGEN, PRODUCTS
from tanksheet.templates.recipe.forms import FORMS
from tanksheet.templates.recipe.placing import LAST_PLACED
from tanksheet.templates.working import itself

SWEEPS, STEPS, LAST_SWEEPS = 8, 8, 4
LARGEST = work.highest_of(PRODUCTS)
EACH, LAST = range(PRODUCTS), PRODUCTS - 1
# The first column of what stands beside a row's name.
FIRST = 2
ALKALINITY = "alkalinity"
TANKS = ("tank_a", "tank_b", "tank_c", "ratio")
Run = tuple[str, ...]


def amounts_sheet(book: Book, elements: Sequence[str]) -> None:
    """Works out ``worked_doses``, g in a litre of feed.

    Reads ``wanted`` and ``from_water`` by element, ``form_wanted`` and ``form_water`` by form of
    nitrogen, ``fixed_amounts`` and contents by product, and the tanks of all products but those
    whose amount does not hang on theirs.
    """
    page = add_page(book, "Amounts", (30, *[11] * 17), landscape=True, working=True)
    page.sheet.hidden = True
    page.heading(
        "Amounts",
        "How much of each product comes nearest to all targets, each miss counted as a share of "
        "its target. Nothing to type here.",
    )
    sheet = _Amounts(page)
    sheet.products()
    sheet.targets(elements)
    sheet.likenesses()
    start = sheet.column("start", work.none_yet)
    swept = sheet.sweeps("swept", SWEEPS, start)
    best = sheet.steps(swept)
    sheet.outcome(sheet.sweeps("settled", LAST_SWEEPS, best))


def parts(key: str) -> Run:
    """A column's key for each product."""
    return tuple(part(key, k) for k in EACH)


class _Amounts:
    """Writes the sheet from the top down; a run is a key for each product."""

    def __init__(self, page: Page) -> None:
        self.page, self.book = page, page.book
        self.at = FIRST

    # cells

    def put(self, key: str, column: int, function: Any, arguments: Sequence[str]) -> str:
        """A number in the page's present row."""
        keys = tuple(self.book.key_for(each) for each in arguments)
        cell = self.page.sheet.at(column)
        formula = Formula(key, cell, function, keys, key.partition("[")[0], known=NUMBER)
        self.page.formula(formula, "quiet", "0.0####")
        return key

    def line(self, key: str, function: Any, *sources: str | Run) -> Run:
        """A row with a cell for each product; of a run each takes its own."""
        self.page.sheet.put(1, key.replace("_", " "), "row name")
        made = tuple(self.put(part(key, k), FIRST + k, function, _of(sources, k)) for k in EACH)
        self.page.end_row()
        return self.named(key, made)

    def named(self, key: str, made: Sequence[str], hidden: bool = True) -> Run:
        """Gives a run a name, by which a file is checked cell by cell."""
        self.book.add_range(key, tuple(made), hidden)
        return tuple(made)

    def column(self, key: str, function: Any, *sources: str | Run) -> Run:
        """A column with a cell for each product, beside the ones before it."""
        return self.down(key, EACH, lambda k: (function, _of(sources, k)))

    def down(self, key: str, rows: Sequence[int], make: Any) -> Run:
        """A column with a cell for some of the products; ``make`` gives function and arguments."""
        first = self.page.sheet.row
        self.page.sheet.put(self.at, key.replace("_", " "), "table head")
        made = []
        for k in rows:
            self.page.sheet.row = first + 1 + k
            function, arguments = make(k)
            made.append(self.put(part(key, k), self.at, function, arguments))
        self.page.sheet.row = first
        self.at += 1
        return self.named(key, made)

    def next_table(self, title: str, rows: int = PRODUCTS) -> None:
        """Leaves the columns that stand side by side, and begins below them."""
        self.page.sheet.row += rows + 2
        self.page.sheet.put(1, title, "row name")
        self.at = FIRST

    def run(self, keys: Sequence[str]) -> str:
        return self.book.cells_of(tuple(keys))

    # what is asked

    def products(self) -> None:
        """What is known of each product, and the alkalinity of the water and of the target."""
        for key, make, source in (
            ("water_alkali", feed.water_alkali, "water_alkalinity"),
            ("alkalinity_wanted", work.alkalinity_wanted, "target_alkalinity"),
        ):
            self.page.sheet.put(1, key.replace("_", " "), "row name")
            self.page.back(FIRST, key, make, (self.book.key_for(source),), pattern="0.0##")
            self.page.end_row()
        self.feeds = self.line("litres_of_feed", work.litres_of_feed, parts(LAST_PLACED), *TANKS)
        typed = (parts("listed"), parts("amounts"), self.feeds)
        self.free = self.line("free", work.one_if_free, *typed)
        fixed = self.line("fixed_doses", work.fixed_dose, parts("fixed_amounts"), self.feeds)
        self.fixed = self.run(fixed)
        self.page.gap()

    def targets(self, elements: Sequence[str]) -> None:
        """A row a target: the share that each product brings, the weight, and what is left."""
        goals, rows = [], []
        self.names = (*elements, ALKALINITY, *FORMS)
        for i, name in enumerate(self.names):
            self.page.sheet.put(1, f"share of {name}", "row name")
            wanted = (part("wanted", i), part("from_water", i))
            if name == ALKALINITY:
                wanted = ("alkalinity_wanted", "water_alkali")
            elif name in FORMS:
                form = i - len(elements) - 1
                wanted = (part("form_wanted", form), part("form_water", form))
            last = FIRST + PRODUCTS
            weight = self.put(part("weights_of", i), last, work.weight_of, wanted)
            rows.append(self.named(f"shares_of_{i + 1}", self._shares(i, name, weight)))
            arguments = (weight, wanted[1], self.run(rows[i]), self.fixed)
            goals.append(self.put(part("goals", i), last + 1, work.left_to_bring, arguments))
            self.page.end_row()
        self.named("weights_of", [part("weights_of", i) for i in range(len(rows))])
        self.goals = self.run(self.named("goals", goals))
        self.shares = tuple(self.run([row[k] for row in rows]) for k in EACH)
        self.rows = [self.run(row) for row in rows]
        self.page.gap()

    def _shares(self, i: int, name: str, weight: str) -> list[str]:
        return [self._share(part(f"shares_of_{i + 1}", k), k, name, weight) for k in EACH]

    def _share(self, key: str, k: int, name: str, weight: str) -> str:
        column = FIRST + k
        if name == ALKALINITY:
            ions = (part("ion_bicarbonate", k), part("ion_hydrogen", k))
            return self.put(key, column, work.share_of_alkalinity, (weight, *ions))
        if name == "N":
            forms = (part(f"percent_{form}", k) for form in NITROGEN)
            return self.put(key, column, work.share_of_nitrogen, (weight, *forms))
        content = FORMS[name][1] if name in FORMS else name.lower()
        percent = part(f"percent_{content}", k)
        return self.put(key, column, work.share_of_one, (weight, percent))

    def likenesses(self) -> None:
        self.page.sheet.put(1, "likenesses", "row name")
        self.lengths = self.column("lengths", work.length_of, self.free, self.shares)
        self.pulls = self.column("pulls", work.pull_of, self.lengths, self.shares, self.goals)
        self.likes = [
            self.column(
                f"like_{j + 1}",
                work.likeness,
                *(self.lengths[j], self.lengths, self.shares[j], self.shares),
            )
            for j in EACH
        ]
        self.next_table("sweeps")

    # sweeps

    def sweeps(self, name: str, count: int, start: Run) -> Run:
        for i in range(count):
            start = self._sweep(f"{name}_{i + 1}", start)
        self.next_table("what comes of it" if name == "settled" else "steps")
        return start

    def _sweep(self, name: str, old: Run) -> Run:
        def make(k: int) -> tuple[Any, list[str]]:
            arguments = [self.pulls[k]]
            if k > 0:
                above = [part(name, j) for j in range(k)]
                arguments += [self.run(self.likes[k][:k]), self.run(above)]
            if k < LAST:
                arguments += [self.run(self.likes[k][k + 1 :]), self.run(old[k + 1 :])]
            if k == 0:
                return work.first_swept, arguments
            return work.swept if k < LAST else work.last_swept, arguments

        return self.down(name, EACH, make)

    # steps

    def steps(self, swept: Run) -> Run:
        used = self.column("used_1", work.one_if_used, swept)
        value, best = "", swept
        for step in range(1, STEPS + 1):
            name = f"step_{step}"
            amounts, diagonal = self._solved(name, used)
            kept = self.column(f"{name}_kept", work.none_below_nothing, amounts)
            now, likes = self.run(kept), tuple(self.run(each) for each in self.likes)
            slopes = self.column(f"{name}_slopes", work.slope, self.pulls, likes, now)
            made = self._judged(name, amounts, now, slopes, value)
            here, lowest, steepest = made
            if value:
                best = self.column(f"{name}_best", work.better_amount, here, value, kept, best)
                value = self._under(f"{name}_best_value", 4, work.better_value, here, value)
            else:
                best, value = kept, here
            if step < STEPS:
                wants = (diagonal, amounts, lowest, slopes, steepest)
                used = self.column(f"used_{step + 1}", work.used_next, *wants)
            self.next_table("steps" if step < STEPS else "last sweeps", PRODUCTS + 6)
        return best

    def _under(self, key: str, row: int, function: Any, *arguments: str) -> str:
        """A single number below the columns of a step."""
        before = self.page.sheet.row
        self.page.sheet.row += 1 + PRODUCTS + row
        self.page.sheet.put(1, key.replace("_", " "), "row name")
        self.page.place(key, FIRST, function, arguments, "0.0####")
        self.page.sheet.row = before
        return key

    def _judged(
        self, name: str, amounts: Run, now: str, slopes: Run, value: str
    ) -> tuple[str, str, str]:
        pulls, gains = self.run(self.pulls), self.run(slopes)
        return (
            self._under(f"{name}_value", 1, work.value_of, now, pulls, gains),
            self._under(f"{name}_lowest", 2, work.lowest_of, self.run(amounts)),
            self._under(f"{name}_steepest", 3, LARGEST, gains),
        )

    def _solved(self, name: str, used: Run) -> tuple[Run, Run]:
        """The triangle of the products in use with its last row, and the amounts that solve."""
        columns: list[Run] = []
        for k in EACH:
            columns.append(self._triangle_column(f"{name}_{k + 1}", k, used, columns))
        amounts: dict[int, str] = {}
        first = self.page.sheet.row
        self.page.sheet.put(self.at, f"{name} solved", "table head")
        for k in reversed(EACH):
            self.page.sheet.row = first + 1 + k
            ends = (columns[k][0], columns[k][-1])
            function: Any = work.last_solved
            arguments = [*ends]
            if k < LAST:
                under = [amounts[j] for j in range(k + 1, PRODUCTS)]
                function = work.solved
                arguments += [self.run(columns[k][1:-1]), self.run(under)]
            amounts[k] = self.put(part(f"{name}_solved", k), self.at, function, arguments)
        self.page.sheet.row = first
        self.at += 1
        solved = self.named(f"{name}_solved", [amounts[k] for k in EACH])
        return solved, tuple(column[0] for column in columns)

    def _triangle_column(self, name: str, k: int, used: Run, before: Sequence[Run]) -> Run:
        """From the diagonal down; the row below the products holds their pull."""

        def row(j: int) -> str:
            return self.run([before[i][j - i] for i in range(k)])

        def make(j: int) -> tuple[Any, list[str]]:
            like = self.pulls[k] if j == PRODUCTS else self.likes[k][j]
            if j == k:
                arguments = [used[k], like]
                return (work.pivot, [*arguments, row(k)]) if k else (work.first_pivot, arguments)
            diagonal, is_pull = part(name, k), j == PRODUCTS
            if k == 0:
                return work.first_pulled if is_pull else work.first_below, [diagonal, like]
            function = work.pulled if is_pull else work.below
            return function, [diagonal, like, row(j), row(k)]

        return self.down(name, range(k, PRODUCTS + 1), make)

    # what comes of it

    def outcome(self, settled: Run) -> None:
        doses = self.column("worked_doses", work.dose_of, settled, self.lengths)
        self.next_table("what is still missed, as a share of each target")
        self.page.end_row()
        again = self.run(self.line("doses_in_a_row", itself, doses))
        misses = []
        for i, row in enumerate(self.rows):
            self.page.sheet.put(1, self.names[i], "row name")
            arguments = (part("goals", i), row, again)
            misses.append(self.put(part("misses", i), FIRST, work.miss_of, arguments))
            self.page.end_row()
        self.named("misses", misses)


def _of(sources: Sequence[str | Run], k: int) -> tuple[str, ...]:
    return tuple(each if isinstance(each, str) else each[k] for each in sources)
