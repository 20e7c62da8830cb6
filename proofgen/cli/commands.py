"""Every command: its options, its help and an example; the work is done in the module it names."""

from __future__ import annotations

from pathlib import Path

from proofgen.cli.options import JSON, Given, command, operand, option

_REPEATED = "for a place of the design; can be repeated"


@command(
    "demo", "folders", "copy the demo shop into a folder and build it", "proofgen demo my-demo"
)
class Demo(Given):
    outside = True
    folder: Path = operand("FOLDER", "where (demo if none)", nargs="?", default=Path("demo"))


@command(
    "start",
    "folders",
    "make a new shop folder; asks for what you leave out",
    'proofgen start my-shop --name "My shop"',
)
class Start(Given):
    outside = True
    folder: Path = operand("FOLDER", "a new folder for the shop")
    name: str = option("", "the shop's name")
    contact: str = option("", "mail address that answers come to")
    telephone: str | None = option(None, "number where customers can read out a code", "NUMBER")
    keep: str | None = option(None, "how long photos are kept after hand-over, as 90days", "DAYS")
    theme: str | None = option(None, "look of the pages: quay (calm) or kite (festive)", "LOOK")
    site: str | None = option(None, "where on the web your pages will be uploaded", "ADDRESS")
    language: str | None = option(None, "what customers read: en, de, es or ar", "CODE")
    zone: str | None = option(None, "your time zone, like Europe/Dublin (this machine's)", "ZONE")
    currency: str | None = option(None, "the money of your prices (your country's)", "CODE")
    photo: Path | None = option(None, "a photo of your own, as a first order to try", "FILE")
    words: str | None = option(None, "on that first order (the sample's words if none)", "TEXT")
    show: bool = option(False, "your catalogue shows that photo too")


@command(
    "look", "looking", "how large can this photo be, on which blank", "proofgen look photo.jpg"
)
class Look(Given):
    photo: Path = operand("PHOTO", "its file; you can drag it into the window")
    blank: str | None = option(None, "only this blank", "NAME")
    json: bool = option(False, JSON)


@command(
    "order",
    "customers",
    "write a new order; asks for what you leave out",
    'proofgen order --customer "Odalys Fenn" --design harbour-photo --blank can-wrap-linen '
    '--cloth white --quantity 2 --photo photo.jpg --words name="Odalys & Bram" '
    '--words line="forty years at anchor"',
)
class Order(Given):
    customer: str | None = option(
        None, "who it is for; none: samples and stock of your own", "NAME"
    )
    email: str | None = option(None, "tells customers of one name apart", "ADDRESS")
    language: str | None = option(
        None, "what their pages and letters are in: en, de, es or ar", "CODE"
    )
    due: str | None = option(None, "when it must be ready, as 2026-12-12", "DAY")
    design: str | None = option(None, "a folder in designs/", "NAME")
    blank: str | None = option(None, "one that the design is offered on", "NAME")
    cloth: str | None = option(None, "a cloth of the blank: white, sky, …", "COLOUR")
    quantity: int | None = option(None, "how many pieces", "N")
    photo: tuple[str, ...] = option((), _REPEATED, "[PLACE=]FILE")
    size: tuple[str, ...] = option(
        (), "how wide a photo is printed, smaller than its place", "[PLACE=]LENGTH"
    )
    words: tuple[str, ...] = option((), _REPEATED, "[PLACE=]TEXT")
    list: Path | None = option(
        None, "a table: the first row names places for words, each other row is one piece", "CSV"
    )
    name: str | None = option(None, "what to call the order's folder", "ORDER")
    like: str | None = option(None, "take what you leave out from this order", "ORDER")
    price: str | None = option(None, "of one piece, where it is not the design's", "MONEY")
    offer: str | None = option(
        None, "offer the design on this blank from now on, one piece for", "MONEY"
    )
    rights_print: str | None = option(
        None, "may their pictures be printed; left out, the proof asks", "yes|no"
    )
    postage: str | None = option(None, "what sending costs", "MONEY")
    discount: str | None = option(None, "what is taken off: money, or a share like 10%%", "MONEY")
    note: str | None = option(None, "a sentence under the bill", "TEXT")
    paid: str | None = option(None, "what is paid already", "MONEY")


@command(
    "take",
    "taking",
    "an order out of a slip or mail that a customer sent, as a draft",
    "proofgen take order-slip.txt",
    "proofgen take photo.jpg --for thistle-sill",
)
class Take(Given):
    source: tuple[str, ...] = operand(
        "SLIP|MAIL|FOLDER|-|[PLACE=]PHOTO",
        "a slip, a mail or a text that asks for something, a folder of them, or - to paste one; "
        "with --for a photo that came later, or what the customer wrote: a list of names, say",
        nargs="+",
    )
    for_order: str | None = option(
        None, "the order that a photo, mail or text belongs to", "ORDER", named=("--for",)
    )


@command("check", "making", "what is wrong with the orders, worst first", "proofgen check")
class Check(Given):
    notes = ("accept", "not_accept", "page")
    orders: tuple[str, ...] = operand("ORDER", "orders to check (all of them if none)", nargs="*")
    accept: str | None = option(None, "let this finding through; check names it", "FINDING")
    because: str | None = option(None, "why, in your words; it is kept", "TEXT")
    not_accept: str | None = option(None, "take back that this finding was let through", "FINDING")
    page: Path | None = option(None, "also as a page, each photo at its real size", "FILE")
    verbose: bool = option(False, "also passes and measures", named=("-v", ""))
    json: bool = option(False, JSON)
    fail_on: str = option(
        "stop", "the mildest finding that makes the exit code 1", choices=("stop", "warn", "note")
    )


@command("proof", "making", "make proof pages and PDFs for orders that are clean", "proofgen proof")
class Proof(Given):
    notes = ()
    orders: tuple[str, ...] = operand(
        "ORDER", "orders to make proofs of (all of them if none)", nargs="*"
    )
    one_file: bool = option(False, "also one file to attach to a mail")
    again: bool = option(
        False, "also where the customer asked for a change and nothing changed since"
    )


@command(
    "press",
    "making",
    "mirrored press sheets and tickets for signed orders",
    "proofgen press",
    "proofgen press --plan",
)
class Press(Given):
    notes = ("done", "not_done", "spoiled")
    orders: tuple[str, ...] = operand("ORDER", "orders to press (all of them if none)", nargs="*")
    plan: bool = option(
        False, "instead, tonight on one page: papers, blanks, heats in their order, minutes"
    )
    done: bool = option(False, "record that these were pressed")
    not_done: bool = option(
        False,
        "take back that these were pressed; both stay in the records, and the day of the next "
        "--done is the one that counts",
    )
    spoiled: str | None = option(
        None, "these pieces of the order were spoiled, like 12,37: print their papers again", "N,N"
    )
    because: str | None = option(None, "with --spoiled: why, in your words", "TEXT")
    times: int = option(
        1, "with --spoiled: how often by now (2: what was printed again, too; 0: a slip)", "N"
    )
    again: bool = option(False, "make the sheets of these once more, though they are pressed")
    png: bool = option(False, "also every mirrored picture by itself, for other printing programs")
    contact: bool = option(False, "also a sheet with every piece small, its number and words")
    json: bool = option(False, JSON)


@command("catalogue", "making", "the season's pages and PDF", "proofgen catalogue")
class Catalogue(Given):
    notes = ()


@command("build", "making", "all that can be built, and what to upload", "proofgen build")
class Build(Given):
    notes = ()
    explain: bool = option(False, "say why each order was or was not")


@command(
    "handed-over",
    "making",
    "note that an order is with its customer",
    "proofgen handed-over lindqvist-lamp",
    "proofgen handed-over lindqvist-lamp --not",
)
class HandedOver(Given):
    orders: tuple[str, ...] = operand("ORDER", "orders that were handed over", nargs="+")
    taken_back: bool = option(
        False,
        "take that back; it stays pressed, and both stay in the records",
        named=("--not",),
    )


@command(
    "orders",
    "looking",
    "where each order stands, and the next step; or all about one",
    "proofgen orders",
    "proofgen orders fenn-harbour",
)
class Orders(Given):
    notes = ("cleared", "take_down", "sold")
    order: str | None = operand("ORDER", "only this one, and what is in it", nargs="?")
    by: str = option(
        "due",
        "what they are sorted by, else that day",
        choices=("due", "name", "state"),
    )
    cleared: str | None = option(
        None, "record that its old page was deleted where your site is", "ORDER"
    )
    take_down: tuple[str, ...] = option(
        (),
        "delete this below site/p/, of which the records know nothing (all: each that is told); "
        "can be repeated",
        "FOLDER",
    )
    tally: bool = option(False, "instead: stock and what to buy, what was spoiled, costs")
    cost: str | None = option(None, "instead: what this order costs, and what is left", "ORDER")
    since: str | None = option(None, "with --tally and --sold: from this day on", "DAY")
    sold: Path | None = option(None, "write a table of what was pressed, for spreadsheets", "CSV")
    json: bool = option(False, JSON)


@command(
    "publish",
    "uploading",
    "what to upload to your host and what to delete there: all that changed since the last time",
    "proofgen publish",
    "proofgen publish --done",
)
class Publish(Given):
    notes = ()
    zip: Path | None = option(None, "pack what changed into one file instead of a folder", "FILE")
    into: Path | None = option(
        None, "instead: fill this folder, a mounted share or a checkout, with the site", "FOLDER"
    )
    over: bool = option(False, "with --into: write over files that are not proofgen's")
    all: bool = option(False, "everything, as if nothing had been uploaded yet")
    done: bool = option(False, "what was prepared last is uploaded now")


@command(
    "serve",
    "folders",
    "look at the site and your workroom on this machine",
    "proofgen serve --port 8010",
)
class Serve(Given):
    port: int = option(8010, "the number behind the address (8010)", "N")


@command(
    "guide",
    "guiding",
    "the guide, as pages for your browser",
    "proofgen guide",
    "proofgen guide my-guide",
)
class Guide(Given):
    folder: Path | None = operand(
        "FOLDER", "where to put it (workroom/guide of your shop if left out)", nargs="?"
    )
    open: bool = option(False, "also open it in your browser")


@command("ready", "looking", "what is missing on this machine, and how to get it", "proofgen ready")
class Ready(Given):
    outside = True


@command(
    "backup", "folders", "one file with all that cannot be made again", "proofgen backup b.zip"
)
class Backup(Given):
    file: Path | None = operand("FILE", "the zip file to write, best on another disk", nargs="?")
    without_keys: bool = option(
        False, "leave out the records with the keys of proofs, as for somebody who is to help you"
    )


@command(
    "restore", "folders", "put a shop back from its backup", "proofgen restore friday.zip my-shop"
)
class Restore(Given):
    outside = True
    file: Path = operand("FILE", "what `proofgen backup` made")
    folder: Path = operand("FOLDER", "an empty or a new folder")


@command("records", "looking", "look after the records", "proofgen records verify")
class Records(Given):
    action: str = operand(None, "check that no line was altered", choices=("verify",))
    since: str | None = option(
        None, "what a ticket, letter or backup says of the records: is all there?", "RECORDS"
    )


@command(
    "completion",
    "completing",
    "let the Tab key finish commands, options and names in your terminal",
    "proofgen completion bash",
)
class Completion(Given):
    outside = True
    shell: str = operand(
        "SHELL",
        "your terminal's: bash, zsh, fish or powershell",
        choices=("bash", "zsh", "fish", "powershell"),
    )
    words: str | None = option(
        None, "what is typed so far, a word a line: print what the last may become", "TEXT"
    )
