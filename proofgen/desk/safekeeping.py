"""What must not be lost: whether the records are whole, and all of it packed into one file."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

from proofgen import store
from proofgen.errors import UsageError
from proofgen.workshop import Workshop

# What a backup holds: all that people wrote or said. site/ and workroom/ can be built again.
KEPT = ("shop.yaml", "blanks", "designs", "seasons", "orders", "words", "fonts", "records")
# Files in a fixed order with a fixed day, so that the same shop gives the same backup.
ZIP_DAY = (1980, 1, 1, 0, 0, 0)


def backup(workshop: Workshop, target: Path) -> int:
    """Pack what cannot be made again into a zip file; how many files. UsageError if it exists."""
    if target.exists():
        raise UsageError(f"“{target}” is there already", "choose another name")
    held = io.BytesIO()
    count = 0
    with zipfile.ZipFile(held, "w") as pack:
        for part in KEPT:
            top = workshop.folder / part
            for path in sorted(top.rglob("*")) if top.is_dir() else [top]:
                if path.is_file() and not path.is_symlink():
                    name = path.relative_to(workshop.folder).as_posix()
                    entry = zipfile.ZipInfo(name, ZIP_DAY)
                    entry.external_attr = 0o600 << 16  # else some unpackers let nobody read it
                    pack.writestr(entry, path.read_bytes(), zipfile.ZIP_DEFLATED)
                    count += 1
    store.write(target, held.getvalue(), durable=True, private=True)
    return count


def check_records(workshop: Workshop) -> tuple[list[str], list[str]]:
    """What is wrong with the records (nothing: all is as it was written), and what is harmless."""
    return workshop.records.verify(), workshop.records.notes()
