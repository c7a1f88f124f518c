"""Tanks and feeds by lot, judged by the recipe and by PHREEQC, and a table of how they agree.

What PHREEQC finds counts where it is sure: clearly above saturation in more than a trace something
settles, clearly below nothing does, and between the two, or where its databases are not fit to
tell (phosphates of magnesium, manganese and zinc), the lot is open. Gas, ammonia and urea nitrate
are reckoned from amounts. All of it is made up; the lots are the same in every run.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from case_files import verdict_word
from chemistry import rows_by
from crystals_by_pitzer import crystals_in
from judged import feed_settings, tank_settings, verdict
from phreeqc_runs import RunFailed
from settling import Found, found_in
from tank_chemistry import FORMULAS, Portion, Tank, gram_molecule, water

SETTLES, CLEAR, OPEN = "settles", "clear", "open"
TRACE, LITTLE = 0.1, 0.25  # g/L: not worth a word; worth one
# How far from 0 an index is sure. Gypsum: phreeqc.dat and sit.dat differ by 0.1 to 0.2. Phosphates
# and lime hang on the pH, worked out within 0.4 in stocks; crystals on parameters at 25 degrees C.
GYPSUM, BY_PH, CRYSTAL = 0.15, 0.4, 0.08
HANGING = ("CaHPO4:2H2O", "Struvite", "Calcite", "Nesquehonite", "Smithsonite", "Rhodochrosite",
           "Siderite", "Cu(OH)2", "Zn(OH)2")  # fmt: skip
# minteq.v4.dat has these near 0 or above in any acid tank with their parts, where growers see
# nothing settle: they make a lot open from this pH on.
PHOSPHATES, FROM_PH = ("MgHPO4:3H2O", "MnHPO4", "Zn3(PO4)2:4H2O"), 5.5
BEYOND = ("calcium nitrate tetrahydrate", "magnesium nitrate hexahydrate")
# What a mole holds of strong acid, meq.
ACIDS = {"HNO3": 1, "H3PO4": 1, "H2SO4": 2, "HCl": 1, "CO(NH2)2.H3PO4": 1}
GAS, UREA_NITRATE = 24, 123.07  # L/mol at 20 degrees C; g/mol of urea nitrate
WATERS = (
    "", "", "ca 2; mg 0.5; na 2; k 0; s 0; cl 2; n 0; alkalinity 10; ph 6.8",
    "ca 60; mg 12; alkalinity 150; ph 7.4", "ca 120; mg 30; alkalinity 300; ph 7.6",
    "ca 200; mg 40; alkalinity 400; ph 7.8", "ca 300; mg 60; s 250; alkalinity 150; ph 7.3",
    "ca 10; mg 5; alkalinity 400; ph 8.3",
)  # fmt: skip
# kg (or L) in 100 L at most, about what dissolves at 10 degrees C.
CALCIUM = {"calcium nitrate 15.5-0-0": 60, "calcium nitrate tetrahydrate": 60,
           "calcium chloride dihydrate": 40}  # fmt: skip
WITH_CALCIUM = {
    "potassium nitrate": 20, "ammonium nitrate": 50, "magnesium nitrate hexahydrate": 60,
    "potassium chloride": 28, "urea": 50, "nitric acid 60 %": 5,
}  # fmt: skip
WITHOUT = {
    "magnesium sulfate heptahydrate": 60, "monopotassium phosphate": 17, "potassium sulfate": 9,
    "monoammonium phosphate": 26, "potassium nitrate": 20, "ammonium sulfate": 50,
    "ammonium nitrate": 50, "potassium chloride": 28, "urea": 50, "boric acid": 1,
    "potassium magnesium sulfate": 20, "manganese sulfate monohydrate": 1,
    "zinc sulfate heptahydrate": 1, "phosphoric acid 85 %": 5, "nitric acid 60 %": 5,
    "magnesium nitrate hexahydrate": 50, "diammonium phosphate": 20,
}  # fmt: skip
ALKALIS = {"potassium bicarbonate": 15, "potassium carbonate": 20, "diammonium phosphate": 30}
# Growers' daily stocks, kg in 100 L from, to: common practice, no source.
DAILY_A = {
    "calcium nitrate 15.5-0-0": (5, 15), "potassium nitrate": (1, 6), "ammonium nitrate": (0.5, 3),
    "magnesium nitrate hexahydrate": (1, 5), "iron DTPA 11 %": (0.1, 0.3),
}  # fmt: skip
DAILY_B = {
    "potassium nitrate": (1, 5), "monopotassium phosphate": (1, 3), "potassium sulfate": (0.5, 3.5),
    "magnesium sulfate heptahydrate": (2, 8), "monoammonium phosphate": (0.5, 2),
    "boric acid": (0.01, 0.03), "manganese sulfate monohydrate": (0.005, 0.03),
    "zinc sulfate heptahydrate": (0.005, 0.015), "copper sulfate pentahydrate": (0.001, 0.004),
}  # fmt: skip
DAILY_WATERS = ("", "ca 2; mg 0.5; na 2; k 0; s 0; cl 2; n 0; alkalinity 10; ph 6.8",
                "ca 60; mg 12; alkalinity 100; ph 7.2")  # fmt: skip


@dataclass(frozen=True)
class Tried:
    """A lot: what it was, what is so, what the recipe says."""

    lot: str
    truth: str
    why: str
    verdict: str
    daily: bool = False

    @property
    def word(self) -> str:
        return verdict_word(self.verdict)


# tanks


def drawn_tank(lot: random.Random) -> Tank:
    """One to five products of a kind that might be put together, and some that should not."""
    kind = lot.random()
    if kind < 0.35:
        names = {**dict([lot.choice([*CALCIUM.items()])]), **_some(lot, WITH_CALCIUM, 0, 3)}
    elif kind < 0.75:
        names = _some(lot, WITHOUT, 1, 5)
    elif kind < 0.87:
        names = {**_some(lot, CALCIUM, 1, 1), **_some(lot, WITHOUT, 1, 2)}
    else:
        names = {**_some(lot, ALKALIS, 1, 1), **_some(lot, CALCIUM | WITHOUT, 0, 2)}
    portions = tuple(_amount(lot, name, most) for name, most in names.items())
    return Tank(portions, 100, lot.choice((5, 10, 15, 20, 25, 30)), water(lot.choice(WATERS)))


def daily_tank(lot: random.Random) -> Tank:
    """What growers mix every week."""
    if lot.random() < 0.4:
        names = ["calcium nitrate 15.5-0-0", *lot.sample(sorted(set(DAILY_A)), lot.randint(0, 3))]
        bounds = DAILY_A
    else:
        names = lot.sample(sorted(DAILY_B), lot.randint(2, 7))
        bounds = DAILY_B
    portions = tuple(
        Portion(name, round(lot.uniform(*bounds[name]), 3), "kg") for name in dict.fromkeys(names)
    )
    return Tank(portions, 100, lot.choice((10, 15, 20, 25)), water(lot.choice(DAILY_WATERS)))


def _some(lot: random.Random, pool: Mapping[str, float], least: int, most: int) -> dict[str, float]:
    return {name: pool[name] for name in lot.sample(sorted(pool), lot.randint(least, most))}


def _amount(lot: random.Random, name: str, most: float) -> Portion:
    """From a hundredth of what dissolves to a little more, each size as likely."""
    amount = most * 10 ** lot.uniform(-2, 0.12)
    return Portion(name, float(f"{amount:.3g}"), "L" if "acid " in name and "%" in name else "kg")


def truth_of_tank(tank: Tank) -> tuple[str, str]:
    """Whether something settles or reacts in it, and what. Raises: RunFailed without a balance."""
    found, crystals = found_in(tank), crystals_in(tank)
    for salt in BEYOND:
        # Open at most, if it is near: the parameters of these nitrates end at 2 mol/kg.
        crystals[salt] = min(CRYSTAL, crystals.get(salt, -9))
    hazards = hazards_of(tank, found)
    bad = [*_settling(found), *(s for s, index in crystals.items() if index > CRYSTAL)]
    bad += [name for name, (amount, _, much) in hazards.items() if amount > much]
    if bad:
        return SETTLES, ", ".join(bad)
    doubtful = [*_doubtful(found), *(s for s, index in crystals.items() if index > -CRYSTAL)]
    doubtful += [name for name, (amount, little, _) in hazards.items() if amount > little]
    return (OPEN, ", ".join(doubtful)) if doubtful else (CLEAR, "")


def _settling(found: Found) -> list[str]:
    sure = {"Gypsum": GYPSUM, **dict.fromkeys(HANGING, BY_PH)}
    return [
        solid
        for solid, margin in sure.items()
        if found.indices.get(solid, -9) > margin and found.most[solid] > LITTLE
    ]


def _doubtful(found: Found) -> list[str]:
    margins = {"Gypsum": GYPSUM, **dict.fromkeys(HANGING, BY_PH)}
    if found.ph > FROM_PH:
        margins |= dict.fromkeys(PHOSPHATES, 0)
    return [
        solid
        for solid, margin in margins.items()
        if found.indices.get(solid, -9) > -margin and found.most[solid] > TRACE
    ]


def hazards_of(tank: Tank, found: Found) -> dict[str, tuple[float, float, float]]:
    """Hazard -> its amount, and what is little and what is much of it."""
    brought = tank.brought
    acid = sum(
        ACIDS.get(FORMULAS[each.product][0], 0)
        * each.grams
        / gram_molecule(each.product)
        / tank.litres
        for each in tank.portions
    )
    nitric = sum(
        each.grams / gram_molecule(each.product) / tank.litres
        for each in tank.portions
        if FORMULAS[each.product][0] == "HNO3"
    )
    # Acid phosphates take the carbon dioxide out of bicarbonate too.
    sour = acid + (brought.get("P", 0) if found.ph < 7 else 0)
    nitrate = min(nitric, brought.get("urea", 0)) * UREA_NITRATE
    return {
        "gas, L/L": (min(sour, brought.get("C(4)", 0)) * GAS, 0.3, 1),
        "ammonia, g/L": (found.ammonia * 17.03 / 1000, 0.3, 2.5),
        "urea nitrate, g/L": (nitrate, 25, 130),
        "acid, mol/L": (acid, 1.8, 99),
        **{
            f"{name}, % of what dissolves": (_of_solubility(tank, name), 88, 108)
            for name in ("urea", "boric acid")
        },
    }


def _of_solubility(tank: Tank, product: str) -> float:
    """Grams of it in a kilogram of the water there, in percent of the handbook's; of molecules,
    which salts change little."""
    row = rows_by("solubility", "salt")[product]
    grams = sum(each.grams for each in tank.portions if each.product == product) / tank.litres
    low = 10 * int(tank.celsius // 10)
    part = (tank.celsius - low) / 10
    limit = float(row[f"at_{low}"]) * (1 - part) + float(row[f"at_{min(40, low + 10)}"]) * part
    return 100 * grams / tank.water_kg / limit


# feeds


@dataclass(frozen=True)
class Feed:
    """Tanks of 100 L at 1:100 and the water that they go into."""

    tanks: Mapping[str, tuple[Portion, ...]]
    water: Mapping[str, float]
    celsius: float

    @property
    def whole(self) -> Tank:
        portions = tuple(each for tank in self.tanks.values() for each in tank)
        return Tank(portions, 10_000, self.celsius, self.water)

    @property
    def acid(self) -> float:
        """meq of acid in a litre of feed, less what diammonium phosphate takes."""
        held = {**ACIDS, "(NH4)2HPO4": -1, "KHCO3": -1, "K2CO3": -2}
        return sum(
            held.get(FORMULAS[each.product][0], 0) * each.grams / gram_molecule(each.product) / 10
            for each in self.whole.portions
        )

    @property
    def left(self) -> float:
        """Alkalinity left, meq/L."""
        return self.water["alkalinity"] / 50.04 - self.acid


def drawn_feed(lot: random.Random) -> Feed:
    """A recipe of tanks A and B, with acid in C in seven of ten."""
    tanks = {
        "A": (Portion("calcium nitrate 15.5-0-0", round(lot.uniform(1, 12), 2), "kg"),),
        "B": tuple(
            Portion(name, round(lot.uniform(*DAILY_B[name]), 3), "kg")
            for name in lot.sample(sorted(DAILY_B), lot.randint(1, 5))
        ),
    }
    report = water(lot.choice(WATERS))
    report["ph"] = round(lot.uniform(6.6, 8.4), 2)
    if lot.random() < 0.2:
        tanks["B"] += (Portion("diammonium phosphate", round(lot.uniform(0.2, 3), 2), "kg"),)
    if lot.random() < 0.7:
        acid = lot.choice(("nitric acid 60 %", "phosphoric acid 85 %", "sulfuric acid 35 %"))
        litre = Portion(acid, 1, "L")
        brings = ACIDS[FORMULAS[acid][0]] * litre.grams / gram_molecule(acid) / 10
        amount = lot.uniform(0, 1.4) * report["alkalinity"] / 50.04 / brings
        tanks["C"] = (Portion(acid, max(0.01, round(amount, 2)), "L"),)
    return Feed(tanks, report, lot.choice((5, 10, 15, 20, 25, 30, 35)))


def truth_of_feed(feed: Feed) -> dict[str, tuple[str, str]]:
    """By verdict: whether lime or phosphate comes out, and whether the acid is too much."""
    found = found_in(feed.whole)
    margins = {"Calcite": 0.1, "CaHPO4:2H2O": 0.25}
    high = [solid for solid, margin in margins.items() if found.indices.get(solid, -9) > margin]
    near = [solid for solid, margin in margins.items() if found.indices.get(solid, -9) > -margin]
    clear = (SETTLES, ", ".join(high)) if high else (OPEN, ", ".join(near)) if near else (CLEAR, "")
    sour = found.ph < 4.4 or feed.left < -0.05
    sound = found.ph > 4.7 and (feed.acid <= 0 or feed.left > 0.05)
    acidity = (SETTLES, f"pH {found.ph:.2f}") if sour else (CLEAR if sound else OPEN, "")
    return {"feed_clear": clear, "feed_acidity": acidity}


# both


def tried_tanks(seed: int, count: int, daily: int) -> list[Tried]:
    """Random tanks, then growers' daily ones. Where PHREEQC finds no pH, another is drawn."""
    lot = random.Random(seed)
    makers = [drawn_tank] * count + [daily_tank] * daily
    found: list[Tried] = []
    failed = 0
    while len(found) < len(makers):
        make = makers[len(found)]
        tank = make(lot)
        try:
            truth, why = truth_of_tank(tank)
        except RunFailed as problem:
            failed += 1
            if failed > len(makers) / 10 or "no balance" not in str(problem):
                raise
            continue
        said = verdict(tank_settings(tank), "clear_a")
        found.append(Tried(_told(tank), truth, why, said, make is daily_tank))
    return found


def tried_feeds(seed: int, count: int) -> list[Tried]:
    """Random feeds, each with its two verdicts."""
    lot = random.Random(seed)
    found: list[Tried] = []
    for _ in range(count):
        feed = drawn_feed(lot)
        settings = feed_settings(feed.tanks, feed.water, feed.celsius)
        for name, (truth, why) in truth_of_feed(feed).items():
            said = verdict(settings, name)
            found.append(Tried(f"{name}: {_told(feed.whole)}", truth, why, said))
    return found


def _told(tank: Tank) -> str:
    each = "; ".join(f"{p.product} {p.amount:g} {p.unit}" for p in tank.portions)
    report = "; ".join(f"{name} {value:g}" for name, value in tank.water.items())
    return f"{each} at {tank.celsius:g} degC in {report}"


COLUMNS = (
    "lots", "right pass", "right stop", "caution", "open", "false pass", "false stop",
    "daily alarmed",
)  # fmt: skip
JUDGED = {
    ("pass", CLEAR): "right pass", ("pass", SETTLES): "false pass", ("pass", OPEN): "open",
    ("stop", CLEAR): "false stop", ("stop", SETTLES): "right stop", ("stop", OPEN): "open",
}  # fmt: skip


def counted(lots: Iterable[Tried]) -> Counter[str]:
    """How often the recipe was right, and how it was wrong; "open" where nobody is sure."""
    count: Counter[str] = Counter()
    for each in lots:
        count["lots"] += 1
        count[JUDGED.get((each.word, each.truth), each.word)] += 1
        count["daily alarmed"] += each.daily and each.truth == CLEAR and each.word != "pass"
    return count


def table(rows: Mapping[str, Counter[str]]) -> list[str]:
    """The table as the README keeps it."""
    head = [f"| | {' | '.join(COLUMNS)} |", "|---" * (len(COLUMNS) + 1) + "|"]
    body = [
        f"| {name} | {' | '.join(str(count[column]) for column in COLUMNS)} |"
        for name, count in rows.items()
    ]
    return head + body
