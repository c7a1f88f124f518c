"""From a blend to the solver's columns and rows, and back to amounts.

A blend of bounds alone has one column a part. Where a part may be left out (least amounts, at most
so many parts) or must be in one tank, there is a whole column of 0 or 1 for each choice, and the
amount is held below it by the most that the limits leave room for: the tighter that is, the sooner
the solver is done.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from tanksheet.errors import OutOfRange
from tanksheet.recipes.blend import INFINITE, Blend, Limit, Part
from tanksheet.recipes.highs import INFEASIBLE, OPTIMAL, Answer, Model, Solver

# A part of which there is less is not in the blend: what rounding in the solver leaves.
NOTHING = 1e-9
# Above the bound that an exact calculation gives, so that rounding cuts nothing off.
SLACK = 1 + 1e-7


@dataclass(frozen=True)
class Tanks:
    """Which tanks there are and what one of them may hold together.

    Each part goes into one tank. ``apart`` are sets of parts of which no tank may hold all.
    ``loads`` bound a sum over what is in one tank: terms by part, and the most. ``only`` names the
    tanks that a part may go into, where not all. ``most_kinds`` is the most parts in one tank.
    """

    names: tuple[str, ...]
    apart: tuple[frozenset[str], ...] = ()
    loads: tuple[Limit, ...] = ()
    only: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    most_kinds: int | None = None

    def may_hold(self, tank: str, part: str) -> bool:
        return tank in self.only.get(part, self.names)


@dataclass(frozen=True)
class Choice:
    """Which parts are in the blend, in which tank, and how much of those that come in steps."""

    used: frozenset[str]
    tanks: Mapping[str, str]
    fixed: Mapping[str, float]


@dataclass
class Built:
    """A model, and which of its columns stand for what."""

    model: Model
    amounts: dict[str, list[tuple[int, float, str]]]  # part -> columns, the unit of each, its tank
    switches: dict[tuple[str, str], int]  # part and tank -> its column of 0 or 1
    limit_rows: dict[str, int]

    def amounts_in(self, answer: Answer) -> dict[str, float]:
        """The amount of each part, as the solver has it."""
        return {
            name: sum(answer.columns[j] * unit for j, unit, _ in columns)
            for name, columns in self.amounts.items()
        }

    def choice(self, blend: Blend, answer: Answer) -> Choice:
        amounts, tanks = self.amounts_in(answer), {}
        for name, columns in self.amounts.items():
            most = max(columns, key=lambda each: answer.columns[each[0]] * each[1])
            if most[2] and amounts[name] > NOTHING:
                tanks[name] = most[2]
        used = {name for name, amount in amounts.items() if amount > NOTHING}
        # A switch that is on allows its part, which a least amount of 0 leaves at 0.
        fixed = {
            part.name: round(amounts[part.name] / part.step) * part.step
            for part in blend.parts
            if part.step
        }
        return Choice(frozenset(used), tanks, fixed)


def sign_of(blend: Blend) -> float:
    """What turns the blend's cost into one to minimise."""
    return 1.0 if blend.sense == "min" else -1.0


def add_limits(
    model: Model, blend: Blend, columns: Mapping[str, list[tuple[int, float, str]]]
) -> dict[str, int]:
    """A row for each limit; returns which."""
    return {
        limit.name: model.row(
            {
                j: value * unit
                for name, value in limit.terms.items()
                for j, unit, _ in columns[name]
                if value
            },
            limit.lower - limit.given,
            limit.upper - limit.given,
        )
        for limit in blend.limits
    }


def built(
    blend: Blend, tanks: Tanks | None = None, room: Mapping[str, float] | None = None
) -> Built | None:
    """The model of a blend, or None if its limits leave no room even for parts of any size.

    ``room`` is the most of each part that a blend can need; it is worked out if it is not given.
    """
    if tanks is None and not blend.has_choices:
        return _linear(blend)
    room = most_of_each(blend, tanks) if room is None else room
    return None if room is None else _with_choices(blend, tanks, room)


def _linear(blend: Blend) -> Built:
    model, sign = Model(), sign_of(blend)
    amounts = {
        part.name: [(model.column(sign * part.cost, part.lower, part.upper), 1.0, "")]
        for part in blend.parts
    }
    return Built(model, amounts, {}, add_limits(model, blend, amounts))


def _with_choices(blend: Blend, tanks: Tanks | None, room: Mapping[str, float]) -> Built:
    names = tanks.names if tanks else ("",)
    model, sign = Model(), sign_of(blend)
    amounts: dict[str, list[tuple[int, float, str]]] = {}
    switches: dict[tuple[str, str], int] = {}
    for part in blend.parts:
        unit = part.step or 1.0
        switched = tanks is not None or part.least > 0 or blend.most_parts is not None
        columns = amounts[part.name] = []
        for tank in names:
            lower = 0.0 if switched else part.lower
            upper = room[part.name] if switched else part.upper
            if tanks and not tanks.may_hold(tank, part.name):
                continue
            j = model.column(sign * part.cost * unit, lower / unit, upper / unit, bool(part.step))
            columns.append((j, unit, tank))
            if switched:
                switches[part.name, tank] = _switch(model, part, j, unit, room[part.name])
    rows = add_limits(model, blend, amounts)
    _part_rows(model, blend, amounts, switches, tanks)
    if tanks:
        _tank_rows(model, tanks, amounts, switches)
    return Built(model, amounts, switches, rows)


def _switch(model: Model, part: Part, column: int, unit: float, room: float) -> int:
    """A column of 0 or 1 that lets a part's amount be above 0."""
    switch = model.column(0.0, 0.0, 1.0, whole=True)
    model.row({column: unit, switch: -room}, -INFINITE, 0.0)
    if part.least > 0:
        model.row({column: unit, switch: -part.least}, 0.0, INFINITE)
    return switch


def _part_rows(
    model: Model,
    blend: Blend,
    amounts: Mapping[str, list[tuple[int, float, str]]],
    switches: Mapping[tuple[str, str], int],
    tanks: Tanks | None,
) -> None:
    for part in blend.parts:
        mine = [j for (name, _), j in switches.items() if name == part.name]
        if len(mine) > 1:
            model.row(dict.fromkeys(mine, 1.0), -INFINITE, 1.0)
        if (mine or tanks) and part.lower > 0:
            total = {j: unit for j, unit, _ in amounts[part.name]}
            model.row(total, part.lower, INFINITE)
    if blend.most_parts is not None:
        model.row(dict.fromkeys(switches.values(), 1.0), -INFINITE, float(blend.most_parts))


def _tank_rows(
    model: Model,
    tanks: Tanks,
    amounts: Mapping[str, list[tuple[int, float, str]]],
    switches: Mapping[tuple[str, str], int],
) -> None:
    for tank in tanks.names:
        for load in tanks.loads:
            terms = {
                j: load.terms[name] * unit
                for name, columns in amounts.items()
                for j, unit, where in columns
                if where == tank and load.terms.get(name)
            }
            model.row(terms, -INFINITE, load.upper)
        for group in tanks.apart:
            held = [switches[name, tank] for name in group if (name, tank) in switches]
            # A part that the blend has not, or that the tank may not hold, keeps the group apart.
            if len(held) == len(group):
                model.row(dict.fromkeys(held, 1.0), -INFINITE, len(group) - 1.0)
        if tanks.most_kinds is not None:
            held = [j for (_, where), j in switches.items() if where == tank]
            model.row(dict.fromkeys(held, 1.0), -INFINITE, float(tanks.most_kinds))


# how much of a part there can be


def most_of_each(blend: Blend, tanks: Tanks | None) -> dict[str, float] | None:
    """The most of each part that the limits leave room for, or None if they leave none at all.

    Raises: OutOfRange for a part that nothing bounds, if a choice hangs on its amount.
    """
    model = Model()
    columns = {
        part.name: [(model.column(0.0, part.lower, part.upper), 1.0, "")] for part in blend.parts
    }
    add_limits(model, blend, columns)
    for load in tanks.loads if tanks else ():
        held = {name: value for name, value in load.terms.items() if name in columns}
        together = {columns[name][0][0]: value for name, value in held.items()}
        if tanks and all(value >= 0 for value in together.values()):
            model.row(together, -INFINITE, load.upper * len(tanks.names))
            for j, value in together.items():  # each is in one tank
                if value > 0:
                    model.upper[j] = min(model.upper[j], load.upper / value)
    if any(low > high for low, high in zip(model.lower, model.upper, strict=True)):
        return None
    solver, room = Solver(model), {}
    for j, part in enumerate(blend.parts):
        solver.set_cost(j, -1.0)
        answer = solver.run()
        solver.set_cost(j, 0.0)
        if answer.status == INFEASIBLE:
            return None
        if answer.status == OPTIMAL:
            room[part.name] = max(part.lower, answer.columns[j]) * SLACK + 1e-12
        else:
            room[part.name] = _enough(blend, part)
    return room


def enough_of_each(blend: Blend) -> dict[str, float]:
    """An amount of each part beyond which more of it brings no limit nearer.

    Raises: OutOfRange for a part without such an amount.
    """
    return {part.name: min(part.upper, _enough(blend, part)) for part in blend.parts}


def _enough(blend: Blend, part: Part) -> float:
    """An amount beyond which more of a part only costs, where no limit bounds it."""
    where = f"part {part.name!r} may grow without bound; give it a most amount"
    if part.cost * sign_of(blend) < 0:
        raise OutOfRange(where)
    enough = max(part.lower, part.least, part.step)
    for limit in blend.limits:
        value = limit.terms.get(part.name, 0.0)
        low, high = _reach_of_others(blend, limit, part.name)
        if value > 0 and limit.lower > -INFINITE:
            enough = max(enough, (limit.lower - low) / value)
        if value < 0 and limit.upper < INFINITE:
            enough = max(enough, (limit.upper - high) / value)
    if not math.isfinite(enough):
        raise OutOfRange(where)
    return (enough + part.step) * SLACK


def _reach_of_others(blend: Blend, limit: Limit, name: str) -> tuple[float, float]:
    """The least and the most that a limit can be without this part."""
    low = high = limit.given
    for part in blend.parts:
        value = limit.terms.get(part.name, 0.0)
        if part.name == name or not value:
            continue
        ends = sorted((value * part.lower, value * part.upper))
        low, high = low + ends[0], high + ends[1]
    return low, high


# the linear problem that is left once the choices are made


def chosen(blend: Blend, tanks: Tanks | None, choice: Choice) -> tuple[Model, dict[str, int]]:
    """One column a part and the limits' rows first: prices can be read from it."""
    model, sign = Model(), sign_of(blend)
    columns: dict[str, list[tuple[int, float, str]]] = {}
    for part in blend.parts:
        lower, upper = max(part.lower, part.least), part.upper
        if part.name in choice.fixed:
            lower = upper = choice.fixed[part.name]
        elif part.name not in choice.used:
            # A least or a place in a tank would have to be chosen first.
            choosy = tanks is not None or part.least > 0 or blend.most_parts is not None
            lower, upper = (0.0, 0.0) if choosy else (part.lower, part.upper)
        columns[part.name] = [(model.column(sign * part.cost, lower, upper), 1.0, "")]
    rows = add_limits(model, blend, columns)
    for tank in tanks.names if tanks else ():
        for load in tanks.loads if tanks else ():
            terms = {
                columns[name][0][0]: value
                for name, value in load.terms.items()
                if choice.tanks.get(name) == tank
            }
            model.row(terms, -INFINITE, load.upper)
    return model, rows
