"""Commands about the shop folder: demo, start, serve, backup."""

from __future__ import annotations

import argparse
import contextlib
import functools
import http.server
import sys

from proofgen import desk, pipeline
from proofgen.cli import talk
from proofgen.errors import EXIT_DONE, MachineError, ShopError, UsageError

MOST_PORT = 65_535
FREE_PORTS = 1024  # below, many systems want the administrator


def demo(given: argparse.Namespace) -> int:
    """Copy the demo shop and build it."""
    built, workshop = pipeline.demo(given.folder, talk.progress(given))
    for line in built.lines(explain=True):
        talk.result(line)
    for line in pipeline.demo_walk(workshop, built.standings):
        talk.result(line)
    talk.tell_trouble(workshop.trouble)
    return workshop.exit_code


def start(given: argparse.Namespace) -> int:
    """Make a new shop folder."""
    ask = talk.ask if sys.stdin.isatty() else None
    made = desk.start(given.folder, given.name, given.contact, given.theme, ask)
    for path in made:
        talk.result(f"made {path}")
    talk.result(f"    Next: open {given.folder / 'shop.yaml'} and fill in your shop; then")
    talk.result(f"    proofgen --shop {given.folder} order")
    return EXIT_DONE


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        """Say nothing for each page."""


def serve(given: argparse.Namespace) -> int:
    """Show the site on this machine only, until stopped."""
    if not 0 <= given.port <= MOST_PORT:
        raise UsageError(f"there is no port {given.port}", f"write --port 8010, up to {MOST_PORT}")
    site = given.shop / "site"
    if not site.is_dir():
        raise ShopError("there is no site yet", "proofgen build", site)
    handler = functools.partial(_Quiet, directory=str(site))
    try:
        server = http.server.ThreadingHTTPServer(("127.0.0.1", given.port), handler)
    except OSError as error:
        raise MachineError(
            f"port {given.port} is taken or not allowed",
            f"proofgen serve --port {given.port + 1 if given.port >= FREE_PORTS else 8010}",
        ) from error
    with server, contextlib.suppress(KeyboardInterrupt):
        talk.aside(f"The site is at http://127.0.0.1:{server.server_port}/ (this machine only).")
        talk.aside("Press Ctrl+C to stop.")
        server.serve_forever()
    return EXIT_DONE


def backup(given: argparse.Namespace) -> int:
    """Pack what cannot be made again into one file."""
    with talk.workshop_of(given, writes=True) as workshop:
        count = pipeline.backup(workshop, given.file)
    talk.result(f"{count} files are in {given.file}. Keep it where only you can read it.")
    return EXIT_DONE
