"""Rows that a person fills: numbers with a unit from a list, choices, repeated readings."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from tanksheet.sheets import choices, entries, measures, notes
from tanksheet.sheets.book import part
from tanksheet.sheets.cells import Entry, Formula, Rule
from tanksheet.sheets.number_row import NumberRow
from tanksheet.sheets.rows import (
    BASE,
    EXACT,
    FACTOR,
    INPUT_HEIGHT,
    LABEL,
    NOTE,
    NUMBER,
    OFF,
    OTHER,
    READ,
    TEXT,
    TYPED,
    UNIT,
    Function,
    Rows,
    unit_height,
)
from tanksheet.sheets.rules import LONGEST_ERROR, number_rule
from tanksheet.subset import helper
from tanksheet.units import QUANTITIES, Quantity
from tanksheet.xlsx.address import Address, Value


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
        nutrient: str = "",
        nutrients: tuple[str, ...] = (),
        reported: str = "",
        doubt: Doubt | None = None,
        us: tuple[float | None, str] | None = None,
    ) -> None:
        """A number to type. ``quantity`` is its glossary entry, or limits of its own; ``usual`` is
        in its base unit.

        ``beside`` is a value worked out from it, shown on the same row. With an ``ion`` it takes
        the units of water reports, and a blank counts as 0; ``<name>_typed`` is what was typed.
        With a ``nutrient``, in mg/L of the element, it takes mmol/L, meq/L and ppm of the oxide,
        with the ion as which it is ``reported`` those of water reports too; with ``nutrients``,
        ``nutrient`` is the choice that names one of them.
        ``doubt`` adds to the note what is odd beside other entries. ``us`` is the default and its
        unit in the US edition.
        """
        if us and self.book.edition == "us":
            default, unit = us
        of = (ion, nutrient, nutrients, reported)
        row = NumberRow(name, label, quantity, default, unit, usual, optional, *of)
        self.sheet.put(LABEL, label, "label")
        style = "typed maybe" if optional else "typed"
        self.sheet.put(TYPED, default, style, row.pattern)
        self._number_entry(row, (self.sheet.at(TYPED),), (default,))
        self._unit_cell(row)
        self._base_value(row)
        self._message(row, doubt)
        if beside:
            self._beside(beside, OFF if ion else OTHER)
        else:
            self._means(row)
        self.end_row(INPUT_HEIGHT if row.ion else unit_height(row.longest))

    def _beside(self, beside: Beside, column: int) -> None:
        arguments = self.arguments(beside.function, beside.uses)
        cell, name = self.sheet.at(column), beside.name
        formula = Formula(name, cell, beside.function, arguments, beside.unit, name, NUMBER)
        self.formula(formula, "worked out", beside.pattern)
        if column == OTHER:  # else the head of the column tells it
            self.sheet.put(OFF, beside.unit, "unit")

    def _means(self, row: NumberRow) -> None:
        """Beside a number with a choice of units: what it now means."""
        if not row.offered or row.ion:
            return
        home = choices.shown_unit(row.base, self.book.edition)
        other = choices.other_unit(row.base, self.book.edition)
        if row.base == "parts":
            function: Function = measures.ratio_meaning
        elif row.quantity == "alkalinity_as_caco3":
            function = measures.alkalinity_meaning
        elif row.reported and row.nutrient != row.reported:
            function = measures.meaning_as_element(row.nutrient)
        elif other:
            function = measures.meaning(row.base, home, other)
        else:
            function = measures.meaning_at_home(row.base, "ppm" if row.base == "mg/L" else home)
        cell, uses = self.sheet.at(OTHER), (row.key, self.book.key_for(row.unit_key))
        self.words(f"{row.name}_means", cell, function, uses, "means", hidden=True)

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
        unit, and others from ``uses`` or by name, and gives words for what is no number.
        ``<name>_worked`` is the column of what it makes of them.
        """
        row = NumberRow(name, label, quantity, None, unit, usual, True)
        cells = tuple(self.sheet.at(TYPED, self.sheet.row + i) for i in range(len(defaults)))
        self._number_entry(row, cells, tuple(defaults))
        for i, default in enumerate(defaults):
            self.sheet.put(LABEL, f"{label} {i + 1}", "label")
            self.sheet.put(TYPED, default, "typed maybe", choices.TYPED)
            if i == 0:
                self._unit_cell(row)
                self._factor(row)
            else:
                self.sheet.put(UNIT, "same", "unit")
            self._reading(row, i, each, result_unit, uses)
            self.end_row(INPUT_HEIGHT)
        suffix = choices.suffix(result_unit)
        keys = tuple(f"{name}_{i + 1}_in_{suffix}" for i in range(len(defaults)))
        self.book.add_range(f"{name}_worked", keys, hidden=True)

    def _reading(
        self, row: NumberRow, i: int, each: Function, result_unit: str, uses: dict[str, str]
    ) -> None:
        reading = part(row.name, i)
        keys = {str(row.quantity): reading, "factor": f"{row.name}_factor"} | uses
        key = f"{row.name}_{i + 1}_in_{choices.suffix(result_unit)}"
        unit = self.number(
            key,
            each,
            self.arguments(each, keys),
            result_unit,
            column=OTHER,
            label=row.label,
            style="other system",
            known=None,
            hidden=True,
        )
        self.sheet.put(OFF, unit, "unit")
        function = notes.reading_message(f"type a number {_bounds(row.limits)}", i + 1)
        name = f"{row.name}_{i + 1}_note"
        cell = self.sheet.at(NOTE)
        self.words(name, cell, function, (reading, key), "words", hidden=True)

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
            nutrient=row.nutrient,
            to_base=row.to_base,
        )
        self.book.add_entry(entry)
        self.sheet.rules.append(number_rule(entry, *self._unit_of(row, cells[0])))

    def _unit_of(self, row: NumberRow, cell: Address) -> tuple[str, Address | str | None]:
        """The form of a number's unit, and what tells the unit or its factor."""
        if row.base in ("parts", "degC"):
            form = "ratio" if row.base == "parts" else "temperature"
            return form, self.sheet.at(UNIT, cell.row)
        return ("factor", f"{row.name}_factor") if row.offered else ("plain", None)

    def _unit_cell(self, row: NumberRow) -> None:
        if not row.offered:
            self.sheet.put(UNIT, "" if row.base in ("pH", "date") else row.base, "unit")
            return
        if row.unit not in row.offered:
            raise ValueError(f"{row.name}: {row.unit!r} is not among {row.offered}")
        style = "typed maybe word" if row.optional else "typed unit"
        if row.ion:  # may run on over column D
            style = "typed unit long"
        elif unit_height(row.longest) > INPUT_HEIGHT:
            style = "typed unit tall"
        self.sheet.put(UNIT, row.unit, style)
        cell = self.sheet.at(UNIT)
        # An oxide fits one nutrient only, so random cases leave it out; tests of units have it.
        usual = tuple(unit for unit in row.offered if not unit.startswith("ppm "))
        offered = choices.first_at_home(row.offered, self.book.edition)
        unit = Entry(row.unit_key, (cell,), (row.unit,), row.label, offered)
        self._word_entry(replace(unit, usual_words=usual if row.nutrients else ()))

    def _word_entry(self, entry: Entry) -> None:
        self.book.add_entry(entry)
        message = f"{entry.label}: choose one of {', '.join(entry.words)}."
        if len(message) > LONGEST_ERROR:
            message = f"{entry.label}: choose from the list."
        self.sheet.rules.append(Rule(entry.cells, message, "From the list", entry.words))

    def _factor(self, row: NumberRow) -> str:
        key = f"{row.name}_factor"
        keys = tuple(self.book.key_for(each) for each in row.factor_keys)
        self.back(FACTOR, key, row.factor, keys, label=row.label, pattern="0.######", known=NUMBER)
        return key

    def _base_value(self, row: NumberRow) -> None:
        self._read(row)
        function, arguments = self._from_typed(row)
        known = None if row.may_be_blank else row.limits
        pattern = "0.000" if row.ion else choices.pattern(row.base)
        self.back(BASE, row.key, function, arguments, label=row.label, pattern=pattern, known=known)
        self.book.aliases[row.name] = row.key
        self.book.aliases[f"{row.name}_typed"] = row.read

    def _read(self, row: NumberRow) -> None:
        """What is typed: a number held as text is read here."""
        unit = row.unit_key
        function: Function = entries.read_with_unit if unit else entries.read_number
        arguments = (row.name, self.book.key_for(unit)) if unit else (row.name,)
        self.back(READ, row.read, function, arguments, label=row.label, pattern="0.######")

    def _from_typed(self, row: NumberRow) -> tuple[Function, tuple[str, ...]]:
        if row.base == "parts":
            return entries.ratio_in_parts(row.limits), (row.read, row.unit_key)
        if row.base == "degC":
            function = entries.temperature(row.limits, row.optional)
            return function, (row.read, row.unit_key)
        if row.ion and row.optional:
            return entries.or_zero(row.limits), (row.read, self._factor(row))
        if row.offered:
            factor = self._factor(row)
            return entries.in_base(row.limits, row.optional), (row.read, factor)
        return entries.plain_number(row.limits, row.optional), (row.read,)

    def _message(self, row: NumberRow, doubt: Doubt | None) -> None:
        date = row.limits.is_date
        complaint = notes.NO_DATE if date else f"type a number {_bounds(row.limits)}"
        complaint += "; check the unit" if row.offered else ""
        odd = notes.ODD_DATE if date else notes.UNUSUAL
        function = notes.entry_message(complaint, row.usual, row.optional, odd)
        arguments: tuple[str, ...] = (row.read, row.key) if row.optional else (row.key,)
        if row.base == "parts":
            complaint = f"type 100 for 1:100, {_bounds(row.limits)}; check the unit"
            function, arguments = notes.ratio_message(complaint, row.usual), (row.read, row.key)
        factor = f"{row.name}_factor"
        if row.optional and factor in self.book.formulas:
            function, arguments = notes.with_factor(function), (*arguments, factor)
        if doubt:
            function = doubt.function(helper(function))
            arguments += tuple(self.book.key_for(name) for name in doubt.uses)
        function = notes.unless_text(function, len(arguments))
        arguments = (row.name, row.read, *arguments)
        cell = self.sheet.at(NOTE)
        self.words(f"{row.name}_note", cell, function, arguments, "words", hidden=True)

    def choice(self, name: str, label: str, words: tuple[str, ...], default: str) -> None:
        """A word to choose from a list."""
        self.sheet.put(LABEL, label, "label")
        self.sheet.put(TYPED, default, "typed word", across=2)
        self._word_entry(Entry(name, (self.sheet.at(TYPED),), (default,), label, words))
        key = f"{name}_checked"
        known = replace(TEXT, words=words)
        self.back(BASE, key, entries.listed(words), (name,), label=label, known=known)
        self.book.aliases[name] = key
        function = notes.choice_message(words)
        cell = self.sheet.at(NOTE)
        self.words(f"{name}_note", cell, function, (name,), "words", hidden=True)
        self.end_row(INPUT_HEIGHT)

    def ratio_reading(self, ratio: str, label: str = "What 1:N means") -> None:
        """A choice below the input of a ratio: 1 part in N, or 1 part to N of water.

        From here on the name of the ratio stands for the exact dilution factor, ``<ratio>_set``
        for the setting in parts. The choice is called ``<ratio>_reading``.
        """
        row, setting, limits = self.sheet.row, self.book.key_for(ratio), QUANTITIES["ratio"]
        self.choice(f"{ratio}_reading", label, entries.READINGS, entries.READINGS[0])
        key, function = f"{ratio}_dilution", entries.dilution_of(limits)
        arguments = (setting, self.book.key_for(f"{ratio}_reading"))
        after, self.sheet.row = self.sheet.row, row
        self.back(EXACT, key, function, arguments, label=label, pattern="0.0##", known=limits)
        self.sheet.row = after
        self.book.aliases |= {ratio: key, f"{ratio}_set": setting}

    def unit_choice(self, name: str, label: str, base: str, default: str) -> None:
        """A unit to choose for results, among those offered for a base unit."""
        self.choice(name, label, choices.OFFERED[base], default)


def _bounds(limits: Quantity) -> str:
    """The range in words, less an upper limit so high that it only catches slips."""
    return limits.allowed if limits.high <= 1000 else replace(limits, high=math.inf).allowed
