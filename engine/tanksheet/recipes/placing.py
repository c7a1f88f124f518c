"""Which parts a blend has, and in which tank: the choices, decided and proven.

Tanks rarely cost anything: mostly the cheapest blend without them can also be put into them. So the
parts are chosen first as if there were one tank with the room of all, which is quick, and then only
those chosen are put into tanks. If that costs no more, it is the optimum. If it does, the next
choice must hold a part that none of those before held, since what a set of parts costs in tanks is
known for all that it holds; the cheapest so far stands once no such choice is cheaper.
Source: Benders, Partitioning procedures for solving mixed-variables programming problems, 1962, as
it is used where the second step has whole numbers too (the method, from memory).
"""

from __future__ import annotations

import math
import time
from collections.abc import Collection
from dataclasses import dataclass, replace

from tanksheet.recipes.blend import INFINITE, Blend, Limit
from tanksheet.recipes.highs import INFEASIBLE, MOST_SECONDS, OPTIMAL, UNPROVEN, Answer, solved
from tanksheet.recipes.model import NOTHING, Built, Choice, Tanks, built, most_of_each

MOST_TURNS = 40  # after so many sets of parts all is put to the solver at once
PROVEN = 1e-9  # how far, relative, the cheapest may stand above the bound


@dataclass(frozen=True)
class Decision:
    """The choices and how they were come by; ``bound`` is below the cost, to be minimised, of any.

    Without a choice, the status says why there is none.
    """

    status: str
    choice: Choice | None = None
    cost: float = math.inf
    bound: float = -math.inf


def decided(blend: Blend, tanks: Tanks | None, seconds: float = MOST_SECONDS) -> Decision:
    """The choices of the cheapest blend. Raises: OutOfRange for a part that nothing bounds."""
    if tanks is None:
        return _at_once(blend, None, seconds)
    until = time.monotonic() + seconds
    room = most_of_each(blend, tanks)
    if room is None:
        return Decision(INFEASIBLE)
    form = built(_one_tank(blend, tanks), None, room)
    assert form is not None
    best = Decision(INFEASIBLE)
    tried: list[frozenset[str]] = []
    for _ in range(MOST_TURNS):
        answer = solved(form.model, max(0.1, until - time.monotonic()))
        if answer.status == INFEASIBLE:  # nothing is left but what was tried
            return replace(best, bound=best.cost)
        if answer.status != OPTIMAL:
            break
        if best.cost <= answer.bound + PROVEN * max(1.0, abs(answer.bound)):
            return replace(best, bound=min(best.cost, answer.bound))
        some = _chosen_parts(form, answer, tried)
        tried.append(some)
        found = _at_once(_with_only(blend, some), tanks, max(0.1, until - time.monotonic()))
        if found.status not in (OPTIMAL, INFEASIBLE):
            break
        if found.cost < best.cost:
            best = found
        if best.cost <= answer.bound + PROVEN * max(1.0, abs(answer.bound)):
            return replace(best, bound=min(best.cost, answer.bound))
        others = {j: 1.0 for (name, _), j in form.switches.items() if name not in some}
        form.model.row(others, 1.0, INFINITE)
        if found.status == INFEASIBLE and not can_be_placed(some, tanks):
            core = _fewest_too_many(some, tanks)
            held = {j: 1.0 for (name, _), j in form.switches.items() if name in core}
            form.model.row(held, -INFINITE, len(core) - 1.0)
    return _at_once(blend, tanks, max(0.1, until - time.monotonic()), best)


def _at_once(
    blend: Blend, tanks: Tanks | None, seconds: float, known: Decision | None = None
) -> Decision:
    """All in one model."""
    form = built(blend, tanks)
    if form is None:
        return Decision(INFEASIBLE)
    answer = solved(form.model, seconds)
    if not answer.columns and form.model.cost:
        return (
            known
            if known and known.choice and answer.status == UNPROVEN
            else Decision(answer.status)
        )
    if known and known.cost <= answer.objective and answer.status == UNPROVEN:
        return replace(known, status=UNPROVEN, bound=answer.bound)
    return Decision(answer.status, form.choice(blend, answer), answer.objective, answer.bound)


def _one_tank(blend: Blend, tanks: Tanks) -> Blend:
    """The blend with every part a matter of choice, and the room of all tanks together."""
    count = len(tanks.names)
    loads = tuple(
        Limit(f"all tanks: {load.name}", load.terms, upper=load.upper * count)
        for load in tanks.loads
    )
    most = len(blend.parts) if blend.most_parts is None else blend.most_parts
    if tanks.most_kinds is not None:
        most = min(most, tanks.most_kinds * count)
    return replace(blend, limits=(*blend.limits, *loads), most_parts=most)


def _chosen_parts(form: Built, answer: Answer, tried: list[frozenset[str]]) -> frozenset[str]:
    amounts = form.amounts_in(answer)
    some = frozenset(name for name, amount in amounts.items() if amount > NOTHING)
    if any(some <= each for each in tried):
        # A part of which there is none was switched on to make the set another.
        on = {name for (name, _), j in form.switches.items() if answer.columns[j] > 0.5}
        return some | on
    return some


def can_be_placed(some: Collection[str], tanks: Tanks) -> bool:
    """Whether parts fit into tanks so that none holds a group whole, whatever the amounts."""
    # Those with most enemies first: they have the fewest places.
    order = sorted(some, key=lambda name: (-sum(name in group for group in tanks.apart), name))
    groups = {name: [group for group in tanks.apart if name in group] for name in order}
    held: dict[str, set[str]] = {tank: set() for tank in tanks.names}

    def placed(number: int) -> bool:
        if number == len(order):
            return True
        name = order[number]
        for tank in tanks.names:
            if not tanks.may_hold(tank, name):
                continue
            held[tank].add(name)
            if not any(group <= held[tank] for group in groups[name]) and placed(number + 1):
                return True
            held[tank].remove(name)
        return False

    return placed(0)


def _fewest_too_many(some: frozenset[str], tanks: Tanks) -> frozenset[str]:
    """Parts that cannot be placed, though they could without any one of them."""
    kept = some
    for name in sorted(some):
        if not can_be_placed(kept - {name}, tanks):
            kept -= {name}
    return kept


def _with_only(blend: Blend, some: frozenset[str]) -> Blend:
    parts = tuple(part for part in blend.parts if part.name in some)
    limits = tuple(
        replace(each, terms={name: v for name, v in each.terms.items() if name in some})
        for each in blend.limits
    )
    return replace(blend, parts=parts, limits=limits)
