"""The files of tests that take longest begin first: begun last, one holds up all cores but one."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import pytest

# Which is longer than which matters less than that the many short ones come after them.
# `--durations=1` tells what each file took.
LONGEST = (
    "whole/test_every_page.py",
    "catalogue/test_try_photo.py",
    "pipeline/test_work_once.py",
    "whole/test_faults.py",
    "whole/test_any_shop.py",
    "intake/test_form.py",
    "test_demo.py",
    "pipeline/test_mended_pages.py",
    "pipeline/test_side_by_side.py",
    "proof/test_turning.py",
    "pipeline/test_evening.py",
    "pipeline/test_states.py",
    "pipeline/test_since_signed.py",
    "cli/test_examples.py",
    "cli/test_photo_decodes.py",
    "proof/test_reading.py",
    "whole/test_walk_browser.py",
    "proof/test_access.py",
    "catalogue/test_published.py",
    "pipeline/test_tally.py",
    "cli/test_new_shop.py",
    "pipeline/test_asked_photos.py",
    "catalogue/test_try_verdict.py",
    "pipeline/test_cluster.py",
    "guide/test_in_browser.py",
    "proof/test_page.py",
    "test_house.py",
    "demo/test_painting.py",
    "whole/test_workroom_in_browser.py",
    "whole/test_real_photos_through.py",
    "test_bootstrap.py",
    "test_wheel.py",
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
