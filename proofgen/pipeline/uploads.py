"""What of site/ is to be uploaded: what changed since the last time, and what is to go there."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from proofgen import proof, store
from proofgen.errors import ShopError, UsageError
from proofgen.pipeline import pages
from proofgen.pipeline.hosts import HTACCESS
from proofgen.pipeline.orders import facts_of
from proofgen.pipeline.publishing import ours_in_site
from proofgen.signoff import Notice
from proofgen.workshop import Workshop

FOLDER = "upload"  # in workroom/
CHANGED = "changed"  # in that: copies of what is to go up
LIST, DELETE = "upload.txt", "delete.txt"
_WAITING, _DONE = "waiting.json", "uploaded.json"
_SCHEMA = "proofgen/upload/1"
# Files that the shop puts there on purpose, for a host or a browser.
_FOR_HOSTS = ("_headers", "_redirects", "robots.txt", "favicon.ico", "CNAME", ".htaccess",
              ".nojekyll", ".well-known")  # fmt: skip


@dataclass
class Upload:
    """What an upload is made of, all by address below the site's root: `files` with their digests
    are the whole site, `changed` what goes up, in an order in which no page leads to what is not
    there yet, `gone` what is to be deleted afterwards; `left_out` is told to people."""

    files: dict[str, str] = field(default_factory=dict)
    changed: list[str] = field(default_factory=list)
    gone: list[str] = field(default_factory=list)
    left_out: list[str] = field(default_factory=list)
    bytes: int = 0
    unlinked: int = 0  # private pages that stay here, since no letter leads to them
    held_back: bool = False  # a private page is damaged, so that it was left out


def _below(folder: Path, root: Path) -> Iterator[Path]:
    """Plain files of a folder and those below it; links and what is passing are left out."""
    for entry in sorted(os.scandir(folder), key=lambda one: one.name):
        path = Path(entry.path)
        if entry.is_symlink() or store.is_passing(path):
            continue
        if entry.is_dir():
            yield from _below(path, root)
        elif entry.is_file():
            yield path


def _top(workshop: Workshop) -> Iterator[tuple[Path, bool]]:
    """What lies in site/ itself, and whether it is proofgen's or a host's."""
    ours = {*ours_in_site(workshop), *_FOR_HOSTS}
    for path in sorted(workshop.site.iterdir()):
        if path.name != "p" and not store.is_passing(path):
            yield path, path.name in ours and not path.is_symlink()


def _private(workshop: Workshop, upload: Upload) -> Iterator[Path]:
    """Files of the private pages that the records know and that are whole. None without `site:`:
    then letters carry the proof itself, and nobody means a page to be read on the web."""
    folder = workshop.site / "p"
    if not folder.is_dir():
        return
    if not workshop.shop.settings.site:
        upload.unlinked = sum(1 for path in folder.iterdir() if path.is_dir())
        return
    for name in (HTACCESS, proof.PAGE):
        if (folder / name).is_file():
            yield folder / name
    for name in workshop.sound_records().orders():
        token = workshop.records.token(name)
        home = pages.home(workshop, token) if token else None
        if home is None or home.is_symlink() or not home.is_dir():
            continue
        shown = workshop.records.shown(name)
        is_notice = isinstance(facts_of(workshop, name, None).rules.page, Notice)
        if not is_notice and shown and pages.damaged(workshop, name, shown):
            upload.held_back = True
            upload.left_out.append(
                f"the page of {name} is not as its customer was shown it: first proofgen build"
            )
            continue
        yield from _below(home, folder)
    upload.left_out += [
        f"site/p/{name}, which the records know nothing of" for name in pages.unknown(workshop)
    ]


def in_order(address: str) -> tuple[bool, bool, str]:
    """Pictures before the pages that show them, the front last."""
    return address == "index.html", address.endswith((".html", ".xml")), address


def prepared(workshop: Workshop, before: Mapping[str, str]) -> Upload:
    """What changed in site/ since `before` (addresses and digests of the last upload).

    Errors: ShopError where there is no site, SignoffError where the records are damaged.
    """
    if not workshop.site.is_dir():
        raise ShopError("there is no site yet", "proofgen build", workshop.site)
    upload = Upload()
    found = []
    for path, is_ours in _top(workshop):
        if not is_ours:
            upload.left_out.append(f"site/{path.name}, which proofgen did not make")
        elif path.is_dir():
            found += [*_below(path, workshop.site)]
        else:
            found.append(path)
    found += [*_private(workshop, upload)]
    for path in found:
        address = path.relative_to(workshop.site).as_posix()
        upload.files[address] = store.file_digest(path)
        if before.get(address) != upload.files[address]:
            upload.changed.append(address)
            upload.bytes += path.stat().st_size
    upload.changed.sort(key=in_order)
    upload.gone = sorted(before.keys() - upload.files.keys())
    return upload


# -- what was uploaded last ------------------------------------------------------------------


def home(workshop: Workshop) -> Path:
    return workshop.workroom / FOLDER


def copies_of(workshop: Workshop) -> Path:
    """Where copies of what changed lie until they are uploaded."""
    return home(workshop) / CHANGED


def _read(path: Path) -> dict[str, str]:
    """A list of addresses and digests as it was noted; empty where there is none, or none that can
    be read: then all goes up again."""
    try:
        noted = json.loads(path.read_text("utf-8"))
        files = noted["files"] if noted["schema"] == _SCHEMA else {}
        return {str(name): str(digest) for name, digest in files.items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def _note(path: Path, files: Mapping[str, str]) -> None:
    store.write(path, store.dump_json({"schema": _SCHEMA, "files": dict(sorted(files.items()))}))


def of_host(workshop: Workshop) -> dict[str, str]:
    """What the maker said was uploaded."""
    return _read(home(workshop) / _DONE)


def _of_target(workshop: Workshop, target: Path) -> Path:
    name = store.digest(str(target.resolve()).encode())[:12]
    return home(workshop) / f"in-{name}.json"


def of_target(workshop: Workshop, target: Path) -> dict[str, str]:
    """What earlier runs put into a folder."""
    return _read(_of_target(workshop, target))


def note_target(workshop: Workshop, target: Path, files: Mapping[str, str]) -> None:
    _note(_of_target(workshop, target), files)


def write_lists(workshop: Workshop, upload: Upload) -> None:
    """The two lists for people and programs, an address a line, and what waits to be called done.
    Copies of before go."""
    folder = home(workshop)
    store.take_away(folder / CHANGED)
    if upload.changed or upload.gone:
        for name, addresses in ((LIST, upload.changed), (DELETE, upload.gone)):
            store.write(folder / name, "".join(f"{one}\n" for one in addresses))
    _note(folder / _WAITING, upload.files)


def done(workshop: Workshop) -> int:
    """Note that what was prepared last is uploaded now; how many files lie there. UsageError where
    nothing was prepared."""
    folder = home(workshop)
    if not (folder / _WAITING).is_file():
        raise UsageError("nothing waits to be called uploaded", "first: proofgen publish")
    files = _read(folder / _WAITING)
    _note(folder / _DONE, files)
    put_away(workshop)
    return len(files)


def put_away(workshop: Workshop) -> None:
    """Copies, lists and what waits go; what was uploaded stays known. A person's pages are among
    the copies, so that whoever forgets or withdraws calls this."""
    for name in (CHANGED, LIST, DELETE, _WAITING):
        store.take_away(home(workshop) / name)
