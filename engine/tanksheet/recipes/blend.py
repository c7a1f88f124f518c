"""A blend as the solver sees it: parts that have a price, and limits on what they add up to.

Nothing here knows of fertilizers: amounts, contents and prices are in whatever units they are given
in. ``feed`` makes a blend from products and targets.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tanksheet.errors import NotANumber, NotListed, OutOfRange

INFINITE = math.inf


@dataclass(frozen=True)
class Part:
    """What may go into a blend.

    ``lower`` and ``upper`` bound its amount. With ``least`` it is left out, or there is at least
    so much of it. With ``step`` its amount is a whole number of steps: 1 for whole units, the mass
    of a bag for whole bags. Raises: Fault for figures that make no sense.
    """

    name: str
    cost: float
    lower: float = 0.0
    upper: float = INFINITE
    least: float = 0.0
    step: float = 0.0

    def __post_init__(self) -> None:
        _name(self.name, "a part")
        where = f"part {self.name!r}"
        _finite(where, cost=self.cost, lower=self.lower, least=self.least, step=self.step)
        _number(where, upper=self.upper)
        if self.lower > self.upper:
            raise OutOfRange(f"{where}: its least {self.lower:g} is above its most {self.upper:g}")
        if self.least < 0 or self.step < 0:
            raise OutOfRange(f"{where}: least and step must be at least 0")
        if (self.least or self.step) and self.lower < 0:
            raise OutOfRange(f"{where}: with a least amount or a step, lower must be at least 0")
        if self.step == 0 and self.upper < self.least:
            raise OutOfRange(f"{where}: its least {self.least:g} is above its most {self.upper:g}")


@dataclass(frozen=True)
class Limit:
    """A bound on a sum over the blend: ``terms`` is what one unit of each part adds to it.

    ``given`` is what is there without any part, as the water brings it; the bounds are on the
    whole. ``lower`` equal to ``upper`` is an exact target.
    """

    name: str
    terms: Mapping[str, float]
    lower: float = -INFINITE
    upper: float = INFINITE
    given: float = 0.0

    def __post_init__(self) -> None:
        _name(self.name, "a limit")
        where = f"limit {self.name!r}"
        _finite(where, given=self.given, **{f"the term of {k}": v for k, v in self.terms.items()})
        _number(where, lower=self.lower, upper=self.upper)
        if self.lower > self.upper:
            raise OutOfRange(
                f"{where}: at least {self.lower:g} and at most {self.upper:g} exclude each other"
            )
        if self.lower == INFINITE or self.upper == -INFINITE:
            raise OutOfRange(f"{where}: no sum can be infinite")


@dataclass(frozen=True)
class Blend:
    """Parts, limits, and how many parts there may be; ``sense`` is "min" or "max" of the cost."""

    parts: tuple[Part, ...]
    limits: tuple[Limit, ...]
    most_parts: int | None = None
    sense: str = "min"

    def __post_init__(self) -> None:
        if self.sense not in ("min", "max"):
            raise NotListed(f'sense is {self.sense!r}; it must be "min" or "max"')
        if self.most_parts is not None and self.most_parts < 0:
            raise OutOfRange(f"at most {self.most_parts} parts: it must be at least 0")
        _no_name_twice("part", [part.name for part in self.parts])
        _no_name_twice("limit", [limit.name for limit in self.limits])
        known = {part.name for part in self.parts}
        for limit in self.limits:
            strange = [name for name in limit.terms if name not in known]
            if strange:
                raise NotListed(f"limit {limit.name!r} has a term of {strange[0]!r}, no such part")

    @property
    def has_choices(self) -> bool:
        """Whether something in it is whole or left out, so that prices hold for one choice only."""
        return self.most_parts is not None or any(part.least or part.step for part in self.parts)


def _name(name: object, what: str) -> None:
    if not isinstance(name, str) or not name.strip():
        raise NotANumber(f"the name of {what} is {name!r}; it must be a word")


def _no_name_twice(kind: str, names: Iterable[str]) -> None:
    for name, times in Counter(names).items():
        if times > 1:
            raise NotListed(f"{times} {kind}s are called {name!r}; give each a name of its own")


def _number(where: str, **figures: object) -> None:
    for label, figure in figures.items():
        number = isinstance(figure, (int, float)) and not isinstance(figure, bool)
        if not number or math.isnan(float(figure)):  # type: ignore[arg-type]
            raise NotANumber(f"{where}: {label} is {figure!r}; it must be a number")


def _finite(where: str, **figures: object) -> None:
    _number(where, **figures)
    for label, figure in figures.items():
        if math.isinf(float(figure)):  # type: ignore[arg-type]
            raise OutOfRange(f"{where}: {label} is infinite; it must be a finite number")
