"""What must not be lost: whether the records are whole, and all of it packed into one file."""

from __future__ import annotations

import hashlib
import json
import os
import stat
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import BinaryIO

from proofgen import store
from proofgen.errors import MachineError, ShopError, SignoffError, UsageError
from proofgen.say import quoted, quoted_file
from proofgen.shop import plain_parts
from proofgen.shop.stands import READ
from proofgen.signoff import since, stand
from proofgen.workshop import Workshop

SCHEMA = "proofgen/backup/1"
# What a backup holds: all that people wrote or said. site/ and workroom/ can be built again.
KEPT = (*READ, "records")
MADE = ("site", "workroom")
# Files in a fixed order with a fixed day, so that the same shop gives the same backup.
ZIP_DAY = (1980, 1, 1, 0, 0, 0)
_SQUEEZED = frozenset((".avif", ".heic", ".heif", ".jpeg", ".jpg", ".png", ".webp", ".zip"))
BLOCK = 1 << 20  # bytes read at once


@dataclass(slots=True)
class Packed:
    """What became of a backup: the digest of each file by its name in it; what of the shop could
    not go in, renamed or was followed, as sentences; and what lies beside the shop's own files."""

    digests: dict[str, str] = field(default_factory=dict)
    left_out: list[str] = field(default_factory=list)
    renamed: list[str] = field(default_factory=list)
    beside: list[str] = field(default_factory=list)

    def comment(self) -> bytes:
        """Stands at the end of the zip file: how many files there are, and one digest of all."""
        about = {"schema": SCHEMA, "files": len(self.digests), "digest": of_all(self.digests)}
        return json.dumps(about).encode()


def of_all(digests: dict[str, str]) -> str:
    """One digest for every name and its digest."""
    return store.digest(*(f"{digests[n]} {n}".encode() for n in sorted(digests)))


def backup(workshop: Workshop, target: Path, *, keys: bool = True) -> Packed:
    """Pack what cannot be made again into a zip file, and read it back before it appears; without
    the `keys`, all but the records.

    Errors: UsageError if the file exists or would lie among what is published or packed;
    SignoffError when the records are not whole: such a backup would be taken for a good one;
    MachineError of the one writer, or when what was written reads otherwise.
    """
    _refuse_place(workshop.folder, target)
    problems = workshop.records.verify()
    if problems:
        raise SignoffError(
            f"the records are not whole, so no backup was made: {problems[0]}",
            "`proofgen records verify` tells all of it; keep the backups that you have, and put "
            "the records folder back from the last one",
        )
    packed = Packed()
    files = list(_files(workshop, packed, KEPT if keys else READ))

    def save(stream: BinaryIO) -> None:
        with zipfile.ZipFile(stream, "w") as pack:
            for path, name in files:
                _add(pack, path, name, packed)
            pack.comment = packed.comment()
        _read_back(stream, packed, target)

    # Whose it is: no other run of this shop packs now, so what bears its mark was left by a kill.
    mark = store.mark_of(workshop.folder)
    store.sweep(target.parent, mark=mark, deep=False)
    store.saved(target, save, durable=True, mark=mark)
    return packed


def _refuse_place(folder: Path, target: Path) -> None:
    """UsageError where the file is there already, or would be published, packed or thrown away."""
    if target.is_symlink() or target.exists():
        raise UsageError(f"“{target}” is there already", "choose another name")
    above = target.absolute().resolve().parents
    for part in (*MADE, *KEPT):
        home = (folder / part).resolve()
        if home in above or (home.is_dir() and any(home.samefile(p) for p in above if p.exists())):
            why = "what lies in it can be thrown away" if part == "workroom" else "it is packed"
            why = "what lies in it is published" if part == "site" else why
            raise UsageError(
                f"a backup must not lie in {part}/: {why}",
                "name a file in another folder, best on another disk",
            )


def _files(workshop: Workshop, packed: Packed, kept: Sequence[str]) -> Iterator[tuple[Path, str]]:
    """Every file to pack and what to call it there; what is left out is told."""
    folder, profile = workshop.folder, workshop.shop.settings.printer.icc
    parts = [folder / part for part in kept]
    if profile and not any(profile.is_relative_to(part) for part in parts):
        parts.append(profile)
    taken: set[str] = set()
    for top in parts:
        if not top.exists() and not top.is_symlink():
            continue
        for path in _below(top, folder, packed):
            shown = path.relative_to(folder).as_posix()
            name = _plain(shown)
            while name in taken:
                name += "_"
            taken.add(name)
            if name != shown:
                packed.renamed.append(f"{quoted_file(path)} is called {name} there")
            yield path, name
    known = {*KEPT, *MADE}
    packed.beside += [p.name for p in sorted(folder.iterdir()) if _beside(p, known, profile)]


def _beside(path: Path, known: set[str], profile: Path | None) -> bool:
    """Whether something in the shop folder is neither the shop's, nor made of it, nor its profile
    and nothing else."""
    if path.name in known or path == profile or store.is_passing(path):
        return False
    inside = [p for p in path.rglob("*") if not p.is_dir()]
    return inside != [profile] if inside else not path.is_dir()


def _below(path: Path, folder: Path, packed: Packed) -> Iterator[Path]:
    """The plain files at and below a part of the shop. The part itself may be a link, as the
    shop is read through it; below it links are not followed."""
    try:
        mode = (path.stat() if path.parent == folder else path.lstat()).st_mode
        if stat.S_ISDIR(mode):
            for one in sorted(path.iterdir()):
                if not store.is_passing(one):
                    yield from _below(one, folder, packed)
            return
        if stat.S_ISREG(mode):
            path.open("rb").close()
            yield path
            return
        link = "it is a link, and what it leads to was not followed"
        why = link if stat.S_ISLNK(mode) else "it is no file"
    except OSError as error:
        why = f"it cannot be read ({(error.strerror or str(error)).lower()})"
    packed.left_out.append(f"{path.relative_to(folder).as_posix()}: {why}")


def _plain(name: str) -> str:
    """A name that every machine can write: what stands in its way becomes %41 and the like."""

    def written(char: str) -> str:
        return "".join(f"%{byte:02X}" for byte in os.fsencode(char))

    parts = []
    for part in name.split("/"):
        made = "".join(written(c) if c in "\\:" or not c.isprintable() else c for c in part)
        if made != made.rstrip(" ."):
            made = made[:-1] + written(made[-1])
        parts.append(made)
    try:
        plain_parts("/".join(parts))
    except ValueError:  # a name that Windows keeps for a device
        parts = [f"%{ord(part[0]):02X}{part[1:]}" if _is_kept(part) else part for part in parts]
    return "/".join(parts)


def _is_kept(part: str) -> bool:
    try:
        plain_parts(part)
    except ValueError:
        return True
    return False


def _add(pack: zipfile.ZipFile, path: Path, name: str, packed: Packed) -> None:
    entry = zipfile.ZipInfo(name, ZIP_DAY)
    entry.external_attr = 0o600 << 16  # else some unpackers let nobody read it
    squeezed = path.suffix.lower() in _SQUEEZED
    entry.compress_type = zipfile.ZIP_STORED if squeezed else zipfile.ZIP_DEFLATED
    seen = hashlib.sha256()
    with path.open("rb") as stream, pack.open(entry, "w", force_zip64=True) as into:
        while block := stream.read(BLOCK):
            seen.update(block)
            into.write(block)
    packed.digests[name] = seen.hexdigest()


def digests_in(pack: zipfile.ZipFile) -> Iterator[tuple[str, str]]:
    """Every file in a zip file with the SHA-256 of what it holds."""
    for entry in pack.infolist():
        seen = hashlib.sha256()
        with pack.open(entry) as stream:
            while block := stream.read(BLOCK):
                seen.update(block)
        yield entry.filename, seen.hexdigest()


def _read_back(stream: BinaryIO, packed: Packed, target: Path) -> None:
    """MachineError when a file in the pack is not what was read from the shop."""
    try:
        with zipfile.ZipFile(stream) as pack:
            found = dict(digests_in(pack))
            same = found == packed.digests and pack.comment == packed.comment()
    except (zipfile.BadZipFile, EOFError, ValueError):
        same = False
    if not same:
        raise MachineError(
            "what was written reads back otherwise, so no backup was kept",
            "check the disk, or write it to another one",
            target,
        )


def recorded(workshop: Workshop) -> str:
    """How far the records are, as it is printed; '' where there are none."""
    return stand(workshop.records)


def since_then(workshop: Workshop, typed: str) -> str:
    """That all is there which the records held when this was printed, for people.

    Errors: ShopError where it is not, UsageError for what is never printed.
    """
    then = since(workshop.records, typed)
    if then is None:
        raise ShopError(
            f"no line of the records is {quoted(typed)}: what was noted until that was printed is "
            "no longer all there, though the lines that are left follow from each other",
            "look whether it is typed as it is printed, and of this shop; then put the records "
            "folder back from a backup that was made after it was printed",
        )
    more = then.of - then.line
    came = "none came" if not more else "1 came" if more == 1 else f"{more} came"
    return (
        f"Line {then.line} of {then.of} is the one that was printed: all that was noted until "
        f"then is there, unchanged; {came} since."
    )


def check_records(workshop: Workshop) -> tuple[list[str], list[str]]:
    """What is wrong with the records (nothing: all is as it was written), and what is harmless."""
    return workshop.records.verify(), workshop.records.notes()
