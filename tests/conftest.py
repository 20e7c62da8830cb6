"""What tests of several rooms share: one Chromium for the whole run."""

from __future__ import annotations

import os
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import settings
from playwright.sync_api import Browser

from proofgen.store import Gathered, Store
from tests import longest, once
from tests.browsers import NoBrowser, running_browser
from tests.lacking import lacking

# A process beside a run knows nothing of what a test puts in the place of a function; those of
# tests/pipeline/test_side_by_side.py ask for some.
os.environ["PROOFGEN_WORKERS"] = "1"
# No test is timed: on a busy machine the shortest may wait for a second.
settings.register_profile("untimed", settings(deadline=None))
settings.load_profile("untimed")


FAILURE_TOLD = 2000  # characters of a failure
FAILURES_ENOUGH = 40  # of a run nobody watches: by then it is one fault, and each may wait long


def pytest_configure(config: pytest.Config) -> None:
    config.option.loadscopereorder = False  # else pytest-xdist begins with what has most tests
    if os.environ.get("CI") and not config.option.maxfail:
        config.option.maxfail = FAILURES_ENOUGH


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """A run nobody watches may be ended before its last words: each failure is told at once."""
    if report.failed and os.environ.get("CI") and "PYTEST_XDIST_WORKER" not in os.environ:
        print(f"\nFAILED {report.nodeid}\n{report.longreprtext[-FAILURE_TOLD:]}", flush=True)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    longest.first_longest(items)


def pytest_terminal_summary(terminalreporter: Any, config: pytest.Config) -> None:
    if config.option.durations:
        ran = terminalreporter.getreports("") + terminalreporter.getreports("passed")
        terminalreporter.write_sep("=", "longest files")
        terminalreporter.write_line("\n".join(longest.told(ran)))


@pytest.fixture(scope="session")
def browser() -> Browser:
    """A running Chromium."""
    try:
        return running_browser()
    except NoBrowser as error:
        lacking(str(error))


COMMANDS_TRIED = ("catalogue", "cli", "desk", "pipeline", "whole")  # rooms of tests
# What a run of the command takes over from an earlier one, by its kind in the store.
TAKEN_OVER = (
    "order checked/2",
    "order standing/3",
    "prints of findings/1",
    "press run/2",
    "nothing to do/1",
    "findings told/1",
    "paper/1",
)


@pytest.fixture(autouse=True, scope="session")
def _quickly(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Flushing thousands of small shops to the disk is slow and proves nothing here; tests of
    crashes count the flushes, or run in processes of their own that do flush. Nor does drawing
    the same pictures for each of them."""
    once.begin(once.shared(tmp_path_factory))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(os, "fsync", lambda handle: None)
        once.remember_drawings(patch)
        yield


@pytest.fixture(autouse=True, scope="module")
def _pages_set_once(request: pytest.FixtureRequest) -> Iterator[None]:
    """Where commands are tried, a page that was set is not set again for the next shop that has
    the same. The rooms whose own work the pages are (proof, press, render) set each."""
    with pytest.MonkeyPatch.context() as patch:
        if request.path.parent.name in COMMANDS_TRIED:
            once.remember_pdfs(patch)
        yield


@pytest.fixture(autouse=True)
def _each_run_does_its_work(monkeypatch: pytest.MonkeyPatch) -> None:
    """Runs inside this process take over nothing: what tests put in the place of functions no
    file's signature tells. `tests/pipeline/test_work_once.py` lets them."""
    plain = Store.recall

    def recall(self: Store, kind: str, key: str) -> bytes | None:
        return None if kind in TAKEN_OVER else plain(self, kind, key)

    gathered = Gathered.found

    def found(self: Gathered, kind: str, name: str) -> Iterator[bytes]:
        return iter(()) if kind in TAKEN_OVER else gathered(self, kind, name)

    monkeypatch.setattr(Store, "recall", recall)
    monkeypatch.setattr(Gathered, "found", found)
    monkeypatch.setattr("proofgen.cli.say_again", lambda _: None)
