"""Zone flow: a number held as text, no measurement at all, and pressure by an independent sum."""

from __future__ import annotations

import pytest

from tanksheet.errors import SheetError
from tanksheet.sheets.evaluate import evaluate
from tanksheet.templates import book
from tanksheet.xlsx.address import Value

VERDICTS = ("bucket_check", "flow_check", "pressure_check", "injector_check")


@pytest.mark.parametrize("text", ["25.6", " 25.6", "25,6", "25.6 s", "twenty"])
@pytest.mark.parametrize("place", [0, 2])
def test_a_catch_that_is_text_is_called_out_in_its_row(text: str, place: int) -> None:
    times: list[Value] = [25.0, 25.2, 25.1]
    times[place] = text
    found = evaluate(book("zone-flow"), {"bucket_time": times})
    assert found[f"bucket_time_{place + 1}_note"] == (
        f"reading {place + 1} is text: retype it as a number"
    )
    for key in VERDICTS:
        assert str(found[key]).startswith(f"not checked: catch {place + 1} is text"), key
    # The other two still count: by hand, 20 L in their mean.
    left = [time for time in times if isinstance(time, float)]
    assert found["flow"] == pytest.approx(20 * 60 / (sum(left) / 2), rel=1e-12)
    assert not [key for key, value in found.items() if isinstance(value, SheetError)]


def test_no_measurement_is_said_in_one_line() -> None:
    nothing = {"bucket_time": [None] * 5, "emitter_count": None, "stroke_count": None}
    found = evaluate(book("zone-flow"), nothing)
    assert not [key for key, value in found.items() if isinstance(value, SheetError)]
    said = [key for key, value in found.items() if "no flow was measured" in str(value)]
    # On its own row, and in the line at the top with the list behind it.
    assert [key for key in said if not key.startswith("all_")] == [
        "flow_check",
        "flow_check_said",
        "overall",
        "headline",
    ]
    passed = [key for key, value in found.items() if str(value).startswith("pass")]
    assert not [key for key in passed if not key.startswith("all_")]


def test_the_pressure_that_is_left() -> None:
    """The defaults by another road: psi of the trade's own unit, 2.31 ft of head to a psi, friction
    by the US form of Hazen-Williams (4.52 Q^1.852 / (C^1.852 d^4.8704), psi a foot)."""
    found = evaluate(book("zone-flow", "us"), {})
    gpm = 3 * 5 * 60 / (25.2 + 24.8 + 25.6)

    def friction(inches: float, feet: float) -> float:
        return feet * 4.52 * gpm**1.852 / (150**1.852 * inches**4.8704)

    pipe, neck = friction(2.067, 260), friction(0.95, 2)
    wide = 0.95 / 2.067
    speed = gpm * 231 / 60 / 12 / (3.14159265 / 4 * 0.95**2)  # ft/s
    ends = (0.5 * (1 - wide**2) + (1 - wide**2) ** 2) * speed**2 / 64.35 / 2.31
    left = 45 - 10 - 5 - pipe - neck - ends - 3 / 2.31
    assert found["pressure_left"] == pytest.approx(left * 6.894757, rel=0.003)
