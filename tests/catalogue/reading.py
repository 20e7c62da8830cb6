"""Reads published pages as a stranger would: elements, words, and where links lead."""

from __future__ import annotations

import json
import posixpath
from collections.abc import Mapping
from html.parser import HTMLParser


class Page(HTMLParser):
    """Every element of a page with its attributes, and its words."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str]]] = []
        self._parts: list[str] = []
        self._open = ""
        self._facts = ""  # of the page's script that fetches pictures by itself
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._open = f"{tag} {dict(attrs).get('id')}" if tag == "script" else tag
        self.found.append((tag, {name: value or "" for name, value in attrs}))

    def handle_data(self, data: str) -> None:
        if self._open == "script try-facts":
            self._facts += data
        if self._open.split()[:1] not in (["style"], ["script"]):
            self._parts.append(data)

    @property
    def words(self) -> str:
        return " ".join(" ".join(self._parts).split())

    def every(self, tag: str) -> list[dict[str, str]]:
        return [attributes for name, attributes in self.found if name == tag]

    @property
    def ids(self) -> list[str]:
        return [a["id"] for _, a in self.found if "id" in a]

    @property
    def references(self) -> list[str]:
        """What the page links to or loads, be it by its script."""
        names = ("href", "src", "poster", "action", "data")
        sets = [
            part.split()[0]
            for _, a in self.found
            for part in a.get("srcset", "").split(",")
            if part.strip()
        ]
        return [a[n] for _, a in self.found for n in names if n in a] + sets + self._fetched()

    def _fetched(self) -> list[str]:
        facts = json.loads(self._facts or '{"offers": [], "root": ""}')
        return [
            facts["root"] + address
            for offer in facts["offers"]
            for address in [
                *(view["planes"] for view in offer["views"]),
                *(name for sheet in offer["sheets"] for name in sheet["pictures"]),
            ]
        ]


def pages(files: Mapping[str, bytes]) -> dict[str, Page]:
    return {n: Page(content.decode()) for n, content in files.items() if n.endswith(".html")}


def broken(files: Mapping[str, bytes]) -> list[str]:
    """References of all pages that lead to no file, or to no place in it."""
    read = pages(files)
    wrong = []
    for address, page in read.items():
        for reference in page.references:
            if reference.startswith(("mailto:", "data:", "https:")):
                continue
            path, _, fragment = reference.partition("#")
            target = posixpath.normpath(posixpath.join(posixpath.dirname(address), path))
            target = target if path else address
            if address == "404.html":  # shown at any address, so it begins at the host
                target = next((f for f in files if path.endswith(f"/{f}")), path)
            if target not in files or (fragment and fragment not in read[target].ids):
                wrong.append(f"{address} -> {reference}")
    return wrong
