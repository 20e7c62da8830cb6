"""A cluster's processes do the jobs: its client as an Executor that ends with the run."""

from __future__ import annotations

import importlib
import logging
from collections.abc import Callable
from concurrent.futures import CancelledError, Executor, Future
from contextlib import suppress
from typing import Any

from proofgen.errors import UsageError

_ANSWERS = 30  # s, for a cluster to answer
_LEAVES = 5  # s, for it to hear that we left; it finds out by itself too
_LOGGERS = ("distributed", "distributed.client")  # those that the package gives handlers to


class Cluster(Executor):
    """The processes behind a scheduler's address (`tcp://…`). UsageError where the package that
    speaks with it is lacking, or none answers.

    A busy or ended cluster costs time and never the outcome, so what its package logs here is not
    said; what a job is lost by, the run does alone."""

    def __init__(self, address: str, variable: str) -> None:
        try:
            client = importlib.import_module("distributed").Client
        except ImportError as error:
            raise UsageError(
                f"{variable} names a cluster, and the package that speaks with it is not installed",
                "pip install 'proofgen[cluster]'",
            ) from error
        self._hush()
        try:
            self._client = client(address, timeout=_ANSWERS, set_as_default=False)
        except (OSError, ValueError) as error:
            self._speak()
            raise UsageError(
                f"no cluster answers at {address}", f"start it, or leave {variable} out"
            ) from error
        # A job leaves files: the same job asked for once more is done once more.
        self._executor = self._client.get_executor(pure=False)

    def submit(self, work: Callable[..., Any], /, *given: Any, **named: Any) -> Future[Any]:
        future: Future[Any] = self._executor.submit(work, *given, **named)
        return future

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Leave the cluster, which goes on for others; nothing of ours is left to be done there."""
        with suppress(Exception, CancelledError):  # it has ended, or answers no more
            self._executor.shutdown(wait=wait and not cancel_futures)
        with suppress(Exception, CancelledError):
            self._client.close(timeout=_LEAVES)
        self._speak()

    def _hush(self) -> None:
        self._handlers = {name: logging.getLogger(name).handlers[:] for name in _LOGGERS}
        for name in _LOGGERS:
            logging.getLogger(name).handlers[:] = [logging.NullHandler()]

    def _speak(self) -> None:
        for name, handlers in self._handlers.items():
            logging.getLogger(name).handlers[:] = handlers
