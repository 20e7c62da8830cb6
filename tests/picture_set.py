"""The whole set of test pictures that Pillow's source package carries, good, odd and hostile.

Fetched and cached as tests/real_photos.py does it: one archive, verified by its SHA-256.
"""

from __future__ import annotations

import io
import tarfile
from pathlib import Path, PurePosixPath

from tests import real_photos


def pillow_pictures(folder: Path) -> list[Path]:
    """Writes every file of Tests/images into `folder`, under numbered names that keep what they
    are called, and gives their paths. Where it cannot be fetched: fails in CI, else skips."""
    written = []
    with tarfile.open(
        fileobj=io.BytesIO(real_photos.archive_of(real_photos._PILLOW)), mode="r:gz"
    ) as archive:
        for member in archive:
            if "/Tests/images/" not in member.name or not member.isreg():
                continue
            stream = archive.extractfile(member)
            assert stream is not None
            path = folder / f"{len(written):04d}-{PurePosixPath(member.name).name}"
            path.write_bytes(stream.read())
            written.append(path)
    return written
