"""The cheapest blend: solved, then explained; and why there is none, where there is none."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from tanksheet.recipes import prices
from tanksheet.recipes.blend import Blend
from tanksheet.recipes.conflicts import conflict, nearest
from tanksheet.recipes.highs import (
    INFEASIBLE,
    MOST_SECONDS,
    OPTIMAL,
    UNPROVEN,
    Answer,
    Model,
    solved,
)
from tanksheet.recipes.model import Choice, Tanks, chosen, sign_of
from tanksheet.recipes.placing import decided
from tanksheet.recipes.solution import Solution

FOR_THIS_CHOICE = (
    "prices and ranges hold for this choice of products, steps and tanks; another choice may be "
    "better where prices move"
)


@dataclass(frozen=True)
class Optimum:
    """A blend with its choices made, and the linear program that is left of it, solved."""

    blend: Blend
    tanks: Tanks | None
    choice: Choice
    model: Model
    rows: dict[str, int]
    answer: Answer

    def is_free(self, name: str) -> bool:
        """Whether a part's amount could be another without another choice."""
        j = [part.name for part in self.blend.parts].index(name)
        return self.model.lower[j] < self.model.upper[j]


def cheapest(
    blend: Blend,
    tanks: Tanks | None = None,
    *,
    explain: bool = True,
    seconds: float = MOST_SECONDS,
) -> Solution:
    """The cheapest blend that meets every limit, proven so, and what its figures are worth.

    Without ``explain`` only the blend is told: no prices, no conflict, no nearest blend.
    Raises: OutOfRange for a part that is a matter of choice and that nothing bounds; EngineProblem
    when the solver breaks down.
    """
    decision = decided(blend, tanks, seconds)
    if decision.status == INFEASIBLE:
        return without(blend, tanks) if explain else Solution(INFEASIBLE)
    if decision.choice is None:
        return Solution(decision.status)
    model, rows = chosen(blend, tanks, decision.choice)
    final = solved(model)
    if final.status != OPTIMAL:
        # It holds only within the solver's tolerance for whole numbers.
        return Solution(UNPROVEN, notes=("the solver's answer did not stand up to a second look",))
    found = Optimum(blend, tanks, decision.choice, model, rows, final)
    bound = sign_of(blend) * decision.bound + 0.0
    told = replace(_told(found), status=decision.status, cost_bound=bound)
    return _explained(told, found) if explain else told


def without(blend: Blend, tanks: Tanks | None = None) -> Solution:
    """Why there is no blend: the smallest conflict, and the blend that misses least."""
    return Solution(INFEASIBLE, conflict=conflict(blend, tanks), nearest=nearest(blend, tanks))


def _told(found: Optimum) -> Solution:
    blend, final = found.blend, found.answer
    names = [part.name for part in blend.parts]
    amounts = {name: value + 0.0 for name, value in zip(names, final.columns, strict=True)}
    delivered = {
        limit.name: final.rows[found.rows[limit.name]] + limit.given for limit in blend.limits
    }
    binding = tuple(
        limit.name
        for limit in blend.limits
        if prices.on_bound(delivered[limit.name], limit.lower)
        or prices.on_bound(delivered[limit.name], limit.upper)
    )
    return Solution(
        status=OPTIMAL,
        cost=math.fsum(part.cost * amounts[part.name] for part in blend.parts),
        amounts=amounts,
        tanks={name: tank for name, tank in found.choice.tanks.items() if amounts[name] > 0},
        delivered=delivered,
        binding=binding,
    )


def _explained(told: Solution, found: Optimum) -> Solution:
    """The same with prices, spans and ranges."""
    blend, final, sign = found.blend, found.answer, sign_of(found.blend)
    free = [part.name for part in blend.parts if found.is_free(part.name)]
    choosy = found.tanks is not None or blend.has_choices
    notes = (*told.notes, FOR_THIS_CHOICE) if choosy else told.notes
    if not free:
        return replace(told, notes=notes)
    proof = prices.proof(found.model, final)
    ranges, reduced = {}, {}
    for j, part in enumerate(blend.parts):
        if part.name not in free:
            continue
        low, high = proof.span_of_cost(j)
        ranges[part.name] = (low, high) if sign > 0 else (-high, -low)
        if abs(final.column_prices[j]) > prices.PRICED:
            reduced[part.name] = sign * final.column_prices[j]
    spans = {}
    for limit in blend.limits:
        low, high = (sign * end for end in proof.span_of_row(found.rows[limit.name]))
        if not math.isclose(low, high, rel_tol=1e-6, abs_tol=1e-8):
            spans[limit.name] = (low, high)
    return replace(
        told,
        price_of_one_more={
            limit.name: sign * final.row_prices[found.rows[limit.name]] + 0.0
            for limit in blend.limits
        },
        price_span=spans,
        reduced_costs=reduced,
        price_ranges=ranges,
        unique=prices.is_unique(found.model, final),
        notes=notes,
    )
