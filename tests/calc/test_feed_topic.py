"""The pH of a feed: pure water, order, symmetry, ends and refusals."""

from __future__ import annotations

import pytest

from tanksheet.calc.feed import feed_ph
from tanksheet.errors import OutOfRange

NAMES = (
    "alkalinity", "ph_water", "celsius", "net_acid", "carbonate", "phosphate", "ammonium",
    "sulfate", "silicate", "borate", "calcium", "magnesium", "strength_mmol",
)  # fmt: skip


def ph(**given: float) -> float:
    """Of a water without alkalinity at pH 7 and 25 degrees C, unless given."""
    plain = dict.fromkeys(NAMES, 0.0) | {"ph_water": 7.0, "celsius": 25.0}
    return feed_ph(**(plain | given))


def test_a_water_alone_keeps_its_ph() -> None:
    for own in (6.5, 7.2, 8.0, 8.4):
        found = ph(alkalinity=4, ph_water=own, calcium=1.2, magnesium=0.4, strength_mmol=6.4)
        assert found == pytest.approx(own, abs=0.07)


# -log10 of ion product of water: CRC Handbook, 14.95 at 0, 13.995 at 25 and 13.40 at 45 degrees C.
@pytest.mark.parametrize(("celsius", "product"), [(0, 14.95), (25, 13.995), (45, 13.40)])
def test_pure_water_is_neutral(celsius: float, product: float) -> None:
    assert ph(celsius=celsius, ph_water=product / 2) == pytest.approx(product / 2, abs=0.02)


@pytest.mark.parametrize("mmol", [0.1, 1, 10])
def test_strong_acid_and_base(mmol: float) -> None:
    """Nothing else in it: the acid's amount is its pH but for the activity coefficient."""
    acid = ph(net_acid=mmol, strength_mmol=mmol)
    base = ph(net_acid=-mmol, strength_mmol=mmol)
    assert 10 ** (3 - acid) == pytest.approx(mmol, rel=0.12)
    assert 10 ** (base - 13.995 + 3) == pytest.approx(mmol, rel=0.12)


# Half-way between two forms the pH is the pK (CRC Handbook), less the fall of activities.
@pytest.mark.parametrize(
    ("given", "pk"),
    [
        ({"phosphate": 2, "net_acid": -1}, 7.2),
        ({"ammonium": 2, "net_acid": -1}, 9.25),
        ({"borate": 2, "net_acid": -1}, 9.24),
        ({"silicate": 2, "net_acid": -1}, 9.8),
        ({"carbonate": 20, "net_acid": 10}, 6.35),
        ({"carbonate": 20, "net_acid": -10}, 10.33),
    ],
)
def test_half_way_between_two_forms(given: dict[str, float], pk: float) -> None:
    assert ph(**given) == pytest.approx(pk, abs=0.06)


def test_more_acid_is_more_acid() -> None:
    feed = {"alkalinity": 4, "ph_water": 7.6, "phosphate": 1, "ammonium": 1, "strength_mmol": 25}
    found = [ph(**feed, net_acid=n) for n in (-50, -5, -1, 0, 1, 2, 3.5, 4, 5, 10, 100)]
    assert found == sorted(found, reverse=True)
    assert len(set(found)) == len(found)


def test_calcium_lowers_the_ph_of_a_phosphate_feed() -> None:
    feed = {"alkalinity": 2, "ph_water": 7.5, "phosphate": 3, "strength_mmol": 20}
    assert ph(**feed, calcium=5) < ph(**feed) - 0.05


def test_the_ends_of_every_range_give_a_ph() -> None:
    for name, most in (("net_acid", 20000), ("phosphate", 20000), ("ammonium", 20000)):
        assert -1 <= ph(**{name: most, "strength_mmol": most}) <= 15
    assert ph(net_acid=-20000, strength_mmol=200000) <= 15
    full = dict.fromkeys(NAMES, 20000.0) | {"alkalinity": 100, "ph_water": 10, "celsius": 45}
    assert -1 <= ph(**full) <= 15


def test_refusals() -> None:
    with pytest.raises(OutOfRange, match="net_acid is -20001"):
        ph(net_acid=-20001)
    with pytest.raises(OutOfRange, match="phosphate is -1"):
        ph(phosphate=-1)
