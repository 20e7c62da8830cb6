"""Where an upload goes: a folder of copies, a zip, or a folder that is the site somewhere else."""

from __future__ import annotations

import os
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path, PurePosixPath
from typing import BinaryIO

from proofgen import store
from proofgen.errors import UsageError
from proofgen.pipeline import uploads
from proofgen.pipeline.uploads import Upload
from proofgen.say import joined, plural, quoted
from proofgen.workshop import Workshop

_DAY = (1980, 1, 1, 0, 0, 0)  # in a zip: what is in it counts, not when it was packed
_MOST_NAMED = 5


def copies(workshop: Workshop, upload: Upload) -> Path:
    """What changed, beside the lists; for the maker's eyes until it is uploaded."""
    folder = uploads.copies_of(workshop)
    for address in upload.changed:
        store.write(folder / address, (workshop.site / address).read_bytes())
    return folder


def packed(workshop: Workshop, upload: Upload, file: Path) -> None:
    """What changed as one zip, to be unpacked over the site at a host; whole or not there."""
    if _is_within(file, workshop.folder / "site"):
        raise UsageError("the zip would lie in what is uploaded", "name a place outside of site/")

    def pack(stream: BinaryIO) -> None:
        with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
            for address in upload.changed:
                entry = zipfile.ZipInfo(address, _DAY)
                entry.external_attr = 0o644 << 16
                entry.compress_type = zipfile.ZIP_DEFLATED
                archive.writestr(entry, (workshop.site / address).read_bytes())

    store.saved(file, pack)


def _is_within(path: Path, folder: Path) -> bool:
    return path.resolve().is_relative_to(folder.resolve())


def _refuse_place(workshop: Workshop, target: Path) -> None:
    if not target.is_dir():
        raise UsageError(
            f"there is no folder “{target}”", "make it, or connect the disk or share it lies on"
        )
    if _is_within(target, workshop.folder) or _is_within(workshop.folder, target):
        raise UsageError(
            f"“{target}” and the shop’s folder lie in each other",
            "choose a folder apart from it, so that no order or record is ever published",
        )


def _refuse_links(target: Path, addresses: Iterable[str]) -> None:
    """UsageError where writing would go through a link to somewhere else."""
    folders = {parent for one in addresses for parent in PurePosixPath(one).parents}
    links = sorted(str(one) for one in folders if (target / one).is_symlink() and str(one) != ".")
    if links:
        raise UsageError(
            f"in “{target}” {joined(map(quoted, links[:_MOST_NAMED]))} is a link to elsewhere",
            "put a folder in its place",
        )


def _refuse_strangers(
    workshop: Workshop, target: Path, upload: Upload, before: Mapping[str, str]
) -> None:
    """UsageError where files lie that no run of ours put there and that would be written over."""
    strange = [
        one
        for one in upload.changed
        if one not in before
        and os.path.lexists(target / one)
        and not _is_same(target / one, upload.files[one])
    ]
    if strange:
        more = f" and {len(strange) - _MOST_NAMED} more" if len(strange) > _MOST_NAMED else ""
        raise UsageError(
            f"“{target}” holds other files in the place of "
            f"{joined(map(quoted, strange[:_MOST_NAMED]))}{more}",
            "look whether they are needed; then the same with --over",
        )


def _is_same(path: Path, digest: str) -> bool:
    return path.is_file() and not path.is_symlink() and store.file_digest(path) == digest


def fill(workshop: Workshop, target: Path, *, over: bool) -> Upload:
    """Make a folder hold the site: what changed is written, what we put there and is no more goes,
    everything else stays as it is. What is in the way is told before anything is written.

    Errors: UsageError for a place that will not do, MachineError where it cannot be written.
    """
    _refuse_place(workshop, target)
    before = uploads.of_target(workshop, target)
    upload = uploads.prepared(workshop, before)
    # What somebody changed or took away there is put right as well.
    upload.changed = [one for one in upload.files if not _is_same(target / one, upload.files[one])]
    upload.changed.sort(key=uploads.in_order)
    _refuse_links(target, [*upload.files, *upload.gone])
    if not over:
        _refuse_strangers(workshop, target, upload, before)
    known = {**before, **upload.files}
    uploads.note_target(workshop, target, known)  # so that a run cut short deletes its own later
    for address in upload.changed:
        store.write(target / address, (workshop.site / address).read_bytes(), private=False)
    for address in upload.gone:
        _take(target, address)
    uploads.note_target(workshop, target, upload.files)
    return upload


def _take(target: Path, address: str) -> None:
    """A file of ours goes, and the folders that it leaves empty."""
    path = target / address
    if path.is_file() and not path.is_symlink():
        store.remove(path)
    for parent in PurePosixPath(address).parents:
        folder = target / parent
        if str(parent) == "." or not folder.is_dir() or any(folder.iterdir()):
            break
        store.remove_folder(folder)


def told(upload: Upload) -> list[str]:
    """What is not among it, for people."""
    stays = []
    if upload.unlinked:
        stays.append(
            f"Not uploaded: {plural(upload.unlinked, 'private proof page')}. shop.yaml has no "
            "site:, so your letters carry the proof as a file; to upload them as well, write "
            "your site’s address into shop.yaml, as site: https://example.org"
        )
    if not upload.left_out:
        return stays
    named = joined(upload.left_out[:_MOST_NAMED])
    more = len(upload.left_out) - _MOST_NAMED
    return [
        *stays,
        f"Not uploaded: {named}" + (f", and {plural(more, 'more')}." if more > 0 else "."),
    ]
