"""The site and the workroom in a browser of this machine, each at an address of its own."""

from __future__ import annotations

import functools
import http.server
import io
import re
from http import HTTPStatus
from pathlib import Path
from typing import BinaryIO, ClassVar
from urllib.parse import unquote, urlsplit

_HERE = ("127.0.0.1", "localhost")


class _Pages(http.server.SimpleHTTPRequestHandler):
    """Files of a folder for a browser of this machine, called by this machine's own name: a page of
    somebody else's whose name was turned to this address (DNS rebinding) is refused."""

    headers_too: ClassVar[dict[str, str]] = {}

    def log_message(self, *_: object) -> None:
        """Say nothing for each page."""

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        host = (self.headers.get("Host") or "").rpartition(":")[0] or self.headers.get("Host")
        if host not in _HERE:
            self.send_error(HTTPStatus.FORBIDDEN)
            return None
        return super().send_head()

    def end_headers(self) -> None:
        for name, value in self.headers_too.items():
            self.send_header(name, value)
        super().end_headers()


class Site(_Pages):
    """What is uploaded."""


class Workroom(_Pages):
    """The maker's own pages, from the shop's folder, and what they lead to; nothing else of it:
    neither records nor orders, and no list of a folder. No other site may show any of it."""

    headers_too: ClassVar[dict[str, str]] = {
        "Cache-Control": "no-store",
        "Cross-Origin-Resource-Policy": "same-origin",
        "X-Frame-Options": "DENY",
        "X-Content-Type-Options": "nosniff",
    }
    _START = "workroom/index.html"
    _SHOWN = re.compile(
        r"site/.+|workroom/[\w-]+\.(html|pdf)"
        r"|workroom/(orders/[\w.-]+\.(html|jpg)|letters/[\w.-]+|press/[\w.-]+)"
    )

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        path = unquote(urlsplit(self.path).path).removeprefix("/")
        if not path:
            self.send_response(HTTPStatus.FOUND)
            self.send_header("Location", f"/{self._START}")
            self.send_header("Content-Length", "0")
            self.end_headers()
            return None
        hidden = any(part.startswith(".") for part in path.split("/"))
        if hidden or not self._SHOWN.fullmatch(path):
            self.send_error(HTTPStatus.NOT_FOUND)
            return None
        return super().send_head()

    def list_directory(self, path: object) -> io.BytesIO | None:
        self.send_error(HTTPStatus.NOT_FOUND)
        return None


def server_of(pages: type[_Pages], folder: Path, port: int) -> http.server.ThreadingHTTPServer:
    """Serves a folder to this machine alone. Errors: OSError for a port that is taken."""
    handler = functools.partial(pages, directory=str(folder))
    return http.server.ThreadingHTTPServer(("127.0.0.1", port), handler)
