"""The proof's page in a folder, and a way to open it in the browser."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from proofgen.proof.build import build
from proofgen.proof.content import ProofContent
from proofgen.render import Theme
from tests.proof.sample import content

NOW = "2026-11-26T12:00:00Z"  # between the sample's first day and its last


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
        page.clock.set_fixed_time(NOW)
        page.goto((file or page_file).as_uri())
        return page

    yield go
    for context in opened:
        context.close()
    assert faults == []
