"""The main job on a made-up farm, with real output: bucket test, mixing card, proof.

Three Alders is invented: two tunnels of tomatoes on one drip zone, a 200 L tank, an injector set
to 1:100. Everything printed is computed now, in the workbooks, by an outside spreadsheet engine.
"""

from __future__ import annotations

import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from tanksheet.batch.coop import price_coop
from tanksheet.batch.demo import write_demo
from tanksheet.batch.outputs import said
from tanksheet.calc.convert import convert
from tanksheet.recalc import ENGINES, EngineRun, table
from tanksheet.sheets.run import run
from tanksheet.sheets.verify import closing_line, verify
from tanksheet.sheets.writer import workbook_bytes
from tanksheet.templates import TEMPLATES, book
from tanksheet.templates.recipe.feed import TARGETS
from tanksheet.xlsx.writing import replace_file

FOLDER = Path("out/demo")
ENGINE = "ironcalc"
CAUTION = "acid into water, never water into acid; goggles and gloves"
# The slower engines prove the workbook of the mixing card, the fast ones all of them.
CARD = ("stock-tank",)
QUICK_CASES, SLOW_CASES = 12, 2


def main() -> None:
    print("Three Alders (an invented farm): two tunnels of tomatoes, one drip zone.\n")
    build()
    flow = zone_flow()
    stock_tank(flow)
    acid()
    recipe()
    at_the_pipe(flow)
    co_op()
    prove()


def build() -> None:
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name in TEMPLATES:
        replace_file(FOLDER / f"{name}.xlsx", workbook_bytes(book(name)))
    print(f"Built {len(TEMPLATES)} workbooks in {FOLDER}/ : {', '.join(TEMPLATES)}.\n")


def calculated(name: str, settings: dict[str, str]) -> dict[str, Any]:
    """The workbook's results."""
    return run(FOLDER / f"{name}.xlsx", book(name), settings, (), ENGINE)


def zone_flow() -> float:
    """Five US gallons caught four times."""
    got = calculated(
        "zone-flow",
        {"bucket": "5 gal", "bucket_time": "25.1; 24.9; 25.4; 25.0", "emitter_count": "1720"},
    )
    print("Zone flow: a 5 gal bucket filled in 25.1, 24.9, 25.4 and 25.0 s.")
    gallons = convert(got["flow"], "L/min", "gpm")
    print(f"  flow            {got['flow']:.2f} L/min = {gallons:.2f} gpm")
    print(f"  catches         {got['bucket_check']}")
    print(f"  emitter count   {got['emitters_check']}")
    print(f"  injector        {got['injector_check']}")
    print(f"  rinse           {got['rinse_minutes']:.1f} min of clean water after feeding\n")
    return float(got["flow"])


def stock_tank(flow: float) -> None:
    """150 ppm N and 160 ppm K from potassium nitrate and calcium nitrate, at 1:100."""
    got = calculated(
        "stock-tank",
        {
            "flow": f"{flow:.4f} L/min",
            "ratio": "1:100",
            "tank": "200 L",
            "target_1": "160 ppm",
            "target_2": "150 ppm",
            "ec_water": "0.45 mS/cm",
            "ec_target": "1.90 mS/cm",
            "ec_measured": "2.02 mS/cm",
        },
    )
    print("Mixing card: 160 ppm K and 150 ppm N at 1:100, tank of 200 L (52.8 gal)")
    print(weighed("potassium nitrate 13.5-0-46", got["mass_1"], got["pounds_1"]))
    print(weighed("calcium nitrate 15.5-0-0", got["mass_2"], got["pounds_2"]))
    drawn = got["stock_per_hour"]
    print(f"  stock drawn     {drawn:.2f} L/h = {convert(drawn, 'L/h', 'gph'):.2f} gph")
    print(f"  a tank lasts    {got['hours_per_tank']:.2f} h of running")
    arrives = "  ".join(
        f"{element} {got[f'delivered_{element.lower()}']:.1f}"
        for element in ("N", "P", "K", "Ca", "Mg", "S")
    )
    print(f"  at the emitter  {arrives}  mg/L (ppm)")
    print(f"  meter           reads 2.02, should read 1.90 mS/cm: {got['meter_check']}")
    new = f"1:{got['new_ratio']:.1f} = {got['new_percent']:.3f} %"
    print(f"  set it to       {new}\n")


def acid() -> None:
    """What the well water's alkalinity takes."""
    got = calculated(
        "acid",
        {
            "alkalinity": "220 mg/L as CaCO3",
            "ph_now": "7.6",
            "ph_target": "5.8",
            "temperature": "14 degC",
            "acid": "nitric acid 60 %",
        },
    )
    print("Acid: well water of 220 mg/L as CaCO3 at pH 7.6 and 14 C, to pH 5.8, nitric acid 60 %")
    print(f"  add             {got['dose']:.0f} mL to 1,000 L of water ({CAUTION})")
    print(f"  strong acid     {got['need']:.2f} meq/L; {got['adds_n']:.0f} mg/L N comes with it\n")


def recipe() -> None:
    """A feed for the tomatoes from its targets, and the cards of its tanks."""
    targets = {"N": 190, "P": 40, "K": 230, "Ca": 160, "Mg": 45, "S": 60}
    rows = {f"targets_{place(element)}": f"{ppm} ppm" for element, ppm in targets.items()}
    water = {"water_alkalinity": "60 ppm", "ratio": "1:100"}
    got = calculated("recipe", {"recipe_name": "Three Alders, tomatoes", **rows, **water})
    wanted = "  ".join(f"{element} {ppm}" for element, ppm in targets.items())
    print(f"Recipe: from targets {wanted} ppm and the example's traces, at 1:100")
    print(f"  verdict         {got['overall']}")
    print(
        f"  expect          EC {got['ec_feed']:.2f} mS/cm, pH {got['feed_ph']:.1f} at the emitter"
    )
    print(f"  a fill costs    {got['cost_per_fill']:.2f} at the example's prices")
    for low in "abc":
        print(f"  card            {got[f'card_{low}']}: {got[f'card_{low}_verdict']}")
        for line, dose in zip(got[f"lines_{low}"], got[f"doses_{low}"], strict=True):
            if line:
                print(f"    [ ] {line:<38}{dose:>10}")
    print()


def place(element: str) -> int:
    """The row of an element among the targets."""
    return list(TARGETS).index(element) + 1


def at_the_pipe(flow: float) -> None:
    """One injector from choosing to proof; its nameplate, tests and wear are invented."""
    zone = {
        "zone_names": "both tunnels",
        "flows_from": f"{0.9 * flow:.4f}",
        "flows_to": f"{flow:.4f}",
        "pressures_there": "3",
        "pressures_needed": "1.5",
        "water_heats": "14",
    }
    print("Injector: from choosing to proof")
    print(f"  choose          {calculated('injector', zone)['choice_check']}")
    got = calculated(
        "commissioning",
        {"steps": "; ".join(["done"] * 18), "flow": f"{flow:.4f} L/min", "water": "20 L"}
        | {"stock": "181 mL", "ec_feed": "2.02 mS/cm"},
    )
    print(f"  first run       20 L of water drew 181 mL at 1:110: {got['dose_check']}")
    print(f"  first run       {got['overall']}")
    print(f"  arrival         {calculated('timing', {})['share_check']}")
    got = calculated("series", {"flow": f"{flow:.4f} L/min", "flow_low": ""})
    settings = ", ".join(f"1:{number:.0f}" for number in got["set_to"])
    print(f"  three on a line acid, calcium, phosphate at {settings}, EC {got['ec_feed']:.2f}")
    print(f"  three on a line {got['overall']}")
    got = calculated("proving", {})
    print(f"  16 weeks later  {got['steady_check']}")
    print(f"  set it to       1:{got['new_ratio']:.1f} = {got['new_percent']:.3f} % until then")
    got = calculated("upkeep", {"this_day": "2026-11-27"})
    print(f"  upkeep          {got['due_check']}\n")


def co_op() -> None:
    """The year's programs of an invented co-op of 200 members, in one line."""
    with tempfile.TemporaryDirectory() as tables:
        write_demo(Path(tables))
        done = price_coop(tables, FOLDER / "co-op", pool=True)
    print(f"Co-op: {'; '.join(said(done))}\n")


def weighed(what: str, grams: float, pounds: str) -> str:
    return f"  weigh           {grams:,.0f} g = {pounds} of {what}"


def prove() -> None:
    print("Proof: random entries through every engine, each cell compared with the Python engine.")
    with ThreadPoolExecutor() as pool:
        runs = list(pool.map(summed, ENGINES))
    print(table(runs))
    print(closing_line(runs))


def summed(name: str) -> EngineRun:
    """One engine's runs over all the workbooks, added up."""
    whole = EngineRun(name)
    quick = ENGINES[name].is_quick
    cases = QUICK_CASES if quick else SLOW_CASES
    for each in TEMPLATES if quick else CARD:
        found = verify(FOLDER / f"{each}.xlsx", book(each), [name], cases, edges=False)[0]
        whole.version, whole.stopped, whole.why = found.version, found.stopped, found.why
        whole.cases += found.cases
        whole.cells += found.cells
        whole.misses += found.misses
        whole.known += found.known
        whole.known_cases += found.known_cases
        whole.worst = max(whole.worst or 0.0, found.worst or 0.0)
    return whole


if __name__ == "__main__":
    main()
