"""Examples in docstrings give what they say."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
from pathlib import Path

import proofgen

APART = {"proofgen.__main__", "proofgen.bootstrap", "proofgen.photo.child"}  # run, not imported


def test_every_example_in_a_docstring_gives_what_it_says() -> None:
    tried = failed = 0
    for found in pkgutil.walk_packages(proofgen.__path__, "proofgen."):
        if found.name in APART:
            continue
        module = importlib.import_module(found.name)
        if ">>>" in Path(module.__file__ or "").read_text("utf-8"):
            result = doctest.testmod(module)
            tried, failed = tried + result.attempted, failed + result.failed
    assert tried >= 7 and failed == 0
