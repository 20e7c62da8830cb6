"""What a test needs and this machine has not: CI fails, a desk skips by name."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NoReturn

import pytest

ROOT = sys.platform == "linux" and os.getuid() == 0


def lacking(told: str, *, module: bool = False) -> NoReturn:
    """Say what is lacking. `module`: also where no test is running yet."""
    if os.environ.get("CI"):
        pytest.fail(told)
    pytest.skip(told, allow_module_level=module)


@contextmanager
def small_disk(place: Path, size: str) -> Iterator[Path]:
    """A disk of so many bytes (as `mount` takes them) at a new folder, where one may be mounted."""
    if not ROOT:
        pytest.skip("only root on Linux may mount a small disk")
    place.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(place)]
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("mounting is not allowed here")
    yield place
    subprocess.run(["umount", str(place)], check=True)
