"""Killed at any moment, refused by the disk at any call, on a full disk, on a closed one, or run
twice at once: no half file, nothing acknowledged is lost, and the same again does the job."""

from __future__ import annotations

import itertools
import os
import random
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.cli.small import files, run, state
from tests.lacking import small_disk
from tests.whole.faults import CASES, FULL, Scene, Stable, ready_shop, whole

pytestmark = pytest.mark.skipif(os.name == "nt", reason="no fork and no SIGKILL on this system")

LOTS, KILLS = (3, 100) if FULL else (1, 18)
SAMPLE = 0 if FULL else 3  # faults tried of each kind; 0: all there are
HUNTED = ("answer", "press", "build", "withdraw", "forget", "backup")


@pytest.fixture(scope="module")
def scene(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Scene]:
    folder = tmp_path_factory.mktemp("faults")
    ready = ready_shop(folder / "ready" / "shop")
    run(ready, "backup", folder / "ready" / "a.zip").ended(0)
    stable = Stable(folder)
    yield Scene(stable, ready, folder)
    stable.close()


@pytest.fixture(scope="module")
def times(scene: Scene) -> dict[str, float]:
    """How long each takes when nothing stops it, and that it is done then."""
    took = {}
    for name in CASES:
        scene.set_up()
        tried = scene.go(name)
        assert tried.code == 0 and CASES[name].is_done(scene.shop), (name, tried)
        took[name] = tried.took
    return took


@pytest.mark.parametrize("number", range(LOTS))
def test_killed_at_any_moment(scene, times, number):
    lot = random.Random(number)
    kills, cut, took = 0, 0, dict(times)
    for name in itertools.islice(itertools.cycle(HUNTED), 4 * KILLS):
        if kills >= KILLS and cut >= KILLS // 2:
            break
        scene.set_up()
        tried = scene.go(name, after=lot.uniform(0, took[name]))
        kills += 1
        if tried.code < 0:
            cut += 1
        else:
            took[name] = tried.took  # the machine is less busy than it was
        assert scene.complaints(name, tried) == [], (name, tried)
    print(f"kills: {cut} of {kills} fell into the work")
    assert cut >= KILLS // 2, "most kills came too late to prove anything"


def test_the_same_hunt_catches_a_careless_writer(scene, times):
    """Otherwise the hunt would prove nothing."""
    lot = random.Random(5)
    caught, most, took = 0, 60, times["build"]
    for _ in range(most):
        scene.set_up()
        tried = scene.go("build", careless=True, after=lot.uniform(0, took))
        took = tried.took if tried.code >= 0 else took
        caught += bool(scene.complaints("build", tried))
        if caught and not FULL:
            return
    print(f"careless: {caught} of {most} caught")
    assert caught


# -- the disk refuses

strace = pytest.mark.skipif(not shutil.which("strace"), reason="strace is not installed")
CALLS = {
    "write": "ENOSPC",
    "rename": "EIO",
    "fsync": "EIO",
    "mkdir": "ENOSPC",
    "unlink": "EACCES",
    "unlinkat,rmdir": "EIO",
    "chmod,fchmodat": "EPERM",
    "flock": "EIO",
}
MOST = 4000
KINDS = [(name, calls) for name in CASES for calls in CALLS]


@strace
@pytest.mark.parametrize(
    ("name", "calls"), KINDS if FULL else [(n, [*CALLS][i % 3]) for i, n in enumerate(CASES)]
)
def test_refused_at_any_call(scene, times, name, calls):
    """Every Nth call of a kind is refused until none is left to refuse; in the suite a few."""
    lot = random.Random(f"{name} {calls}")
    tries = (lot.randint(1, 12) for _ in range(SAMPLE)) if SAMPLE else range(1, MOST)
    found, fired = [], 0
    for at in tries:
        scene.set_up()
        tried = scene.go(name, inject=f"{calls}:error={CALLS[calls]}:when={at}")
        fired += tried.faults > 0
        found += [f"{name}: {calls} {at}: {wrong}" for wrong in scene.complaints(name, tried)]
        if not tried.faults and not SAMPLE:
            break
    print(f"faults: {name}: {calls}: {fired}")
    assert found == []


@strace
def test_a_refused_write_catches_a_careless_writer(scene, times):
    """The clock changes which file the Nth write goes to; one of the store may well be refused."""
    for at in range(12, 60, 6):
        scene.set_up()
        tried = scene.go("build", careless=True, inject=f"write:error=ENOSPC:when={at}")
        if tried.faults and scene.complaints("build", tried):
            return
    raise AssertionError("no refused write was noticed")


@strace
@pytest.mark.parametrize("calls", ("rename", "fsync", "unlink") if FULL else ("rename",))
@pytest.mark.parametrize("name", CASES if FULL else ("answer", "restore"))
def test_killed_at_any_call(scene, times, name, calls):
    """A kill as each call begins: what a clock would hit once in ten thousand times."""
    killed = 0
    for at in range(1, MOST, 1 if FULL else 3):
        scene.set_up()
        tried = scene.go(name, inject=f"{calls}:signal=KILL:when={at}")
        if tried.code >= 0 and tried.faults == 0:
            break
        killed += 1
        assert scene.complaints(name, tried) == [], (name, calls, at, tried)
    print(f"kills at calls: {name}: {calls}: {killed}")


# -- a full disk, a closed one


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    with small_disk(tmp_path / "disk", "24m") as disk:
        yield disk


@pytest.mark.parametrize("name", CASES)
def test_full_disk(scene, disk, name):
    """With so many kB left: it goes well, or says in one sentence that the disk is full."""
    there = Scene(scene.stable, scene.ready, disk)
    ended = set()
    for free in (0, 4, 12, 40, 120, 400, 1200) if FULL else (0, 24):
        there.set_up()
        room = os.statvfs(disk)
        with (disk / "filler").open("wb") as stream:
            stream.write(bytes(max(0, room.f_bavail * room.f_frsize - free * 1024)))
        tried = there.go(name)
        ended.add(tried.code)
        (disk / "filler").unlink()
        assert tried.code == 0 or (
            tried.code == 5
            and re.search("disk is full|MB are free|is not forgotten yet", tried.told)
        ), tried
        assert there.complaints(name, tried) == [], (free, tried)
    assert 5 in ended or name == "answer"


@pytest.mark.parametrize("name", CASES)
def test_closed_disk(scene, disk, name):
    there = Scene(scene.stable, scene.ready, disk)
    there.set_up()
    before = files(disk)
    subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
    try:
        tried = there.go(name)
        assert tried.code == 5 and tried.told.count("\n") == 2, tried
        assert "may not be written to" in tried.told or "cannot be made" in tried.told
        assert files(disk) == before
    finally:
        subprocess.run(["mount", "-o", "remount,rw", str(disk)], check=True)
    assert there.complaints(name, tried) == []


# -- two at once


def test_two_at_once(scene, times):
    """One of two does its work, the other does too or says that another run is at work; whoever
    only looks meanwhile is never told that something is damaged."""
    second_folder = scene.folder / "second"
    second_folder.mkdir()
    second = Stable(second_folder)
    lot = random.Random(9)
    names = [n for n in HUNTED if n not in ("withdraw", "forget")]
    pairs = [(a, b) for a in names for b in (*names, "looks")]
    try:
        for one, two in pairs if FULL else lot.sample(pairs, 5):
            scene.set_up()
            arguments = ["orders"] if two == "looks" else scene.arguments(two)
            with ThreadPoolExecutor(1) as pool:
                other = pool.submit(second.run, scene.shop, *arguments)
                tried = scene.go(one)
            for this in (tried, other.result()):
                busy = this.code == 5 and "another run is at work" in this.told
                taken = this.code == 2 and "is there already" in this.told
                late = this.code in (0, 4) and one == two == "answer"
                assert this.code == 0 or busy or taken or late, (one, two, this)
            assert whole(scene.shop.parent) == []
            run(scene.shop, "records", "verify").ended(0)
            assert len(set(state(scene.shop, "quill").get("answers", ()))) <= 1
    finally:
        second.close()


if __name__ == "__main__":
    sys.exit(pytest.main([__file__, "-s", "-q", "-n", "0", "-p", "no:cacheprovider"]))
