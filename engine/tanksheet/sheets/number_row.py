"""A number that a person types: its limits, the units it may have, and the way to its base unit."""

from __future__ import annotations

from dataclasses import dataclass

from tanksheet.sheets import choices, entries
from tanksheet.sheets.rows import Function
from tanksheet.units import QUANTITIES, Quantity


@dataclass(frozen=True)
class NumberRow:
    """A number to type: what a template says of it."""

    name: str
    label: str
    quantity: str | Quantity
    default: float | None
    unit: str
    usual: tuple[float, float]
    optional: bool
    ion: str = ""
    nutrient: str = ""
    nutrients: tuple[str, ...] = ()  # those that the choice named ``nutrient`` may name
    reported: str = ""  # the ion as which laboratories report it

    @property
    def limits(self) -> Quantity:
        return QUANTITIES[self.quantity] if isinstance(self.quantity, str) else self.quantity

    @property
    def may_be_blank(self) -> bool:
        """Whether the base value may be blank; a blank line of a water report counts as 0."""
        return self.optional and not self.ion

    @property
    def base(self) -> str:
        return self.limits.unit.symbol

    @property
    def offered(self) -> tuple[str, ...]:
        if self.base == "parts":
            return entries.RATIO_FORMS
        if self.ion:
            return choices.ION_UNITS[self.ion]
        if self.nutrients:
            return choices.units_of_nutrients(self.nutrients)
        if self.nutrient and self.reported:
            return choices.reported_units(self.nutrient, self.reported)
        if self.nutrient:
            return choices.nutrient_units(self.nutrient)
        if self.quantity == "alkalinity_as_caco3":
            return choices.ALKALINITY_UNITS
        return choices.OFFERED.get(self.base, ())

    @property
    def pattern(self) -> str:
        """How what is typed looks."""
        return choices.pattern(self.base) if self.limits.is_date else choices.TYPED

    @property
    def longest(self) -> str:
        """The unit that its cell must have room for: of a report that of another substance."""
        others = [unit for unit in self.offered if " as " in unit] if self.reported else []
        return max([self.unit, *others], key=len)

    @property
    def factor(self) -> Function:
        """From the unit typed to the base unit."""
        if self.ion:
            return entries.ion_factor(self.ion, self.base)
        if self.nutrients:
            return entries.chosen_nutrient_factor
        if self.nutrient and self.reported:
            return entries.reported_factor(self.nutrient, self.reported)
        if self.nutrient:
            return entries.nutrient_factor(self.nutrient)
        if self.quantity == "alkalinity_as_caco3":
            return entries.alkalinity_factor
        return entries.factor_to(self.base)

    @property
    def to_base(self) -> Function | None:
        """The factor from a unit alone; of a chosen nutrient, roughly, as the first one has it."""
        if not self.offered:
            return None
        return entries.nutrient_factor(self.nutrients[0]) if self.nutrients else self.factor

    @property
    def factor_keys(self) -> tuple[str, ...]:
        """What ``factor`` is worked out from."""
        return (self.unit_key, self.nutrient) if self.nutrients else (self.unit_key,)

    @property
    def unit_key(self) -> str:
        return f"{self.name}_unit" if self.offered else ""

    @property
    def read(self) -> str:
        """The key of what is typed, a number held as text as the number."""
        return f"{self.name}_read"

    @property
    def key(self) -> str:
        """The key of the value in the base unit."""
        return f"{self.name}_in_{choices.suffix(self.base)}" if self.base else f"{self.name}_used"
