"""Which tank holds what, and how much of it, by the recipe workbook's own rules.

What the rules say of a tank is no linear function of what is in it. So the solver is given what is
linear (the share of its saturated stock that each product takes up) and sets of products to keep
apart; its answer is judged by the rules themselves; what they do not pass is taken to the fewest
products that still do not pass, these are kept apart too, and it is solved again.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

from tanksheet.errors import NotListed, OutOfRange
from tanksheet.recipes.blend import Blend, Limit, Part
from tanksheet.recipes.feed import Recipe
from tanksheet.recipes.highs import INFEASIBLE, MOST_SECONDS, OPTIMAL
from tanksheet.recipes.judge import LETTERS, Judge, kind
from tanksheet.recipes.model import Tanks, most_of_each
from tanksheet.recipes.products import Product
from tanksheet.recipes.solution import Solution
from tanksheet.recipes.solving import cheapest, without
from tanksheet.tables import look_up
from tanksheet.templates.recipe.working import holds

MOST_ROUNDS = 60
ROUNDING = 1e-6  # a product at its bound is judged on the safe side of it
# Which column of the rules bounds a share, by the worst verdict that is taken.
COLUMN = {"pass": "caution_above", "caution": "stop_above"}
TRACES = ("metal", "complex", "borate", "silicate")


@dataclass(frozen=True)
class Stock:
    """The tanks of concentrate that a feed is injected from.

    litres: of each tank by its letter, at most three. ratio: parts of feed for one of stock.
    temperature: the coldest the tanks get, degrees C. ph: of the water. worst: what a tank's
    verdict may be, "pass" or "caution"; what nobody can check passes with a note. only: the
    tanks that a product may go into, where not all. apart: sets of products to keep out of one
    tank whatever the rules say.
    """

    litres: Mapping[str, float]
    ratio: float = 100.0
    temperature: float = 10.0
    ph: float | None = None
    worst: str = "pass"
    only: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    apart: tuple[frozenset[str], ...] = ()

    def __post_init__(self) -> None:
        strange = [letter for letter in self.litres if letter not in LETTERS]
        if strange or not self.litres:
            raise NotListed(f"tanks {list(self.litres)}: name one to three of {', '.join(LETTERS)}")
        if not all(0 < size < math.inf for size in (*self.litres.values(), self.ratio)):
            raise OutOfRange("the litres of each tank and the ratio must be above 0")
        if self.worst not in COLUMN:
            raise NotListed(f'worst is {self.worst!r}; it must be "pass" or "caution"')

    @property
    def feed(self) -> float:
        """Litres of feed from the largest tank."""
        return self.ratio * max(self.litres.values())


def in_tanks(recipe: Recipe, stock: Stock, seconds: float = MOST_SECONDS) -> Solution:
    """The cheapest recipe whose tanks the rules pass, its amounts in grams for the feed.

    It is proven the cheapest of those that keep
    apart what ``kept_apart`` lists; if no recipe for tanks without any rule is cheaper, notes say
    that it is the cheapest outright. Products whose chemistry is not given are not judged.
    """
    if len(set(stock.litres.values())) > 1 and any(
        p.step or p.whole_packs for p in recipe.products
    ):
        raise OutOfRange("steps and whole packs need tanks of one size")
    return _Search(recipe, stock, seconds).found()


class _Search:
    """One search for the recipe and its tanks."""

    def __init__(self, recipe: Recipe, stock: Stock, seconds: float) -> None:
        self.recipe, self.stock, self.seconds = recipe, stock, seconds
        self.products = {each.name: each for each in recipe.products}
        water = dict(recipe.water) | ({} if stock.ph is None else {"pH": stock.ph})
        self.judge = Judge(water, stock.temperature)
        # Grams in a litre of stock for each gram in the feed.
        self.strength = stock.ratio / recipe.litres
        self.blend = self._capped(recipe.blend())
        self.pairs: dict[frozenset[str], bool] = {}
        self.failed: tuple[Blend, Sequence[frozenset[str]]] = (self.blend, ())

    def found(self) -> Solution:
        free = cheapest(self.blend, self._tanks(()), explain=False, seconds=self.seconds)
        if free.status == INFEASIBLE:
            return self._nothing()
        room = most_of_each(self.blend, self._tanks(())) or {}
        careful = self._passed(free, lambda used: self._clashing(used, room))
        best = careful
        if careful is None or not _as_cheap(careful[0], free):
            bold = self._passed(free, lambda used: [])
            if careful is None or (bold and bold[0].cost < careful[0].cost - 1e-9):
                best = bold
        if best is None:
            return self._nothing()
        plain, blend, apart = best
        told = cheapest(blend, self._tanks(apart), seconds=self.seconds)
        outright = _as_cheap(plain, free)
        word = "no recipe is cheaper even where tanks may hold what clashes"
        notes = (*told.notes, *self._unjudged(told), *((word,) if outright else ()))
        return replace(told, kept_apart=_in_words([*self.stock.apart, *apart]), notes=notes)

    # what the solver is told

    def _tanks(self, apart: Sequence[frozenset[str]]) -> Tanks:
        return Tanks(
            tuple(self.stock.litres),
            (*self.stock.apart, *apart),
            self._loads(),
            self.stock.only,
            most_kinds=self.judge.room,
        )

    def _capped(self, blend: Blend) -> Blend:
        """No more of a product than dissolves in its tank."""
        parts = []
        for part in blend.parts:
            cap = self._share_per_gram(self.products[part.name])
            most = self._bound("one product beyond its solubility") / cap if cap else math.inf
            parts.append(_bounded(part, most))
        return replace(blend, parts=tuple(parts))

    def _bound(self, rule: str) -> float:
        return float(look_up("clashes", COLUMN[self.stock.worst], rule)) * (1 - ROUNDING)

    def _share_per_gram(self, product: Product) -> float:
        """Percent of its saturated stock for each gram in the feed; 0 where there is no figure."""
        limit = holds(product.chemistry, self.stock.temperature)
        return 100 * self.strength / limit if isinstance(limit, float) else 0.0

    def _loads(self) -> tuple[Limit, ...]:
        shares = {name: self._share_per_gram(each) for name, each in self.products.items()}
        traces = {name: share for name, share in shares.items() if self._is_trace(name)}
        whole = float(look_up("clashes", "stop_above", "more than fits")) * (1 - ROUNDING)
        return (
            Limit("all shares", shares, upper=whole),
            Limit("trace shares", traces, upper=self._bound("trace products together")),
        )

    def _is_trace(self, name: str) -> bool:
        row = self.products[name].chemistry
        return bool(row) and any(look_up("fertilizers", column, row) > 0 for column in TRACES)

    # what the rules say

    def _passed(
        self, free: Solution, ahead: Callable[[Sequence[str]], list[frozenset[str]]]
    ) -> tuple[Solution, Blend, list[frozenset[str]]] | None:
        """Solves and judges in turn; ``ahead`` tells clashes of the used products beforehand."""
        apart: list[frozenset[str]] = []
        blend, found = self.blend, free
        for _ in range(MOST_ROUNDS):
            new = [each for each in ahead(_used(found)) if each not in apart]
            if new:
                apart += new
            if not any(_together(group, found) for group in new):
                bad = self._bad_groups(found)
                for group in bad:
                    if len(group) == 1:
                        (name,) = group
                        blend = self._less_of(blend, name, found)
                    elif group not in apart:
                        apart.append(group)
                if not bad:
                    return found, blend, apart
            found = cheapest(blend, self._tanks(apart), explain=False, seconds=self.seconds)
            if found.status != OPTIMAL:
                self.failed = blend, apart
                return None
        return None

    def _clashing(self, used: Sequence[str], room: Mapping[str, float]) -> list[frozenset[str]]:
        """Pairs of these products that do not pass at the most that there may be of each."""
        pairs = [frozenset(pair) for pair in combinations(used, 2)]
        unknown = [pair for pair in pairs if pair not in self.pairs]
        tanks = [{name: room[name] for name in sorted(pair)} for pair in unknown]
        for pair, passes in zip(unknown, self._pass(tanks), strict=True):
            alone = self._pass([{name: room[name]} for name in sorted(pair)]) if not passes else []
            self.pairs[pair] = not passes and all(alone)
        return [pair for pair in pairs if self.pairs[pair]]

    def _bad_groups(self, found: Solution) -> list[frozenset[str]]:
        """For each tank that does not pass the fewest products in it that do not."""
        tanks = [
            {name: found.amounts[name] for name, tank in found.tanks.items() if tank == letter}
            for letter in self.stock.litres
        ]
        passes = self._pass(tanks)
        return [self._fewest(tank) for tank, good in zip(tanks, passes, strict=True) if not good]

    def _fewest(self, tank: Mapping[str, float]) -> frozenset[str]:
        for size in (1, 2, 3):
            groups = list(combinations(tank, size))
            passes = self._pass([{name: tank[name] for name in group} for group in groups])
            for group, good in zip(groups, passes, strict=True):
                if not good:
                    return frozenset(group)
        kept = dict(tank)
        for name in tank:
            fewer = {each: amount for each, amount in kept.items() if each != name}
            if not all(self._pass([fewer])):
                kept = fewer
        return frozenset(kept)

    def _less_of(self, blend: Blend, name: str, found: Solution) -> Blend:
        """At most as much of a product as passes alone in its tank."""
        low, high = 0.0, found.amounts[name]
        for _ in range(30):
            middle = (low + high) / 2
            low, high = (middle, high) if all(self._pass([{name: middle}])) else (low, middle)
        parts = (_bounded(part, low) if part.name == name else part for part in blend.parts)
        return replace(blend, parts=tuple(parts))

    def _pass(self, tanks: Sequence[Mapping[str, float]]) -> list[bool]:
        """Whether each tank, with grams of products for the feed, is no worse than wanted."""
        bad = ("stop",) if self.stock.worst == "caution" else ("stop", "caution")
        judged = [self._strengths(tank) for tank in tanks]
        return [kind(verdict) not in bad for verdict in self.judge.verdicts(judged)]

    def _strengths(self, tank: Mapping[str, float]) -> dict[str, float]:
        """Grams in a litre of stock, by the chemistry of what is judged."""
        held: dict[str, float] = {}
        for name, amount in tank.items():
            chemistry = self.products[name].chemistry
            if chemistry:
                held[chemistry] = held.get(chemistry, 0.0) + amount * self.strength
        return held

    # what is told

    def _unjudged(self, told: Solution) -> tuple[str, ...]:
        names = [name for name in told.tanks if not self.products[name].chemistry]
        if not names:
            return ()
        return (f"not checked: nobody judged what {', '.join(names)} does in a tank",)

    def _nothing(self) -> Solution:
        """Why there is no recipe: the targets alone, or the targets in these tanks."""
        plain = self.recipe.blend()
        if cheapest(plain, explain=False).status == INFEASIBLE:
            return without(plain)
        blend, apart = self.failed
        told = replace(
            without(blend, self._tanks(apart)), kept_apart=_in_words([*self.stock.apart, *apart])
        )
        word = "the targets can be met, but not with tanks of this size that the rules pass"
        return replace(told, notes=(word,))


def for_tanks(found: Solution, recipe: Recipe, stock: Stock) -> Solution:
    """The same with amounts in grams for each tank.

    Where tanks are alike, A is the one with most calcium, and the others follow by weight.
    """
    if not found.amounts:
        return found
    found = replace(found, tanks=_in_order(found, recipe, stock))
    each = {letter: litres * stock.ratio / recipe.litres for letter, litres in stock.litres.items()}
    amounts = {
        name: amount * each[found.tanks[name]] if name in found.tanks else 0.0
        for name, amount in found.amounts.items()
    }
    return replace(found, amounts=amounts)


def _in_order(found: Solution, recipe: Recipe, stock: Stock) -> dict[str, str]:
    if stock.only or len(set(stock.litres.values())) > 1:
        return found.tanks
    lime = {each.name: each.content("Ca") * found.amounts[each.name] for each in recipe.products}
    weight = dict.fromkeys(found.tanks.values(), 0.0)
    calcium = dict(weight)
    for name, tank in found.tanks.items():
        weight[tank] += found.amounts[name]
        calcium[tank] += lime[name]
    first = max(sorted(calcium), key=lambda tank: calcium[tank], default="")
    order = sorted(weight, key=lambda tank: (tank != first, -weight[tank], tank))
    letters = dict(zip(order, sorted(stock.litres), strict=False))
    return {name: letters[tank] for name, tank in found.tanks.items()}


def _bounded(part: Part, most: float) -> Part:
    """A part of which there may be no more than this, or none at all if its least is more."""
    if part.lower > most:
        raise OutOfRange(
            f"product {part.name!r}: at least {part.lower:g} g is wanted, and the tank bears no "
            f"more than {most:g} g; a larger tank, a smaller ratio, or a warmer tank"
        )
    if part.least > most or most < 1e-9:
        return replace(part, upper=0.0, least=0.0)
    return replace(part, upper=min(part.upper, most))


def _in_words(groups: Sequence[frozenset[str]]) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(sorted(group)) for group in groups)


def _as_cheap(one: Solution, other: Solution) -> bool:
    return one.cost <= other.cost + 1e-9 * max(1.0, abs(other.cost))


def _used(found: Solution) -> list[str]:
    return list(found.tanks)


def _together(group: frozenset[str], found: Solution) -> bool:
    tanks = {found.tanks.get(name, f"none for {name}") for name in group}
    return len(tanks) == 1
