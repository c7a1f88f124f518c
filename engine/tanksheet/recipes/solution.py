"""What a least-cost calculation gives back."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from typing import Any

from tanksheet.recipes.conflicts import Nearest


@dataclass(frozen=True)
class Solution:
    """The cheapest blend, or why there is none.

    status: "optimal"; "infeasible"; "unbounded" (the more, the cheaper); "not proven" (time was up:
        the best blend found, and no blend is cheaper than ``cost_bound``).
    cost: of the whole blend, in the money and for the amount that the prices are for.
    amounts: of each part, those of 0 too.
    tanks: which tank each part is in, if tanks were asked for.
    delivered: what each limit adds up to, what is there without any part included.
    binding: the limits that stand on a bound.
    price_of_one_more: how the cost changes with one more unit of each limit's bound; 0 for a limit
        that does not bind. These figures belong together: with ``reduced_costs`` they prove the
        optimum.
    price_span: for the limits of which one more and one less have different prices: the change of
        cost with one unit less, taken off, and with one more; infinite if there is then no blend.
    reduced_costs: how the cost changes with one more unit of a part that stands on a bound; for a
        part left out, how much cheaper it must become to be used.
    price_ranges: between which prices of each part the amounts stay the cheapest, the other prices
        being as they are; of a ``Recipe`` the price of a pack, here and in reduced_costs. With
        choices (least amounts, whole steps, at most so many parts, tanks) prices and ranges hold
        for the choice made, and are not given for what it fixes.
    unique: whether no other amounts cost as little, for the choice made.
    conflict: the smallest set of limits that no blend meets, if there is no blend.
    nearest: the blend that misses least, if there is none that fits.
    kept_apart: sets of products that the judgement of the tanks kept out of one tank.
    notes: what else should be known, in words.
    """

    status: str
    cost: float = math.nan
    amounts: dict[str, float] = field(default_factory=dict)
    tanks: dict[str, str] = field(default_factory=dict)
    delivered: dict[str, float] = field(default_factory=dict)
    binding: tuple[str, ...] = ()
    price_of_one_more: dict[str, float] = field(default_factory=dict)
    price_span: dict[str, tuple[float, float]] = field(default_factory=dict)
    reduced_costs: dict[str, float] = field(default_factory=dict)
    price_ranges: dict[str, tuple[float, float]] = field(default_factory=dict)
    unique: bool | None = None
    conflict: tuple[str, ...] = ()
    nearest: Nearest | None = None
    cost_bound: float = math.nan
    kept_apart: tuple[tuple[str, ...], ...] = ()
    notes: tuple[str, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """The same for ``json.dumps``: infinite and missing figures are null."""
        plain: dict[str, Any] = _plain(asdict(self))
        return plain


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _plain(each) for key, each in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(each) for each in value]
    if isinstance(value, float):
        return value + 0.0 if math.isfinite(value) else None
    return value
