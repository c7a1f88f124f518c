"""The field: product for an area, and how evenly the water arrives."""

from __future__ import annotations

from typing import Any

from tanksheet.definition import calculation
from tanksheet.subset import (
    ceil,
    count,
    helper,
    lowest_total,
    mean,
    mean_deviation,
    standard_deviation,
)
from tanksheet.units import (
    Hectare,
    Hour,
    KgPerHa,
    KgPerL,
    Kilogram,
    Litre,
    LitrePerHa,
    LitrePerHour,
    Number,
    Percent,
    Readings,
    Word,
)


@calculation("FIELDMASS", example=((25, 8, 15.5), 1290.32))
def field_mass(dose: KgPerHa, area: Hectare, content: Percent) -> Kilogram:
    """Product that gives an area its dose of one nutrient.

    Source: dose times area over content.
    """
    return dose * area * 100 / content


@calculation("FIELDVOLUME", example=((25, 8, 32, 1.3253), 471.591))
def field_volume(dose: KgPerHa, area: Hectare, content: Percent, density: KgPerL) -> Litre:
    """Liquid product that gives an area its dose of one nutrient.

    Source: the mass of FERT.FIELDMASS over the density.
    """
    return field_mass(dose, area, content) / density


@calculation("INJECTIONRATE", example=((58.95, 8, 3), 157.2))
def injection_rate(volume_dose: LitrePerHa, area: Hectare, hours: Hour) -> LitrePerHour:
    """Rate at which a liquid or a stock is injected to give an area its dose in a time.

    The time is that of injecting alone: filling the lines before and rinsing them after are not
    part of it.
    Source: volume over time; chemigation bulletins (Washington State University FS035E).
    """
    return volume_dose * area / hours


@helper
def low_quarter(total: Any, quarter: Any, average: Any) -> Any:
    """Percent of the mean in the lowest quarter, from its sum and how many readings it has."""
    return 100 * total / quarter / average


@calculation("UNIFORMITY", example=(([1.9, 2.1, 2.0, 1.8], "CU"), 94.8718))
def uniformity(readings: Readings, measure: Word) -> Percent:
    """How evenly emitters deliver, from catches at several of them.

    "CU" is Christiansen's coefficient; "DU" is the mean of the lowest quarter over the mean,
    a quarter rounded up to whole readings. Uneven water is uneven feeding.
    Source: Christiansen 1942; low-quarter distribution uniformity as in ASAE EP458.
    """
    if measure == "CU":
        return 100 * (1 - mean_deviation(readings) / mean(readings))
    quarter = ceil(count(readings) / 4)
    return low_quarter(lowest_total(readings, quarter), quarter, mean(readings))


@calculation("QUARTERDOSE", example=(([1.9, 2.1, 2.0, 1.8], 50), 46.1538))
def quarter_dose(readings: Readings, dose: KgPerHa) -> KgPerHa:
    """What the quarter of the area with the least water gets of a dose.

    Catch at 16 emitters or more while feed runs. Where the feed's strength differs too, give the
    catch of each emitter times its reading above plain water.
    Source: the dose times the low-quarter distribution uniformity of FERT.UNIFORMITY.
    """
    return dose * uniformity(readings, "DU") / 100


@calculation("MEAN", example=(([25.2, 24.8, 25.6],), 25.2))
def mean_reading(repeats: Readings) -> Number:
    """Mean of repeated readings, refusing text among them.

    A spreadsheet's own AVERAGE passes over a reading typed as text, such as "25 s"; this does not.
    Source: arithmetic mean.
    """
    return mean(repeats)


@helper
def spread_of_numbers(readings: Any) -> Any:
    """As ``spread``, for cells whose text and blanks are passed over."""
    return 100 * standard_deviation(readings) / mean(readings)


@calculation("SPREAD", example=(([25.2, 24.8, 25.6],), 1.5873))
def spread(readings: Readings) -> Percent:
    """Spread of repeated readings as a percent of their mean (coefficient of variation).

    Source: sample standard deviation (n - 1) over the mean.
    """
    return spread_of_numbers(readings)
