"""Prices a whole co-op: tables in, statements, order, rejects and a summary out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import closing
from pathlib import Path

import numpy as np

from tanksheet.batch import masters, money, outputs, programs
from tanksheet.batch.cells import Numbers, cells_for
from tanksheet.batch.folder import tables
from tanksheet.batch.layout import BatchProblem, Counts
from tanksheet.batch.masters import Prices
from tanksheet.batch.money import Bill, Use
from tanksheet.batch.priced import Priced
from tanksheet.batch.programs import Amounts, Known
from tanksheet.batch.progress import Bar
from tanksheet.batch.rejects import Rejects
from tanksheet.batch.summary import summary
from tanksheet.batch.table import Table
from tanksheet.xlsx.writing import replace_files


def price_coop(
    folder: str | Path,
    out: str | Path,
    *,
    pool: bool = False,
    scenario: str = "",
    cluster: str = "",
) -> Priced:
    """Prices the programs of a co-op and writes its statements, order, rejects and summary.

    ``folder`` holds the tables ``members``, ``blocks``, ``products``, ``prices`` and ``programs``
    as .csv or .parquet, or is a workbook with a sheet of each (``tanksheet.batch.layout`` lists
    their columns). Into ``out`` go ``statements.csv`` (member, product, used_kg, packs, cost),
    ``order.csv`` (product, used_kg, packs, left_over_kg, cost), ``rejects.csv`` (file, row, column,
    value, reason) and ``summary.xlsx``; files of those names are replaced, all or none.

    With ``pool`` packs are rounded up once for the co-op and cost is shared by use; else for each
    member. ``scenario`` names the prices. ``cluster`` is the address of a Dask scheduler, which
    must see the folder under the same path.

    A bad row is rejected with its reason, and the rest goes on.
    Raises: TanksheetError, in one line, for what cannot be used at all; nothing is written then.
    """
    with tables(Path(folder)) as found:
        return _Run(found, Path(out), pool, scenario, cluster).price()


class _Run:
    def __init__(
        self, found: dict[str, Table], out: Path, pool: bool, scenario: str, cluster: str
    ) -> None:
        self.tables, self.out = found, out
        self.pool, self.scenario, self.cluster = pool, scenario, cluster
        self.counts: dict[str, Counts] = {}

    def price(self) -> Priced:
        with closing(Rejects(_folder_near(self.out))) as rejects:
            known, prices, names = self._masters(rejects)
            places, grains = self._programs(known, rejects)
            used = money.use(places, grains, len(known.products))
            made = [known.made[name] for name in known.products]
            mine = money.named(prices.of(self.scenario), known.products)
            owed = money.bill(used, made, mine, self.pool)
            done = self._told(known, prices, used, owed, rejects)
            files: dict[str, Iterable[bytes]] = {
                "statements.csv": [outputs.statements(used, owed, known.members, known.products)],
                "order.csv": [outputs.order(used, owed, made, known.products)],
                "rejects.csv": rejects.pieces(),
                "summary.xlsx": [summary(done, used, owed, known, names)],
            }
            self.out.mkdir(parents=True, exist_ok=True)
            replace_files({self.out / name: content for name, content in files.items()})
        return done

    def _masters(self, rejects: Rejects) -> tuple[Known, Prices, dict[str, str]]:
        """What the programs' rows may name, the prices, and the members' names."""
        members = masters.members(self.tables["members"])
        blocks = masters.blocks(self.tables["blocks"], members)
        products = masters.products(self.tables["products"])
        prices = masters.prices(self.tables["prices"], products)
        self._refuse_unknown_scenario(prices)
        for name, master in zip(
            ("members", "blocks", "products", "prices"),
            (members, blocks, products, prices.master),
            strict=True,
        ):
            file = self.tables[name].file
            rejects.add(file, master.rejects)
            self.counts[file] = master.counts
        priced = set(prices.of(self.scenario))
        known = programs.known(members, blocks, products, priced, self.scenario)
        return known, prices, members.rows

    def _refuse_unknown_scenario(self, prices: Prices) -> None:
        named = [each for each in prices.scenarios if each]
        file, listed = self.tables["prices"].file, ", ".join(named)
        if self.scenario and self.scenario not in named:
            said = f"there are {listed}" if named else "it has none"
            raise BatchProblem(f"{file}: there is no scenario {self.scenario!r}; {said}")
        if named and not self.scenario and "" not in prices.scenarios:
            raise BatchProblem(f"{file}: every price has a scenario; say --scenario: {listed}")

    def _programs(self, known: Known, rejects: Rejects) -> tuple[Numbers, Numbers]:
        table = self.tables["programs"]
        counts = self.counts[table.file] = Counts()
        cells = cells_for(len(known.members), len(known.products))
        bar = Bar("pricing", table.size)
        try:
            for amounts in self._amounts(table, known):
                cells.add(amounts.places, amounts.grains)
                rejects.add(table.file, amounts.rejects)
                counts.add(amounts.counts)
                bar.reach(amounts.done)
        finally:
            bar.close()
        return cells.sums()

    def _amounts(self, table: Table, known: Known) -> Iterator[Amounts]:
        if self.cluster:
            from tanksheet.batch.cluster import amounts_on

            return amounts_on(self.cluster, table, known)
        return (programs.amounts(rows, known) for rows in table.rows())

    def _told(
        self, known: Known, prices: Prices, used: Use, owed: Bill, rejects: Rejects
    ) -> Priced:
        made = [known.made[name] for name in known.products]
        costs = {
            name: money.cost_at(used, owed, prices.of(name), known.products, self.pool)
            for name in prices.scenarios
        }
        mine = money.named(prices.of(self.scenario), known.products)
        apart = money.bill(used, made, mine, False).total if self.pool else owed.total
        pooled = owed.total if self.pool else money.pooled_cost(used, made, mine)
        return Priced(
            self.out,
            self.counts,
            rejects.reasons,
            len(np.unique(used.members)),
            sum(len(group) > 0 for group in used.groups),
            sum(owed.order_packs),
            owed.total,
            prices.currency,
            self.scenario,
            self.pool,
            apart,
            pooled,
            costs,
        )


def _folder_near(out: Path) -> Path:
    """The folder that results go to, or the nearest above it that is there."""
    if out.exists() and not out.is_dir():
        raise BatchProblem(f"{out}: this is a file; --out names a folder")
    return next(each for each in (out, *out.absolute().parents) if each.is_dir())
