"""Pages are set once for all tests of this room."""

from __future__ import annotations

import pytest

from tests.cli.small import remember_pdfs


@pytest.fixture(autouse=True)
def quick_pdfs(monkeypatch: pytest.MonkeyPatch) -> None:
    remember_pdfs(monkeypatch)
