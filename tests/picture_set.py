"""The whole set of test pictures that Pillow's source package carries, good, odd and hostile.

Fetched and cached as tests/real_photos.py does it: one archive, verified by its SHA-256.
"""

from __future__ import annotations

import hashlib
import io
import os
import tarfile
from pathlib import Path, PurePosixPath

import pytest

from tests import real_photos


def pillow_pictures(folder: Path) -> list[Path]:
    """Writes every file of Tests/images into `folder`, under numbered names that keep what they
    are called, and gives their paths. Where it cannot be fetched: fails in CI, else skips."""
    written = []
    with tarfile.open(fileobj=io.BytesIO(_archive()), mode="r:gz") as archive:
        for member in archive:
            if "/Tests/images/" not in member.name or not member.isreg():
                continue
            stream = archive.extractfile(member)
            assert stream is not None
            path = folder / f"{len(written):04d}-{PurePosixPath(member.name).name}"
            path.write_bytes(stream.read())
            written.append(path)
    return written


def _archive() -> bytes:
    package = real_photos._PILLOW
    kept = real_photos._cache() / package.sha256[:12] / package.archive
    if real_photos._is(kept, package.sha256):
        return kept.read_bytes()
    try:
        content = real_photos._archive(package)
    except (OSError, real_photos._NotFetchedError) as error:
        told = f"this test needs the package {package}, which cannot be fetched: {error}"
        if os.environ.get("CI"):
            pytest.fail(told)
        pytest.skip(told)
    assert hashlib.sha256(content).hexdigest() == package.sha256
    kept.parent.mkdir(parents=True, exist_ok=True)
    temporary = kept.with_name(f"{os.getpid()}.part")
    temporary.write_bytes(content)
    temporary.replace(kept)
    return content
