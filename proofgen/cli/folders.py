"""Commands about the shop folder: demo, start, serve, backup."""

from __future__ import annotations

import argparse
import functools
import http.server

from proofgen import pipeline
from proofgen.cli import talk
from proofgen.errors import EXIT_DONE, MachineError


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
    made = pipeline.start(given.folder, given.name, given.contact, given.theme)
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
    site = given.shop / "site"
    if not site.is_dir():
        raise MachineError("there is no site yet", "proofgen build", site)
    handler = functools.partial(_Quiet, directory=str(site))
    try:
        server = http.server.ThreadingHTTPServer(("127.0.0.1", given.port), handler)
    except OSError as error:
        raise MachineError(
            f"port {given.port} is taken", f"proofgen serve --port {given.port + 1}"
        ) from error
    with server:
        talk.aside(f"The site is at http://127.0.0.1:{given.port}/ (this machine only).")
        talk.aside("Press Ctrl+C to stop.")
        server.serve_forever()
    return EXIT_DONE


def backup(given: argparse.Namespace) -> int:
    """Pack what cannot be made again into one file."""
    with talk.workshop_of(given, writes=True) as workshop:
        count = pipeline.backup(workshop, given.file)
    talk.result(f"{count} files are in {given.file}. Keep it where only you can read it.")
    return EXIT_DONE
