"""A browser for the proof's page, and the page itself in a folder."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from proofgen.proof import ProofContent, build
from proofgen.render import Theme
from tests.proof.sample import content

ARGUMENTS = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--no-first-run",
]


@pytest.fixture(scope="session")
def theme() -> Theme:
    return Theme("quay", "en", "EUR")


@pytest.fixture(scope="session")
def sample() -> ProofContent:
    return content()


@pytest.fixture(scope="session")
def page_file(sample: ProofContent, theme: Theme, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample's page on disk, with its pictures."""
    folder = tmp_path_factory.mktemp("proof")
    for name, data in build(sample, theme, with_pdf=False).items():
        (folder / name).write_bytes(data)
    return folder / "index.html"


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    program = shutil.which("chromium") or shutil.which("google-chrome")
    if not program:
        pytest.skip("no Chromium on this machine")
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=program, args=ARGUMENTS)
        yield running
        running.close()


@pytest.fixture
def visit(browser: Browser, page_file: Path) -> Iterator[Callable[..., Page]]:
    """Open the sample (or another file) with the given browser options; faults of script fail."""
    opened = []
    faults: list[str] = []

    def go(file: Path | None = None, **options: object) -> Page:
        context = browser.new_context(**options)  # type: ignore[arg-type]
        opened.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
        page.goto((file or page_file).as_uri())
        return page

    yield go
    for context in opened:
        context.close()
    assert faults == []
