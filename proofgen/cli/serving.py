"""The site and the workroom in a browser of this machine, each at an address of its own."""

from __future__ import annotations

import contextlib
import functools
import http.server
import io
import re
import sys
from http import HTTPStatus
from pathlib import Path
from typing import BinaryIO, ClassVar
from urllib.parse import unquote, urlsplit

from proofgen.cli.rebuilding import Watch
from proofgen.pipeline.hosts import MODEL_KINDS

_HERE = ("127.0.0.1", "localhost")


class _Pages(http.server.SimpleHTTPRequestHandler):
    """Files of a folder for a browser of this machine, called by this machine's own name: a page of
    somebody else's whose name was turned to this address (DNS rebinding) is refused."""

    headers_too: ClassVar[dict[str, str]] = {}
    # What this machine's own list may lack, or may have wrong.
    extensions_map: dict[str, str] = {  # noqa: RUF012 - so typeshed has it
        **http.server.SimpleHTTPRequestHandler.extensions_map,
        **MODEL_KINDS,
        ".html": "text/html",
        ".jpg": "image/jpeg",
        ".webp": "image/webp",
        ".woff2": "font/woff2",
        ".pdf": "application/pdf",
    }

    def log_message(self, *_: object) -> None:
        """Say nothing for each page."""

    def is_called_rightly(self) -> bool:
        """Whether the browser called this machine by its own name."""
        host = (self.headers.get("Host") or "").rpartition(":")[0] or self.headers.get("Host")
        return host in _HERE

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        if not self.is_called_rightly():
            self.send_error(HTTPStatus.FORBIDDEN)
            return None
        return super().send_head()

    def end_headers(self) -> None:
        for name, value in self.headers_too.items():
            self.send_header(name, value)
        super().end_headers()


# Put before all else of a page that is shown here, and in no file: it asks to be told when the site
# is made anew. It runs before the page's own policy stands, and asks nobody but this machine.
_COME_AGAIN = b"<script>new EventSource('/-changes').onmessage = () => location.reload();</script>"
_ASK = "/-changes"
_PATIENCE_S = 15.0  # after which a word is sent, so that a page that is gone is noticed


class Site(_Pages):
    """What is uploaded. Public pages come again by themselves when the site was made anew; a
    private one stays as it is, since somebody may be answering on it."""

    watch: ClassVar[Watch | None] = None

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        path = unquote(urlsplit(self.path).path)
        there = Path(self.translate_path(self.path))
        if not there.resolve().is_relative_to(Path(self.directory).resolve()):
            self.send_error(HTTPStatus.NOT_FOUND)  # a link to elsewhere
            return None
        page = there / "index.html" if there.is_dir() and path.endswith("/") else there
        if self.watch is None or path.startswith("/p/") or page.suffix != ".html":
            return super().send_head()
        if not self.is_called_rightly() or not page.is_file():
            return super().send_head()
        return self._with_the_ask(page.read_bytes())

    def _with_the_ask(self, page: bytes) -> io.BytesIO:
        head, tag, rest = page.partition(b"<head>")
        content = head + tag + _COME_AGAIN + rest if tag else page
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        return io.BytesIO(content)

    def do_GET(self) -> None:
        if self.watch is None or urlsplit(self.path).path != _ASK:
            super().do_GET()
        elif not self.is_called_rightly():
            self.send_error(HTTPStatus.FORBIDDEN)
        else:
            self._tell_changes(self.watch)

    def _tell_changes(self, watch: Watch) -> None:
        """A stream of events (HTML, "Server-sent events") until the page or the server is gone."""
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/event-stream")
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        known = watch.state
        with contextlib.suppress(OSError):
            while not watch.is_over:
                state = watch.waits(known, _PATIENCE_S)
                self.wfile.write(b"data: again\n\n" if state != known else b": here\n\n")
                self.wfile.flush()
                known = state


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
        r"|workroom/guide/[\w./-]+"
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


class _Server(http.server.ThreadingHTTPServer):
    def handle_error(self, request: object, address: object) -> None:
        """A browser that went on before all had come is nobody's fault: nothing is said of it."""
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, address)  # type: ignore[arg-type]


def server_of(pages: type[_Pages], folder: Path, port: int) -> http.server.ThreadingHTTPServer:
    """Serves a folder to this machine alone. Errors: OSError for a port that is taken."""
    handler = functools.partial(pages, directory=str(folder))
    return _Server(("127.0.0.1", port), handler)
