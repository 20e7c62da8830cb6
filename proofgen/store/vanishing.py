"""What vanishes: files and folders deleted whole, what was left half-made, and why it failed."""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import secrets
import shutil
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from proofgen.errors import WRITE_CURE, MachineError

TEMPORARY = ".part-"
LOCK = ".lock"
_RETRIES = 20  # a virus scanner on Windows holds a fresh file for a moment


def reason(error: OSError) -> str:
    """What the system says, in small letters."""
    return (error.strerror or str(error)).lower()


def cannot_write(error: OSError, path: Path) -> MachineError:
    """The error of a writer for what the system said."""
    if error.errno == errno.ENOSPC:
        return MachineError("the disk is full", "free some space, then run the same again", path)
    if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return MachineError(
            "this folder may not be written to",
            f"{WRITE_CURE}, or work on a copy in a folder of your own",
            path,
        )
    return MachineError(
        f"cannot be written ({reason(error)})", "check the disk, then run it again", path
    )


def replace(source: Path, target: Path) -> None:
    """Rename, on Windows a few times. OSError where it cannot be done."""
    for attempt in range(_RETRIES):
        try:
            source.replace(target)
            return
        except PermissionError:
            if sys.platform != "win32" or attempt == _RETRIES - 1:
                raise
            time.sleep(0.05)


def remove(path: Path) -> None:
    """Delete a file if it is there."""
    try:
        path.unlink(missing_ok=True)
    except OSError as error:
        raise cannot_write(error, path) from error


def take_away(path: Path) -> None:
    """What stands there goes, if anything does: a file, a link (never what it leads to), a folder
    with all in it. Errors: MachineError when it cannot be removed."""
    if path.is_dir() and not path.is_symlink():
        remove_folder(path)
    else:
        remove(path)


def is_link(path: Path) -> bool:
    """Whether a path leads elsewhere: a symbolic link, or a junction on Windows."""
    if not os.path.lexists(path):
        return False
    return path.is_symlink() or path.resolve() != path.parent.resolve() / path.name


def remove_folder(folder: Path) -> None:
    """Delete a folder if it is there; it goes out of sight by one rename, so that none is left half
    full. Of a link the link alone goes. Errors: MachineError when it cannot be removed."""
    side = folder.parent / f"{TEMPORARY}{secrets.token_hex(6)}"
    try:
        if is_link(folder):
            folder.unlink()
        elif folder.exists():
            replace(folder, side)
            _remove_tree(side)
    except OSError as error:
        raise MachineError(
            f"this folder cannot be removed ({reason(error)})", WRITE_CURE, folder
        ) from error


def _remove_tree(folder: Path) -> None:
    """Delete a folder and all in it, also what is closed to writing, as photos from a camera's card
    may be. OSError where something cannot be deleted."""

    def once_more(delete: Callable[[str], object], path: str, _: object) -> None:
        closed = [Path(path)] if path == str(folder) else [Path(path).parent, Path(path)]
        for one in (one for one in closed if not one.is_symlink()):
            one.chmod(0o700)
        (delete if delete in (os.unlink, os.rmdir) else shutil.rmtree)(path)

    if sys.version_info >= (3, 12):
        shutil.rmtree(folder, onexc=once_more)
    else:
        shutil.rmtree(folder, onerror=once_more)


def is_half_gone(path: Path) -> bool:
    """Whether it was deleted or made, and not to its end."""
    return path.name.startswith(TEMPORARY)


def mark_of(path: Path) -> str:
    """What marks the temporary names of one shop or one target in a folder of others."""
    return hashlib.sha256(os.fsencode(path.resolve())).hexdigest()[:12] + "-"


def is_passing(path: Path) -> bool:
    """Whether it is a file of a run's own, which means nothing once the run is over."""
    return path.name == LOCK or is_half_gone(path)


def sweep(folder: Path, *, mark: str = "", deep: bool = True) -> int:
    """Remove what a killed run left half-made below `folder` (unless `deep`, in it alone), of those
    that bear the `mark`; how many files and folders."""
    if not folder.is_dir():
        return 0
    left = list(_half_gone_below(folder, TEMPORARY + mark, deep=deep))
    for path in left:
        with contextlib.suppress(OSError):
            if path.is_dir() and not is_link(path):
                _remove_tree(path)
            else:
                path.unlink()
    return len(left)


def _half_gone_below(folder: Path, begins: str, *, deep: bool) -> Iterator[Path]:
    """What lies there whose name begins so, with all in it counted as one; no link is followed.
    Every run that writes looks at every name of a shop, so not by `rglob`, which takes ten times
    as long."""
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if entry.name.startswith(begins):
                yield Path(entry.path)
            elif deep and entry.is_dir(follow_symlinks=False):
                yield from _half_gone_below(Path(entry.path), begins, deep=True)
