"""Weights and volumes as words that a person reads off a scale, in the subset that compiles.

The number that is told is the one already rounded to the scale; words never round it further than
half of the last figure that a scale of the kind shows. Each amount carries its unit, no zero trails
behind the point and one stands before it, and the sheet writes the decimal sign of the reader.
Form of the words: NIST SP 811 (a blank before the unit) and the ISMP list of error-prone dose
designations (no trailing zero, a leading one), from memory.
"""

from __future__ import annotations

from typing import Any

from tanksheet.calc.convert import convert
from tanksheet.subset import floor, helper, rounded, shown
from tanksheet.templates.working import pounds_and_ounces

# How a scale may read.
SCALES = ("kg", "lb and oz", "lb")
# Grams below which a small scale is used.
SMALL = 200


@helper
def trimmed(number: Any) -> Any:
    """Up to two decimals, none of them a needless zero."""
    if rounded(number, 2) == rounded(number, 1):
        return shown(number, 1)
    return shown(number, 2)


@helper
def finely(number: Any) -> Any:
    """Up to three decimals, none of them a needless zero."""
    if rounded(number, 3) == rounded(number, 2):
        return trimmed(number)
    return shown(number, 3)


@helper
def grouped(number: Any) -> Any:
    """A whole number, in groups of three from 10 000 on, parted by a blank that does not break:
    a comma or a point would be a decimal sign to one reader or the other."""
    whole = rounded(number, 0)
    if whole < 10000:
        return shown(whole, 0)
    rest = whole - 1000 * floor(whole / 1000)
    if rest >= 100:
        return f"{shown(floor(whole / 1000), 0)}\u00a0{shown(rest, 0)}"
    if rest >= 10:
        return f"{shown(floor(whole / 1000), 0)}\u00a00{shown(rest, 0)}"
    return f"{shown(floor(whole / 1000), 0)}\u00a000{shown(rest, 0)}"


@helper
def in_grams(mass: Any) -> Any:
    """Below a kilogram."""
    return f"{shown(mass, 1)} g" if mass >= 1 else f"{trimmed(mass)} g"


@helper
def in_kilograms(mass: Any) -> Any:
    """Grams up to one kilogram, judged by what is told: 999.96 g is 1 kg."""
    return f"{finely(mass / 1000)} kg" if rounded(mass, 1) >= 1000 else in_grams(mass)


@helper
def in_pounds_and_ounces(mass: Any) -> Any:
    """Grams below ``SMALL``, where a small scale is used; ounces below a pound."""
    return in_grams(mass) if rounded(mass, 1) < SMALL else large_in_ounces(mass)


@helper
def large_in_ounces(mass: Any) -> Any:
    """On a scale that knows no grams."""
    ounces = rounded(convert(mass, "g", "oz"), 1)
    return f"{shown(ounces, 1)} oz" if ounces < 16 else pounds_and_ounces(mass)


@helper
def large_in_pounds(mass: Any) -> Any:
    return f"{trimmed(convert(mass, 'g', 'lb'))} lb"


@helper
def in_pounds(mass: Any) -> Any:
    return in_grams(mass) if rounded(mass, 1) < SMALL else large_in_pounds(mass)


@helper
def weight_words(mass: Any, scale: Any) -> Any:
    """Grams as a scale of one of ``SCALES`` reads them."""
    if scale == "lb and oz":
        return in_pounds_and_ounces(mass)
    return in_pounds(mass) if scale == "lb" else in_kilograms(mass)


# what two scales of a person's own read, and the marks of jugs


@helper
def small_words(mass: Any, small_scale: Any) -> Any:
    """Grams as the small scale reads them."""
    if small_scale == "oz":
        return f"{finely(convert(mass, 'g', 'oz'))} oz"
    return f"{trimmed(mass)} g" if mass < 100 else f"{shown(mass, 1)} g"


@helper
def large_words(mass: Any, scale: Any) -> Any:
    """Grams as the large scale reads them."""
    if scale == "lb and oz":
        return large_in_ounces(mass)
    return large_in_pounds(mass) if scale == "lb" else in_kilograms(mass)


@helper
def to_step(mass: Any, step: Any) -> Any:
    """A weight as a scale of this step can show it."""
    return rounded(rounded(mass / step, 0) * step, 6)


@helper
def to_marks(volume: Any) -> Any:
    """Litres to the figure that ``in_litres`` tells."""
    if rounded(volume, 3) < 1:
        return rounded(volume, 3) if volume >= 0.01 else rounded(volume, 4)
    if volume < 100:
        return rounded(volume, 2)
    return rounded(volume, 1) if volume < 1000 else rounded(volume, 0)


@helper
def to_us_marks(volume: Any) -> Any:
    """Litres to the figure that ``in_gallons`` tells."""
    gallons = convert(volume, "L", "gal")
    if rounded(gallons, 2) < 1:
        ounces = convert(volume, "L", "fl oz")
        return convert(rounded(ounces, 1), "fl oz", "L") if ounces >= 1 else to_marks(volume)
    if gallons < 100:
        return convert(rounded(gallons, 2), "gal", "L")
    whole = rounded(gallons, 1) if gallons < 1000 else rounded(gallons, 0)
    return convert(whole, "gal", "L")


@helper
def in_litres(volume: Any) -> Any:
    """Litres, millilitres below one."""
    if rounded(volume, 3) < 1:
        return (
            f"{shown(volume * 1000, 0)} mL" if volume >= 0.01 else f"{shown(volume * 1000, 1)} mL"
        )
    if volume < 100:
        return f"{trimmed(volume)} L"
    return f"{shown(volume, 1)} L" if volume < 1000 else f"{grouped(volume)} L"


@helper
def in_gallons(volume: Any) -> Any:
    """Gallons, fluid ounces below one; a jug of a fluid ounce or less is marked in millilitres."""
    gallons = convert(volume, "L", "gal")
    if rounded(gallons, 2) < 1:
        ounces = convert(volume, "L", "fl oz")
        return f"{shown(ounces, 1)} fl oz" if ounces >= 1 else in_litres(volume)
    if gallons < 100:
        return f"{trimmed(gallons)} gal"
    return f"{shown(gallons, 1)} gal" if gallons < 1000 else f"{grouped(gallons)} gal"


@helper
def volume_words(volume: Any, scale: Any) -> Any:
    """Litres as the jugs beside a scale of one of ``SCALES`` are marked."""
    return in_litres(volume) if scale == "kg" else in_gallons(volume)
