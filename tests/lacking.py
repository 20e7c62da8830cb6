"""What a test needs and this machine has not: CI fails, a desk skips by name."""

from __future__ import annotations

import os
from typing import NoReturn

import pytest


def lacking(told: str, *, module: bool = False) -> NoReturn:
    """Say what is lacking. `module`: also where no test is running yet."""
    if os.environ.get("CI"):
        pytest.fail(told)
    pytest.skip(told, allow_module_level=module)
