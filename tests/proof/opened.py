"""Pages of a proof as a person opens and fills them in, and lists of names to look through."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from proofgen.proof.build import build
from proofgen.proof.content import Piece, ProofContent
from proofgen.render import Theme
from tests.proof.sample import content
from tests.proof.sample import words as words_of

Visit = Callable[..., Page]
GUESTS = tuple(
    f"{first} {last}"
    for first in ("Odalys", "Bram", "Zoë", "Wren", "Ilja", "Maren", "Søren", "محمد", "Íris", "Thu")
    for last in ("Fenn", "O’Neil", "Quill", "Okafor", "Marec", "Nguyễn", "Bracken", "Pell", "Haug",
                 "Abara", "Lind", "Sill")
)  # fmt: skip
PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}
browser_only = pytest.mark.browser


def written(proof: ProofContent, theme: Theme, folder: Path) -> Path:
    for name, data in build(proof, theme, with_pdf=False).items():
        (folder / name).write_bytes(data)
    return folder / "index.html"


def wrong(page: Page, row: str, now: str) -> None:
    page.locator(row).get_by_text("No, it is …").click()
    assert page.evaluate("document.activeElement.closest('.word').id") == row[1:]
    page.locator(f"{row} .instead input").fill(now)


def send(page: Page, **fields: str) -> str:
    for name, text in {"name": "Odalys Fenn", **fields}.items():
        page.fill(f"#answer-{name}", text)
    page.click("#answer-form [type=submit]")
    page.wait_for_selector("#slip-result:visible, #ask-unread:visible")
    if page.is_visible("#ask-unread"):
        page.click("#unread-read")
        page.wait_for_selector("#slip-result", state="visible")
    return page.input_value("#slip-text")


def listed(names: tuple[str, ...], **other: Any) -> ProofContent:
    """A list of names whose pieces share one picture."""
    made = content(edition=1)
    (work,) = made.works
    faces = work.every[0].faces
    every = tuple(Piece(pieces=(n,), numbers=str(n), faces=faces) for n in range(1, len(names) + 1))
    works = (dataclasses.replace(work, every=every, pieces=tuple(range(1, len(names) + 1))),)
    bill = tuple(dataclasses.replace(line, quantity=len(names)) for line in made.bill)
    return dataclasses.replace(made, works=works, bill=bill, words=words_of(names), **other)
