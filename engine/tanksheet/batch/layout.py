"""The tables of a co-op: their columns, units and words. All names here are fixed.

    members    member, name
    blocks     member, block, area, area_unit
    products   product, form, density_kgL, pack, pack_unit, and label percents: n, p2o5, k2o, ...
    prices     product, price, currency, and scenario if there are several (price of one pack)
    programs   member, block, week, product, rate, rate_unit

The columns may stand in any order, and others beside them are passed over.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from tanksheet.calc.convert import unit_factor
from tanksheet.errors import TanksheetError
from tanksheet.tables import look_up, rows


class BatchProblem(TanksheetError):
    """A folder, file or column that cannot be used; one line says which and how to mend it."""


COLUMNS: dict[str, tuple[str, ...]] = {
    "members": ("member", "name"),
    "blocks": ("member", "block", "area", "area_unit"),
    "products": ("product", "form", "density_kgL", "pack", "pack_unit"),
    "prices": ("product", "price", "currency"),
    "programs": ("member", "block", "week", "product", "rate", "rate_unit"),
}
NUTRIENTS = tuple("n p2o5 k2o ca mg s fe mn zn cu b mo si na cl".split())
OPTIONAL: dict[str, tuple[str, ...]] = {"products": NUTRIENTS, "prices": ("scenario",)}
LIQUID = "liquid"
FORMS = (LIQUID, "dry", "solid", "salt", "powder", "granular")
WEEKS = 53
MOST_AREA = 1e7  # hectares of a block
MOST_PACK = 1e6  # kg, as FERT.PACKS takes
MOST_PRICE = 1e12
MOST_KG = 1e8  # of one row
# Amounts are whole numbers of this part of a kilogram, so that no order of adding changes a sum;
# hundredths of a pound are whole numbers of it too.
GRAINS = 10**10
MOST_GRAINS = 2**63 - 1  # of one product for one member: some 900,000 t


@dataclass(frozen=True)
class RateUnit:
    """A unit of ``rate``: the kilograms, or the litres of a liquid, that one of it makes."""

    name: str
    factor: float
    is_volume: bool
    is_per_area: bool  # then it is kilograms or litres on each hectare


def _rate_unit(name: str, base: str) -> RateUnit:
    return RateUnit(name, unit_factor(name, base), base.startswith("L"), base.endswith("/ha"))


RATE_UNITS = (
    *(_rate_unit(name, "kg/ha") for name in ("kg/ha", "lb/acre")),
    *(_rate_unit(name, "L/ha") for name in ("L/ha", "gal/acre")),
    *(_rate_unit(name, "kg") for name in ("kg", "lb")),
    *(_rate_unit(name, "L") for name in ("L", "gal")),
)
UNIT_NAMES = tuple(unit.name for unit in RATE_UNITS)


@cache
def units_of(*kinds: str) -> dict[str, str]:
    """The units that measure one of these, from small letters to how the table writes them."""
    names = [str(row["unit"]) for row in rows("units")]
    return {each.casefold(): each for each in names if look_up("units", "kind", each) in kinds}


@dataclass(frozen=True)
class Reject:
    """A row that was not taken: the line it begins on (the header is line 1), and why.

    ``column`` is "" where the row as a whole is damaged; ``value`` is what stands there.
    """

    line: int
    column: str
    value: str
    reason: str


@dataclass
class Counts:
    """Rows of one file; ``read`` is ``accepted`` and ``rejected`` together."""

    read: int = 0
    accepted: int = 0
    rejected: int = 0

    def add(self, other: Counts) -> None:
        self.read += other.read
        self.accepted += other.accepted
        self.rejected += other.rejected
