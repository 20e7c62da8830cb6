"""Shops to run commands in."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.cli.small import make_shop


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A small shop with two plain orders."""
    return make_shop(tmp_path / "shop", "fenn", "quill")


@pytest.fixture(scope="session")
def demo_content() -> Path:
    return Path(__file__).parents[2] / "content"


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory, demo_content: Path) -> Path:
    """The demo shop as it is carried, without what it was built from by others."""
    folder = tmp_path_factory.mktemp("demo") / "shop"
    shutil.copytree(demo_content, folder)
    return folder
