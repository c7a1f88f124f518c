"""What the figures of an optimum are worth: prices of limits, and how far a price may move.

All of it is read from the set of prices that prove the optimum. A corner where more limits meet
than are needed has many such prices, and a solver shows one of them; so each figure here is the
least and the most over all of them, found by linear programs of their own.
Source: duality of linear programs (textbook); the optimal value, as a function of one bound, has
the largest and the smallest of its prices as its slopes to the right and to the left.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tanksheet.recipes.highs import OPTIMAL, Answer, Model, Solver

Span = tuple[float, float]
# How near a bound counts as on it, relative to the figure.
ON_BOUND = 1e-7
PRICED = 1e-8
GOLDEN = (math.sqrt(5) - 1) / 2


@dataclass(frozen=True)
class Proof:
    """The linear program of all prices that prove one answer of one model.

    Its columns are a price for each row of the model, then one for each column's own bounds; its
    rows say that these make up the cost of each column.
    """

    solver: Solver
    row_count: int

    def span_of_row(self, row: int) -> Span:
        """The least and the most that a row's price can be."""
        return self._span([(row, 1.0)])

    def span_of_cost(self, column: int) -> Span:
        """The costs of a column at which the same answer stays an optimum, all else being equal."""
        terms = [*self.solver.model.rows[column].items()]
        self.solver.set_row(column, -math.inf, math.inf)
        found = self._span(terms)
        cost = self.solver.model.row_lower[column]
        self.solver.set_row(column, cost, cost)
        return found

    def _span(self, terms: Iterable[tuple[int, float]]) -> Span:
        ends = []
        for sign in (1.0, -1.0):
            for j, value in terms:
                self.solver.set_cost(j, sign * value)
            answer = self.solver.run()
            ends.append(sign * answer.objective if answer.status == OPTIMAL else -sign * math.inf)
        for j, _ in terms:
            self.solver.set_cost(j, 0.0)
        return ends[0], ends[1]


def proof(model: Model, answer: Answer) -> Proof:
    """All prices that prove an answer of a model without whole columns."""
    prices = Model()
    bounds = zip(answer.rows, model.row_lower, model.row_upper, strict=True)
    for value, lower, upper in bounds:
        prices.column(0.0, *_price_bounds(value, lower, upper))
    own = zip(answer.columns, model.lower, model.upper, strict=True)
    for value, lower, upper in own:
        prices.column(0.0, *_price_bounds(value, lower, upper))
    terms: list[dict[int, float]] = [{} for _ in model.cost]
    for i, row in enumerate(model.rows):
        for j, value in row.items():
            if value:
                terms[j][i] = value
    for j, cost in enumerate(model.cost):
        prices.row({**terms[j], len(model.rows) + j: 1.0}, cost, cost)
    return Proof(Solver(prices), len(model.rows))


def _price_bounds(value: float, lower: float, upper: float) -> Span:
    """Raising a bound from below costs, raising one from above saves; a loose one does neither."""
    low, high = on_bound(value, lower), on_bound(value, upper)
    return (-math.inf if high else 0.0, math.inf if low else 0.0)


def on_bound(value: float, bound: float) -> bool:
    return math.isfinite(bound) and abs(value - bound) <= ON_BOUND * max(1.0, abs(bound))


def is_unique(model: Model, answer: Answer) -> bool:
    """Whether no other amounts cost as little.

    What has a price stays on its bound in every optimum; among what is left a sum with odd weights
    is made as small and as large as it can be.
    """
    face = model.copy()
    _fix(face.row_lower, face.row_upper, answer.rows, answer.row_prices)
    _fix(face.lower, face.upper, answer.columns, answer.column_prices)
    scales = [max(1.0, abs(value)) for value in answer.columns]
    weights = [((j + 1) * GOLDEN % 1 + 0.1) / scale for j, scale in enumerate(scales)]
    here = math.fsum(w * x for w, x in zip(weights, answer.columns, strict=True))
    for sign in (1.0, -1.0):
        face.cost = [sign * weight for weight in weights]
        found = Solver(face).run()
        if found.status != OPTIMAL or abs(sign * found.objective - here) > 1e-6 * max(1, abs(here)):
            return False
    return True


def _fix(
    lower: list[float], upper: list[float], values: Sequence[float], prices: Sequence[float]
) -> None:
    for i, (value, price) in enumerate(zip(values, prices, strict=True)):
        if abs(price) <= PRICED:
            continue
        if price > 0 and on_bound(value, lower[i]):
            upper[i] = lower[i]
        elif price < 0 and on_bound(value, upper[i]):
            lower[i] = upper[i]
