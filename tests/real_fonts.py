"""Fonts of many scripts that packages carry, installed or fetched when a test asks for one.

`real_font(name)` gives the path of one font: where its Debian package is installed, that file;
else the same file from the package, kept in the cache of tests/real_photos.py. None of them is
part of the repository; all are under the SIL Open Font License.
"""

from __future__ import annotations

import functools
import io
import os
import shutil
import subprocess
import tarfile
import tempfile
from pathlib import Path

from tests import real_photos
from tests.lacking import lacking
from tests.real_photos import Package

_NOTO = Package("fonts-noto-core", "20201225-1")
_NANUM = Package("fonts-nanum", "20200506-1")
_GARAMOND = Package("fonts-ebgaramond", "0.016+git20210310.42d4f9f2-1")
_PILLOW = real_photos.PHOTOS["fujifilm.mpo"].package

# Debian: a path below /. Python index: a member of the source package.
FONTS = {
    **{
        f"Noto {name}": (_NOTO, f"usr/share/fonts/truetype/noto/Noto{name}-Regular.ttf")
        for name in ("Sans", "SansArabic", "SansHebrew", "SansDevanagari", "SansThai")
    },
    "EB Garamond": (_GARAMOND, "usr/share/fonts/opentype/ebgaramond/EBGaramond12-Regular.otf"),
    "Nanum Gothic": (_NANUM, "usr/share/fonts/truetype/nanum/NanumGothic.ttf"),
    "Noto Sans JP": (_PILLOW, "pillow-13.0.0/Tests/fonts/NotoSansJP-Regular.otf"),
    # Made to exhaust a reader's memory.
    "hostile": (
        _PILLOW,
        "pillow-13.0.0/Tests/fonts/oom-e8e927ba6c0d38274a37c1567560eb33baf74627.ttf",
    ),
}


def real_font(name: str) -> Path:
    """The path of one of FONTS. Where its package cannot be fetched: fails in CI, else skips."""
    package, member = FONTS[name]
    installed = Path("/") / member
    if not package.archive and installed.is_file():
        return installed
    kept = _kept(package, member)
    if not kept.is_file():
        reason = _fetch(package)
        if reason or not kept.is_file():
            told = f"{name} needs the package {package}, which cannot be fetched: {reason}"
            lacking(told)
    return kept


def _kept(package: Package, member: str) -> Path:
    return real_photos.cache() / f"{package.name}-fonts" / Path(member).name


@functools.cache
def _fetch(package: Package) -> str:
    """Put all fonts of a package into the cache; '' or the reason why not. Tried once a run."""
    wanted = {member for of, member in FONTS.values() if of == package}
    try:
        found = _from_index(package, wanted) if package.archive else _from_debian(package, wanted)
    except (
        OSError,
        real_photos._NotFetchedError,
        tarfile.TarError,
        subprocess.SubprocessError,
    ) as error:
        return str(error) or type(error).__name__
    for member, content in found.items():
        target = _kept(package, member)
        target.parent.mkdir(parents=True, exist_ok=True)
        side = target.with_name(f".{target.name}.{os.getpid()}")
        side.write_bytes(content)
        side.replace(target)
    lacking = wanted - found.keys()
    return f"it lacks {', '.join(sorted(lacking))}" if lacking else ""


def _from_index(package: Package, wanted: set[str]) -> dict[str, bytes]:
    content = real_photos._archive(package)
    with tarfile.open(fileobj=io.BytesIO(content), mode="r:gz") as archive:
        return {
            member.name: stream.read()
            for member in archive
            if member.name in wanted and member.isreg() and (stream := archive.extractfile(member))
        }


def _from_debian(package: Package, wanted: set[str]) -> dict[str, bytes]:
    if not shutil.which("apt-get") or not shutil.which("dpkg-deb"):
        raise real_photos._NotFetchedError("this system has no apt-get and dpkg-deb")
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run(
            ["apt-get", "download", "-qq", f"{package.name}={package.version}"],
            cwd=folder,
            capture_output=True,
            text=True,
            timeout=300,
            check=False,
        )
        packed = list(Path(folder).glob("*.deb"))
        if not packed:
            said = done.stderr.strip().splitlines()
            raise real_photos._NotFetchedError(said[0] if said else "no file")
        tree = Path(folder) / "tree"
        subprocess.run(
            ["dpkg-deb", "-x", str(packed[0]), str(tree)],
            check=True,
            capture_output=True,
            timeout=300,
        )
        return {m: (tree / m).read_bytes() for m in wanted if (tree / m).is_file()}
