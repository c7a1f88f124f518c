"""Rows that a person fills: numbers with a unit from a list, choices, repeated readings."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
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
from tanksheet.units import QUANTITIES, Quantity
from tanksheet.xlsx.address import Address, Value


@dataclass(frozen=True)
class Typed:
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
    shape: str = choices.number_format("%")


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
    ) -> None:
        """A number to type. ``quantity`` is its glossary entry, or limits of its own; ``usual`` is
        in its base unit.

        ``beside`` is a value worked out from it, shown on the same row. With an ``ion`` it takes
        the units of water reports, and a blank counts as 0; ``<name>_typed`` is what was typed.
        """
        typed = Typed(name, label, quantity, default, unit, usual, optional, ion)
        self.sheet.put(LABEL, label, "label")
        self.sheet.put(TYPED, default, "typed", choices.TYPED)
        self._number_entry(typed, (self.sheet.at(TYPED),), (default,))
        self._unit_cell(typed)
        self._base_value(typed)
        self._message(typed)
        if beside:
            self._beside(beside)
        self.end_row()

    def _beside(self, beside: Beside) -> None:
        arguments = self.arguments(beside.function, beside.uses)
        cell, name = self.sheet.at(US), beside.name
        formula = Formula(name, cell, beside.function, arguments, beside.unit, name, NUMBER)
        self.formula(formula, "result", beside.shape)
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
        typed = Typed(name, label, quantity, None, unit, usual, True)
        cells = tuple(self.sheet.at(TYPED, self.sheet.row + i) for i in range(len(defaults)))
        self._number_entry(typed, cells, tuple(defaults))
        for i, default in enumerate(defaults):
            self.sheet.put(LABEL, f"{label} {i + 1}", "label")
            self.sheet.put(TYPED, default, "typed", choices.TYPED)
            if i == 0:
                self._unit_cell(typed)
                self._factor(typed)
            else:
                self.sheet.put(UNIT, "as above", "unit")
            self._reading(typed, i, each, result_unit, uses)
            self.end_row()

    def _reading(
        self, typed: Typed, i: int, each: Function, result_unit: str, uses: dict[str, str]
    ) -> None:
        reading = part(typed.name, i)
        keys = {str(typed.quantity): reading, "factor": f"{typed.name}_factor"} | uses
        key = f"{typed.name}_{i + 1}_in_{choices.suffix(result_unit)}"
        cell = self.sheet.at(METRIC)
        formula = Formula(key, cell, each, self.arguments(each, keys), typed.label, name=key)
        self.formula(formula, "metric", choices.number_format(result_unit))
        self.sheet.put(METRIC_UNIT, result_unit, "unit")
        self.us_twin(key, result_unit, True, "metric")
        function = entries.entry_message(f"type a number {_bounds(typed.limits)}", (0, 1e300), True)
        name = f"{typed.name}_{i + 1}_note"
        self.words(name, self.sheet.at(NOTE), function, (reading, key), "entry note")

    def _number_entry(
        self, typed: Typed, cells: tuple[Address, ...], defaults: tuple[Value, ...]
    ) -> None:
        entry = Entry(
            typed.name,
            cells,
            defaults,
            typed.label,
            unit_key=typed.unit_key,
            base_unit=typed.base,
            limits=typed.limits,
            usual=typed.usual,
            optional=typed.optional,
            ion=typed.ion,
        )
        self.book.add_entry(entry)
        self.sheet.rules.append(_number_rule(entry))

    def _unit_cell(self, typed: Typed) -> None:
        if not typed.offered:
            self.sheet.put(UNIT, typed.base or "number", "unit")
            return
        if typed.unit not in typed.offered:
            raise ValueError(f"{typed.name}: {typed.unit!r} is not among {typed.offered}")
        self.sheet.put(UNIT, typed.unit, "typed word")
        cell = self.sheet.at(UNIT)
        self._word_entry(Entry(typed.unit_key, (cell,), (typed.unit,), typed.label, typed.offered))

    def _word_entry(self, entry: Entry) -> None:
        self.book.add_entry(entry)
        message = f"{entry.label}: choose one of {', '.join(entry.words)}."
        self.sheet.rules.append(Rule(entry.cells, message, "From the list", entry.words))

    def _factor(self, typed: Typed) -> str:
        key = f"{typed.name}_factor"
        cell, function = self.sheet.at(FACTOR), entries.factor_to(typed.base)
        if typed.ion:
            function = entries.ion_factor(typed.ion, typed.base)
        formula = Formula(key, cell, function, (typed.unit_key,), "", name=key, known=NUMBER)
        self.formula(formula, "quiet", "0.######")
        return key

    def _base_value(self, typed: Typed) -> None:
        function, arguments = self._from_typed(typed)
        known = None if typed.may_be_blank else typed.limits
        cell = self.sheet.at(METRIC)
        formula = Formula(typed.key, cell, function, arguments, typed.label, typed.key, known)
        shape = choices.number_format(typed.base)
        self.formula(formula, "metric", "0.000" if typed.ion else shape)
        self.book.aliases[typed.name] = typed.key
        self.book.aliases[f"{typed.name}_typed"] = typed.name
        self.sheet.put(METRIC_UNIT, "" if typed.base == "parts" else typed.base, "unit")
        if not typed.ion:  # what a laboratory prints is in the same units everywhere
            self.us_twin(typed.key, typed.base, typed.may_be_blank, "metric")

    def _from_typed(self, typed: Typed) -> tuple[Function, tuple[str, ...]]:
        if typed.base == "parts":
            return entries.ratio_in_parts(typed.limits), (typed.name, typed.unit_key)
        if typed.base == "degC":
            function = entries.temperature(typed.limits, typed.optional)
            return function, (typed.name, typed.unit_key)
        if typed.ion and typed.optional:
            return entries.or_zero(typed.limits), (typed.name, self._factor(typed))
        if typed.offered:
            factor = self._factor(typed)
            return entries.in_base(typed.limits, typed.optional), (typed.name, factor)
        return entries.plain_number(typed.limits, typed.optional), (typed.name,)

    def _message(self, typed: Typed) -> None:
        complaint = f"type a number {_bounds(typed.limits)}"
        if typed.offered:
            complaint += "; check the unit"
        function = entries.entry_message(complaint, typed.usual, typed.optional)
        arguments = (typed.name, typed.key) if typed.optional else (typed.key,)
        cell = self.sheet.at(NOTE)
        self.words(f"{typed.name}_note", cell, function, arguments, "entry note")

    def choice(self, name: str, label: str, words: tuple[str, ...], default: str) -> None:
        """A word to choose from a list."""
        self.sheet.put(LABEL, label, "label")
        self.sheet.put(TYPED, default, "typed word", across=2)
        self._word_entry(Entry(name, (self.sheet.at(TYPED),), (default,), label, words))
        key = f"{name}_checked"
        cell = self.sheet.at(METRIC)
        known = replace(TEXT, words=words)
        formula = Formula(key, cell, entries.listed(words), (name,), label, key, known)
        self.formula(formula, "metric word" if len(default) < 12 else "long word")
        self.book.aliases[name] = key
        function = entries.choice_message(words)
        self.words(f"{name}_note", self.sheet.at(NOTE), function, (name,), "entry note")
        self.end_row()

    def unit_choice(self, name: str, label: str, base: str, default: str) -> None:
        """A unit to choose for results, among those offered for a base unit."""
        self.choice(name, label, choices.OFFERED[base], default)


def _bounds(limits: Quantity) -> str:
    """The range in words, less an upper limit so high that it only catches slips."""
    return limits.allowed if limits.high <= 1000 else replace(limits, high=math.inf).allowed


def _number_rule(entry: Entry) -> Rule:
    limits = entry.limits or NUMBER
    first = entry.cells[0].cell
    unit = ", in the unit chosen beside it" if entry.unit_key else ""
    message = f"{entry.label}: type a number, {limits.allowed}{unit}."
    test = f"ISNUMBER({first})"
    if limits.low >= 0:
        test = f"AND({test},{first}{'>' if limits.above else '>='}0)"
    return Rule(entry.cells, message[:250], "A number", (), test)
