"""The season workbook solved: the cheapest products that meet its plan in every week, and their
mixes.

One linear problem holds the whole season: an amount of each product in each week, and of each the
sum over the season, which carries the price, so that the range of a price is that of the product.
Where more products would be cheapest than the workbook has rows for, whole numbers choose among
them. What shares a mix is judged by the recipe workbook's rules, each product as strong as it gets
in any week, and what the season workbook says of the outcome has the last word.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from itertools import product as every
from pathlib import Path
from typing import Any

from tanksheet.errors import WorkbookProblem
from tanksheet.recalc import Session
from tanksheet.recipes import season_plan
from tanksheet.recipes.blend import Blend, Limit, Part
from tanksheet.recipes.highs import INFEASIBLE, OPTIMAL, UNPROVEN, Model, solved
from tanksheet.recipes.judge import LETTERS, Judge, kind
from tanksheet.recipes.season_plan import Plan
from tanksheet.recipes.solution import Solution
from tanksheet.recipes.solving import cheapest
from tanksheet.recipes.workbook import Wish, stops_of
from tanksheet.sheets.book import Book
from tanksheet.sheets.present import present
from tanksheet.sheets.run import default_names
from tanksheet.sheets.target import Target as File
from tanksheet.templates.season.weeks_working import NUTRIENTS, PRODUCTS

USUAL_PERCENT = 5.0  # of the plan, in each week; half of what the workbook takes for a pass
INSIDE = 1e-6  # share of a tolerance that is left, so that rounding does not cross it
MOST_ROUNDS = 60
TRACE_KG = 1e-9  # of a product in a season; less is the solver's rounding
WORSE = ("pass", "not checked", "caution")  # what mixes may be, the best first
PASSED, CAUTION = 1, 2  # the last of these that is taken


@dataclass(frozen=True)
class SolvedSeason:
    """Kilograms for the season in ``solution`` and by week in ``weeks``; the workbook's settings
    and stops."""

    solution: Solution
    weeks: Mapping[str, Sequence[float]]
    settings: Mapping[str, Any]
    stops: Mapping[str, str]


def solve_season(session: Session, book: Book, wish: Wish) -> SolvedSeason:
    """Solves the plan in an open season workbook; the file itself is not written to.

    Raises: WorkbookProblem for entries that are unusable, a plan that lacks something, a product
    without a price, and wishes that a season does not know.
    """
    file = File.of(session.package, book)
    now = present(session, file, {}, [])
    now.refuse_bad()
    _refuse_unknown(file.path, wish)
    plan = season_plan.read(book, now, wish)
    percent = USUAL_PERCENT if wish.percent is None else wish.percent
    most = min(wish.most_products or PRODUCTS, PRODUCTS)
    for worst in (PASSED, CAUTION):
        answer = _search(session, file, plan, (percent, most, worst, LETTERS[: wish.tanks]))
        if answer.settings:
            break
    return answer


def _search(
    session: Session, file: File, plan: Plan, how: tuple[float, int, int, str]
) -> SolvedSeason:
    """The cheapest season whose mixes are judged no worse than wanted; product sets that cannot be
    mixed so are barred, one after the other."""
    percent, most, worst, letters = how
    barred: list[frozenset[str]] = []
    while len(barred) < MOST_ROUNDS:
        some = _chosen(plan, percent, most, barred)
        if some is None:
            break
        found = _with_ranges(plan, percent, some, most, barred)
        names, verdict = _used(plan, found), _verdicts(plan, found)
        for tanks in _mixes(names, verdict, letters, worst, plan.with_calcium):
            settings = season_plan.settings(plan, found.amounts, tanks)
            stops = stops_of(present(session, file, settings, default_names(file)), file)
            if not any(name.startswith("clear_") for name in stops):
                told = _told(plan, found, tanks, percent, barred)
                return SolvedSeason(told, _by_week(plan, found.amounts), settings, stops)
        barred += _cannot(names, verdict, letters, worst)
    return SolvedSeason(_nothing(plan, percent, most, barred), {}, {}, {})


def _refuse_unknown(path: Path, wish: Wish) -> None:
    asked = {"--target": wish.targets, "--least": wish.least, "--step": wish.step}
    for option, given in {**asked, "--whole-packs": wish.whole_packs}.items():
        if given:
            raise WorkbookProblem(
                f"{path.name} is a season, whose targets stand on its sheet Plan and whose amounts "
                f"are for whole weeks; leave out {option}"
            )


# the problem


def _name(product: str, week: int) -> str:
    return f"{product}, week {week + 1}"


def _blend(plan: Plan, percent: float) -> Blend:
    """Each product's sum over the season, with its price, and its amount in each week."""
    parts = [Part(each.name, each.price_kg) for each in plan.candidates]
    limits = []
    for each in plan.candidates:
        weekly = {_name(each.name, week): -1.0 for week in plan.weeks}
        parts += [Part(name, 0.0, upper=most) for name, most in zip(weekly, each.most, strict=True)]
        limits.append(Limit(f"sum of {each.name}", {each.name: 1.0, **weekly}, 0.0, 0.0))
    return Blend(tuple(parts), (*limits, *_plan_limits(plan, percent)))


def _plan_limits(plan: Plan, percent: float) -> Iterator[Limit]:
    """What each week is to get of each nutrient, and the season as a whole."""
    share = percent / 100 * (1 - INSIDE)
    for i, nutrient in enumerate(NUTRIENTS):
        holds = {each.name: each.percents[i] / 100 for each in plan.candidates if each.percents[i]}
        asked, needs = plan.asked[i], plan.needs[i]
        for week in plan.weeks:
            if asked[week] > 0:
                off = asked[week] * share
                terms = {_name(name, week): held for name, held in holds.items()}
                low, high = max(0.0, needs[week] - off), needs[week] + off
                yield Limit(f"{nutrient}, week {week + 1}", terms, low, high)
        whole = math.fsum(asked)
        if whole > 0 and any(asked[week] <= 0 for week in plan.weeks):
            # In weeks that do not ask for it, what other products bring of it counts too.
            off, need = whole * share, math.fsum(needs)
            yield Limit(f"{nutrient}, season", holds, max(0.0, need - off), need + off)


def _with_ranges(
    plan: Plan, percent: float, some: frozenset[str], most: int, barred: Sequence[frozenset[str]]
) -> Solution:
    """The season of the chosen products, with what prices are worth: among all products where
    nothing was barred that it would use, else among the chosen ones."""
    alone = frozenset().union(*(group for group in barred if len(group) == 1))
    others = plan.only(frozenset(each.name for each in plan.candidates) - alone)
    found = cheapest(_blend(others, percent))
    used = frozenset(_used(others, found))
    if len(used) <= most and not any(each <= used for each in barred):
        return found
    return cheapest(_blend(plan.only(some), percent))


def _chosen(
    plan: Plan, percent: float, most: int, barred: Sequence[frozenset[str]]
) -> frozenset[str] | None:
    """Which products: those of the cheapest season with at most so many, and none of the sets that
    are barred; None where there is no such season."""
    blend = _blend(plan, percent)
    columns = {part.name: j for j, part in enumerate(blend.parts)}
    model = Model()
    for part in blend.parts:
        model.column(part.cost, part.lower, part.upper)
    for limit in blend.limits:
        terms = {columns[name]: value for name, value in limit.terms.items()}
        model.row(terms, limit.lower, limit.upper)
    found = solved(model)
    if found.status != OPTIMAL:
        return None
    names = [each.name for each in plan.candidates]
    used = frozenset(name for name in names if found.columns[columns[name]] > TRACE_KG)
    if len(used) <= most and not any(each <= used for each in barred):
        return used
    switches = {}
    for each in plan.candidates:
        switches[each.name] = model.column(0.0, 0.0, 1.0, whole=True)
        for week, room in zip(plan.weeks, plan.room(each, percent), strict=True):
            terms = {columns[_name(each.name, week)]: 1.0, switches[each.name]: -room}
            model.row(terms, -math.inf, 0.0)
    model.row(dict.fromkeys(switches.values(), 1.0), 0.0, most)
    for some in barred:  # they cannot all be mixed, with others still less
        model.row({switches[name]: 1.0 for name in some}, 0.0, len(some) - 1)
    found = solved(model)
    if found.status != OPTIMAL:
        return None
    return frozenset(name for name in names if found.columns[columns[name]] > TRACE_KG)


# the mixes


Verdicts = Callable[[str, frozenset[str]], int]


def _mixes(
    names: Sequence[str], verdict: Verdicts, letters: str, least: int, first: frozenset[str]
) -> Iterator[dict[str, str]]:
    """Ways to part products among the mixes that the rules judge no worse than ``least``: the best
    first, then the fewest mixes, then with ``first`` (those with calcium) in A."""
    ways = []
    for tanks in every(letters, repeat=len(names)):
        held = {
            letter: frozenset(n for n, t in zip(names, tanks, strict=True) if t == letter)
            for letter in letters
        }
        worst = max((verdict(each, some) for each, some in held.items() if some), default=0)
        if worst <= least:
            ways.append((worst, len(set(tanks)), -len(held[letters[0]] & first), tanks))
    for *_, tanks in sorted(ways):
        yield dict(zip(names, tanks, strict=True))


def _cannot(
    names: Sequence[str], verdict: Verdicts, letters: str, least: int
) -> list[frozenset[str]]:
    """The smallest sets of products that these mixes cannot hold, as much as there is of each."""
    for size in range(1, len(names)):
        groups = [
            frozenset(group)
            for group in combinations(names, size)
            if not any(_mixes(group, verdict, letters, least, frozenset()))
        ]
        if groups:
            return groups
    return [frozenset(names)]


def _used(plan: Plan, found: Solution) -> list[str]:
    return [each.name for each in plan.candidates if found.amounts.get(each.name, 0) > TRACE_KG]


def _verdicts(plan: Plan, found: Solution) -> Verdicts:
    """What the rules say of a mix that holds some products, as a place in ``WORSE``."""
    judge = Judge(plan.water, plan.temperature)

    @functools.cache
    def of_strengths(held: frozenset[tuple[str, float]]) -> int:
        word = kind(judge.verdicts([dict(held)])[0]) if held else "not checked"
        return WORSE.index(word) if word in WORSE else len(WORSE)

    def verdict(letter: str, some: frozenset[str]) -> int:
        strengths = {}
        for each in plan.candidates:
            if each.name in some and each.chemistry:
                weekly = (
                    found.amounts[_name(each.name, week)] / plan.events[week] for week in plan.weeks
                )
                strengths[each.chemistry] = max(weekly) * 1000 / plan.litres[letter]
        return of_strengths(frozenset(strengths.items()))

    return verdict


# what is told


def _by_week(plan: Plan, amounts: Mapping[str, float]) -> dict[str, list[float]]:
    """Kilograms in each week of the plan, 0 in those that ask for nothing."""
    names = [each.name for each in plan.candidates if amounts.get(each.name, 0) > TRACE_KG]
    return {
        name: [amounts.get(_name(name, week), 0.0) for week in range(len(plan.events))]
        for name in names
    }


def _told(
    plan: Plan,
    found: Solution,
    tanks: Mapping[str, str],
    percent: float,
    barred: Sequence[frozenset[str]],
) -> Solution:
    """The same by product, without what only the problem's own rows are."""
    names = {each.name for each in plan.candidates}
    plain = {f"sum of {name}" for name in names}
    amounts = {each.name: found.amounts.get(each.name, 0.0) for each in plan.candidates}
    unjudged = [e.name for e in plan.candidates if amounts[e.name] > 0 and not e.chemistry]
    notes = [f"amounts are kilograms for the season, each week within {percent:g} % of its plan"]
    notes += [f"not checked: nobody judged what {', '.join(unjudged)} does in a mix"] * bool(
        unjudged
    )
    notes += [
        f"no mixes pass with so much of {', '.join(sorted(some))}; not proven for less of it"
        for some in barred
    ]
    notes += plan.notes
    return replace(
        found,
        amounts=amounts,
        tanks={name: tanks[name] for name in tanks},
        delivered={k: v for k, v in found.delivered.items() if k not in plain},
        binding=tuple(name for name in found.binding if name not in plain),
        price_of_one_more=_prices(plan, found),
        price_span={k: v for k, v in found.price_span.items() if k not in plain},
        reduced_costs={k: v for k, v in found.reduced_costs.items() if k in names},
        price_ranges={k: v for k, v in found.price_ranges.items() if k in names},
        kept_apart=tuple(tuple(sorted(some)) for some in barred),
        notes=(*found.notes, *notes),
    )


def _prices(plan: Plan, found: Solution) -> dict[str, float]:
    """What one more kilogram of a nutrient costs: spread over the weeks as the plan is, and in each
    week."""
    prices: dict[str, float] = {}
    for nutrient, asked in zip(NUTRIENTS, plan.asked, strict=True):
        whole = math.fsum(asked)
        weekly = {week: f"{nutrient}, week {week + 1}" for week in plan.weeks if asked[week] > 0}
        known = {week: found.price_of_one_more[name] for week, name in weekly.items()}
        if whole > 0:
            of_season = found.price_of_one_more.get(f"{nutrient}, season", 0.0)
            spread = math.fsum(price * asked[week] for week, price in known.items()) / whole
            prices[nutrient] = spread + of_season
        prices |= {weekly[week]: price for week, price in known.items()}
    return prices


def _nothing(plan: Plan, percent: float, most: int, barred: Sequence[frozenset[str]]) -> Solution:
    """Why there is no season: what conflicts, or that nothing cheapest can be mixed."""
    found = cheapest(_blend(plan, percent))
    if found.status != OPTIMAL:
        names = {f"sum of {each.name}" for each in plan.candidates}
        left = tuple(name for name in found.conflict if name not in names)
        return replace(found, conflict=left, notes=(*found.notes, *plan.notes))
    if barred:  # at the amounts that were cheapest; with others the rules may pass them
        word = f"no season whose mixes pass was found in {len(barred)} tries; there may be one"
        apart = tuple(tuple(sorted(some)) for some in barred)
        return Solution(UNPROVEN, kept_apart=apart, notes=(word, *plan.notes))
    word = f"the plan can be met, but not with {most} products"
    return Solution(INFEASIBLE, notes=(word, *plan.notes))
