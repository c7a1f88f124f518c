"""The batch on a Dask cluster of two workers: the same bytes as on one machine, also when a worker
is killed midway."""

from __future__ import annotations

import contextlib
import dataclasses
import gc
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from distributed import Client

import coop_files
from tanksheet.batch import cluster as ours
from tanksheet.batch import coop, csv_table, parquet_table
from tanksheet.batch.coop import price_coop
from tanksheet.batch.demo import write_demo
from tanksheet.batch.layout import BatchProblem
from tanksheet.batch.progress import Bar
from tanksheet.cli import main

# The libraries below the cluster warn of sockets and loops that a killed process leaves open.
pytestmark = [
    pytest.mark.filterwarnings("ignore::ResourceWarning"),
    pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning"),
]
COPIES = 30


def started(what: str, *options: str, log: Path) -> subprocess.Popen[bytes]:
    """A scheduler or a worker in a process of its own, as on the machines of a real cluster."""
    command = [sys.executable, "-m", f"distributed.cli.dask_{what}", *options]
    with log.open("wb") as told:
        return subprocess.Popen(
            command, stdin=subprocess.DEVNULL, stdout=told, stderr=told, start_new_session=True
        )


def address_in(file: Path, log: Path) -> str:
    """The scheduler's address, once it has written its file."""
    end = time.monotonic() + 60
    while time.monotonic() < end:
        with contextlib.suppress(FileNotFoundError, json.JSONDecodeError):
            return str(json.loads(file.read_text())["address"])
        time.sleep(0.1)
    raise AssertionError(f"no scheduler after a minute: {log.read_text()}")


@pytest.fixture(scope="module")
def cluster(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a scheduler with two workers of one thread each. All three are killed at the
    end: closing them in order could wait for ever on one that a test has killed."""
    place = tmp_path_factory.mktemp("cluster")
    file = place / "scheduler.json"
    plain = ("--host", "127.0.0.1", "--no-dashboard")
    running = [
        started(
            *("scheduler", "--port", "0", "--scheduler-file", str(file), *plain),
            log=place / "scheduler.log",
        )
    ]
    try:
        address = address_in(file, place / "scheduler.log")
        for i in range(2):
            running.append(worker_of(address, place / f"worker {i}.log"))
        with Client(address, set_as_default=False, timeout=60) as client:
            client.wait_for_workers(2, timeout=60)
        yield address
    finally:
        for process in running:
            process.kill()
            process.wait(60)


def worker_of(address: str, log: Path) -> subprocess.Popen[bytes]:
    alone = ("--nthreads", "1", "--nworkers", "1", "--no-nanny", "--no-dashboard")
    return started("worker", address, *alone, "--local-directory", str(log.parent), log=log)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's programs many times over, with lines of every kind of damage between them."""
    place = tmp_path_factory.mktemp("co-op")
    write_demo(place)
    path = place / "programs.csv"
    head, _, rows = path.read_bytes().partition(b"\n")
    damage = (
        b'M001,"home,3,urea 46-0-0,1,lb\nM001,home\n\xff,home,3,,1,lb\nM002,"ea\nst",1,,2,kg\n\n'
    )
    path.write_bytes(head + b"\n" + (rows + damage) * COPIES)
    return place


def results(out: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in out.iterdir()}


def parts_of(size: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(csv_table, "PART", size)
    monkeypatch.setattr(parquet_table, "PART", size // 40)


@pytest.mark.parametrize("pool", [False, True])
def test_the_same_bytes_as_on_one_machine(
    cluster: str, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, pool: bool
) -> None:
    parts_of(400_000, monkeypatch)
    alone = price_coop(folder, tmp_path / "alone", pool=pool)
    shared = price_coop(folder, tmp_path / "shared", pool=pool, cluster=cluster)
    assert results(tmp_path / "alone") == results(tmp_path / "shared")
    assert alone.counts == shared.counts
    assert alone.counts["programs.csv"].rejected == COPIES * (9 + 5)


class Killer(Bar):
    """Kills a worker when the second part has come back."""

    def __init__(self, what: str, whole: int) -> None:
        super().__init__(what, whole)
        self.seen = 0
        self.victim = VICTIM.pop()

    def reach(self, done: int) -> None:
        self.seen += 1
        if self.seen == 2:
            os.kill(self.victim, signal.SIGKILL)
            KILLED.append(done)


VICTIM: list[int] = []
KILLED: list[int] = []


def test_a_worker_killed_midway(
    cluster: str, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    parts_of(100_000, monkeypatch)
    price_coop(folder, tmp_path / "alone")
    with Client(cluster, set_as_default=False) as client:
        before = sorted(client.run(os.getpid).values())
    VICTIM[:] = before[:1]
    monkeypatch.setattr(coop, "Bar", Killer)
    price_coop(folder, tmp_path / "shared", cluster=cluster)
    assert 0 < KILLED[0] < (folder / "programs.csv").stat().st_size / 2, "most was still to come"
    _, ended = os.waitpid(before[0], 0)
    assert os.WTERMSIG(ended) == signal.SIGKILL
    assert results(tmp_path / "alone") == results(tmp_path / "shared")


def test_parquet_and_a_workbook(
    cluster: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    parts_of(40_000, monkeypatch)
    write_demo(tmp_path / "in")
    for place in (
        coop_files.as_parquet(tmp_path / "in", tmp_path / "parquet", True),
        coop_files.as_workbook(tmp_path / "in", tmp_path / "co-op.xlsx"),
    ):
        price_coop(place, tmp_path / "alone")
        price_coop(place, tmp_path / "shared", cluster=cluster)
        assert results(tmp_path / "alone") == results(tmp_path / "shared")


# what can be wrong


def test_no_cluster_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(ours, "SECONDS", 0.3)
    folder = coop_files.write(tmp_path / "in", coop_files.SMALL)
    for address in ("tcp://127.0.0.1:9", "nowhere at all"):
        command = ["batch", str(folder), "--out", str(tmp_path / "out"), "--cluster", address]
        assert main(command) == 2
        said = capsys.readouterr().err
        assert said.count("\n") == 1 and address in said and "scheduler" in said
    assert not (tmp_path / "out").exists()
    # A client that is only given up is closed by the collector of garbage: in the middle of
    # another's start that waits for ever.
    left = [each for each in gc.get_objects() if isinstance(each, Client)]
    assert {each.status for each in left} <= {"closed"}


def test_no_dask_here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    folder = coop_files.write(tmp_path / "in", coop_files.SMALL)
    with pytest.raises(BatchProblem, match=r"tanksheet\[cluster\]"):
        price_coop(folder, tmp_path / "out", cluster="tcp://127.0.0.1:9")


def test_a_folder_that_workers_do_not_see(
    cluster: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = coop_files.write(tmp_path / "in", coop_files.SMALL)
    found = csv_table.CsvTable.parts

    def elsewhere(table: csv_table.CsvTable) -> list[Any]:
        parts: list[Any] = found(table)
        return [dataclasses.replace(each, path=tmp_path / "not here") for each in parts]

    monkeypatch.setattr(csv_table.CsvTable, "parts", elsewhere)
    with pytest.raises(BatchProblem, match=r"programs\.csv: a worker of .* does not find it"):
        price_coop(folder, tmp_path / "out", cluster=cluster)
    assert not (tmp_path / "out").exists()
