"""Every command: its options, its help and an example; the work is done in the module it names."""

from __future__ import annotations

from pathlib import Path

from proofgen.cli.options import Given, command, operand, option

_JSON = "one JSON document on stdout"
_SURE = "its name once more: needed while it is signed and not pressed, and nobody can be asked"
_REPEATED = "for a place of the design; can be repeated"


@command(
    "demo", "folders", "copy the demo shop into a folder and build it", "proofgen demo my-demo"
)
class Demo(Given):
    folder: Path = operand("DIR", nargs="?", default=Path("demo"))


@command("start", "folders", "make a new shop folder", "proofgen start my-shop --name 'My shop'")
class Start(Given):
    folder: Path = operand("DIR")
    name: str = option("", "the shop's name")
    contact: str = option("", "mail address that answers come to")
    telephone: str | None = option(None, "number where customers can read out a code", "NUMBER")
    keep: str | None = option(None, "how long photos are kept after hand-over, as 90days", "DAYS")
    theme: str = option("quay", "look of the pages: quay, calm, or kite, festive")


@command(
    "look", "looking", "how large can this photo be, on which blank", "proofgen look photo.jpg"
)
class Look(Given):
    photo: Path = operand("PHOTO")
    blank: str | None = option(None, "only this blank", "NAME")
    json: bool = option(False, _JSON)


@command(
    "order",
    "customers",
    "write a new order; asks for what you leave out",
    "proofgen order --customer 'Odalys Fenn' --design harbour-photo --blank can-wrap-linen "
    "--cloth white --quantity 2 --photo photo.jpg --words name='Odalys & Bram' "
    "--words line='forty years at anchor'",
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
    words: tuple[str, ...] = option((), _REPEATED, "[PLACE=]TEXT")
    list: Path | None = option(
        None, "a table: the first row names places for words, each other row is one piece", "CSV"
    )
    name: str | None = option(None, "what to call the order's folder", "ORDER")
    like: str | None = option(None, "take what you leave out from this order", "ORDER")


@command("check", "making", "what is wrong with the orders, worst first", "proofgen check")
class Check(Given):
    notes = ("accept", "not_accept", "page")
    orders: tuple[str, ...] = operand("ORDER", "orders to check (all of them if none)", nargs="*")
    accept: str | None = option(None, "let this finding through; check names it", "FINDING")
    because: str | None = option(None, "why, in your words; it is kept", "TEXT")
    not_accept: str | None = option(None, "take back that this finding was let through", "FINDING")
    page: Path | None = option(None, "also as a page, each photo at its real size", "FILE")
    verbose: bool = option(False, "also passes and measures", named=("-v", ""))
    json: bool = option(False, _JSON)
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
    json: bool = option(False, _JSON)


@command("catalogue", "making", "the season's pages and PDF", "proofgen catalogue")
class Catalogue(Given):
    notes = ()


@command("build", "making", "all that can be built, and what to upload", "proofgen build")
class Build(Given):
    notes = ()
    explain: bool = option(False, "say why each order was or was not")


@command(
    "letter",
    "customers",
    "the mail that brings the customer to the proof",
    "proofgen letter quill-wedding",
    "proofgen letter thistle-sill --photo",
    "proofgen letter --all",
)
class Letter(Given):
    order: str | None = operand("ORDER", nargs="?")
    sent: bool = option(False, "record that it was sent")
    photo: bool = option(False, "instead, a mail that asks for a better photo")
    ready: bool = option(False, "instead, a mail that says it can be collected")
    all: bool = option(False, "reminders of all proofs half of whose time has gone by")


@command("answer", "customers", "take a customer's answer", "proofgen answer slip.txt")
class Answer(Given):
    source: tuple[str, ...] = operand(
        "FILE|FOLDER|CODE|-|ORDER",
        "a mail or text with the answer slip that the proof page wrote, a folder of "
        "them, a code read out to you, - to paste text; the order's name after --in-person NAME, "
        "--read or --apply",
        nargs="+",
    )
    on: str | None = option(None, "the day it came, as 2026-11-25", "DAY")
    in_person: str | None = option(None, "who said it, standing before you", "NAME")
    read: bool = option(
        False, "you read what the customer wrote beside the OK, and nothing is to change"
    )
    apply: bool = option(
        False, "write the words that the customer wants otherwise into the order or its list"
    )
    says: str = option(
        "ok",
        "with --in-person: OK as shown, or change it and show it again",
        choices=("ok", "change"),
    )


@command(
    "withdraw",
    "customers",
    "take an order's proof back; its page becomes a notice",
    "proofgen withdraw fenn-harbour",
)
class Withdraw(Given):
    order: str = operand("ORDER")
    sure: str | None = option(None, _SURE, "ORDER")


@command(
    "forget",
    "customers",
    "remove a customer's data for good; the bare fact of the sale stays",
    "proofgen forget fenn-harbour --sure fenn-harbour",
)
class Forget(Given):
    order: str = operand("ORDER")
    sure: str | None = option(
        None,
        "its name once more: needed where nobody can be asked, unless it is withdrawn or "
        "the days of keep: are over",
        "ORDER",
    )


@command("orders", "looking", "where each order stands, and the next step", "proofgen orders")
class Orders(Given):
    notes = ("handed_over", "not_handed_over", "cleared", "take_down", "sold")
    handed_over: str | None = option(None, "record that it was handed over", "ORDER")
    not_handed_over: str | None = option(
        None, "take that back; it stays pressed, and both stay in the records", "ORDER"
    )
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
    json: bool = option(False, _JSON)


def _tape(says: str) -> str | None:
    return option(None, says, "LENGTH", apart=True)


@command(
    "blanks",
    "blanks",
    "the blanks, one of them in numbers, or a new one measured with a tape",
    "proofgen blanks can-wrap-linen",
    "proofgen blanks can-wrap-linen --count white=40",
    "proofgen blanks stall-mat --measure --construction flat --width 200mm --height 130mm",
)
class Blanks(Given):
    group = (
        "what a tape shows, with --measure",
        "LENGTH has its unit: 66.1mm, 6.6cm, 9.5in. For flat blanks --shape says which.",
    )
    name: str | None = operand(
        "NAME",
        "the blank's short name, as the list shows it; its file is blanks/NAME.yaml",
        nargs="?",
    )
    json: bool = option(False, _JSON)
    measure: bool = option(False, "write down a new blank; asks for what you leave out")
    true_size: Path | None = option(
        None, "a PDF of the blank at its true size, to lay the real one on", "FILE"
    )
    swatches: Path | None = option(
        None, "a PDF of colour swatches to press on the blank, and the list to read them by", "FILE"
    )
    readings: Path | None = option(
        None, "a CSV of what was read off the swatches: number,L,a,b or number,hex", "FILE"
    )
    cloth: str | None = option(None, "the cloth, with the two above", "COLOUR")
    leave_out: str | None = option(
        None, "with --readings: swatches not to be believed, like 9,14", "NUMBERS"
    )
    count: tuple[str, ...] = option(
        (), "write down how many lie there now; can be repeated", "CLOTH=PIECES"
    )
    construction: str | None = option(None, "wrap, fold, sewn or flat", "KIND", apart=True)
    title: str | None = option(
        None, "what you call it, in your own words", "TEXT", named=("--name",), apart=True
    )
    # The lengths of desk.BLANK_LENGTHS (a test holds them together).
    vessel: str | None = _tape("across the can, or “round 207.6 mm” for a tape laid round it")
    length: str | None = _tape("of a wrap, lying flat, from end to end")
    width: str | None = _tape("of the flat cloth, or of a face")
    height: str | None = _tape("of the cloth; of a fold, front and back together")
    thickness: str | None = _tape("of the cloth")
    closure: str | None = _tape("of the hook-and-loop strip, across it")
    shortest: str | None = _tape("least overlap that holds")
    seam: str | None = _tape("of a fold, at each side")
    fold: str | None = _tape("of a fold, the strip round the bottom")
    hem: str | None = _tape("of a fold, turned over at each opening")
    base: str | None = _tape("of a fold, the part of a face under the can")
    gap: str | None = _tape("of a sewn blank, where the press stops short of the seam")
    corner: str | None = _tape("radius of a rounded corner")
    diameter: str | None = _tape("of a round blank")
    bleed: str | None = _tape("ink past the edge")
    safe: str | None = _tape("from the edge to the nearest word")
    # The figures of desk.PRESS_FIGURES.
    polyester: str | None = option(None, "share of the fibre, as 100%%", "SHARE", apart=True)
    heat: str | None = option(None, "of the press (practice if left out)", "HEAT", apart=True)
    time: str | None = option(None, "under the press (practice if left out)", "TIME", apart=True)
    pressure: str | None = option(None, "light, medium or firm", "TEXT", apart=True)
    sides: str | None = option(None, "how many are pressed, 1 or 2", "N", apart=True)
    preheat: str | None = option(None, "bare cloth under the press, before", "TIME", apart=True)
    peel: str | None = option(None, "the paper comes off hot or cold", "HOW", apart=True)
    edge: str | None = option(None, "of the paper: torn or cut", "HOW", apart=True)
    hold: str | None = option(None, "of the paper: spray or tape", "HOW", apart=True)
    source: str | None = option(
        None, "of heat and time: maker, trial or practice", "WHO", named=("--from",), apart=True
    )
    strip: str | None = option(
        None, "of a wrap, hook-and-loop seen print side up: back or front", "SIDE", apart=True
    )
    shape: str | None = option(
        None, "of a flat blank: rectangle, rounded or round", "SHAPE", apart=True
    )
    on_top: str | None = option(None, "of a wrap: right or left", "END", apart=True)
    finish: str | None = option(None, "linen-look, foam or smooth", "LOOK", apart=True)
    colour: tuple[str, ...] = option(
        (), "of the cloth; can be repeated (white if none)", "NAME=#RRGGBB", apart=True
    )


@command(
    "trial",
    "blanks",
    "sheets that show a blank's best heat and time and how much it shrinks; takes what they showed",
    "proofgen trial can-wrap-linen",
    "proofgen trial can-wrap-linen --heat 400F --time 60s",
)
class Trial(Given):
    blank: str = operand("BLANK")
    heat: str | None = option(None, "of the cell that took best, as 400F or 204C", "HEAT")
    time: str | None = option(None, "of the cell that took best, as 60s", "TIME")
    along: str | None = option(
        None, "what the ruler shows on the cloth of the lines along it, in mm", "224.5,224,…"
    )
    across: str | None = option(None, "the same of the lines across it", "89,88.5,…")


@command(
    "serve",
    "folders",
    "look at the site and your workroom on this machine",
    "proofgen serve --port 8010",
)
class Serve(Given):
    port: int = option(8010, "")


@command("ready", "looking", "what is missing on this machine, and how to get it", "proofgen ready")
class Ready(Given):
    pass


@command(
    "backup", "folders", "one file with all that cannot be made again", "proofgen backup b.zip"
)
class Backup(Given):
    file: Path = operand("FILE")


@command(
    "restore", "folders", "put a shop back from its backup", "proofgen restore friday.zip my-shop"
)
class Restore(Given):
    file: Path = operand("FILE", "what `proofgen backup` made")
    folder: Path = operand("DIR", "an empty or a new folder")


@command("records", "looking", "look after the records", "proofgen records verify")
class Records(Given):
    action: str = operand(None, "check that no line was altered", choices=("verify",))
    since: str | None = option(
        None, "what a ticket, letter or backup says of the records: is all there?", "RECORDS"
    )
