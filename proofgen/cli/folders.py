"""Commands about the shop folder: demo, start, serve, backup, restore."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from proofgen import desk, pipeline, reports
from proofgen.cli import printing, rebuilding, running, serving
from proofgen.cli.commands import Backup, Demo, Restore, Serve, Start
from proofgen.cli.guiding import write_guide
from proofgen.errors import (
    EXIT_DONE,
    EXIT_FINDING,
    EXIT_UNSIGNED,
    MachineError,
    ShopError,
    UsageError,
)
from proofgen.say import file_name, joined, plural, visible
from proofgen.say.shell import for_shell
from proofgen.workshop import at_the_door

MOST_PORT = 65_535
FREE_PORTS = 1024  # below, many systems want the administrator


def demo(given: Demo) -> int:
    """Copy the demo shop and build it."""
    built, workshop = pipeline.demo(given.folder, running.progress(given))
    # The demo is public and holds nobody's data; a real shop's guide lies in its workroom.
    page = write_guide(workshop.site / "guide", private=False)
    if built.notices:
        printing.aside("In a shop of your own this would be yours to do; in the demo, nothing is:")
    for line in built.notices:
        printing.aside(f"  {line}")
    for line in pipeline.demo_walk(workshop, built.standings):
        printing.result(line)
    printing.result("The guide, with every field, check and command:")
    printing.result(f"   {page}")
    printing.faults(workshop.trouble)
    return workshop.exit_code


def start(given: Start) -> int:
    """Make a new shop folder."""
    for option, said in (("--show", given.show), ("--words", given.words)):
        if said and not given.photo:
            raise UsageError(f"{option} goes with --photo", "add --photo FILE")
    beginning = desk.Beginning(
        name=given.name,
        contact=given.contact,
        theme=given.theme,
        telephone=given.telephone,
        site=given.site,
        language=given.language,
        zone=given.zone,
        currency=given.currency,
        keep=given.keep,
        photo=given.photo,
        words=given.words,
        show=given.show,
    )
    running.tell_unasked("start")
    begun = desk.start(given.folder, beginning, running.ask())
    for path in begun.made:
        printing.result(f"made {path}")
    if begun.photo:
        _first_order(replace(given, shop=given.folder), begun, begun.photo)
    if not begun.contact:
        printing.result(
            "    shop.yaml has no mail address yet: before the first proof, write yours"
        )
        printing.result("    there under “contact”. Customers answer to it.")
    printing.result("    Next, in your shop:")
    printing.result(f"      cd {for_shell(str(given.folder))}")
    for command, why in _NEXT[bool(begun.photo)]:
        printing.result(f"      {command:<24}  {why}")
    printing.result("    What can be changed stands in shop.yaml, with a remark on each line.")
    return EXIT_DONE


_NEXT = {
    True: (
        (f"proofgen proof {desk.FIRST_ORDER}", "what a customer would see of it"),
        ("proofgen catalogue", "the first pages of what you offer"),
        ("proofgen order", "a real order"),
    ),
    False: (
        ("proofgen look PHOTO", "how large a photo of yours can be"),
        ("proofgen catalogue", "the first pages of what you offer"),
        ("proofgen order", "an order, asked for step by step"),
    ),
}


def _first_order(given: Start, begun: desk.Begun, photo: Path) -> None:
    """Write an order of the maker's photo into the new shop, and what is found in it as a page."""
    with running.workshop_of(given, writes=True) as workshop:
        name = desk.first_order(workshop, photo, begun.words, show=begun.show)
    with running.workshop_of(given, writes=True) as workshop:
        prepared = pipeline.prepare_all(workshop, (name,))
        page = workshop.workroom / "findings.html"
        pipeline.write_page(workshop, prepared, page)
        findings = pipeline.findings_of(workshop, prepared)
    printing.report(reports.terminal(findings, colour=printing.wants_colour(), verbose=False))
    printing.faults(workshop.trouble)
    printing.result(f"Your photo is the order {name}. What was found, as a page to open:")
    printing.result(f"    {page}")


def serve(given: Serve) -> int:
    """Show the site, and the workroom apart from it, on this machine only, until stopped."""
    if not 0 <= given.port <= MOST_PORT:
        raise UsageError(f"there is no port {given.port}", f"write --port 8010, up to {MOST_PORT}")
    at_the_door(given.shop)
    site = given.shop / "site"
    if not site.is_dir():
        raise ShopError("there is no site yet", "proofgen build", site)
    try:
        server = serving.server_of(serving.Site, site, given.port)
    except OSError as error:
        raise MachineError(
            f"port {given.port} is taken or not allowed",
            f"proofgen serve --port {given.port + 1 if given.port >= FREE_PORTS else 8010}",
        ) from error
    watch = rebuilding.Watch(given.shop)
    serving.Site.watch = watch
    watch.start()
    with server, contextlib.suppress(KeyboardInterrupt), _workroom(given) as address:
        printing.aside(
            f"The site is at http://127.0.0.1:{server.server_port}/ (this machine only)."
        )
        printing.aside(f"Your workroom is at {address} (the same).")
        printing.aside(
            "Change a design, a season, a text or shop.yaml, and the catalogue is made anew and "
            "shown again. Proofs are made by proofgen proof alone."
        )
        printing.aside("Press Ctrl+C to stop.")
        server.serve_forever()
    watch.stop()
    return EXIT_DONE


@contextlib.contextmanager
def _workroom(given: Serve) -> Iterator[str]:
    """The address at which the maker's own pages are served meanwhile: the next port, else any."""
    wanted = given.port + 1 if 0 < given.port < MOST_PORT else 0
    try:
        server = serving.server_of(serving.Workroom, given.shop, wanted)
    except OSError:
        server = serving.server_of(serving.Workroom, given.shop, 0)
    with server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        try:
            yield f"http://127.0.0.1:{server.server_port}/"
        finally:
            server.shutdown()


_MOST_NAMED = 12


def backup(given: Backup) -> int:
    """Pack what cannot be made again into one file."""
    if given.file is None:
        raise _no_file(given)
    with running.workshop_of(given, writes=True) as workshop:
        packed = desk.backup(workshop, given.file, keys=not given.without_keys)
        recorded = desk.recorded(workshop)
    printing.result(
        f"{len(packed.digests)} files are in {given.file}, and read back as they were. "
        "Keep it where only you can read it."
    )
    if given.without_keys:
        printing.result(
            "The records are not in it, and so neither are the keys of proofs: a shop that is "
            "restored from it knows of no proof, no answer and nothing that was pressed. For "
            "yourself make another backup without --without-keys."
        )
    elif recorded:
        printing.result(
            "In it are the keys of your proofs: with them anybody can answer in a customer’s "
            "name. To leave them out: --without-keys."
        )
    if recorded and not given.without_keys:
        printing.result(
            f"Records: {recorded}. Note it beside the file: proofgen records verify --since "
            f"{recorded} then tells, here or in a restored shop, whether a line is missing."
        )
    for line in packed.renamed:
        printing.aside(line)
    if packed.beside:
        named = joined(map(visible, packed.beside[:_MOST_NAMED]))
        more = len(packed.beside) - _MOST_NAMED
        printing.aside(
            f"Left out, since they are no part of the shop ({len(packed.beside)}): {named}"
            + (f", and {more} more" if more > 0 else "")
        )
    if not packed.left_out:
        return EXIT_DONE
    for line in packed.left_out:
        printing.aside(f"NOT in the backup: {line}")
    printing.result(
        f"{plural(len(packed.left_out), 'thing')} of the shop could not go in; put a plain file "
        "in its place, then make another backup."
    )
    return EXIT_FINDING


def _no_file(given: Backup) -> UsageError:
    """How to name a file that says of which shop it is, and from when."""
    shop = file_name(given.shop.absolute().name, "shop")
    day = datetime.now(UTC).astimezone().date()
    return UsageError(
        "a backup needs the name of the file to write",
        f"proofgen backup {shop}-{day.isoformat()}.zip, or the same on another disk, which is best",
    )


def restore(given: Restore) -> int:
    """Put a shop back from its backup."""
    restored = desk.restore(given.file, given.folder)
    printing.result(f"{plural(restored.files, 'file')} are back in {given.folder}.")
    if restored.problems:
        for problem in restored.problems:
            printing.aside(problem)
        printing.result(
            "The records in this backup are not whole; the lines above say where. "
            "Try an older backup."
        )
        return EXIT_UNSIGNED
    printing.result("The records are whole: every line follows from the one before.")
    if restored.until:
        then = restored.until.astimezone()
        printing.result(
            f"They end on {then:%Y-%m-%d} at {then:%H:%M}. What was noted after that is not in "
            "this backup: answers, what was pressed, and whom you forgot or withdrew."
        )
        printing.result(
            "    First: where a customer’s data was removed since then, remove it again, before "
            f"anything is uploaded: proofgen --shop {given.folder} forget ORDER"
        )
    printing.result(f"    Next: proofgen --shop {given.folder} build")
    return EXIT_DONE
