"""The files of tests that take longest begin first: begun last, one holds up all cores but one."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import pytest

# Which is longer than which matters less than that the many short ones come after them.
# `--durations=1` tells what each file took.
LONGEST = (
    "whole/test_faults.py",
    "pipeline/test_states.py",
    "checks/test_marker_photos.py",
    "pipeline/test_work_once.py",
    "whole/test_any_shop.py",
    "whole/test_every_page.py",
    "pipeline/test_asked_photos.py",
    "pipeline/test_mended_pages.py",
    "pipeline/test_tally.py",
    "test_house.py",
    "test_demo.py",
    "demo/test_painting.py",
    "whole/test_walk_browser.py",
    "whole/test_workroom_in_browser.py",
    "whole/test_real_photos_through.py",
    "test_bootstrap.py",
    "test_wheel.py",
    "pipeline/test_real_demo.py",
    "pipeline/test_since_signed.py",
    "pipeline/test_apply.py",
    "pipeline/test_evening.py",
    "pipeline/test_workroom_pages.py",
    "proof/test_access.py",
    "catalogue/test_in_browser.py",
    "say/test_customers_words.py",
)
_TESTS = Path(__file__).parent


def first_longest(items: list[pytest.Item]) -> None:
    """Put tests in that order; those of a file stay together and in theirs."""
    rank = {_TESTS / name: at for at, name in enumerate(LONGEST)}
    items.sort(key=lambda item: rank.get(item.path, len(rank)))


def told(reports: list[Any], most: int = 40) -> list[str]:
    """What each file took, in seconds by the clock, longest first."""
    took: Counter[str] = Counter()
    for report in reports:
        took[report.nodeid.partition("::")[0]] += report.duration
    return [f"{seconds:7.1f} s  {name}" for name, seconds in took.most_common(most)]
