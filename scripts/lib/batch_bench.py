"""Speed and memory of the co-op batch: against a plain csv loop, by kind of file, on Dask."""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context
from pathlib import Path
from typing import Any
from unittest import mock

import numpy as np
import polars as pl
from distributed import LocalCluster

from tanksheet.batch.cluster import part_amounts
from tanksheet.batch.coop import price_coop

Row = Callable[[str, float, float, float], None]
MILLION, CHUNK = 1_000_000, 500_000
MEMBERS, BLOCKS, PRODUCTS, DRAWN = 20_000, 3, 300, 20
BAD = 1000  # one row in so many is bad, each in another way
LOOP = Path(__file__).with_name("plain_csv_loop.py")
HEADERS = {
    "members": "member,name",
    "blocks": "member,block,area,area_unit",
    "products": "product,form,density_kgL,pack,pack_unit",
    "prices": "product,price,currency",
    "programs": "member,block,week,product,rate,rate_unit",
}


def batch(row: Row) -> None:
    """All of it; ``row`` prints one line."""
    with tempfile.TemporaryDirectory() as place:
        one = made(Path(place) / "one", MILLION)
        ten = made(Path(place) / "ten", 10 * MILLION)
        against_the_loop(row, one, ten)
        kinds_of_files(row, one)
        on_dask(row, one, ten)


# data


def made(folder: Path, rows: int) -> Path:
    """A co-op of 20,000 members; beside ``programs.csv`` the same with damaged text, all in quotes,
    and as Parquet, in folders of their own."""
    draw = np.random.default_rng(1)
    names = [f"M{at:05}" for at in range(MEMBERS)]
    text = {"members": [f"{name},Member" for name in names]}
    areas, acres = draw.uniform(0.5, 20, (MEMBERS, BLOCKS)).round(2), ("ha", "acre")
    text["blocks"] = [
        f"{name},B{b},{areas[at, b]},{acres[b % 2]}"
        for at, name in enumerate(names)
        for b in range(BLOCKS)
    ]
    liquid = [at % 4 == 0 for at in range(PRODUCTS)]
    text["products"] = [
        f"P{at:03},liquid,{1.2 + at / 1000},1000,L" if wet else f"P{at:03},dry,,25,kg"
        for at, wet in enumerate(liquid)
    ]
    text["prices"] = [f"P{at:03},{10 + at / 10:.2f},EUR" for at in range(PRODUCTS)]
    for kind in ("plain", "dirty", "quoted", "parquet"):
        (folder / kind).mkdir(parents=True)
        for name, lines in text.items():
            whole = "\n".join([HEADERS[name], *lines]) + "\n"
            (folder / kind / f"{name}.csv").write_text(whole, encoding="utf-8")
    _programs(folder, rows, draw)
    return folder


def _programs(folder: Path, rows: int, draw: np.random.Generator) -> None:
    files = {
        kind: (folder / kind / "programs.csv").open("wb") for kind in ("plain", "dirty", "quoted")
    }
    for stream in files.values():
        stream.write(HEADERS["programs"].encode() + b"\n")
    for _ in range(0, rows, CHUNK):
        frame = _chunk(draw)
        plain = frame.write_csv(include_header=False).encode()
        files["plain"].write(plain)
        files["dirty"].write(_damaged(plain))
        text = frame.write_csv(include_header=False, quote_style="always")
        files["quoted"].write(text.encode())
    for stream in files.values():
        stream.close()
    pl.scan_csv(folder / "plain" / "programs.csv", infer_schema=False).with_columns(
        pl.col("rate").cast(pl.Float64, strict=False), pl.col("week").cast(pl.Int64)
    ).sink_parquet(folder / "parquet" / "programs.parquet")


def _chunk(draw: np.random.Generator) -> pl.DataFrame:
    count = CHUNK
    member, block = draw.integers(0, MEMBERS, count), draw.integers(0, BLOCKS, count)
    product = (member * 7 + draw.integers(0, DRAWN, count) * 13) % PRODUCTS
    units = np.array(["kg/ha", "lb/acre", "kg", "lb", "L/ha", "gal/acre", "L", "gal"])
    unit = units[draw.integers(0, np.where(product % 4 == 0, 8, 4))]
    rate = draw.integers(100, 5000, count) / 100
    columns = {
        "member": np.char.add("M", np.char.zfill(member.astype("U5"), 5)),
        "block": np.char.add("B", block.astype("U1")),
        "week": draw.integers(1, 53, count).astype("U2"),
        "product": np.char.add("P", np.char.zfill(product.astype("U3"), 3)),
        "rate": rate.astype("U5"),
        "rate_unit": unit.astype("U8"),
    }
    slips = {"member": "M", "block": "B9", "product": "lime", "rate": "abc", "rate_unit": "oz"}
    for at, (name, text) in enumerate(slips.items()):
        columns[name][at * 7 :: BAD * len(slips)] = text
    return pl.DataFrame({name: pl.Series(each) for name, each in columns.items()})


def _damaged(text: bytes) -> bytes:
    """Some lines with a field too many or too few, an open quote, a bad byte."""
    lines = text.split(b"\n")
    for at in range(0, len(lines) - 1, 12_000):
        line = lines[at]
        lines[at] = (line + b",x", line[:9], b'"' + line, b"\xff" + line)[at // 12_000 % 4]
    return b"\n".join(lines)


# runs


# Beside the work, a process says what the most memory was that it held; what the operating system
# reports of a child may be the size of its parent, from before the child's own program began.
COMMAND = """
import sys
from tanksheet.cli import main
code = main(["batch", sys.argv[1], "--out", sys.argv[2]])
with open("/proc/self/status") as status:
    (held,) = (line.split()[1] for line in status if line.startswith("VmHWM"))
print(held)
sys.exit(code)
"""


def ours(folder: Path) -> tuple[float, float]:
    """Seconds of a batch in a process of its own, and the most memory that it held, in MiB."""
    start = time.perf_counter()
    command = [sys.executable, "-c", COMMAND, str(folder), str(folder / "out")]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    return time.perf_counter() - start, int(done.stdout.split()[-1]) / 1024


def peer(folder: Path) -> float:
    """Seconds of the loop in a process of its own."""
    start = time.perf_counter()
    subprocess.run([sys.executable, LOOP, folder, folder / "loop"], check=True)
    return time.perf_counter() - start


def scan(path: Path) -> float:
    """Seconds in which polars touches every field of a file."""
    start = time.perf_counter()
    fields = pl.scan_csv(path, infer_schema=False).select(pl.all().str.len_bytes().sum())
    fields.collect(engine="streaming")
    return time.perf_counter() - start


def against_the_loop(row: Row, one: Path, ten: Path) -> None:
    """Both in turn, since the machine may be busier at one time than at another."""
    held = {}
    for folder, name, hoped, turns in ((one, "1", 4, 3), (ten, "10", 8, 2)):
        times = [(peer(folder / "plain"), ours(folder / "dirty")) for _ in range(turns)]
        mine, held[name] = min(each[0] for _, each in times), max(each[1] for _, each in times)
        loop = min(each for each, _ in times)
        row(f"batch of {name} M rows of dirty CSV, against a csv loop", mine, loop, hoped)
        ours(folder / "plain")
        same = [(folder / "plain" / out / "statements.csv").read_bytes() for out in ("out", "loop")]
        assert same[0] == same[1], "the statements differ from the loop's"
        if name == "10":
            scanned = min(scan(ten / "plain" / "programs.csv") for _ in range(3))
            row("batch of 10 M rows, against a polars scan of the file", mine, scanned, 1 / 6)
    print(
        f"    peak memory: 1 M rows {held['1']:.0f} MiB, 10 M rows {held['10']:.0f} MiB "
        f"({held['10'] / held['1']:.2f} times; hoped for at most 512 MiB and 1.2 times)"
    )


def kinds_of_files(row: Row, one: Path) -> None:
    kinds = ("plain", "quoted", "parquet")
    times = [[ours(one / kind)[0] for kind in kinds] for _ in range(4)]
    plain, quoted, parquet = (min(each) for each in zip(*times, strict=True))
    row("1 M rows all in quotes, against without quotes", quoted, plain, 1 / 2)
    row("1 M rows of Parquet, against CSV", parquet, plain, 1)
    texts = {(one / kind / "out" / "statements.csv").read_bytes() for kind in kinds}
    assert len(texts) == 1, "the kinds of files differ"


# Dask


@contextmanager
def cluster(workers: int) -> Iterator[Any]:
    with LocalCluster(
        n_workers=workers, threads_per_worker=1, dashboard_address=None, silence_logs=50
    ) as made:
        yield made.scheduler_address


def on_dask(row: Row, one: Path, ten: Path) -> None:
    """The cluster being up; its results must be the local ones."""
    times = {}
    for workers in (1, 2):
        with cluster(workers) as address:
            for folder, name in ((one, "1"), (ten, "10")):
                place = folder / "plain"
                price_coop(one / "plain", place / "dask", cluster=address)  # loads the libraries
                start = time.perf_counter()
                price_coop(place, place / "dask", cluster=address)
                times[workers, name] = time.perf_counter() - start
    same = [(ten / "plain" / out / "statements.csv").read_bytes() for out in ("out", "dask")]
    assert same[0] == same[1], "the cluster's statements differ"
    local = two_processes(ten / "plain")
    row("10 M rows on two Dask workers, against two processes", times[2, "10"], local, 1 / 2)
    for (workers, name), seconds in times.items():
        print(
            f"    Dask, {workers} worker(s): {name} M rows {seconds:.2f} s, "
            f"{seconds / int(name):.2f} s a million"
        )
    print(f"    Dask: two workers are {times[1, '10'] / times[2, '10']:.2f} times as fast as one")


def two_processes(folder: Path) -> float:
    """The same parts in a pool of two processes that are up already, in place of the cluster."""
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:

        def amounts(address: str, table: Any, known: Any) -> Iterator[Any]:
            parts = table.parts()
            return iter(pool.map(part_amounts, parts, [known] * len(parts)))

        with mock.patch("tanksheet.batch.cluster.amounts_on", amounts):
            price_coop(folder, folder / "pool", cluster="pool")
            start = time.perf_counter()
            price_coop(folder, folder / "pool", cluster="pool")
            return time.perf_counter() - start


def printed(what: str, ours: float, peer: float, expected: float) -> None:
    print(f"{what:58} {ours:8.2f} s {peer:8.2f} s {peer / ours:7.2f}x {expected:8.2f}x", flush=True)


if __name__ == "__main__":
    batch(printed)
