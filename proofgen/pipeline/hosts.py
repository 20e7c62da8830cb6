"""What lies in site/ for hosts and search engines: private pages and their PDFs are in no index."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlsplit

from proofgen import catalogue, proof, store
from proofgen.errors import SignoffError
from proofgen.pipeline.season_days import current_season
from proofgen.workshop import Workshop

HTACCESS = ".htaccess"  # in site/p/; Apache and servers that read the same files
_OURS = f"# {catalogue.OURS}\n"
# A page says so itself; of a PDF and a picture only the host can (RFC 9110 lets any field be sent;
# this one is a convention of search engines).
_SAYS = {"X-Robots-Tag": "noindex, nofollow, noarchive", "Referrer-Policy": "no-referrer"}
# Of models (IANA's list of media types); a phone goes by it.
MODEL_KINDS = {".glb": "model/gltf-binary", ".usdz": "model/vnd.usdz+zip"}
# Folders whose files are named by their contents: what lies at such an address is never another,
# so that a browser may keep it for a year (RFC 9111, and RFC 8246 for `immutable`).
_NAMED_BY_CONTENT = ("pictures", "fonts")
_FOR_A_YEAR = "public, max-age=31536000, immutable"
_SEARCHED = ("robots.txt", catalogue.MAP, catalogue.FEED)
_HEAD = 300  # bytes that our line stands in
_MOST = 5_000_000  # bytes that are looked through of one


def _headers(workshop: Workshop) -> str:
    """`_headers`, as hosts of plain files read it: an address, then what is sent with it."""
    path = urlsplit(workshop.shop.settings.site).path.rstrip("/")
    says = "".join(f"  {name}: {value}\n" for name, value in _SAYS.items())
    kept = "".join(
        f"{path}/{folder}/*\n  Cache-Control: {_FOR_A_YEAR}\n" for folder in _NAMED_BY_CONTENT
    )
    return f"{_OURS}{path}/p/*\n{says}{kept}"


def _htaccess(workshop: Workshop) -> str:
    says = "".join(f'Header set {name} "{value}"\n' for name, value in _SAYS.items())
    kinds = "".join(f"AddType {kind} {ending}\n" for ending, kind in MODEL_KINDS.items())
    kinds = f"<IfModule mod_mime.c>\n{kinds}</IfModule>\n"
    models = workshop.shop.settings.models
    return f"{_OURS}<IfModule mod_headers.c>\n{says}</IfModule>\n{kinds if models else ''}"


def _robots(workshop: Workshop) -> str:
    """Nothing is barred (RFC 9309): what is not to be listed says so, and must be read for that.
    Everybody reads this file, so it names nobody's page; the map it names holds the catalogue."""
    site = workshop.shop.settings.site
    listed = f"Sitemap: {site}/{catalogue.MAP}\n" if site and current_season(workshop) else ""
    return f"{_OURS}User-agent: *\nDisallow:\n{listed}"


def is_ours(path: Path) -> bool:
    """Whether a file that hosts or search engines ask for is one of ours, or not there: one that
    the maker wrote in its place lacks our line."""
    if not path.is_file():
        return True
    with path.open("rb") as stream:
        return catalogue.OURS.encode() in stream.read(_HEAD)


def write_for_hosts(workshop: Workshop) -> None:
    """The folder of all pages shows none of them and is not closed to a host, which is told to keep
    them out of every index. A file that the maker wrote in the place of one of ours stays."""
    pages = workshop.site / "p"
    index = proof.blank_index(workshop.theme_for(None))
    store.write(pages / proof.PAGE, index, private=False)
    files = {
        pages / HTACCESS: _htaccess(workshop),
        workshop.site / "_headers": _headers(workshop),
        workshop.site / "robots.txt": _robots(workshop),
    }
    for path, content in files.items():
        if is_ours(path):
            there = path.read_bytes() if path.is_file() else b""
            # A changed one on the disk at once: an empty one would be the maker's.
            store.write(path, content, durable=there != content.encode(), private=False)


def named_aloud(workshop: Workshop) -> list[str]:
    """What everybody reads and names a private page, for people."""
    try:
        tokens = [token.encode() for token in workshop.records.tokens()]
    except SignoffError:  # told elsewhere
        return []
    said = []
    for file in _SEARCHED:
        path = workshop.site / file
        if path.is_file() and path.stat().st_size <= _MOST:
            content = path.read_bytes()
            if any(token in content for token in tokens):
                said.append(
                    f"site/{file} names the address of a private page, and everybody can read it: "
                    "take it out, here and at your host. Private pages ask not to be listed."
                )
    return said
