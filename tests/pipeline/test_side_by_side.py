"""Orders worked on side by side: the outcome is that of a run alone, whatever becomes of help."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from threading import Timer
from types import SimpleNamespace
from typing import Any

import pytest

from proofgen.pipeline import crew, jobs, proofs, workroom_pictures
from proofgen.pipeline.crew import MOST_PIXELS, Ahead, Crew, Job
from proofgen.workshop import Workshop, open_workshop
from tests.cli.small import Ran, files, make_shop, order_text, paint, run, write

ORDERS = 6
_FEW_PIXELS = 500 * 500


def mixed(folder: Path) -> Path:
    """Orders with words and with photos, one that stops, one whose blank is none, and a season."""
    shop = make_shop(folder, season=True)
    for number in range(ORDERS):
        name = f"order-{number}"
        design = "snap" if number % 2 else "tag"
        write(shop / "orders" / name / "order.yaml", order_text(f"Ada {number}", design=design))
        if design == "snap":
            paint(shop / "orders" / name / "photos" / "pier.jpg", side=400, lot=number)
    paint(shop / "orders" / "order-3" / "photos" / "pier.jpg", side=60)  # too small: a stop
    text = order_text("Bo").replace("coaster-round", "coaster-oval")
    write(shop / "orders" / "order-9" / "order.yaml", text)
    return shop


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Nothing was built in it yet."""
    return mixed(tmp_path / "one" / "shop")


@dataclass(frozen=True)
class Alone:
    """What a run alone said, and the shop it left, to be looked at."""

    said: Ran
    shop: Path


@pytest.fixture(scope="module")
def alone(tmp_path_factory: pytest.TempPathFactory) -> Alone:
    shop = mixed(tmp_path_factory.mktemp("alone") / "shop")
    return Alone(built(shop), shop)


def copy_of(shop: Path, place: str) -> Path:
    """The same shop elsewhere, as a folder of the same name."""
    target = shop.parent.parent / place / shop.name
    shutil.copytree(shop, target)
    return target


def left(shop: Path) -> dict[str, bytes]:
    """All that a run leaves, but for the store and for what tells when files changed."""
    home = str(shop.parent).encode()
    return {
        name: content.replace(home, b"HOME")
        for name, content in files(shop).items()
        if not name.startswith("workroom/store/")
        and not (name.startswith("workroom/orders/") and name.endswith(".json"))
    }


def differing(one: Path, other: Path) -> dict[str, tuple[bytes, bytes]]:
    """What two runs left otherwise, by the names of files; the ends of both."""
    first, second = left(one), left(other)
    return {
        name: (first.get(name, b"")[-600:], second.get(name, b"")[-600:])
        for name in sorted({*first, *second})
        if first.get(name) != second.get(name)
    }


def built(shop: Path) -> Ran:
    said = run(shop, "-q", "build")
    home = str(shop.parent)
    return replace(said, out=said.out.replace(home, "HOME"), err=said.err.replace(home, "HOME"))


def helped_by(patch: pytest.MonkeyPatch, executor: Callable[[], Executor | None]) -> None:
    patch.setattr(crew, "executor_for", lambda wanted: executor())


class Counted:
    """How many rasters the run itself made."""

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.rasters, plain = 0, proofs.raster_png

        def count(*given: Any) -> bytes:
            self.rasters += 1
            return plain(*given)

        patch.setattr(proofs, "raster_png", count)


def test_processes_leave_to_the_byte_what_a_run_alone_does(
    alone: Alone, shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert "coaster-oval" in alone.said.err, "an order that fails is named"
    own = Counted(monkeypatch)
    monkeypatch.setenv("PROOFGEN_WORKERS", "2")
    assert built(shop) == alone.said
    assert differing(alone.shop, shop) == {}
    assert own.rasters == 0, "the processes painted them all"
    assert not [*shop.glob("workroom/.part-*")]


def test_any_executor_does_the_same_jobs(
    alone: Alone, shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = Counted(monkeypatch)
    helped_by(monkeypatch, lambda: ThreadPoolExecutor(3))
    assert built(shop) == alone.said
    assert differing(alone.shop, shop) == {}
    assert own.rasters == 0


def test_keys_and_links_that_nobody_can_work_out_are_drawn_by_the_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    names = [f"order-{number}" for number in range(crew.LEAST)]
    shop = make_shop(tmp_path / "shop", *names, demo=False)
    own = Counted(monkeypatch)
    helped_by(monkeypatch, lambda: ThreadPoolExecutor(2))
    assert run(shop, "-q", "build").code == 0
    assert own.rasters == 0
    with open_workshop(shop) as workshop:
        keys = {workshop.records.heads(name)[0]["key"] for name in names}
        links = {workshop.records.token(name) for name in names}
        assert len(keys) == len(links) == len(names)
        assert {path.name for path in (shop / "site/p").iterdir() if path.is_dir()} == links
    assert "is at" not in run(shop, "-q", "build").out


class _Broken(Executor):
    """Ends after some jobs, as a process does that is killed."""

    def __init__(self, jobs: int) -> None:
        self._left = jobs

    def submit(self, work: Any, /, *given: Any, **named: Any) -> Future[Any]:
        done: Future[Any] = Future()
        self._left -= 1
        if self._left < 0:
            done.set_exception(RuntimeError("a process ended"))
        else:
            done.set_result(work(*given))
        return done


def _untrue(job: Job) -> str:
    """A careless process: its proofs are of another day, and one of its rasters is white."""
    return jobs.do(replace(job, now=job.now.replace(year=2031)))


def _tampered(job: Job) -> str:
    told = jobs.do(job)
    return told and told[::-1]


@pytest.mark.parametrize("jobs_done", [0, 3, 9])
def test_what_is_lost_on_the_way_the_run_does_itself(
    alone: Alone, shop: Path, monkeypatch: pytest.MonkeyPatch, jobs_done: int
) -> None:
    helped_by(monkeypatch, lambda: _Broken(jobs_done))
    assert built(shop) == alone.said
    assert differing(alone.shop, shop) == {}


@pytest.mark.parametrize("careless", [_untrue, _tampered])
def test_a_proof_that_is_not_of_the_recorded_edition_is_not_taken(
    alone: Alone, shop: Path, monkeypatch: pytest.MonkeyPatch, careless: Callable[[Job], str]
) -> None:
    class Careless(_Broken):
        def submit(self, work: Any, /, *given: Any, **named: Any) -> Future[Any]:
            return super().submit(careless, *given)

    helped_by(monkeypatch, lambda: Careless(99))
    assert built(shop) == alone.said
    assert differing(alone.shop, shop) == {}


def test_a_run_that_takes_whatever_it_is_given_would_be_told(
    alone: Alone, shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The comparison above sees a proof of another day."""

    class Careless(_Broken):
        def submit(self, work: Any, /, *given: Any, **named: Any) -> Future[Any]:
            return super().submit(_untrue, *given)

    helped_by(monkeypatch, lambda: Careless(99))
    monkeypatch.setattr(Ahead, "is_of", lambda *_: True)
    built(shop)
    assert left(shop) != left(alone.shop)


# -- how much at once ------------------------------------------------------------------------


class _Slow(Executor):
    """Does a job when it is told to, the oldest first."""

    def __init__(self) -> None:
        self.given: list[tuple[Job, Future[str]]] = []

    def submit(self, work: Any, /, *given: Any, **named: Any) -> Future[Any]:
        future: Future[str] = Future()
        self.given.append((given[0], future))
        return future

    @property
    def open(self) -> list[str]:
        return [job.name for job, future in self.given if not future.done()]

    def finish(self) -> None:
        job, future = next(one for one in self.given if not one[1].done())
        future.set_result(f"{job.name} done")


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    shop = make_shop(tmp_path / "shop")
    for number in range(8):
        name = f"order-{number}"
        write(shop / "orders" / name / "order.yaml", order_text("Ada", design="snap"))
        paint(shop / "orders" / name / "photos" / "pier.jpg", side=500, lot=number)
    return open_workshop(shop)


def at_once(workshop: Workshop, most: int, monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """How many jobs were open at once, each time that one more was done."""
    monkeypatch.setattr(crew, "_LEAST_PIXELS", 1)
    slow, seen = _Slow(), []
    with workshop:
        made = Crew(workshop, slow, most)
        for name in sorted(workshop.shop.orders):
            made.add("check", name)
        for name in sorted(workshop.shop.orders):
            seen.append(len(slow.open))
            slow.finish()
            assert made.wait_for("check", name) == f"{name} done"
        made.close()
    return seen


def test_photos_worked_on_at_once_are_bounded_by_their_pixels(
    workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert max(at_once(workshop, 3 * _FEW_PIXELS, monkeypatch)) == 3
    # One that counts nothing holds all photos at once.
    assert max(at_once(workshop, MOST_PIXELS, monkeypatch)) == 8


def test_a_photo_larger_than_the_bound_is_worked_on_alone(
    workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert set(at_once(workshop, _FEW_PIXELS - 1, monkeypatch)) == {1}


def test_proofs_that_wait_to_be_taken_over_count(
    workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(crew, "_LEAST_PIXELS", 1)
    slow = _Slow()
    with workshop:
        made = Crew(workshop, slow, 2 * _FEW_PIXELS)
        for name in sorted(workshop.shop.orders):
            made.add("proof", name)
        slow.finish()
        made.add("proof", "order-0")
        assert len(slow.given) == 2, "the first is done, and not taken over yet"
        assert made.take("order-0") is None, "it left nothing"
        assert len(slow.given) == 3
        made.close()


def test_a_terminal_hears_how_far_it_is(
    workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(crew, "_TELL", 0.0)
    slow, said = _Slow(), list[str]()
    workshop.say_more = said.append
    with workshop:
        made = Crew(workshop, slow)
        made.to_come = 8  # proofs
        for name in sorted(workshop.shop.orders):
            made.add("check", name)
        slow.finish()
        Timer(0.5, slow.finish).start()
        assert made.wait_for("check", "order-1")
        made.close()
    assert said[0] == "1 of 16 parts of the work are done; about 1 minute to go"


# -- how many processes ------------------------------------------------------------------------


def test_few_orders_start_no_process(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    monkeypatch.setattr(crew, "executor_for", asked.append)
    built(shop)
    assert asked, "there is much to do"
    asked.clear()
    write(shop / "orders" / "order-0" / "order.yaml", order_text("Ada once more"))
    monkeypatch.setattr(crew, "LEAST", len(open_workshop(shop).shop.orders) + 1)
    monkeypatch.setattr("proofgen.pipeline.publishing._is_made", lambda _: True)
    built(shop)
    assert not asked


@pytest.mark.parametrize(("wanted", "count"), [("1", 0), ("3", 3), ("", 5)])
def test_how_many_is_said_by_a_variable_else_by_the_machine(
    monkeypatch: pytest.MonkeyPatch, wanted: str, count: int
) -> None:
    monkeypatch.setattr(crew, "cores", lambda: 5)
    monkeypatch.setattr(crew, "processes", lambda many: many)
    assert (crew.executor_for(wanted) or 0) == count


def test_a_variable_that_says_nothing_sound_is_told(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PROOFGEN_WORKERS", "plenty")
    said = run(shop, "-q", "build")
    assert said.code == 2
    assert "PROOFGEN_WORKERS is “plenty”" in said.err
    assert "To mend it" in said.err


# -- ended on the way --------------------------------------------------------------------------


def started(shop: Path) -> subprocess.Popen[str]:
    """A build with two processes, past its first orders, in a group of its own."""
    running = subprocess.Popen(
        [sys.executable, "-m", "proofgen", "--shop", str(shop), "build"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        env={**os.environ, "PROOFGEN_WORKERS": "2"},
    )
    assert running.stderr is not None
    for line in running.stderr:
        if "checking order-2" in line:
            break
    return running


def group_of(leader: int) -> list[int]:
    """The processes that are still there of a group."""
    found = []
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            told = path.read_text("utf-8").rpartition(")")[2].split()
        except OSError:
            continue
        if int(told[2]) == leader and told[0] != "Z":
            found.append(int(path.parent.name))
    return found


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux tells which processes there are")
@pytest.mark.parametrize("how", [signal.SIGINT, signal.SIGKILL], ids=["Ctrl-C", "killed"])
def test_who_stops_a_build_leaves_no_process_and_nothing_half(
    alone: Alone, shop: Path, how: signal.Signals
) -> None:
    running = started(shop)
    began = time.monotonic()
    if how is signal.SIGINT:
        os.killpg(running.pid, how)  # as a terminal does
    else:
        running.send_signal(how)
    said = running.communicate(timeout=60)[1]
    took = time.monotonic() - began
    if how is signal.SIGINT:
        assert said.splitlines()[-1].startswith("Stopped. Nothing is half-written"), said
        assert "Traceback" not in said
        assert running.returncode == 130
        assert took < 10, "a busy machine; a second on a calm one"
        assert not [*shop.glob("workroom/.part-*")]
    until = time.monotonic() + 30
    while group_of(running.pid) and time.monotonic() < until:
        time.sleep(0.05)
    assert not group_of(running.pid)
    built(shop)
    assert differing(alone.shop, shop) == {}


def test_whether_a_proof_is_due_is_worked_out_once(
    workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def due(_: Workshop, prepared: Any, **asks: bool) -> str | None:
        asked.append(prepared.order.id)
        return None

    monkeypatch.setattr(proofs, "_due", due)
    every: list[Any] = [SimpleNamespace(order=one) for one in workshop.shop.orders.values()]
    with workshop:
        assert proofs.make_proofs_of(workshop, every) == []
    assert sorted(asked) == sorted(workshop.shop.orders)
    assert len(asked) >= crew.LEAST


def test_pictures_of_orders_without_a_proof_are_drawn_side_by_side_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop = make_shop(tmp_path / "one" / "shop", season=True)
    for number in range(3 * crew.LEAST):
        home = shop / "orders" / f"order-{number}"
        write(home / "order.yaml", order_text(f"Ada {number}", design="snap"))
        paint(home / "photos" / "pier.jpg", side=200, lot=number)
    other, drawn = copy_of(shop, "two"), []
    plain = workroom_pictures.paint

    def painted(*given: Any) -> Any:
        drawn.append(given)
        return plain(*given)

    monkeypatch.setattr(workroom_pictures, "paint", painted)
    alone = run(shop, "-q", "check")
    assert len(drawn) == 3 * crew.LEAST
    monkeypatch.setenv("PROOFGEN_WORKERS", "2")
    assert run(other, "-q", "check").out == alone.out
    assert len(drawn) == 3 * crew.LEAST, "none by the run itself"
    assert len([*other.glob("workroom/orders/*.jpg")]) == 3 * crew.LEAST
    assert differing(shop, other) == {}
