"""Two checkers of pages that packages carry: axe in the browser, the Nu checker by Java."""

from __future__ import annotations

import functools
import io
import json
import shutil
import subprocess
import tarfile
from collections.abc import Sequence
from pathlib import Path

from playwright.sync_api import Page

from tests.lacking import lacking
from tests.real_photos import Package, archive_of

_AXE = Package(
    "axe-core",
    "4.14.1",
    "axe-core-4.14.1.tgz",
    "e6b0ce02b84d892e2e33e403485e7f3d6c29e2be6df65daf44d89ba564139745",
)  # MPL-2.0, 0.7 MB; used here alone, never carried
_NU = Package(
    "vnu-jar",
    "26.9.27",
    "vnu-jar-26.9.27.tgz",
    "5970d3ffca91a627cf0965e5d91bb2e4242307c29292998de0b419d6a901b2b7",
)  # MIT, 30 MB; the same
_RUN = """async () => (await axe.run(document, {resultTypes: ['violations']})).violations
.map((v) => v.id + ': ' + v.nodes.map((n) => n.html.slice(0, 120)).join(' | '))"""


def _member(package: Package, name: str) -> bytes:
    with tarfile.open(fileobj=io.BytesIO(archive_of(package)), mode="r:gz") as archive:
        file = archive.extractfile(name)
        assert file
        return file.read()


@functools.cache
def _axe() -> str:
    return _member(_AXE, "package/axe.min.js").decode()


def axe_faults(page: Page) -> list[str]:
    """What axe finds on a page as it stands; its context has `bypass_csp`."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(f"{_axe()};0")
    return list(page.evaluate(_RUN))


def nu_faults(pages: Sequence[Path], scratch: Path) -> list[str]:
    """Errors that the Nu checker finds, all pages in one go. Fails in CI, else skips, where
    there is no Java."""
    java = shutil.which("java")
    if not java:
        lacking("the Nu checker needs Java")
    jar = scratch / "vnu.jar"
    jar.write_bytes(_member(_NU, "package/build/dist/vnu.jar"))
    ran = subprocess.run(
        [java, "-Xss8m", "-jar", str(jar), "--stdout", "--format", "json", *map(str, pages)],
        capture_output=True,
        encoding="utf-8",
        timeout=300,
        check=False,
    )
    return [
        f"{Path(told['url']).parent.name}: {told['message']} {told.get('extract', '')!r}"
        for told in json.loads(ran.stdout)["messages"]
        if told["type"] == "error"
    ]
