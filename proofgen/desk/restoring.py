"""A shop put back from its backup. The file may come from anywhere: all of it is checked first."""

from __future__ import annotations

import json
import shutil
import stat
import zipfile
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

from proofgen import store
from proofgen.desk.safekeeping import BLOCK, MADE, SCHEMA, digests_in, of_all
from proofgen.errors import MachineError, Place, ShopError, UsageError
from proofgen.say import quoted
from proofgen.shop import free_for_shop, plain_parts
from proofgen.signoff import Records
from proofgen.signoff.stand import until

_MOST_FILES = 1_000_000
# Photos do not shrink, and they are most of a shop; text shrinks to a tenth. Common practice for
# what unpacks to so much more: it is a trap.
_MOST_TIMES, _ALWAYS_LET = 100, 100_000_000  # times the file's own size; bytes
_OTHER = "take another of your backups"


@dataclass(frozen=True, slots=True)
class Restored:
    """How many files came back, what is wrong with the records among them (nothing: all is as it
    was written), and when their last line was written (None: they have none)."""

    files: int
    problems: list[str]
    until: datetime | None


def restore(file: Path, folder: Path) -> Restored:
    """Unpack a backup into a folder that is empty or not there; it appears whole or not at all.

    Errors: UsageError for a folder that holds something, or no such file; ShopError for a file that
    is no backup, is damaged, or would write where it must not; MachineError of the one writer.
    """
    folder = free_for_shop(folder)
    if not file.is_file():
        raise UsageError(f"there is no file “{file}”", "name the backup to restore")
    with _opened(file) as pack:
        entries = [e for e in pack.infolist() if not e.is_dir()]
        _refuse_unsafe(entries, file)
        _refuse_large(entries, file, folder)
        _refuse_changed(pack, file)
        mark = store.mark_of(folder)
        store.sweep(folder.parent, mark=mark, deep=False)  # what a killed one left
        with store.appearing(folder, durable=True, mark=mark) as side:
            for entry in entries:
                path = side.joinpath(*plain_parts(entry.filename))
                if path.exists():
                    raise _no_backup(
                        file, f"{quoted(entry.filename)} and another file are one on this disk"
                    )
                store.saved(path, _copying(pack, entry), durable=True)
            records = Records(side / "records")
            problems, then = records.verify(), until(records)
    return Restored(len(entries), problems, then)


def _copying(pack: zipfile.ZipFile, entry: zipfile.ZipInfo) -> Callable[[BinaryIO], None]:
    def save(stream: BinaryIO) -> None:
        with pack.open(entry) as source:
            while block := source.read(BLOCK):
                stream.write(block)

    return save


@contextmanager
def _opened(file: Path) -> Iterator[zipfile.ZipFile]:
    """The zip file; whatever it cannot give is a ShopError."""
    try:
        with zipfile.ZipFile(file) as pack:
            yield pack
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, ValueError) as error:
        raise _no_backup(file, f"it is damaged or no backup ({error})") from error
    except RuntimeError as error:  # so zipfile says that a password is wanted
        raise _no_backup(file, "it is locked by a password; unlock it first") from error
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise MachineError(f"it cannot be read ({why})", _OTHER, file) from error


def _no_backup(file: Path, why: str) -> ShopError:
    return ShopError(f"nothing was restored: {why}", _OTHER, Place(str(file)))


def _refuse_unsafe(entries: list[zipfile.ZipInfo], file: Path) -> None:
    """ShopError for names that lead elsewhere, links, names that come twice, and what no backup
    holds."""
    names = [entry.filename for entry in entries]
    for entry in entries:
        shown = quoted(entry.filename, 120)
        try:
            parts = plain_parts(entry.orig_filename)  # as it stands there: zipfile mends some
        except ValueError as error:
            raise _no_backup(file, f"{shown} in it is refused: {error}") from None
        mode = entry.external_attr >> 16
        if stat.S_IFMT(mode) not in (0, stat.S_IFREG):
            raise _no_backup(file, f"{shown} in it is a link or a device, which none of ours holds")
        if parts[0].casefold() in MADE:
            raise _no_backup(file, f"{shown} in it would be published or taken for made")
    if len(set(names)) < len(names):
        raise _no_backup(file, "a file stands in it twice")
    if "shop.yaml" not in names:
        raise _no_backup(file, "it holds no shop.yaml, so it is no backup of a shop")


def _refuse_large(entries: list[zipfile.ZipInfo], file: Path, folder: Path) -> None:
    """Nothing is unpacked that would fill the disk; zipfile gives no more than what is declared."""
    total, packed = sum(e.file_size for e in entries), file.stat().st_size
    if len(entries) > _MOST_FILES or total > max(_ALWAYS_LET, _MOST_TIMES * packed):
        raise _no_backup(file, f"unpacked it would be {total / 1e6:,.0f} MB, which no shop is")
    home = next(p for p in (folder, *folder.parents) if p.exists())
    free = shutil.disk_usage(home).free
    if total > free:
        raise MachineError(
            f"{total / 1e6:,.0f} MB are needed, and {free / 1e6:,.0f} MB are free",
            "free some space, or restore to another disk",
            home,
        )


def _refuse_changed(pack: zipfile.ZipFile, file: Path) -> None:
    """Read every file through; ShopError unless they are what was packed. Backups older than the
    digest at their end are proved by the checksums of zip alone."""
    found = dict(digests_in(pack))
    try:
        about = json.loads(pack.comment or b"null")
    except ValueError:
        about = None
    if not isinstance(about, dict) or about.get("schema") != SCHEMA:
        return
    if about.get("files") != len(found):
        raise _no_backup(file, f"{about.get('files')} files were packed, {len(found)} are there")
    if about.get("digest") != of_all(found):
        raise _no_backup(file, "a file in it is not what was packed")
