"""The example that each calculation shows to people is right to the digits shown."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tanksheet import catalogue
from tanksheet.definition import Calculation


def last_digit(shown: float) -> float:
    """The value of one unit in the last place of a printed number."""
    exponent = Decimal(repr(shown)).normalize().as_tuple().exponent
    assert isinstance(exponent, int)
    # A whole number is shown to its last digit, though it may end in zeros.
    return 10.0 ** min(exponent, 0)


def matches(shown: object, result: object) -> bool:
    """Whether a result rounds to what is shown."""
    if isinstance(shown, bool) or isinstance(shown, str):
        return result == shown
    if not isinstance(shown, (int, float)) or not isinstance(result, float):
        return False
    return abs(result - shown) <= 0.5000001 * last_digit(shown)


@pytest.mark.parametrize("record", catalogue().values(), ids=lambda record: record.name)
def test_example(record: Calculation) -> None:
    arguments, shown = record.example
    assert matches(shown, record.function(*arguments))


@pytest.mark.parametrize(
    ("shown", "result", "right"),
    [
        (22.69419, 22.6941936, True),
        (22.69419, 22.694196, False),
        (150, 149.9997, True),
        (150, 150.6, False),
        (52, 52.0, True),
        (1.4463, 1.44635, True),
        (1.4463, 1.44641, False),
        ("ok", "OK", False),
        (1, "1", False),
        (1, None, False),
    ],
)
def test_the_comparison_can_fail(shown: object, result: object, right: bool) -> None:
    assert matches(shown, result) is right
