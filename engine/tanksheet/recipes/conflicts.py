"""Which limits cannot be met together: the smallest such set, and the nearest blend.

A set of limits conflicts if no blend meets them all while the bounds of the parts, and the tanks,
stay as they are. The smallest is found by guessing: of every largest set that can be met, a
conflict holds at least one limit outside it, so the smallest set that has one outside each of those
found so far is either a conflict or leads to another of them.
Source: Ignatiev, Previti, Liffiton and Marques-Silva, Smallest MUS extraction with minimal hitting
set dualization, 2015 (the method, from memory).
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from tanksheet.errors import OutOfRange
from tanksheet.recipes.blend import INFINITE, Blend, Limit
from tanksheet.recipes.highs import INFEASIBLE, OPTIMAL, Model, Solver, solved
from tanksheet.recipes.model import Built, Tanks, built, enough_of_each
from tanksheet.recipes.placing import decided

MISSED = 1e-7  # by more than rounding, relative to the limit
Fits = Callable[[frozenset[str]], bool]
# A least conflict may take many trials; then one that merely cannot be made smaller is told.
MOST_SECONDS = 20.0


def conflict(blend: Blend, tanks: Tanks | None, seconds: float = MOST_SECONDS) -> tuple[str, ...]:
    """The smallest set of limits that no blend meets, in the blend's order.

    Empty if the bounds of the parts, or the tanks, exclude each other without any limit.
    """
    names = [limit.name for limit in blend.limits]
    fits = _fits_with_choices(blend, tanks) if _is_choosy(blend, tanks) else _fits_linear(blend)
    until = time.monotonic() + seconds
    found = _irreducible(names, fits)
    smallest = _smallest(names, found, fits, until)
    return tuple(name for name in names if name in smallest)


def _is_choosy(blend: Blend, tanks: Tanks | None) -> bool:
    return tanks is not None or blend.has_choices


def _fits_linear(blend: Blend) -> Fits:
    form = built(replace(blend, parts=tuple(replace(part, cost=0.0) for part in blend.parts)))
    assert form is not None
    solver, model = Solver(form.model), form.model

    def fits(names: frozenset[str]) -> bool:
        for name, row in form.limit_rows.items():
            held = name in names
            low, high = model.row_lower[row], model.row_upper[row]
            solver.set_row(row, low if held else -INFINITE, high if held else INFINITE)
        return solver.run().status != INFEASIBLE

    return fits


def _fits_with_choices(blend: Blend, tanks: Tanks | None) -> Fits:
    free = tuple(replace(part, cost=0.0) for part in blend.parts)

    def fits(names: frozenset[str]) -> bool:
        held = tuple(limit for limit in blend.limits if limit.name in names)
        try:
            return decided(replace(blend, parts=free, limits=held), tanks).status != INFEASIBLE
        except OutOfRange:  # nothing bounds a part: what cannot be told is no conflict
            return True

    return fits


def _irreducible(names: Sequence[str], fits: Fits) -> frozenset[str]:
    """A conflict that is none without any one of its limits."""
    kept = list(names)
    for name in names:
        fewer = frozenset(kept) - {name}
        if not fits(fewer):
            kept.remove(name)
    return frozenset(kept)


def _smallest(
    names: Sequence[str], found: frozenset[str], fits: Fits, until: float
) -> frozenset[str]:
    outside: list[frozenset[str]] = []
    while len(found) > 1 and time.monotonic() < until:
        guess = _one_of_each(names, outside)
        if len(guess) >= len(found):
            return found
        if not fits(guess):
            return guess
        left_out = frozenset(names) - _largest_with(names, guess, fits)
        if not left_out:  # all fits by a hair, within the solver's tolerance
            return found
        outside.append(left_out)
    return found


def _largest_with(names: Sequence[str], some: frozenset[str], fits: Fits) -> frozenset[str]:
    """Limits that can be met together, these among them, none of the others being left to add."""
    held = some
    for name in names:
        if name not in held and fits(held | {name}):
            held |= {name}
    return held


def _one_of_each(names: Sequence[str], sets: Sequence[frozenset[str]]) -> frozenset[str]:
    """The fewest names that leave none of these sets out."""
    model = Model()
    columns = {name: model.column(1.0, 0.0, 1.0, whole=True) for name in names}
    for each in sets:
        model.row({columns[name]: 1.0 for name in sorted(each)}, 1.0, INFINITE)
    answer = solved(model)
    return frozenset(name for name, j in columns.items() if answer.columns[j] > 0.5)


# the nearest blend


@dataclass(frozen=True)
class Nearest:
    """The blend that misses least, each miss counted relative to its limit.

    ``misses`` is by how much each missed limit is passed over (+) or fallen short of (-).
    """

    amounts: dict[str, float]
    misses: dict[str, float]
    cost: float
    tanks: dict[str, str]


def nearest(blend: Blend, tanks: Tanks | None) -> Nearest | None:
    """The cheapest of the blends with the smallest sum of relative misses.

    None if the bounds of the parts, or the tanks, leave no blend at all, or nothing bounds a part.
    """
    try:
        room = enough_of_each(blend) if _is_choosy(blend, tanks) else None
        form = built(blend, tanks, room)
    except OutOfRange:
        return None
    if form is None:
        return None
    costs = list(form.model.cost)
    slacks = _elastic(form, blend)
    first = solved(form.model)
    if first.status != OPTIMAL:
        return None
    weights = {j: form.model.cost[j] for j in range(len(costs), len(form.model.cost))}
    form.model.row(weights, -INFINITE, first.objective * (1 + 1e-9) + 1e-12)
    form.model.cost = costs + [0.0] * len(weights)
    second = solved(form.model)
    answer = second if second.status == OPTIMAL else first
    amounts = form.amounts_in(answer)
    misses = {name: sum(sign * answer.columns[j] for j, sign in mine) for name, mine in slacks}
    return Nearest(
        amounts,
        {limit.name: misses[limit.name] for limit in blend.limits if _is_missed(limit, misses)},
        math.fsum(part.cost * amounts[part.name] for part in blend.parts),
        dict(form.choice(blend, answer).tanks),
    )


def _is_missed(limit: Limit, misses: Mapping[str, float]) -> bool:
    ends = [abs(end) for end in (limit.lower, limit.upper) if math.isfinite(end)]
    return abs(misses[limit.name]) > MISSED * max(1.0, *ends, 0.0)


def _elastic(form: Built, blend: Blend) -> list[tuple[str, list[tuple[int, float]]]]:
    """Lets each limit be missed at a price, and nothing else cost anything."""
    model = form.model
    model.cost = [0.0] * len(model.cost)
    slacks = []
    for limit in blend.limits:
        row = form.limit_rows[limit.name]
        ends = [abs(end) for end in (limit.lower, limit.upper) if math.isfinite(end) and end]
        weight = 1 / max(ends) if ends else 1.0
        mine = []
        for bound, sign in ((limit.lower, -1.0), (limit.upper, 1.0)):
            if math.isfinite(bound):
                j = model.column(weight, 0.0, INFINITE)
                model.rows[row] = {**model.rows[row], j: -sign}
                mine.append((j, sign))
        slacks.append((limit.name, mine))
    return slacks
