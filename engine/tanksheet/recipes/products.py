"""What can be bought: contents as a label prints them, ions, price and pack."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from tanksheet.calc import conductivity
from tanksheet.calc.convert import element
from tanksheet.errors import OutOfRange
from tanksheet.recipes.blend import INFINITE
from tanksheet.tables import is_listed, look_up

# What a label calls the forms of nitrogen, and their columns in data/fertilizers.csv.
NITROGEN = {"NO3-N": "n_nitrate", "NH4-N": "n_ammonium", "urea-N": "n_urea"}
ELEMENTS = "P K Ca Mg S Fe Mn Zn Cu B Mo Na Cl Si".split()
ALKALINITY, EC = "alkalinity", "EC"
# mS/cm for each mmol/L of an ion at 25 degrees C, at infinite dilution, in the order of FERT.EC.
IONS = "calcium magnesium potassium sodium ammonium nitrate sulfate chloride bicarbonate".split()
IONS = [*IONS, "dihydrogen_phosphate"]
CONDUCTIVITIES = {
    ion: (2 if ion in ("calcium", "magnesium", "sulfate") else 1)
    * float(getattr(conductivity, ion.upper()))
    / 1000
    for ion in IONS
}
GRAMS = 1000.0  # in a kilogram


@dataclass(frozen=True)
class Product:
    """What can be bought.

    contents: percent by mass of each element ("N", "P", "Ca"), form of nitrogen ("NO3-N", "NH4-N",
        "urea-N") or oxide ("P2O5", "K2O"). Without "N", nitrogen is the sum of its forms.
    price: money for one pack of ``pack`` kilograms.
    at_least, at_most: grams in the feed. least: the smallest amount that can be weighed: none of
        it, or so many grams. step: grams that the scale tells apart; the amount is a whole number
        of them. whole_packs: only whole packs of it.
    alkalinity: meq from each gram; acids have less than 0. ions: mmol of each in a gram, by the
        arguments of FERT.EC, bicarbonate as alkalinity. None where nobody gave them: then the
        feed's alkalinity or conductivity cannot be a target.
    chemistry: its row in data/fertilizers.csv, by which tanks are judged.
    """

    name: str
    contents: Mapping[str, float]
    price: float
    pack: float = 1.0
    at_least: float = 0.0
    at_most: float = INFINITE
    least: float = 0.0
    step: float = 0.0
    whole_packs: bool = False
    alkalinity: float | None = None
    ions: Mapping[str, float] | None = None
    chemistry: str = ""

    def __post_init__(self) -> None:
        if not self.pack > 0:
            raise OutOfRange(
                f"product {self.name!r}: its pack is {self.pack} kg; it must be above 0"
            )
        for name, value in self.contents.items():
            if not 0 <= value <= 100:
                raise OutOfRange(f"product {self.name!r}: {name} is {value} %; it must be 0 to 100")

    def content(self, what: str) -> float:
        """Percent of an element or form; per gram for "alkalinity" (meq) and "EC" (mS/cm L).

        Raises: OutOfRange for an alkalinity or ions that nobody gave.
        """
        given = {ALKALINITY: self.alkalinity, EC: self.ions}
        if what in given and given[what] is None:
            raise OutOfRange(
                f"target {what!r}: the {'ions' if what == EC else what} of product {self.name!r} "
                "must be given with it"
            )
        if what == ALKALINITY:
            return self.alkalinity or 0.0
        if what == EC:
            return bare_conductivity(self.ions or {})
        if what in self.contents:
            return self.contents[what]
        if what == "N":
            return sum(self.contents.get(form, 0.0) for form in NITROGEN)
        oxides = (name for name in self.contents if is_listed("oxides", name))
        found = (name for name in oxides if look_up("oxides", "element", name) == what)
        return sum(element(name, self.contents[name]) for name in found)


def listed(name: str, price: float, pack: float = 1.0, **more: float | bool) -> Product:
    """A product of the project's own list, data/fertilizers.csv, for ``price`` a pack of kilograms.

    Raises: NotListed for a name that it does not have.
    """
    row = {column: look_up("fertilizers", column, name) for column in _COLUMNS}
    contents = {form: row[column] for form, column in NITROGEN.items() if row[column]}
    contents |= {each: row[each.lower()] for each in ELEMENTS if row[each.lower()]}
    moles = 1000 / row["molar_mass"]
    alkalinity = (row["bicarbonate"] - row["hydrogen"]) * moles
    ions = {ion: row[ion] * moles for ion in IONS} | {"bicarbonate": alkalinity}
    product = Product(name, contents, price, pack, alkalinity=alkalinity, ions=ions, chemistry=name)
    return replace(product, **more)  # type: ignore[arg-type]


_COLUMNS = (
    *NITROGEN.values(),
    *(each.lower() for each in ELEMENTS),
    *("molar_mass", "hydrogen"),
    *IONS,
)


def bare_conductivity(ions: Mapping[str, float]) -> float:
    """The sum over ions as if each were alone in water, mS/cm: above what a meter reads."""
    return math.fsum(CONDUCTIVITIES[ion] * amount for ion, amount in ions.items())
