"""What tests of several rooms share: one Chromium for the whole run."""

from __future__ import annotations

import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright

ARGUMENTS = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--no-first-run",
]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A running Chromium. One only: Playwright refuses to be started twice in one thread."""
    program = shutil.which("chromium") or shutil.which("google-chrome")
    if not program:
        pytest.skip("no Chromium on this machine")
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=program, args=ARGUMENTS)
        yield running
        running.close()
