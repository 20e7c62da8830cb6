"""Photos looked at as the product does, each problem held to the house's form."""

import pytest

from proofgen.photo.opening import Pictures
from proofgen.store import NoStore
from tests.materials import PICTURES


@pytest.fixture
def own():
    """Pictures with a process of their own."""
    with Pictures(NoStore()) as pictures:
        yield pictures


@pytest.fixture
def look(tmp_path):
    """Writes the bytes, inspects them, and holds every problem to the house's form."""

    def inspect(data: bytes, name: str = "pier.jpg", *, by: Pictures = PICTURES, **options):
        path = tmp_path / name
        path.write_bytes(data)
        facts = by.inspect(path, **options)
        if facts.problem:
            assert facts.problem_code and facts.cure
            assert not facts.problem.endswith(".") and "\n" not in facts.problem
            assert not facts.usable
        return facts

    return inspect
