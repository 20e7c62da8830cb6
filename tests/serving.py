"""`proofgen serve` in a process of its own, until a test is done with it."""

from __future__ import annotations

import contextlib
import os
import re
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

HOUSE = Path(__file__).parents[1]
SECONDS = 60  # a busy machine takes its time to start


@contextlib.contextmanager
def served(shop: Path) -> Iterator[tuple[str, str]]:
    """The addresses of the site and of the workroom, without a slash at their ends, on ports that
    the system chose. Afterwards it is stopped as by Ctrl+C, ends well and complains of nothing."""
    child = subprocess.Popen(
        [sys.executable, "-m", "proofgen", "--shop", str(shop), "serve", "--port", "0"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=HOUSE,
        env={**os.environ, "PYTHONPATH": str(HOUSE)},
    )  # fmt: skip
    assert child.stderr is not None
    too_late = threading.Timer(SECONDS, child.kill)
    too_late.start()
    lines: list[str] = []
    found: list[str] = []
    for line in child.stderr:
        lines.append(line)
        found += re.findall(r"http://127\.0\.0\.1:\d+", line)
        if len(found) == 2:
            break
    too_late.cancel()
    try:
        assert len(found) == 2, f"no two addresses within {SECONDS} s, only: {lines}"
        yield found[0], found[1]
    finally:
        child.send_signal(signal.SIGINT)
        out, err = child.communicate(timeout=SECONDS)
    assert child.returncode == 0, err
    assert out == "" and "Traceback" not in err, err
