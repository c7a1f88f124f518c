"""The stock tank: what is weighed in comes out at the emitter."""

from __future__ import annotations

import pytest

from tanksheet.calc.stock import delivered, liquid_volume, stock_mass
from tanksheet.errors import OutOfRange

TARGETS = [0.01, 1.0, 150.0, 1e4]
CONTENTS = [0.01, 1.0, 15.5, 46.0, 100.0]


@pytest.mark.parametrize("target", TARGETS)
@pytest.mark.parametrize("content", CONTENTS)
def test_mass_and_concentration_are_inverse(target: float, content: float) -> None:
    for ratio, tank in ((1, 1000), (100, 200), (200, 0.5)):
        mass = stock_mass(target, content, ratio, tank)
        assert delivered(mass, content, ratio, tank) == pytest.approx(target, rel=1e-14)


@pytest.mark.parametrize("target", TARGETS)
@pytest.mark.parametrize("density", [0.3, 1.0, 1.3253, 3.0])
def test_liquid_weighs_what_the_solid_would(target: float, density: float) -> None:
    litres = liquid_volume(target, 32, density, 100, 200)
    assert litres * density * 1000 == pytest.approx(stock_mass(target, 32, 100, 200), rel=1e-14)


def test_nothing_wanted_nothing_weighed() -> None:
    assert stock_mass(0, 15.5, 100, 200) == 0
    assert delivered(0, 15.5, 100, 200) == 0


def test_mass_by_hand() -> None:
    # 1 mg/L of a pure substance in 1 L of undiluted water is 1 mg.
    assert stock_mass(1, 100, 1, 1) == pytest.approx(0.001, rel=1e-15)


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((-1, 15.5, 100, 200), "target is -1; it must be at least 0 mg/L"),
        ((150, 0, 100, 200), "content is 0; it must be above 0 % and at most 100 %"),
        ((150, 155, 100, 200), "content is 155; it must be above 0 % and at most 100 %"),
        ((150, 15.5, 0.5, 200), "ratio is 0.5; it must be at least 1"),
        ((150, 15.5, 100, 0), "tank is 0; it must be above 0 L"),
    ],
)
def test_refusals(arguments: tuple[float, ...], message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        stock_mass(*arguments)


def test_density_out_of_range() -> None:
    with pytest.raises(OutOfRange, match="density is 1325; it must be at least 0.3 kg/L"):
        liquid_volume(150, 32, 1325, 100, 200)
