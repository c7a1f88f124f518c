"""What the recipe workbook says of products in tanks: the same rules from the same data."""

from __future__ import annotations

import functools
from collections.abc import Mapping, Sequence

from tanksheet.sheets.book import Book
from tanksheet.sheets.evaluate import chosen_values
from tanksheet.templates import book

LETTERS = "ABC"
LITRES = 100.0  # of a tank while it is judged; only what is in a litre counts
AS_CACO3 = 50.04  # mg of calcium carbonate in a meq of alkalinity
# How the workbook names what the water brings.
WATER = {"N": "n", "NO3-N": "n", "K": "k", "Ca": "ca", "Mg": "mg", "S": "s", "Na": "na", "Cl": "cl"}
WATER |= {"NH4-N": "nh4", "Fe": "fe", "Mn": "mn", "B": "b"}
# Grams of each product in a litre of a tank's stock.
Strengths = Mapping[str, float]


class Judge:
    """Judges tanks at a temperature, filled with a water (mg/L, alkalinity in meq/L, "pH")."""

    def __init__(self, water: Mapping[str, float], temperature: float) -> None:
        self.plan = recipe()
        self.settings: dict[str, object] = {"temperature": temperature}
        for name in set(WATER.values()):
            self.settings[f"water_{name}"] = sum(
                water.get(key, 0.0) for key, short in WATER.items() if short == name
            )
        self.settings["water_alkalinity"] = water.get("alkalinity", 0.0) * AS_CACO3
        if "pH" in water:
            self.settings["water_ph"] = water["pH"]

    @property
    def room(self) -> int:
        """How many products the workbook can judge at once."""
        return len(self.plan.entries["products"].cells)

    def verdicts(self, tanks: Sequence[Strengths]) -> list[str]:
        """The verdict of each tank, as many as there are, by their products' chemistry."""
        found: list[str] = []
        waiting = list(tanks)
        while waiting:
            together: list[Strengths] = []
            while waiting and len(together) < len(LETTERS):
                held = sum(map(len, together))
                if together and held + len(waiting[0]) > self.room:
                    break
                together.append(waiting.pop(0))
            found += self._together(together)
        return found

    def _together(self, tanks: Sequence[Strengths]) -> list[str]:
        placed = [
            (product, letter, strength * LITRES)
            for letter, tank in zip(LETTERS, tanks, strict=False)
            for product, strength in tank.items()
        ]
        if len(placed) > self.room:
            raise ValueError(f"{len(placed)} products, and the recipe has room for {self.room}")
        blank = [(None, LETTERS[0], None)] * (self.room - len(placed))
        products, letters, amounts = (
            list(column) for column in zip(*[*placed, *blank], strict=True)
        )
        entries = self.plan.entries
        settings = {
            **self.settings,
            "products": products,
            "tanks": letters,
            "amounts": amounts,
            "amount_units": ["g"] * self.room,
            "targets": [None] * len(entries["targets"].cells),
            **{f"tank_{letter.lower()}": LITRES for letter in LETTERS},
        }
        names = [f"clear_{letter.lower()}" for letter in LETTERS[: len(tanks)]]
        values = chosen_values(self.plan, settings, [self.plan.key_for(n) for n in names])  # type: ignore[arg-type]
        return [str(values[self.plan.key_for(name)]) for name in names]


@functools.cache
def recipe() -> Book:
    return book("recipe")


def kind(verdict: str) -> str:
    """ "stop", "caution", "not checked", "not used" or "pass"."""
    return verdict.partition(":")[0].strip()
