"""Faults while a file is written: full disk, a killed run, two runs at once, links, leftovers."""

from __future__ import annotations

import os
import resource
import signal
import stat
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tanksheet.errors import WorkbookProblem
from tanksheet.xlsx import writing
from tanksheet.xlsx.writing import replace_file

ENGINE = Path(writing.__file__).parents[2]
LARGE = bytes(3_000_000)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 1 MB, where root may mount one."""
    folder = tmp_path / "disk"
    folder.mkdir()
    call = ["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(folder)]
    if os.geteuid() or subprocess.run(call, capture_output=True).returncode:
        yield folder  # the limit on the size of files, below, stands in for it
        return
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def test_a_full_disk(small_disk: Path) -> None:
    path = small_disk / "book.xlsx"
    path.write_bytes(b"old")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (2_000_000, before[1]))
    try:
        with pytest.raises(
            WorkbookProblem, match=r"book\.xlsx: cannot be written \((No sp|File t)"
        ):
            replace_file(path, LARGE)
        with pytest.raises(WorkbookProblem, match=r"new\.xlsx: cannot be written \((No sp|File t)"):
            replace_file(small_disk / "new.xlsx", LARGE)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    assert path.read_bytes() == b"old"
    assert list(small_disk.iterdir()) == [path]


def child(code: str, *arguments: str) -> subprocess.Popen[bytes]:
    start = f"import sys, os, signal; sys.path.insert(0, {str(ENGINE)!r})\n"
    start += "from pathlib import Path\nfrom tanksheet.xlsx.writing import replace_file\n"
    return subprocess.Popen([sys.executable, "-c", start + code, *arguments])


def test_killed_before_the_swap(tmp_path: Path) -> None:
    """The file is whole, and the next run takes away what the killed one has left, in time."""
    path = tmp_path / "book.xlsx"
    path.write_bytes(b"old")
    code = "Path.replace = lambda *_: os.kill(os.getpid(), signal.SIGKILL)\n"
    killed = child(f"{code}replace_file(Path(sys.argv[1]), b'new')", str(path))
    assert killed.wait() == -signal.SIGKILL
    assert path.read_bytes() == b"old"
    [left] = [each for each in tmp_path.iterdir() if each != path]
    replace_file(path, b"newer")
    assert left.exists(), "another run may still be writing it"
    old = time.time() - writing.LEFT_OVER_SECONDS - 1
    os.utime(left, (old, old))
    replace_file(path, b"newest")
    assert (path.read_bytes(), list(tmp_path.iterdir())) == (b"newest", [path])


def test_interrupted_while_writing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(b"old")

    def stop(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", stop)
    with pytest.raises(KeyboardInterrupt):
        replace_file(path, b"new")
    assert (path.read_bytes(), list(tmp_path.iterdir())) == (b"old", [path])


def test_two_runs_at_once(tmp_path: Path) -> None:
    """Whoever reads meanwhile sees one whole version."""
    path = tmp_path / "book.xlsx"
    replace_file(path, b"0" * 300_000)
    code = "for _ in range(60): replace_file(Path(sys.argv[1]), sys.argv[2].encode() * 300_000)"
    runs = [child(code, str(path), letter) for letter in "ab"]
    seen = set()
    while any(run.poll() is None for run in runs):
        content = path.read_bytes()
        assert len(content) == 300_000 and len(set(content)) == 1
        seen.add(content[:1])
    assert [run.wait() for run in runs] == [0, 0]
    assert seen & {b"a", b"b"}
    assert list(tmp_path.iterdir()) == [path]


def test_two_threads_at_once(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    failed: list[BaseException] = []

    def write(letter: bytes) -> None:
        try:
            for _ in range(30):
                replace_file(path, letter * 1000)
        except BaseException as problem:
            failed.append(problem)

    threads = [threading.Thread(target=write, args=(letter,)) for letter in (b"a", b"b")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not failed
    assert path.read_bytes() in (b"a" * 1000, b"b" * 1000)


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    real, link = tmp_path / "kept" / "book.xlsx", tmp_path / "link.xlsx"
    real.parent.mkdir()
    real.write_bytes(b"old")
    link.symlink_to(Path("kept") / "book.xlsx")
    replace_file(link, b"new")
    assert link.is_symlink()
    assert real.read_bytes() == link.read_bytes() == b"new"
    assert list(real.parent.iterdir()) == [real]


def test_a_link_to_nothing_is_filled(tmp_path: Path) -> None:
    link = tmp_path / "link.xlsx"
    link.symlink_to("book.xlsx")
    replace_file(link, b"new")
    assert link.is_symlink()
    assert (tmp_path / "book.xlsx").read_bytes() == b"new"


def test_a_circle_of_links(tmp_path: Path) -> None:
    for one, other in (("a.xlsx", "b.xlsx"), ("b.xlsx", "a.xlsx")):
        (tmp_path / one).symlink_to(other)
    with pytest.raises(WorkbookProblem, match=r"a\.xlsx: cannot be written"):
        replace_file(tmp_path / "a.xlsx", b"new")


def test_the_target_is_a_folder(tmp_path: Path) -> None:
    (tmp_path / "book.xlsx").mkdir()
    with pytest.raises(WorkbookProblem, match=r"book\.xlsx: cannot be written \(Is a directory"):
        replace_file(tmp_path / "book.xlsx", b"new")
    assert [each.name for each in tmp_path.iterdir()] == ["book.xlsx"]


def test_the_longest_name(tmp_path: Path) -> None:
    path = tmp_path / ("n" * 250 + ".xlsx")
    replace_file(path, b"new")
    assert path.read_bytes() == b"new"


def test_rights_and_owner(tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    before = os.umask(0o027)
    try:
        replace_file(path, b"one")
    finally:
        os.umask(before)
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    if os.geteuid() == 0:  # only root can give a file away
        os.chown(path, 12345, 12346)
        replace_file(path, b"two")
        assert (path.stat().st_uid, path.stat().st_gid) == (12345, 12346)
