"""All about one order, for a terminal: where it stands, then what is in it."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.model import Line, Order
from proofgen.model.documents import OrdersDocument, StandingEntry
from proofgen.reports.lines import wrapped
from proofgen.reports.tables import orders_text
from proofgen.say import cut, plural, quoted, visible
from proofgen.say.tongue import names_of

_WORDS = 200  # letters of what is pressed: a line or two


def one_order_text(document: OrdersDocument, order: Order | None) -> str:
    """The order of a `proofgen/orders/1` with one row. `order` None: its file cannot be read."""
    (row,) = document["orders"]
    lines = [orders_text(document)]
    if order is not None:
        for text, indent in _inside(order):
            lines += wrapped(text, indent + "  ", indent)
    for text in _where(row):
        lines += wrapped(text, "    ", "  ")
    return "\n".join(lines)


def _inside(order: Order) -> Iterator[tuple[str, str]]:
    """Each thing in the order, with its indent."""
    customer = order.customer
    if order.is_own:
        yield "For the shop itself.", "  "
    else:
        mail = f", {customer.email}" if customer.email else ", no mail address"
        speaks = f", reads {names_of(customer.language)[0]}" if customer.language else ""
        yield f"For {cut(customer.name, 80)}{mail}{speaks}.", "  "
    for line in order.lines:
        how_many = plural(line.quantity, "piece")
        yield f"{how_many} of {line.design} on {line.blank}, {line.cloth}", "  "
        for text in _line(line, order):
            yield text, "    "


def _line(line: Line, order: Order) -> Iterator[str]:
    for slot, photo in line.photos.items():
        file = photo.file
        shown = file.relative_to(order.folder).as_posix() if _lies_in(order, line, slot) else file
        yield f"{visible(slot)}: {visible(str(shown))}"
    for slot, words in line.words.items():
        yield f"{visible(slot)}: {quoted(words, most=_WORDS)}"
    if line.list_file:
        yield f"list: {visible(line.list_file.name)}, {plural(len(line.pieces), 'piece')}"


def _lies_in(order: Order, line: Line, slot: str) -> bool:
    return line.photos[slot].file.is_relative_to(order.folder)


def _where(row: StandingEntry) -> Iterator[str]:
    """Where to look further."""
    name = row["order"]
    if row["link"]:
        yield f"Its proof: {row['link']}"
    yield f"Its folder: orders/{name}; as a page: workroom/orders/{name}.html"
    yield f"What was found: proofgen check {name}"
