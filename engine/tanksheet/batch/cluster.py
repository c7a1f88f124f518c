"""The programs' rows on a Dask cluster: part by part, with the same sums as on one machine.

A part is read, checked and added up by a worker, which sends back whole numbers; these are taken in
the order of the parts, so that rejects come out in the order of their lines. A worker that dies
costs the time of its parts and nothing else: the scheduler gives them to another, and a part counts
once, however often it was begun.
"""

from __future__ import annotations

import contextlib
import pickle
from collections import deque
from collections.abc import Iterator
from typing import Any

from tanksheet.batch.cells import cells_for
from tanksheet.batch.layout import BatchProblem, Counts
from tanksheet.batch.programs import Amounts, Known, amounts
from tanksheet.batch.table import Part, Table

SECONDS = 20  # to reach the scheduler
RETRIES = 3  # of a part that failed without its worker dying
AHEAD = 2  # parts for each core that are under way at a time, so that results do not pile up


def part_amounts(part: Part, known: Known) -> Amounts:
    """What one part comes to: each cell once, its rejects, its counts."""
    cells = cells_for(len(known.members), len(known.products))
    made = Amounts(*cells.sums(), [], Counts(), 0)
    for rows in part.rows():
        some = amounts(rows, known)
        cells.add(some.places, some.grains)
        made.rejects += some.rejects
        made.counts.add(some.counts)
        made.done = some.done
    made.places, made.grains = cells.sums()
    return made


def amounts_on(address: str, table: Table, known: Known) -> Iterator[Amounts]:
    """The amounts of each part of a table, reckoned on the cluster whose scheduler is at
    ``address``.

    Raises: BatchProblem, in one line, when Dask is not installed, the cluster cannot be reached or
    gives up, or a worker cannot read the file.
    """
    with _client(address) as client, _told(address, table.file):
        # A task, not scattered data: it is made again if every worker that holds it has died.
        shared = client.submit(pickle.loads, pickle.dumps(known), pure=False)
        most = AHEAD * max(1, sum(client.ncores().values()))
        running: deque[Any] = deque()
        waiting = deque(table.parts())
        while running or waiting:
            while waiting and len(running) < most:
                part = waiting.popleft()
                running.append(
                    client.submit(part_amounts, part, shared, pure=False, retries=RETRIES)
                )
            yield running.popleft().result()


@contextlib.contextmanager
def _client(address: str) -> Iterator[Any]:
    try:
        from distributed import Client
    except ImportError:
        raise BatchProblem(
            "--cluster needs Dask: python3 -m pip install 'tanksheet[cluster]'"
        ) from None
    client: Any = Client.__new__(Client)
    try:
        client.__init__(address, timeout=SECONDS, set_as_default=False)
    except (OSError, ValueError) as problem:
        # One that never came up is closed here: left to the collector of garbage it is closed at
        # any moment, and while another client starts that is a wait without end for a lock.
        with contextlib.suppress(Exception):  # how far it came is not known
            client.close()
        said = str(problem).partition("\n")[0]
        raise BatchProblem(f"{address}: no Dask scheduler can be reached there ({said})") from None
    with client:
        yield client


@contextlib.contextmanager
def _told(address: str, file: str) -> Iterator[None]:
    from distributed import KilledWorker
    from distributed.client import FutureCancelledError

    try:
        yield
    except FileNotFoundError:
        raise BatchProblem(
            f"{file}: a worker of {address} does not find it; the folder must lie "
            "where all workers see it under the same path"
        ) from None
    except (KilledWorker, FutureCancelledError, ImportError) as problem:
        said = str(problem).partition("\n")[0]
        raise BatchProblem(f"{address}: the cluster gave up ({said})") from None
