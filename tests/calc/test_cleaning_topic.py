"""Chlorine, flushing and filters: conservation, the sieves of the fluids library, edges."""

from __future__ import annotations

import pytest
from fluids.particle_size_distribution import ASTM_E11_sieves

from tanksheet import tables
from tanksheet.calc.cleaning import (
    chlorine_mass,
    chlorine_rate,
    chlorine_volume,
    filter_opening,
    flush_flow,
    hypochlorous_share,
    mesh_opening,
)
from tanksheet.calc.flow import velocity
from tanksheet.errors import NotListed, OutOfRange


def test_chlorine_is_kept() -> None:
    # Grams of chlorine in what is added equal those in the water.
    assert chlorine_mass(10, 65, 20000) * 0.65 == pytest.approx(10 * 20000 / 1000, rel=1e-14)
    assert chlorine_volume(10, 12.5, 20000) / 1000 * 125 == pytest.approx(200, rel=1e-14)
    assert chlorine_mass(0, 65, 20000) == 0


def test_rate_is_the_volume_of_an_hour() -> None:
    rate = chlorine_rate(5, 10, 80)
    assert rate * 1000 == pytest.approx(chlorine_volume(5, 10, 80 * 60), rel=1e-14)


def test_share_of_the_acid() -> None:
    # At the pK half of each; a unit of pH away 10 to 1.
    assert hypochlorous_share(7.53664, 25) == pytest.approx(50, abs=0.003)
    assert hypochlorous_share(6.53664, 25) == pytest.approx(1000 / 11, abs=0.003)
    shares = [hypochlorous_share(step / 4, 20) for step in range(16, 41)]
    assert shares == sorted(shares, reverse=True)
    assert hypochlorous_share(7.5, 5) > hypochlorous_share(7.5, 25)
    with pytest.raises(OutOfRange, match="ph_water is 3"):
        hypochlorous_share(3, 25)


def test_flush_flow_runs_at_its_speed() -> None:
    assert velocity(flush_flow(16, 0.3), 16) == pytest.approx(0.3, rel=1e-14)


def test_openings_against_fluids() -> None:
    named = {sieve.old_designation or "": sieve for sieve in ASTM_E11_sieves.values()}
    standard = {
        float(name.removeprefix("No. ")): round(sieve.opening * 1e6, 3)
        for name, sieve in named.items()
        if name.startswith("No. ") and " 1/2" not in name
    }
    assert {row["mesh"]: row["opening"] for row in tables.rows("sieves")} == standard
    assert all(mesh_opening(mesh) == opening for mesh, opening in standard.items())


def test_a_mesh_that_is_no_sieve_is_not_guessed() -> None:
    with pytest.raises(NotListed, match="mesh 130"):
        mesh_opening(130)


def test_filter_of_an_emitter() -> None:
    assert filter_opening(0.7, 7) == pytest.approx(100, rel=1e-14)
    assert filter_opening(0.7, 1) == pytest.approx(700, rel=1e-14)
