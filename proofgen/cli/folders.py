"""Commands about the shop folder: demo, start, serve, backup."""

from __future__ import annotations

import contextlib
import functools
import http.server

from proofgen import desk, pipeline
from proofgen.cli import printing, running
from proofgen.cli.commands import Backup, Demo, Serve, Start
from proofgen.errors import EXIT_DONE, MachineError, ShopError, UsageError

MOST_PORT = 65_535
FREE_PORTS = 1024  # below, many systems want the administrator


def demo(given: Demo) -> int:
    """Copy the demo shop and build it."""
    built, workshop = pipeline.demo(given.folder, running.progress(given))
    for line in built.lines(explain=True):
        printing.result(line)
    for line in pipeline.demo_walk(workshop, built.standings):
        printing.result(line)
    printing.faults(workshop.trouble)
    return workshop.exit_code


def start(given: Start) -> int:
    """Make a new shop folder."""
    ask = running.ask()
    made = desk.start(
        given.folder,
        given.name,
        given.contact,
        given.theme,
        ask,
        telephone=given.telephone,
        keep=given.keep,
    )
    for path in made:
        printing.result(f"made {path}")
    printing.result(f"    Next: open {given.folder / 'shop.yaml'} and fill in your shop; then")
    printing.result(f"    proofgen --shop {given.folder} order")
    return EXIT_DONE


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        """Say nothing for each page."""


def serve(given: Serve) -> int:
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
        printing.aside(
            f"The site is at http://127.0.0.1:{server.server_port}/ (this machine only)."
        )
        printing.aside("Press Ctrl+C to stop.")
        server.serve_forever()
    return EXIT_DONE


def backup(given: Backup) -> int:
    """Pack what cannot be made again into one file."""
    with running.workshop_of(given, writes=True) as workshop:
        count = desk.backup(workshop, given.file)
    printing.result(f"{count} files are in {given.file}. Keep it where only you can read it.")
    return EXIT_DONE
