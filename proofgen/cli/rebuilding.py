"""While the site is looked at: what changed is made anew, and open pages are told to come again."""

from __future__ import annotations

import subprocess
import sys
import threading
import time
from pathlib import Path

from proofgen import pipeline
from proofgen.cli import printing

EVERY_S = 0.7  # between two looks; a look at a shop of a thousand files takes a few ms
_STILL_S = 0.3  # an editor that saves in two steps is given time for the second
_MOST_S = 600


class Watch:
    """Looks after a shop's files in a thread of its own. Whoever `waits` is told the number of the
    next state of the site."""

    def __init__(self, shop: Path) -> None:
        self._shop = shop
        self._changed = threading.Condition()
        self._state = 0
        self._over = threading.Event()
        self._seen = pipeline.watching.standing(shop)

    @property
    def state(self) -> int:
        """How often the site was made anew since this began."""
        return self._state

    def waits(self, known: int, seconds: float) -> int:
        """The site's state, as soon as it is another than `known`; after so many seconds as it
        is."""
        with self._changed:
            self._changed.wait_for(lambda: self._state != known or self._over.is_set(), seconds)
            return self._state

    @property
    def is_over(self) -> bool:
        return self._over.is_set()

    def start(self) -> None:
        threading.Thread(target=self._look_after, daemon=True).start()

    def stop(self) -> None:
        self._over.set()
        with self._changed:
            self._changed.notify_all()

    def _look_after(self) -> None:
        while not self._over.wait(EVERY_S):
            now = pipeline.watching.standing(self._shop)
            if now == self._seen:
                continue
            time.sleep(_STILL_S)
            now = pipeline.watching.standing(self._shop)
            self._seen = now  # what changes from here on is looked at next time
            self._make()

    def _make(self) -> None:
        """The catalogue, by the command itself in a process of its own: a fault in a file ends that
        and is told, and the pages that are there stay."""
        typed = [sys.executable, "-m", "proofgen", "--shop", str(self._shop), "-q", "catalogue"]
        done = subprocess.run(
            typed, capture_output=True, encoding="utf-8", timeout=_MOST_S, check=False
        )
        for line in done.stderr.splitlines():
            printing.aside(line)
        if done.returncode == 0:
            printing.aside("Something changed: the catalogue is made anew.")
        with self._changed:
            self._state += 1
            self._changed.notify_all()
