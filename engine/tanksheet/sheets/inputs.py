"""Rows that a person fills: numbers with a unit from a list, choices, repeated readings."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from tanksheet.sheets import choices, entries
from tanksheet.sheets.book import part
from tanksheet.sheets.cells import Entry, Formula, Rule
from tanksheet.sheets.rows import (
    FACTOR,
    LABEL,
    METRIC,
    METRIC_UNIT,
    NOTE,
    NUMBER,
    TEXT,
    TYPED,
    UNIT,
    US,
    US_UNIT,
    Function,
    Rows,
)
from tanksheet.sheets.rules import number_rule
from tanksheet.subset import helper
from tanksheet.units import QUANTITIES, Quantity
from tanksheet.xlsx.address import Address, Value


@dataclass(frozen=True)
class NumberRow:
    """A number to type: what a template says of it."""

    name: str
    label: str
    quantity: str | Quantity
    default: float | None
    unit: str
    usual: tuple[float, float]
    optional: bool
    ion: str = ""

    @property
    def limits(self) -> Quantity:
        return QUANTITIES[self.quantity] if isinstance(self.quantity, str) else self.quantity

    @property
    def may_be_blank(self) -> bool:
        """Whether the base value may be blank; a blank line of a water report counts as 0."""
        return self.optional and not self.ion

    @property
    def base(self) -> str:
        return self.limits.unit.symbol

    @property
    def offered(self) -> tuple[str, ...]:
        if self.base == "parts":
            return entries.RATIO_FORMS
        if self.ion:
            return choices.ION_UNITS[self.ion]
        return choices.OFFERED.get(self.base, ())

    @property
    def unit_key(self) -> str:
        return f"{self.name}_unit" if self.offered else ""

    @property
    def key(self) -> str:
        """The key of the value in the base unit."""
        return f"{self.name}_in_{choices.suffix(self.base)}" if self.base else f"{self.name}_used"


@dataclass(frozen=True)
class Beside:
    """A value worked out on an input's own row."""

    name: str
    function: Function
    unit: str
    uses: Mapping[str, str]
    pattern: str = choices.pattern("%")


@dataclass(frozen=True)
class Doubt:
    """What the note of an input says when the number is odd beside other entries.

    ``function`` makes the note's function from the usual one, which it calls where all is well; it
    takes the same arguments, and after them those called ``uses``.
    """

    function: Callable[[Function], Function]
    uses: tuple[str, ...]


class InputRows(Rows):
    """Rows that a person fills."""

    def input(
        self,
        name: str,
        label: str,
        quantity: str | Quantity,
        default: float | None,
        unit: str = "",
        *,
        usual: tuple[float, float],
        optional: bool = False,
        beside: Beside | None = None,
        ion: str = "",
        doubt: Doubt | None = None,
    ) -> None:
        """A number to type. ``quantity`` is its glossary entry, or limits of its own; ``usual`` is
        in its base unit.

        ``beside`` is a value worked out from it, shown on the same row. With an ``ion`` it takes
        the units of water reports, and a blank counts as 0; ``<name>_typed`` is what was typed.
        ``doubt`` adds to the note what is odd beside other entries.
        """
        row = NumberRow(name, label, quantity, default, unit, usual, optional, ion)
        self.sheet.put(LABEL, label, "label")
        self.sheet.put(TYPED, default, "typed", choices.TYPED)
        self._number_entry(row, (self.sheet.at(TYPED),), (default,))
        self._unit_cell(row)
        self._base_value(row)
        self._message(row, doubt)
        if beside:
            self._beside(beside)
        self.end_row()

    def _beside(self, beside: Beside) -> None:
        arguments = self.arguments(beside.function, beside.uses)
        cell, name = self.sheet.at(US), beside.name
        formula = Formula(name, cell, beside.function, arguments, beside.unit, name, NUMBER)
        self.formula(formula, "result", beside.pattern)
        self.sheet.put(US_UNIT, beside.unit, "unit")

    def readings(
        self,
        name: str,
        label: str,
        quantity: str,
        defaults: Sequence[float | None],
        unit: str,
        each: Function,
        *,
        usual: tuple[float, float],
        result_unit: str,
        **uses: str,
    ) -> None:
        """Rows for one reading taken again and again, blanks allowed; ``each`` works out a row.

        ``each`` takes a parameter ``seconds`` or whatever ``quantity`` is called, in the base
        unit, and others from ``uses`` or by name.
        """
        row = NumberRow(name, label, quantity, None, unit, usual, True)
        cells = tuple(self.sheet.at(TYPED, self.sheet.row + i) for i in range(len(defaults)))
        self._number_entry(row, cells, tuple(defaults))
        for i, default in enumerate(defaults):
            self.sheet.put(LABEL, f"{label} {i + 1}", "label")
            self.sheet.put(TYPED, default, "typed", choices.TYPED)
            if i == 0:
                self._unit_cell(row)
                self._factor(row)
            else:
                self.sheet.put(UNIT, "as above", "unit")
            self._reading(row, i, each, result_unit, uses)
            self.end_row()

    def _reading(
        self, row: NumberRow, i: int, each: Function, result_unit: str, uses: dict[str, str]
    ) -> None:
        reading = part(row.name, i)
        keys = {str(row.quantity): reading, "factor": f"{row.name}_factor"} | uses
        key = f"{row.name}_{i + 1}_in_{choices.suffix(result_unit)}"
        cell = self.sheet.at(METRIC)
        formula = Formula(key, cell, each, self.arguments(each, keys), row.label, name=key)
        self.formula(formula, "metric", choices.pattern(result_unit), hidden=True)
        self.sheet.put(METRIC_UNIT, result_unit, "unit")
        self.us_twin(key, result_unit, True, "metric")
        function = entries.entry_message(f"type a number {_bounds(row.limits)}", (0, 1e300), True)
        name = f"{row.name}_{i + 1}_note"
        cell = self.sheet.at(NOTE)
        self.words(name, cell, function, (reading, key), "entry note", hidden=True)

    def _number_entry(
        self, row: NumberRow, cells: tuple[Address, ...], defaults: tuple[Value, ...]
    ) -> None:
        entry = Entry(
            row.name,
            cells,
            defaults,
            row.label,
            unit_key=row.unit_key,
            base_unit=row.base,
            limits=row.limits,
            usual=row.usual,
            optional=row.optional,
            ion=row.ion,
        )
        self.book.add_entry(entry)
        self.sheet.rules.append(number_rule(entry, *self._unit_of(row, cells[0])))

    def _unit_of(self, row: NumberRow, cell: Address) -> tuple[str, Address | None]:
        """The form of a number's unit, and the cell that tells the unit or its factor."""
        if row.base in ("parts", "degC"):
            form = "ratio" if row.base == "parts" else "temperature"
            return form, self.sheet.at(UNIT, cell.row)
        return ("factor", self.sheet.at(FACTOR, cell.row)) if row.offered else ("plain", None)

    def _unit_cell(self, row: NumberRow) -> None:
        if not row.offered:
            self.sheet.put(UNIT, row.base or "number", "unit")
            return
        if row.unit not in row.offered:
            raise ValueError(f"{row.name}: {row.unit!r} is not among {row.offered}")
        self.sheet.put(UNIT, row.unit, "typed word")
        cell = self.sheet.at(UNIT)
        self._word_entry(Entry(row.unit_key, (cell,), (row.unit,), row.label, row.offered))

    def _word_entry(self, entry: Entry) -> None:
        self.book.add_entry(entry)
        message = f"{entry.label}: choose one of {', '.join(entry.words)}."
        self.sheet.rules.append(Rule(entry.cells, message, "From the list", entry.words))

    def _factor(self, row: NumberRow) -> str:
        key = f"{row.name}_factor"
        cell, function = self.sheet.at(FACTOR), entries.factor_to(row.base)
        if row.ion:
            function = entries.ion_factor(row.ion, row.base)
        formula = Formula(key, cell, function, (row.unit_key,), "", name=key, known=NUMBER)
        self.formula(formula, "quiet", "0.######", hidden=True)
        return key

    def _base_value(self, row: NumberRow) -> None:
        function, arguments = self._from_typed(row)
        known = None if row.may_be_blank else row.limits
        cell = self.sheet.at(METRIC)
        formula = Formula(row.key, cell, function, arguments, row.label, row.key, known)
        pattern = choices.pattern(row.base)
        self.formula(formula, "metric", "0.000" if row.ion else pattern, hidden=True)
        self.book.aliases[row.name] = row.key
        self.book.aliases[f"{row.name}_typed"] = row.name
        self.sheet.put(METRIC_UNIT, "" if row.base == "parts" else row.base, "unit")
        if not row.ion:  # what a laboratory prints is in the same units everywhere
            self.us_twin(row.key, row.base, row.may_be_blank, "metric")

    def _from_typed(self, row: NumberRow) -> tuple[Function, tuple[str, ...]]:
        if row.base == "parts":
            return entries.ratio_in_parts(row.limits), (row.name, row.unit_key)
        if row.base == "degC":
            function = entries.temperature(row.limits, row.optional)
            return function, (row.name, row.unit_key)
        if row.ion and row.optional:
            return entries.or_zero(row.limits), (row.name, self._factor(row))
        if row.offered:
            factor = self._factor(row)
            return entries.in_base(row.limits, row.optional), (row.name, factor)
        return entries.plain_number(row.limits, row.optional), (row.name,)

    def _message(self, row: NumberRow, doubt: Doubt | None) -> None:
        complaint = f"type a number {_bounds(row.limits)}"
        if row.offered:
            complaint += "; check the unit"
        function = entries.entry_message(complaint, row.usual, row.optional)
        arguments: tuple[str, ...] = (row.name, row.key) if row.optional else (row.key,)
        factor = f"{row.name}_factor"
        if row.optional and factor in self.book.formulas:
            function, arguments = entries.with_factor(function), (*arguments, factor)
        if doubt:
            function = doubt.function(helper(function))
            arguments += tuple(self.book.key_for(name) for name in doubt.uses)
        cell = self.sheet.at(NOTE)
        self.words(f"{row.name}_note", cell, function, arguments, "entry note", hidden=True)

    def choice(self, name: str, label: str, words: tuple[str, ...], default: str) -> None:
        """A word to choose from a list."""
        self.sheet.put(LABEL, label, "label")
        self.sheet.put(TYPED, default, "typed word", across=2)
        self._word_entry(Entry(name, (self.sheet.at(TYPED),), (default,), label, words))
        key = f"{name}_checked"
        cell = self.sheet.at(METRIC)
        known = replace(TEXT, words=words)
        formula = Formula(key, cell, entries.listed(words), (name,), label, key, known)
        self.formula(formula, "metric word" if len(default) < 12 else "long word", hidden=True)
        self.book.aliases[name] = key
        function = entries.choice_message(words)
        cell = self.sheet.at(NOTE)
        self.words(f"{name}_note", cell, function, (name,), "entry note", hidden=True)
        self.end_row()

    def unit_choice(self, name: str, label: str, base: str, default: str) -> None:
        """A unit to choose for results, among those offered for a base unit."""
        self.choice(name, label, choices.OFFERED[base], default)


def _bounds(limits: Quantity) -> str:
    """The range in words, less an upper limit so high that it only catches slips."""
    return limits.allowed if limits.high <= 1000 else replace(limits, high=math.inf).allowed
