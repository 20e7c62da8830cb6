"""Published tables beside the tests."""

import csv
import warnings
from pathlib import Path

import pytest

DATA = Path(__file__).parents[1] / "data"


@pytest.fixture
def table():
    """Rows of a table in tests/data as dicts; lines that begin with # name its source."""

    def read(name: str) -> list[dict[str, str]]:
        lines = (DATA / name).read_text(encoding="utf-8").splitlines()
        sources = [i for i, line in enumerate(lines) if line.startswith("# ")]
        assert sources, f"{name} names no source"
        return list(csv.DictReader(lines[len(sources) :]))

    return read


@pytest.fixture(scope="module")
def other_library():
    """colour-science, an independent library; on import it warns of what it could also do."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour

    return colour
