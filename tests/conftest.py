"""What tests of several rooms share: one Chromium for the whole run."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.browsers import NoBrowser, running_browser
from tests.lacking import lacking


@pytest.fixture(scope="session")
def browser() -> Browser:
    """A running Chromium."""
    try:
        return running_browser()
    except NoBrowser as error:
        lacking(str(error))
