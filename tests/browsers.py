"""One Chromium for a whole run, inside pytest and outside it."""

from __future__ import annotations

import atexit
import functools
import shutil

from playwright.sync_api import Browser, sync_playwright

ARGUMENTS = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--no-first-run",
]


class NoBrowser(Exception):
    """There is no Chromium on this machine."""


@functools.cache
def running_browser() -> Browser:
    """A running Chromium, started once. Playwright refuses to be started twice in one thread.

    Errors: NoBrowser.
    """
    program = shutil.which("chromium") or shutil.which("google-chrome")
    if not program:
        raise NoBrowser("no Chromium on this machine")
    playwright = sync_playwright().start()
    browser = playwright.chromium.launch(executable_path=program, args=ARGUMENTS)

    def stop() -> None:
        browser.close()
        playwright.stop()

    atexit.register(stop)
    return browser
