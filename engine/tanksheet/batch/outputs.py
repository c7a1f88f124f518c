"""The files that come out: statements and order as CSV text, with every digit of the amounts."""

from __future__ import annotations

from collections.abc import Sequence

import polars as pl

from tanksheet.batch.cells import Numbers
from tanksheet.batch.layout import GRAINS
from tanksheet.batch.masters import Product
from tanksheet.batch.money import Bill, Use
from tanksheet.batch.priced import Priced

DIGITS = len(str(GRAINS)) - 1
FILES = ("statements.csv", "order.csv", "rejects.csv", "summary.xlsx")


def kilograms(grains: int) -> str:
    """Grains as kilograms, to the last digit and without needless noughts."""
    whole, part = divmod(grains, GRAINS)
    return f"{whole}.{part:0{DIGITS}}".rstrip("0").rstrip(".")


def money(cents: int) -> str:
    """Cents as money with two digits behind the point."""
    return f"{cents // 100}.{cents % 100:02}"


def _kilograms(grains: Numbers) -> pl.Expr:
    whole = pl.lit(pl.Series(grains // GRAINS)).cast(pl.String)
    part = pl.lit(pl.Series(grains % GRAINS)).cast(pl.String).str.zfill(DIGITS)
    return (whole + "." + part).str.strip_chars_end("0").str.strip_chars_end(".")


def _money(cents: Numbers) -> pl.Expr:
    whole = pl.lit(pl.Series(cents // 100)).cast(pl.String)
    return whole + "." + pl.lit(pl.Series(cents % 100)).cast(pl.String).str.zfill(2)


def statements(used: Use, owed: Bill, members: Sequence[str], products: Sequence[str]) -> bytes:
    """One row for each member and product, in order of both."""
    frame = pl.select(
        member=pl.lit(pl.Series(members, dtype=pl.String)[used.members]),
        product=pl.lit(pl.Series(products, dtype=pl.String)[used.products]),
        used_kg=_kilograms(used.grains),
        packs=pl.lit(pl.Series(owed.packs)),
        cost=_money(owed.cents),
    )
    return frame.write_csv().encode()


def order(used: Use, owed: Bill, made: Sequence[Product], products: Sequence[str]) -> bytes:
    """One row for each product that somebody uses."""
    rows = [
        (
            products[at],
            kilograms(used.sums[at]),
            str(owed.order_packs[at]),
            kilograms(left_over(owed.order_packs[at], made[at], used.sums[at])),
            money(owed.order_cents[at]),
        )
        for at in range(len(made))
        if len(used.groups[at])
    ]
    names = ("product", "used_kg", "packs", "left_over_kg", "cost")
    frame = pl.DataFrame(rows, schema=dict.fromkeys(names, pl.String), orient="row")
    return frame.write_csv().encode()


def said(done: Priced) -> list[str]:
    """What a person is told of a run, in a few lines."""
    rows = done.rows
    lines = [f"{rows.read:,} rows read: {rows.accepted:,} accepted, {rows.rejected:,} rejected"]
    if rows.rejected:
        lines[0] += " (rejects.csv says which and why)"
    at = f" at the prices of {done.scenario}" if done.scenario else ""
    lines.append(
        f"{done.members:,} members, {done.products:,} products, {done.packs:,} packs, "
        f"{done.cost / 100:,.2f} {done.currency}{at}".rstrip()
    )
    saves = "saves" if done.is_pooled else "would save"
    lines.append(f"pooling {saves} {done.saving / 100:,.2f} {done.currency}".rstrip())
    return lines


def left_over(packs: int, product: Product, grains: int) -> int:
    """What the packs hold beyond what is used. FERT.PACKS opens no pack for one part in a thousand
    million, so it is never below 0 by more than that, which is told as 0."""
    return max(0, packs * product.pack_grains - grains)
