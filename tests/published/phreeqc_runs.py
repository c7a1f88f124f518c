"""Runs PHREEQC (the phreeqc library) for the tests that compare with it.

PHREEQC only warns of an element that its database lacks, and then leaves it out. Here a warning
stops the run as an error does, so that no comparison goes on without an ion.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping

from phreeqc import Phreeqc

# The engine whose figures the tolerances hold for: versions differ by up to 5 % in conductivity.
VERSION = "3.8"
# How the databases write the ions of the calculations. In mmol/L, alkalinity is meq/L.
ELEMENTS = {
    "calcium": "Ca",
    "magnesium": "Mg",
    "potassium": "K",
    "sodium": "Na",
    "ammonium": "N(-3)",
    "nitrate": "N(5)",
    "sulfate": "S(6)",
    "chloride": "Cl",
    "bicarbonate": "Alkalinity",
    "dihydrogen_phosphate": "P",
}
# A phase that stands for a fixed pH: an acid or a base is taken up until its index is reached.
FIXED_PH = "PHASES\nFix_H+\n H+ = H+\n log_k 0\n"

# What it says when it solves the equations again with smaller steps; if that fails too, the run
# ends in an error.
RETRIES = (
    "WARNING: Maximum iterations exceeded",
    "WARNING: Numerical method failed",
    "WARNING: Trying ",
    "WARNING: Skipping optimize equations",
)


class RunFailed(RuntimeError):
    """PHREEQC gave an error or a warning; the message holds its words and the input."""


@functools.cache
def program(database: str) -> Phreeqc:
    """PHREEQC with one of the databases that come with the library."""
    loaded = Phreeqc()
    if loaded.LoadBuiltInDatabase(database):
        raise RunFailed(f"{database}: {loaded.GetErrorString()}")
    return loaded


def run(database: str, block: str, wanted: Mapping[str, str]) -> list[dict[str, float]]:
    """The results of an input block, one for each step: first the solution as entered.

    ``wanted`` maps a name for each result to its expression in PHREEQC's Basic.
    Raises: RunFailed at any error or warning, except that a solution took a second try.
    """
    loaded = program(database)
    failed = loaded.RunString(f"{_output(wanted)}\n{block}\nEND\n")
    said = [*loaded.GetErrorString().splitlines(), *loaded.GetWarningString().splitlines()]
    objections = [line for line in said if line.strip() and not line.startswith(RETRIES)]
    if failed or objections:
        raise RunFailed("\n".join([f"{database}:", *said, block]))
    columns = loaded.GetSelectedOutput()
    steps = zip(*(columns[name] for name in wanted), strict=True)
    return [dict(zip(wanted, map(float, step), strict=True)) for step in steps]


def _output(wanted: Mapping[str, str]) -> str:
    names, expressions = " ".join(wanted), ", ".join(wanted.values())
    head = "SELECTED_OUTPUT\n -reset false\nUSER_PUNCH"
    return f"{head}\n -headings {names}\n 10 PUNCH {expressions}"


def solution(
    ions: Mapping[str, float],
    *,
    ph: str = "7 charge",
    balance: str = "",
    celsius: float = 25,
    units: str = "mmol/L",
) -> str:
    """A SOLUTION block of ions by the names that FERT.EC uses.

    ``ph`` may end in "charge" to come from the balance of charges; else ``balance`` names the ion
    that is adjusted for it. pe 12 keeps nitrate and ammonium as they are entered.
    """
    lines = [
        f" {ELEMENTS[ion]} {float(amount)!r}{' charge' if ion == balance else ''}"
        for ion, amount in ions.items()
        if amount
    ]
    head = ["SOLUTION 1", f" temp {celsius}", f" units {units}", " density 1.0 calculate"]
    return "\n".join([*head, f" pH {ph}", " pe 12", *lines]) + "\n"


def phases(*lines: str) -> str:
    """An EQUILIBRIUM_PHASES block."""
    return "\n".join(["EQUILIBRIUM_PHASES 1", *(f" {line}" for line in lines)])
