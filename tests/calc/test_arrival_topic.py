"""The front of the feed and its mixing: against SciPy, simulated crowds, and their own edges."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.special import erfc
from scipy.stats import norm

from tanksheet.calc.arrival import (
    front,
    lateral_spread,
    mixing_length,
    pipe_dispersion,
    pulse_share,
)
from tanksheet.calc.flow import travel_time, velocity
from tanksheet.errors import OutOfRange

PERCENT_OFF = 1e-5  # the docstring's promise


@pytest.mark.parametrize("dispersion", [1e-4, 0.05, 3])
@pytest.mark.parametrize("minutes", [0.01, 1.3, 1.6, 1.7, 2.5, 60])
def test_front_against_scipy(minutes: float, dispersion: float) -> None:
    seconds = minutes * 60
    wanted = 50 * erfc((100 - seconds) / (2 * math.sqrt(dispersion * seconds)))
    assert front(100, 1, dispersion, minutes) == pytest.approx(wanted, abs=PERCENT_OFF)


def test_half_has_come_at_the_plug_time() -> None:
    flow, inside, length = 120.0, 52.0, 300.0
    minutes = travel_time(length, inside, flow)
    dispersion = pipe_dispersion(flow, inside)
    found = front(length, velocity(flow, inside), dispersion, minutes)
    assert found == pytest.approx(50, abs=PERCENT_OFF)


def test_front_against_a_crowd_of_grains() -> None:
    """Each grain strays by chance, by the root of 2 D t: the share that is past the place."""
    rng = random.Random(11)
    speed, dispersion, seconds, place = 0.8, 0.04, 250.0, 204.0
    stray = math.sqrt(2 * dispersion * seconds)
    past = sum(speed * seconds + rng.gauss(0, stray) > place for _ in range(40000)) / 400
    assert front(place, speed, dispersion, seconds / 60) == pytest.approx(past, abs=1)


def test_front_long_before_and_after() -> None:
    assert front(1e6, 0.001, 1e-9, 0.001) < 1e-100
    assert front(0.1, 10, 1e-9, 1000) == 100


def test_dispersion_grows_with_the_pipe() -> None:
    # At one speed the radius counts in full, the friction only by a fraction of a percent a tenth.
    narrow, wide = pipe_dispersion(60, 30), pipe_dispersion(240, 60)
    assert 1.7 < wide / narrow < 2


def test_quiet_water_is_refused() -> None:
    with pytest.raises(OutOfRange, match="not turbulent"):
        pipe_dispersion(1, 50)
    with pytest.raises(OutOfRange, match="not turbulent"):
        mixing_length(50, 1, 5)
    # Re = 4 Q / (pi d nu): the limit at 13.6 mm is 2.573 L/min at 20 degrees C.
    limit = 4000 * math.pi * 0.0136 * 1.0034e-6 / 4 * 60000
    assert pipe_dispersion(limit * 1.001, 13.6) > 0
    assert mixing_length(13.6, limit * 1.001, 5) > 0
    with pytest.raises(OutOfRange):
        pipe_dispersion(limit * 0.999, 13.6)
    with pytest.raises(OutOfRange):
        mixing_length(13.6, limit * 0.999, 5)


def test_mixing_takes_more_pipe_the_evener() -> None:
    # One e-fold is as long wherever it lies: from 10 to 5 % as from 2 to 1 %.
    far, near = (mixing_length(50, 100, each) - mixing_length(50, 100, 2 * each) for each in (1, 5))
    assert far == pytest.approx(near)
    assert far > 0
    # Quicker water stirs itself more, but is further along: more pipe, though not in proportion.
    assert 1 < mixing_length(50, 400, 5) / mixing_length(50, 100, 5) < 1.3


def test_a_point_at_the_wall_against_a_crowd_of_grains() -> None:
    """Grains that stray by chance across an even pipe: how lopsided they are after the length."""
    rng = np.random.default_rng(11)
    inside, flow, grains, steps = 50.0, 100.0, 20000, 1000
    length = mixing_length(inside, flow, 50)
    # Diffusivity over radius and mean speed, friction after Haaland: 0.4/6 of friction velocity.
    number = 4 * flow / 60000 / (math.pi * inside / 1000 * 1.0034e-6)
    across = 0.4 / 6 / (1.8 * math.log10(number / 6.9)) / math.sqrt(8)
    stray = math.sqrt(2 * across * length / (inside / 2000) / steps)
    places = np.tile([1.0, 0.0], (grains, 1))
    for _ in range(steps):
        places += rng.normal(0, stray, places.shape)
        out = np.hypot(*places.T)
        beyond = out > 1
        places[beyond] *= (2 / out[beyond] - 1)[:, None]  # back from the wall
    # Where the feed at the wall is off by s, the mean of x is s over the square of Bessel's zero.
    assert np.mean(places[:, 0]) == pytest.approx(0.5 / 1.841184**2, rel=0.08)


@pytest.mark.parametrize("emitters", [2, 5, 40])
def test_a_lateral_against_its_vessels(emitters: int) -> None:
    """Each piece as a vessel that is stirred: the front at the last, step by step, by SciPy."""
    length, inside, each = 60.0, 13.6, 2.0
    piece = math.pi / 4 * (inside / 1000) ** 2 * length / emitters * 1000
    # Water in the piece over what flows through it, n emitters' worth, in minutes.
    stays = piece / (np.arange(emitters, 0, -1) * each / 60)

    def change(minutes: float, state: np.ndarray) -> np.ndarray:
        strength = state[:emitters]
        flow_in = np.concatenate(([1.0], strength[:-1]))
        missing = 1 - strength[-1]
        return np.concatenate(((flow_in - strength) / stays, [missing, 2 * minutes * missing]))

    start = np.zeros(emitters + 2)
    end = solve_ivp(change, (0, 40 * stays.sum()), start, "LSODA", rtol=1e-8, atol=1e-10).y[:, -1]
    spread = math.sqrt(end[-1] - end[-2] ** 2)
    assert lateral_spread(length, inside, emitters, each) == pytest.approx(spread, rel=1e-3)


@pytest.mark.parametrize("run", [2, 10, 20, 31, 75, 81, 95])
@pytest.mark.parametrize("spread", [0.4, 3, 7])
def test_pulse_share_against_scipy(run: float, spread: float) -> None:
    def strength(minutes: float) -> float:
        return float(norm.cdf((minutes - 20) / spread) - norm.cdf((minutes - 80) / spread))

    marks = [mark for mark in (-60, 10, 20, 30, 70, 80, 90) if mark < run]
    left = quad(strength, -100, run, points=marks, limit=200, epsabs=1e-11)[0]
    # Of 60 minutes; the share of what has come before the start is part of the model.
    assert pulse_share(20, spread, 60, run) == pytest.approx(100 * left / 60, rel=1e-5, abs=2e-5)
