"""Heavy work done ahead, side by side, by processes of their own; one writer takes it over.

A job notes nothing and publishes nothing. What it measured or drew lies in the store, where the
run finds it under all that it was made from; a proof it set comes back whole, and counts only if
it is of the very edition that the run records. So the outcome is that of a run alone, to the byte;
a job that fails, or is lost, leaves its work to the run, which then says what is wrong.
"""

from __future__ import annotations

import math
import os
import pickle
import secrets
import signal
import sys
import time
from collections import deque
from collections.abc import Iterator
from concurrent.futures import FIRST_COMPLETED, CancelledError, Executor, Future, wait
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Literal, cast

from proofgen import store
from proofgen.errors import MachineError, UsageError
from proofgen.model import Order
from proofgen.photo.heap import give_back_large_blocks
from proofgen.pipeline.surroundings import surroundings
from proofgen.proof import ProofContent
from proofgen.say import plural
from proofgen.signoff import Edition
from proofgen.workshop import Workshop

WORKERS = "PROOFGEN_WORKERS"
# Two processes take about five seconds of the processor until they are of use, which is what two
# orders with photos take: fewer jobs than these a run alone does as soon.
LEAST = 5
# Of photos that are worked on, or whose proof waits to be taken over: four of 48 megapixels.
MOST_PIXELS = 200_000_000
_LEAST_PIXELS = 4_000_000  # of an order without photos: it is painted all the same
_TICK = 0.2  # s
_GONE = 1.0  # s, for a process that was ended to be gone
_TELL = 10.0  # s, between two words on how far it is

Kind = Literal["check", "proof", "picture", "design", "booklet"]
OF_ORDERS: tuple[Kind, ...] = ("check", "proof", "picture")


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """What a process is asked for: of which run, in which shop folder, as its files `stand` (a
    digest), at which moment; for a proof also the `key` of its edition and the end of its link,
    which the run has drawn. `left` is where a proof is left for the run."""

    run: str
    folder: Path
    stands: str
    now: datetime
    left: Path
    kind: Kind
    name: str
    key: bytes = b""
    token: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ahead:
    """A proof as it will be if the run records this edition with this link, after the one `before`:
    what its page says (no picture's bytes), and its files, in a folder (False) and as one (True).
    Its rasters are `left` for the run."""

    left: Path
    edition: Edition
    document: str  # digest of its description
    before: Edition | None
    link: str
    content: ProofContent
    files: dict[bool, dict[str, bytes]]

    def is_of(self, edition: Edition, before: Edition | None, link: str) -> bool:
        return (self.edition, self.before, self.link) == (edition, before, link)

    def raster(self, name: str) -> tuple[bytes, str] | None:
        """A raster's file and the digest of its pixels, once."""
        left, key = left_in(self.left), f"{self.edition.order} {name}"
        content = left.recall("raster", key)
        left.drop("raster", key)
        return None if content is None else (content[64:], content[:64].decode())


def left_in(folder: Path) -> store.Store:
    """What jobs leave for the run of this folder: gone when it ends, swept when it was killed."""
    return store.Store(folder)


def stands(workshop: Workshop, order: str = "") -> str:
    """Digest of how the files stand that every job reads, and those of an order."""
    known = workshop.of_run
    if "files of all" not in known:
        files = workshop.files.items()
        of_all = sorted(one for one in files if not one[0].startswith("orders/"))
        known["files of all"] = repr(of_all).encode("utf-8", "surrogatepass")
    own = sorted(surroundings(workshop).by_order.get(order, {}).items())
    of_all_bytes = cast(bytes, known["files of all"])
    return store.digest(of_all_bytes, repr(own).encode("utf-8", "surrogatepass"))


class Crew:
    """The jobs of one run: given out in order, so many that their photos have no more than `most`
    pixels, and taken over one by one."""

    def __init__(self, workshop: Workshop, executor: Executor, most: int = MOST_PIXELS) -> None:
        self._workshop, self._executor, self._most = workshop, executor, most
        self._waiting: deque[tuple[Job, int | None]] = deque()
        self._given: dict[tuple[Kind, str], tuple[Future[str], int]] = {}
        self._run = secrets.token_hex(8)
        self._left = workshop.workroom / f"{store.TEMPORARY}{self._run}"
        self.to_come = 0  # jobs that are expected and not known yet
        self._jobs = 0
        self._began = time.monotonic()
        self._told = self._began + _TELL
        self.is_lost = False  # the processes ended; the run goes on alone

    # -- giving out --------------------------------------------------------------------------

    def add(self, kind: Kind, name: str, *, key: bytes = b"", token: str = "") -> None:
        """One more job, after those there are."""
        workshop = self._workshop
        job = Job(
            run=self._run,
            folder=workshop.folder.absolute(),
            stands=stands(workshop, name if kind in OF_ORDERS else ""),
            now=workshop.now,
            left=self._left.absolute(),
            kind=kind,
            name=name,
            key=key,
            token=token,
        )
        self._waiting.append((job, None))
        self._jobs += 1
        self._give_out()

    def _give_out(self) -> None:
        """Give out what has room. What notes nothing but results needs none once it is done."""
        held = sum(
            weight
            for (kind, _), (future, weight) in self._given.items()
            if kind == "proof" or not future.done()
        )
        running = any(not future.done() for future, _ in self._given.values())
        while self._waiting and not self.is_lost:
            job, weight = self._waiting[0]
            if weight is None:
                weight = self._pixels(job)
                self._waiting[0] = job, weight
            if running and held + weight > self._most:
                return
            self._waiting.popleft()
            held, running = held + weight, True
            from proofgen.pipeline.jobs import do

            try:
                with _deaf_to_interrupts():
                    future = self._executor.submit(do, job)
            except RuntimeError:  # broken, or closed by whoever lent it
                self._lose()
                return
            self._given[job.kind, job.name] = future, weight

    def _lose(self) -> None:
        if not self.is_lost:
            self._workshop.say("a process that helped was lost; all goes on without")
        self.is_lost = True

    def _pixels(self, job: Job) -> int:
        """Of all photos that a job opens, by their headers."""
        pictures, shop = self._workshop.materials.pictures, self._workshop.shop
        if job.kind == "design":
            files = set(shop.designs[job.name].sample_photos.values())
        elif job.kind == "booklet":
            files = set[Path]()
        else:
            files = _photos(shop.orders[job.name])
        seen = (pictures.inspect(file, decode=False) for file in files)
        return max(_LEAST_PIXELS, sum(one.width_px * one.height_px for one in seen))

    # -- taking over -------------------------------------------------------------------------

    def wait_for(self, kind: Kind, name: str) -> str:
        """Wait until a job is done, while others are given out; '' where it failed, was lost, or
        was never asked for."""
        self._give_out()
        while (kind, name) not in self._given:
            asked = ((job.kind, job.name) for job, _ in self._waiting)
            if self.is_lost or (kind, name) not in asked:
                return ""
            self._wait()
        future, _ = self._given[kind, name]
        while not future.done() and not self.is_lost:
            self._wait()
        self._given.pop((kind, name))
        try:
            told = future.result(0)
        except (Exception, CancelledError):  # not of the job, which tells none
            self._lose()
            told = ""
        self._give_out()
        return told

    def finish(self, *kinds: Kind) -> None:
        """Wait until all jobs of these kinds are done."""
        asked = [*self._given, *((job.kind, job.name) for job, _ in self._waiting)]
        for kind, name in asked:
            if kind in kinds:
                self.wait_for(kind, name)

    def _tell(self) -> None:
        """How far it all is, now and then."""
        now, of = time.monotonic(), self._jobs + self.to_come
        left = self.to_come + len(self._waiting)
        left += sum(not future.done() for future, _ in self._given.values())
        if now < self._told or left == of:
            return
        self._told = now + _TELL
        minutes = math.ceil((now - self._began) * left / (of - left) / 60)
        self._workshop.say_more(
            f"{of - left} of {of} parts of the work are done; "
            f"about {plural(minutes, 'minute')} to go"
        )

    def _wait(self) -> None:
        self._tell()
        running = [future for future, _ in self._given.values() if not future.done()]
        if running:
            wait(running, timeout=_TICK, return_when=FIRST_COMPLETED)
        self._give_out()

    def take(self, name: str) -> Ahead | None:
        """The proof of an order as a process has set it; None where none did."""
        digest = self.wait_for("proof", name)
        content = left_in(self._left).recall("proof", name) if digest else None
        if content is None or sha256(content).hexdigest() != digest:
            return None
        left_in(self._left).drop("proof", name)
        return cast(Ahead, pickle.loads(content))  # the very bytes that our own process told of

    def close(self) -> None:
        """End the processes, whatever they do: they have nothing to lose."""
        self.is_lost = True
        self._waiting.clear()
        for future, _ in self._given.values():
            future.cancel()
        self._given.clear()
        stop(self._executor)
        with suppress(MachineError):
            store.take_away(self._left)


def _photos(order: Order) -> set[Path]:
    return {use.file for line in order.lines for use in line.photos.values()}


# -- processes ---------------------------------------------------------------------------------


def cores() -> int:
    """The cores that this process may use."""
    if sys.version_info >= (3, 13):
        return os.process_cpu_count() or 1
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def executor_for(wanted: str) -> Executor | None:
    """Who does the jobs: so many processes of this machine (as many as it has cores for ''), or the
    cluster at an address; None for a run alone. UsageError for what is neither."""
    if "://" in wanted:
        from proofgen.pipeline.cluster import Cluster

        return Cluster(wanted, WORKERS)
    if wanted and not wanted.isdecimal():
        raise UsageError(
            f"{WORKERS} is “{wanted}”",
            "give it a number of processes, 1 for none beside the run, or leave it out",
        )
    count = int(wanted or cores())
    return processes(count) if count > 1 else None


def processes(count: int) -> Executor | None:
    """So many processes of this machine; None where the system lacks what they need."""
    try:
        from concurrent.futures import ProcessPoolExecutor
        from multiprocessing import get_context

        return ProcessPoolExecutor(count, get_context("spawn"), _begin)
    except (ImportError, NotImplementedError, OSError):
        return None


def _begin() -> None:
    """In each process: who started it ends it, and without it there is nothing to do."""
    import threading
    from multiprocessing import connection, parent_process

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    give_back_large_blocks()
    parent = parent_process()

    def leave() -> None:
        if parent is not None:
            connection.wait([parent.sentinel])
            os._exit(0)

    threading.Thread(target=leave, daemon=True).start()


@contextmanager
def _deaf_to_interrupts() -> Iterator[None]:
    """What is started within never hears Ctrl-C, not even while it still loads; we do after."""
    if not hasattr(signal, "pthread_sigmask"):  # Windows: they are deaf once they have begun
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def stop(executor: Executor) -> None:
    """End an executor, its processes with what they are at."""
    processes = [*(getattr(executor, "_processes", None) or {}).values()]
    for process in processes:
        process.kill()
    executor.shutdown(wait=False, cancel_futures=True)
    for process in processes:  # what they were writing is at rest then
        process.join(_GONE)


# -- the crew of a run -------------------------------------------------------------------------


def crew_for(workshop: Workshop, jobs: int) -> Crew | None:
    """The crew of this run, there from the first time on that it has so many jobs that starting it
    is worth while; None for a run alone."""
    known = workshop.of_run.get("crew")
    if known is None and jobs >= LEAST:
        executor = executor_for(os.environ.get(WORKERS, "").strip())
        if executor is not None:
            known = workshop.of_run["crew"] = Crew(workshop, executor)
            workshop.ends.append(known.close)
    return cast("Crew | None", known)


def crew_there(workshop: Workshop) -> Crew | None:
    """The crew of this run, if it has one."""
    return cast("Crew | None", workshop.of_run.get("crew"))
