"""A feed from products and targets, as a blend for the solver.

Amounts are grams for ``litres`` of feed, contents percent by mass as a label prints them, targets
and water mg/L. A gram of a product with c % of an element in V litres brings 10 c / V mg/L.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from tanksheet.calc import conductivity
from tanksheet.errors import NotListed, OutOfRange
from tanksheet.recipes.blend import INFINITE, Blend, Limit, Part
from tanksheet.recipes.products import (
    ALKALINITY,
    EC,
    ELEMENTS,
    GRAMS,
    IONS,
    NITROGEN,
    Product,
    bare_conductivity,
)
from tanksheet.recipes.solution import Solution
from tanksheet.tables import look_up

# What a water report calls the ions.
OF_WATER = {
    **{"Ca": "calcium", "Mg": "magnesium", "K": "potassium", "Na": "sodium", "Cl": "chloride"},
    **{"S": "sulfate", "N": "nitrate", "NO3-N": "nitrate", "NH4-N": "ammonium"},
    "P": "dihydrogen_phosphate",
}
# Where the search for what a meter reads begins, when it has found it, and when it gives up.
FIRST_SHARE, SAME_SHARE, MOST_TURNS = 0.85, 1e-5, 12


@dataclass(frozen=True)
class Target:
    """What the feed should hold, the water's share counted, in mg/L.

    ``what`` is an element, a form of nitrogen, "alkalinity" (what is left of it, meq/L) or "EC"
    (mS/cm at 25 degrees C, by FERT.EC). With ``of`` the bounds are percent of that other:
    Target("NO3-N", 70, of="N").
    """

    what: str
    at_least: float = -INFINITE
    at_most: float = INFINITE
    of: str = ""

    @property
    def name(self) -> str:
        return f"{self.what} of {self.of}" if self.of else self.what

    @classmethod
    def exactly(cls, what: str, value: float) -> Target:
        return cls(what, value, value)

    @classmethod
    def within(cls, what: str, value: float, percent: float) -> Target:
        """The value, or up to so many percent of it more or less."""
        off = abs(value) * percent / 100
        return cls(what, value - off, value + off)


@dataclass(frozen=True)
class Recipe:
    """A feed to be made at least cost.

    litres: of feed that amounts and cost are for. water: what it brings, mg/L by the names of
    targets; alkalinity in meq/L. most_products: how many there may be in it. meter_share: what
    a meter reads of the bare sum over ions; ``least_cost`` finds it for the feed that comes out.
    """

    products: tuple[Product, ...]
    targets: tuple[Target, ...]
    water: Mapping[str, float] = field(default_factory=dict)
    litres: float = 1000.0
    most_products: int | None = None
    meter_share: float = 1.0

    def __post_init__(self) -> None:
        if not (self.litres > 0 and math.isfinite(self.litres)):
            raise OutOfRange(f"the feed is {self.litres} litres; it must be above 0")
        for target in self.targets:
            for what in filter(None, (target.what, target.of)):
                if not _is_known(what):
                    known = ", ".join(("N", *NITROGEN, *ELEMENTS, ALKALINITY, EC))
                    raise NotListed(f"target {target.name!r}: {what!r} is none of: {known}")

    def blend(self) -> Blend:
        """The solver's view of it: one limit a target, two for a share between two bounds."""
        parts = tuple(map(_part, self.products))
        limits = tuple(limit for target in self.targets for limit in self._limits(target))
        return Blend(parts, limits, self.most_products)

    def _limits(self, target: Target) -> tuple[Limit, ...]:
        if not target.of:
            lowered = self.meter_share if target.what == EC else 1.0
            terms = {
                each.name: lowered * self._per_gram(each, target.what) for each in self.products
            }
            given = lowered * self._from_water(target.what)
            return (Limit(target.name, terms, target.at_least, target.at_most, given),)
        ends = {" at least": (target.at_least, 1.0), " at most": (target.at_most, -1.0)}
        held = {word: end for word, end in ends.items() if math.isfinite(end[0])}
        return tuple(
            self._share(target, word if len(held) > 1 else "", *end) for word, end in held.items()
        )

    def _share(self, target: Target, word: str, percent: float, sign: float) -> Limit:
        """One part of another: what is left above the share, or below it, is at least 0."""
        terms = {
            each.name: sign
            * (self._per_gram(each, target.what) - percent / 100 * self._per_gram(each, target.of))
            for each in self.products
        }
        part, whole = self._from_water(target.what), self._from_water(target.of)
        return Limit(target.name + word, terms, 0.0, given=sign * (part - percent / 100 * whole))

    def _per_gram(self, product: Product, what: str) -> float:
        per_gram = 1.0 if what in (ALKALINITY, EC) else 10.0
        return product.content(what) * per_gram / self.litres

    def _from_water(self, what: str) -> float:
        if what == "N" and "N" not in self.water:
            return sum(self.water.get(form, 0.0) for form in NITROGEN)
        if what == EC:
            return bare_conductivity(self._water_ions())
        return self.water.get(what, 0.0)

    def _water_ions(self) -> dict[str, float]:
        """mmol/L."""
        ions = dict.fromkeys(IONS, 0.0)
        for what, ion in OF_WATER.items():
            mass = look_up("nutrients", "mass", "N" if "N" in what[:2] and "-" in what else what)
            ions[ion] += self.water.get(what, 0.0) / mass
        ions["bicarbonate"] = self.water.get(ALKALINITY, 0.0)
        return ions

    def metered(self, amounts: Mapping[str, float]) -> tuple[float, float]:
        """EC of the feed by FERT.EC, mS/cm, and the bare sum over its ions."""
        ions = self._water_ions()
        for product in self.products:
            for ion, each in (product.ions or {}).items():
                ions[ion] += each * amounts[product.name] / self.litres
        whole = [max(0.0, ions[ion]) for ion in IONS]
        return conductivity.conductivity(*whole), bare_conductivity(ions)

    def told(self, found: Solution) -> Solution:
        """A solution of the blend in the words and units of products and targets: prices of a pack,
        shares in percent."""
        packs = {each.name: each.pack * GRAMS for each in self.products}
        found = replace(
            found,
            reduced_costs={name: v * packs[name] for name, v in found.reduced_costs.items()},
            price_ranges={
                name: (low * packs[name], high * packs[name])
                for name, (low, high) in found.price_ranges.items()
            },
        )
        shares = {
            limit.name: each for each in self.targets if each.of for limit in self._limits(each)
        }
        if not shares:
            return found
        delivered, prices = dict(found.delivered), dict(found.price_of_one_more)
        spans = dict(found.price_span)
        for name, target in shares.items():
            if found.amounts:
                whole = self.brings(found.amounts, target.of)
                part = self.brings(found.amounts, target.what)
                delivered.pop(name, None)
                delivered[target.name] = 100 * part / whole if whole else math.nan
                self._reprice(name, target, whole, prices, spans)
        return replace(
            found,
            delivered=delivered,
            price_of_one_more=prices,
            price_span=spans,
            binding=_renamed(found.binding, shares),
            conflict=_renamed(found.conflict, shares),
        )

    def _reprice(
        self,
        name: str,
        target: Target,
        whole: float,
        prices: dict[str, float],
        spans: dict[str, tuple[float, float]],
    ) -> None:
        """From the price of 1 mg/L beyond the share to that of 1 percent more of it."""
        sign = -1.0 if name.endswith(" at most") or not math.isfinite(target.at_least) else 1.0
        if name in prices:
            price = sign * prices.pop(name) * whole / 100
            prices[target.name] = prices.get(target.name, 0.0) + price + 0.0
        if name in spans:
            low, high = sorted(sign * end * whole / 100 for end in spans.pop(name))
            spans[target.name] = (low, high)

    def brings(self, amounts: Mapping[str, float], what: str) -> float:
        """What these amounts and the water bring of something, in its unit."""
        products = (self._per_gram(each, what) * amounts[each.name] for each in self.products)
        return math.fsum(products) + self._from_water(what)


def fed(recipe: Recipe, solve: Callable[[Recipe], Solution]) -> Solution:
    """A recipe solved, in the words of its targets; where EC is one of them, as a meter reads it.

    What a meter reads of the bare sum over ions depends on the feed: it is solved again with the
    share of the feed that came out, until this stays the same.
    """
    if EC not in (target.what for target in recipe.targets):
        return recipe.told(solve(recipe))
    recipe = replace(recipe, meter_share=FIRST_SHARE)
    for _ in range(MOST_TURNS):
        found = recipe.told(solve(recipe))
        if not any(found.amounts.values()):
            return found
        reads, bare = recipe.metered(found.amounts)
        share = reads / bare if bare > 0 else 1.0
        if abs(share - recipe.meter_share) < SAME_SHARE:
            return found
        recipe = replace(recipe, meter_share=share)
    return replace(found, notes=(*found.notes, f"the EC of this feed is {reads:.3f} mS/cm"))


def _renamed(names: tuple[str, ...], shares: Mapping[str, Target]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(shares[name].name if name in shares else name for name in names))


def _is_known(what: str) -> bool:
    return what in ("N", *NITROGEN, *ELEMENTS, ALKALINITY, EC)


def _part(product: Product) -> Part:
    step = product.pack * GRAMS if product.whole_packs else product.step
    return Part(
        product.name,
        product.price / (product.pack * GRAMS),
        product.at_least,
        product.at_most,
        product.least,
        step,
    )
