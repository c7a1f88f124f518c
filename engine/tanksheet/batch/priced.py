"""What a run of the batch found, beside the files that it wrote."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tanksheet.batch.layout import Counts


@dataclass
class Priced:
    """What a run found. Costs are whole cents of ``currency``.

    ``counts`` has the rows of each file; ``pooled_cost`` and ``apart_cost`` are those of packs
    rounded up once for all and for each member; ``scenarios`` is what the order would cost at each
    scenario's prices, None where a product in it has no price there.
    """

    out: Path
    counts: dict[str, Counts]
    reasons: dict[tuple[str, str], int]
    members: int
    products: int
    packs: int
    cost: int
    currency: str
    scenario: str
    is_pooled: bool
    apart_cost: int
    pooled_cost: int
    scenarios: dict[str, int | None] = field(default_factory=dict)

    @property
    def rows(self) -> Counts:
        """The rows of all files together."""
        whole = Counts()
        for each in self.counts.values():
            whole.add(each)
        return whole

    @property
    def saving(self) -> int:
        """What pooling saves."""
        return self.apart_cost - self.pooled_cost

    def described(self) -> dict[str, Any]:
        """For programs: plain numbers, texts and lists; costs in money with two decimals."""
        whole = self.rows
        scenarios = {k: None if v is None else v / 100 for k, v in self.scenarios.items()}
        return {
            "out": str(self.out),
            "rows": {"read": whole.read, "accepted": whole.accepted, "rejected": whole.rejected},
            "files": {file: vars(count) for file, count in self.counts.items()},
            "members": self.members,
            "products": self.products,
            "packs": self.packs,
            "cost": self.cost / 100,
            "currency": self.currency,
            "scenario": self.scenario,
            "pooled": self.is_pooled,
            "pooling_saves": self.saving / 100,
            "scenarios": scenarios,
        }
