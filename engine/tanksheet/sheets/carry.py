"""Carries what one workbook knows into a copy of another: values with their units, and in words
what was carried, what stays as it was, and what has no place there.

Between two of our own workbooks a thing may have two names (``Meaning``); between two copies of one
workbook, and to or from people's own workbooks, names that are the same mean the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.calc.water import equivalents, ion_mmol
from tanksheet.errors import SheetError, WorkbookProblem
from tanksheet.sheets.amounts import Amount, as_typed
from tanksheet.sheets.complaints import complaints
from tanksheet.sheets.contents import Contents, said, unit_now, with_unit
from tanksheet.sheets.evaluate import chosen_values
from tanksheet.sheets.settings import set_cells
from tanksheet.subset import is_number
from tanksheet.xlsx.address import Address, Value
from tanksheet.xlsx.values import computed_cells


@dataclass(frozen=True)
class Meaning:
    """One thing that several workbooks speak of, by the name that each has for it.

    ``ion`` is what it is an amount of, if of anything; ``also`` is another line of a workbook, with
    its ion, that counts towards it; ``result_unit`` is its unit where it is worked out.
    """

    what: str
    names: Mapping[str, str]
    ion: str = ""
    also: Mapping[str, tuple[str, str]] = field(default_factory=dict)
    result_unit: str = ""


@dataclass(frozen=True)
class Item:
    """A value for a name of the target; ``unit`` is "" where it has none or keeps it."""

    source: str
    name: str
    value: Any
    unit: str = ""
    note: str = ""

    def __str__(self) -> str:
        value = self.value
        text = with_unit(value, self.unit) if not isinstance(value, list) else _joined(value)
        return f"{self.source} -> {self.name} = {text}{f' ({self.note})' if self.note else ''}"


# What is found for the target, in order: values, values that belong together, and words.
Found = Iterator[Item | Sequence[Item] | str]
More = Callable[[Contents, Contents], Found]


@dataclass
class Carriage:
    """What goes into which cells of the target, and what is to be said of it."""

    cells: dict[Address, Value] = field(default_factory=dict)
    carried: list[Item] = field(default_factory=list)
    left: list[str] = field(default_factory=list)


def carry(
    source: Contents,
    target: Contents,
    meanings: Sequence[Meaning],
    more: More | None = None,
) -> Carriage:
    """What ``source`` has for ``target``; ``more`` gives what takes more than one name.

    Blanks are never carried, nor what the target's cells would refuse.
    """
    here, there = source.present.target.book, target.present.target.book
    if here is None or there is None:
        found = _by_name(source, target)
    elif here.name == there.name:
        found = _whole(source)
    else:
        found = _by_meaning(source, target, meanings, more)
    carriage = Carriage()
    for each in found:
        if isinstance(each, str):
            carriage.left.append(each)
        elif isinstance(each, Item):
            _put(carriage, target, each)
        else:
            _put_together(carriage, target, each)
    return carriage


def _put_together(carriage: Carriage, target: Contents, items: Sequence[Item]) -> None:
    """Adds items of which none makes sense without the others."""
    tried = Carriage(dict(carriage.cells))
    for item in items:
        _put(tried, target, item)
    carriage.left += tried.left[:1]
    if not tried.left:
        carriage.cells = tried.cells
        carriage.carried += tried.carried


def _put(carriage: Carriage, target: Contents, item: Item) -> None:
    """Adds an item, or the reason why it stays behind."""
    whole = target.present.target
    try:
        cells = _cells(target, item)
    except WorkbookProblem as problem:
        carriage.left.append(f"{item.source} is not carried: {problem}")
        return
    own = sorted(computed_cells(whole.package, cells))
    if own:
        carriage.left.append(
            f"{item.source} is not carried: {whole.path.name}: {own[0].a1} ({item.name}) holds a "
            "formula of your own"
        )
        return
    complaint = _complaint(target, {**carriage.cells, **cells}, item.name)
    if complaint:
        carriage.left.append(f"{item.source} is not carried: {complaint}")
        return
    carriage.cells.update(cells)
    carriage.carried.append(item)


def _cells(target: Contents, item: Item) -> dict[Address, Value]:
    whole = target.present.target
    places = whole.cells(item.name)
    if whole.book is None or (isinstance(item.value, str) and item.name not in whole.book.entries):
        return set_cells(whole, item.name, item.value)
    values = item.value if isinstance(item.value, list) else [item.value]
    cells: dict[Address, Value] = dict(zip(places, values, strict=True))
    unit_name = whole.unit_name(whole.row_of(item.name)[0])
    if item.unit and unit_name:
        units, row = whole.cells(unit_name), whole.row_of(item.name)[1] or 0
        cells[units[row if len(units) > 1 else 0]] = item.unit
    return cells


def _complaint(target: Contents, cells: Mapping[Address, Value], name: str) -> str:
    """What the target would say of an entry after these cells were set."""
    whole = target.present.target
    if whole.book is None:
        return ""
    now: dict[str, Any] = dict(target.present.entries)
    for key in whole.book.entries:
        places = whole.cells(key)
        if any(place in cells for place in places):
            stands = now[key] if isinstance(now[key], list) else [now[key]]
            new = [cells.get(p, old) for p, old in zip(places, stands, strict=True)]
            now[key] = new[0] if len(new) == 1 else new
    used = chosen_values(whole.book, now, [whole.book.key_for(key) for key in now])
    lines, key = complaints(whole, now, used), whole.row_of(name)[0]
    return lines.get(key) or lines.get(whole.unit_name(key)) or ""


# names that mean the same


def _whole(source: Contents) -> Found:
    """Everything that is typed in, into a copy of the same workbook, whatever its edition; there
    a blank is a blank."""
    for name in source.inputs:
        unit = unit_now(source, name)
        value = source.present.value(name)
        yield Item(name, name, value, unit if isinstance(unit, str) else "")


def _by_name(source: Contents, target: Contents) -> Found:
    known = {**source.inputs, **source.results}
    same = [name for name in target.inputs if name in known]
    for name in same:
        value = source.present.value(name)
        if isinstance(value, list):
            yield f"{name} is not carried: it has {len(value)} values; carry them by hand"
        elif _is_nothing(value):
            yield _stays(target, name, f"{name} is {with_unit(value, '')}")
        else:
            yield _named(source, target, name, value)
    yield from _without_place(source, target, same)


def _named(source: Contents, target: Contents, name: str, value: Value) -> Item | str:
    """A value under its own name, in words, so that the target reads its unit as run does."""
    unit, note = str(unit_now(source, name)), ""
    if not isinstance(value, float):
        return Item(name, name, value)
    if not target.present.target.unit_name(name):
        note = f"in {unit}; no unit stands beside it" if unit else ""
        return Item(name, name, value, "", note)
    text = f"1:{value!r}" if unit == "1:N" else f"{value!r} {unit}".strip()
    try:
        cells = set_cells(target.present.target, name, text)
    except WorkbookProblem as problem:
        return f"{name} is not carried: {problem}"
    number, *units = cells.values()
    return Item(name, name, number, str(units[0]) if units else "")


# meanings


def _by_meaning(
    source: Contents,
    target: Contents,
    meanings: Sequence[Meaning],
    more: More | None,
) -> Found:
    here, there = source.present.target.book, target.present.target.book
    assert here and there
    spoken: list[str] = []
    for meaning in meanings:
        name, new = meaning.names.get(here.name, ""), meaning.names.get(there.name, "")
        if (name in source.inputs or name in source.results) and new in target.inputs:
            spoken += [name, *meaning.also.get(here.name, ())[:1]]
            yield _meant(source, target, meaning, name, new)
    for item in more(source, target) if more else ():
        spoken += [each.source for each in item] if not isinstance(item, (str, Item)) else []
        yield item
    yield from _without_place(source, target, spoken)


def _meant(source: Contents, target: Contents, meaning: Meaning, name: str, new: str) -> Item | str:
    value = source.present.value(name)
    if _is_nothing(value) or not is_number(_read(source, name)):
        return _stays(target, new, f"{name} is {with_unit(value, '')}")
    book, entry = source.present.target.book, _entry(target, new)
    assert book
    amount, ion, note = _amount(source, meaning, name), meaning.ion, ""
    beside = meaning.also.get(book.name)
    if beside and not _is_nothing(source.present.value(beside[0])):
        amount = _charges(amount, ion, _amount(source, meaning, beside[0]), beside[1])
        note = f"with {beside[0]}"
    units = target.inputs[new].units
    number, unit = as_typed(amount, ion, entry, units, str(unit_now(target, new)))
    return Item(name, new, number, unit, note)


def _amount(source: Contents, meaning: Meaning, name: str) -> Amount:
    """What stands under a name, as typed and in its base unit."""
    book, unit = source.present.target.book, str(unit_now(source, name))
    assert book
    if name not in book.entries:
        value, base = float(source.present.value(name)), meaning.result_unit
        return Amount(value, unit or base, convert(value, unit or base, base), base)
    entry = book.entries[name]
    base_value = float(source.present.used[book.key_for(name)])  # type: ignore[arg-type]
    return Amount(float(_read(source, name)), unit, base_value, entry.base_unit)


def _read(source: Contents, name: str) -> Any:
    """What is typed, a number held as text as the number."""
    book, value = source.present.target.book, source.present.value(name)
    if book and name in book.entries and isinstance(value, str):
        key = book.aliases.get(f"{name}_typed")
        return chosen_values(book, source.present.entries, [key])[key] if key else value
    return value


def _charges(one: Amount, ion: str, other: Amount, other_ion: str) -> Amount:
    """Two lines of a report as one, in meq/L: alkalinity is bicarbonate and carbonate."""
    total = 0.0
    for amount, what in ((one, ion), (other, other_ion)):
        total += equivalents(ion_mmol(amount.base, what, amount.base_unit), what)
    return Amount(total, "meq/L", total, "meq/L")


def _entry(target: Contents, name: str) -> Any:
    book = target.present.target.book
    assert book
    return book.entries[name]


# what stays


def _is_nothing(value: Any) -> bool:
    return value in (None, "") or isinstance(value, (SheetError, list))


def _stays(target: Contents, name: str, why: str) -> str:
    return f"{name} stays {said(target, name)}: {why}"


def _without_place(source: Contents, target: Contents, spoken: Sequence[str]) -> Iterator[str]:
    """One line with the numbers that a person typed and that have no place in the target."""
    book = source.present.target.book
    left = [
        name
        for name in source.inputs
        if name not in spoken
        and not (book and book.entries[name].words)
        and any(each not in (None, "") for each in _list(source.present.value(name)))
    ]
    if left:
        yield f"no place in {target.present.target.path.name} for {', '.join(left)}"


def _list(value: Any) -> list[Value]:
    return value if isinstance(value, list) else [value]


def _joined(values: Sequence[Value]) -> str:
    parts = [with_unit(each, "") for each in values]
    while len(parts) > 1 and parts[-1] == "blank":
        parts.pop()
    return "; ".join(parts)
