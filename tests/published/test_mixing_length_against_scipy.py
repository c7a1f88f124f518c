"""FERT.MIXINGLENGTH against whole solutions of the same question, by SciPy.

The function keeps one mode of turbulent diffusion that is even across the pipe. Here are all of
them, by SciPy's zeros of the Bessel functions; and the pipe as it is, slow and quiet at the wall,
by SciPy's eigenvalues: eddy viscosity and velocity after Reichardt 1951 (both from memory), with
stock that mixes as momentum does. What no computation here can tell is how fast stock mixes in a
real pipe: no measured mixing length was found in an open text.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from fluids.friction import friction_factor
from scipy.linalg import eigh_tridiagonal
from scipy.optimize import brentq
from scipy.special import jnp_zeros

from tanksheet.calc.arrival import mixing_length

KARMAN = 0.4
VISCOSITY = 1.0034e-6  # of water at 20 degrees C, in m2/s
AROUND = 8  # modes round the pipe, of which those from the third on have died away
RINGS = 400
PIPES = [(16, 10.0), (25, 25.0), (50, 100.0), (100, 600.0), (200, 4000.0)]
Numbers = np.ndarray[tuple[int], np.dtype[np.float64]]


def reynolds(inside: float, flow: float) -> float:
    return 4 * flow / 60000 / (math.pi * inside / 1000 * VISCOSITY)


def share_of_friction(inside: float, flow: float) -> float:
    """Friction velocity over mean speed, smooth pipe, by the fluids library."""
    return math.sqrt(float(friction_factor(Re=reynolds(inside, flow), eD=0)) / 8)


def length_where(farthest: Callable[[float], float], unevenness: float) -> float:
    """In radii: where what is farthest from the mean has come down to so many percent."""
    return float(brentq(lambda radii: farthest(radii) - unevenness / 100, 5, 5000))


def even_pipe(inside: float, flow: float, unevenness: float) -> float:
    """All modes from a point at the wall, one speed and one diffusivity across the pipe."""
    across = KARMAN / 6 * share_of_friction(inside, flow)

    def at_the_wall(radii: float) -> float:
        total = 0.0
        for order in range(AROUND):
            # SciPy leaves the zero out that stands for the mean itself.
            zeros = jnp_zeros(order, 20)
            weight = 2 / (1 - (order / zeros) ** 2) if order else np.ones_like(zeros)
            total += float(np.sum(weight * np.exp(-across * zeros**2 * radii)))
        return total

    return length_where(at_the_wall, unevenness) * inside / 2000


def modes(share: float, number: float, order: int) -> tuple[Numbers, Numbers]:
    """Decay a radius, and size at the wall, of the modes that go round the pipe ``order`` times.

    Rings of fluid, finer at the wall, each as one vessel; radius and mean speed are 1.
    """
    edges = 1 - (1 - np.linspace(0, 1, RINGS + 1)) ** 2.5
    middles, widths = (edges[:-1] + edges[1:]) / 2, np.diff(edges)

    def eddies(r: Numbers) -> Numbers:
        return KARMAN / 6 * share * (1 - r**2) * (1 + 2 * r**2) + 1e-9

    walls = (1 - middles) * share * number / 2
    speed = np.log(1 + KARMAN * walls) / KARMAN
    speed += 7.8 * (1 - np.exp(-walls / 11) - walls / 11 * np.exp(-0.33 * walls))
    carried = speed * middles * widths
    carried *= 0.5 / carried.sum()
    swap = (eddies(edges) * edges)[1:-1] / np.diff(middles)
    loss = eddies(middles) * order**2 / middles * widths
    loss[:-1] += swap
    loss[1:] += swap
    decay, shapes = eigh_tridiagonal(
        loss / carried,
        -swap / np.sqrt(carried[:-1] * carried[1:]),
        select="i",
        select_range=(0, 30),
    )
    rim = shapes[-1] / math.sqrt(carried[-1])
    return decay, (2 if order else 1) * 0.5 * rim**2


def real_pipe(inside: float, flow: float, unevenness: float) -> float:
    """As the even pipe, but with Reichardt's profiles; at the wall or opposite, what is worse."""
    share, number = share_of_friction(inside, flow), reynolds(inside, flow)
    found = [modes(share, number, order) for order in range(AROUND)]
    # The first of all is the mean: it stays, but for the rounding of its decay.
    found[0] = found[0][0][1:], found[0][1][1:]

    def farthest(radii: float) -> float:
        sizes = [float(np.sum(weight * np.exp(-decay * radii))) for decay, weight in found]
        return max(abs(sum(sizes)), abs(sum(sizes[::2]) - sum(sizes[1::2])))

    return length_where(farthest, unevenness) * inside / 2000


@pytest.mark.parametrize(("inside", "flow"), PIPES)
@pytest.mark.parametrize(("unevenness", "off"), [(0.1, 0.01), (1, 0.01), (5, 0.01), (50, 0.05)])
def test_one_mode_is_enough(inside: float, flow: float, unevenness: float, off: float) -> None:
    whole = even_pipe(inside, flow, unevenness)
    assert mixing_length(inside, flow, unevenness) == pytest.approx(whole, rel=off)


@pytest.mark.parametrize(("inside", "flow"), PIPES)
@pytest.mark.parametrize(("unevenness", "off"), [(0.1, 0.05), (5, 0.05), (20, 0.07), (50, 0.13)])
def test_even_diffusion_is_near_enough(
    inside: float, flow: float, unevenness: float, off: float
) -> None:
    whole = real_pipe(inside, flow, unevenness)
    assert mixing_length(inside, flow, unevenness) == pytest.approx(whole, rel=off)


def test_the_rings_hold_the_mean() -> None:
    decay, weight = modes(0.05, 50000, 0)
    assert decay[0] == pytest.approx(0, abs=1e-5 * decay[1])
    assert weight[0] == pytest.approx(1, rel=1e-6)
