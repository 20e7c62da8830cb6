"""The findings document and how it reads in a terminal."""

from __future__ import annotations

import json
import re
from dataclasses import replace

from proofgen.model import Finding, OrderFindings
from proofgen.reports import findings_document, terminal

COARSE = Finding(
    check="photo/effective-resolution",
    code="too-coarse",
    status="stop",
    says="At 237 × 100 mm this photo gives 92 pixels per inch; below 120 it looks coarse.",
    where="orders/fenn/order.yaml:9, photo",
    measure=92.06,
    limit=120.0,
    cure="Ask for the original, at least 1,867 × 788 pixels; or use it at most 181 mm wide "
    "(109 mm to be sharp).",
    line=1,
    face="round",
    about="photo-3f2a1b",
)
TURNED = Finding(check="photo/orientation", code="turned", status="note", says="It was turned.")
WELL = Finding(check="order/due", code="pass", status="pass", says="There is time.")
LET = Finding(
    check="words/empty", code="no-words", status="stop", says="Nothing stands there.",
    accepted="she wants it bare", where="orders/quill/order.yaml:4",
)  # fmt: skip
FENN = OrderFindings(order="fenn", edition=2, findings=[COARSE, TURNED, WELL, WELL])
QUILL = OrderFindings(order="quill", edition=0, findings=[LET, WELL])


def test_document_has_the_fields_of_the_contract():
    document = json.loads(json.dumps(findings_document([FENN, QUILL])))
    assert list(document) == ["schema", "worst", "orders"]
    assert document["schema"] == "proofgen/findings/1" and document["worst"] == "stop"
    fields = ["order", "edition", "findings", "why", "told", "since"]
    assert list(document["orders"][0]) == fields
    first = document["orders"][0]["findings"][0]
    assert {"check", "code", "status", "where", "says", "measure", "limit", "cure"} <= set(first)
    assert first["key"] == COARSE.key and first["measure"] == 92.06
    assert document["orders"][1]["findings"][0]["accepted"] == "she wants it bare"


def test_what_was_accepted_is_not_the_worst():
    assert findings_document([QUILL])["worst"] == "pass"
    assert findings_document([])["worst"] == "pass"


def test_terminal_tells_worst_first_and_only_counts_what_passed():
    assert (
        terminal([FENN], colour=False, verbose=False)
        == """\
fenn, proof 2: 1 stop, 1 note, 2 passed
  ✕ stop    orders/fenn/order.yaml:9, photo
            At 237 × 100 mm this photo gives 92 pixels per inch; below 120 it looks
            coarse.
            → Ask for the original, at least 1,867 × 788 pixels; or use it at most 181
              mm wide (109 mm to be sharp).
            Or let it through:
              proofgen check fenn --accept effective-resolution --because "…"
  · note    photo/orientation
            It was turned.
  To ask the customer for a better photo: proofgen letter fenn --photo

A stop keeps proof and press shut. Mend it, or let it through with a reason, which the
proof shows to the customer where it is about what they sign.

    Next: Mend it, then: proofgen check fenn"""
    )


def test_it_ends_with_the_one_thing_to_do():
    def ends(*orders: OrderFindings) -> str:
        return terminal([*orders], colour=False, verbose=False).rpartition("\n\n")[2]

    clean = replace(QUILL, next="Make proof 1: proofgen proof quill")
    assert ends(clean) == "    Next: Make proof 1: proofgen proof quill"
    assert ends(FENN, clean) == "    Next: Mend what is stopped, then: proofgen check"
    assert ends(clean, clean) == "    Next: See what each of them waits for: proofgen orders"


def test_a_line_to_write_is_not_broken():
    cure = (
        "Ask for another; or " + "look " * 9 + "in order.yaml, as photo: {file: a.jpg, size: 9 mm}"
    )
    told = terminal(
        [replace(FENN, findings=[replace(COARSE, cure=cure)])], colour=False, verbose=False
    )
    assert "photo: {file: a.jpg, size: 9 mm}\n" in told


def test_one_photo_on_several_lines_is_told_once():
    again = replace(COARSE, line=2, where="orders/fenn/order.yaml:15, photo")
    other = replace(COARSE, line=3, about="photo-9c0d2e")
    told = terminal(
        [OrderFindings(order="fenn", edition=2, findings=[COARSE, again, other, WELL])],
        colour=False,
        verbose=False,
    )
    assert told.startswith("fenn, proof 2: 2 stops, 1 passed\n")
    assert told.count("this photo gives 92 pixels") == 2
    assert "orders/fenn/order.yaml:9, photo and 1 more line\n" in told
    every = OrderFindings(order="fenn", edition=2, findings=[COARSE, again])
    assert terminal([every], colour=False, verbose=True).count("this photo gives 92") == 2


def test_verbose_adds_check_measure_limit_and_key():
    told = terminal([FENN], colour=False, verbose=True)
    assert "photo/effective-resolution, too-coarse; measure 92.06; limit 120; key" in told
    assert told.count("✓ pass") == 2


def test_an_accepted_stop_shows_its_reason_and_asks_for_nothing():
    told = terminal([QUILL], colour=False, verbose=False)
    assert told.startswith("quill: 1 accepted, 1 passed\n")
    assert "Accepted: she wants it bare" in told and "--accept" not in told


def test_colour_is_only_an_extra():
    plain = terminal([FENN, QUILL], colour=False, verbose=True)
    bright = terminal([FENN, QUILL], colour=True, verbose=True)
    assert "\x1b[" in bright and "\x1b" not in plain
    assert re.sub(r"\x1b\[[0-9;]*m", "", bright) == plain


def test_findings_cannot_steer_the_terminal():
    evil = Finding(check="a/b", code="c", status="warn", says="\x1b[2J\u202egone", where="\x07x")
    told = terminal(
        [OrderFindings(order="\x1b]0;x", edition=0, findings=[evil])], colour=False, verbose=True
    )
    assert not re.search(r"[\x00-\x09\x0b-\x1f\u202e]", told)


def test_what_differs_from_the_edition_stands_above_the_findings():
    one = OrderFindings(
        order="fenn",
        edition=2,
        told=["price was €13.00, is €14.00", "day was 4 December 2026, is 5 December 2026"],
        since=["heat was 204 °C (400 °F), is 196 °C (385 °F)"],
    )
    assert (
        terminal([one], colour=False, verbose=False)
        == """\
fenn, proof 2: nothing looked at
  Since proof 2: price was €13.00, is €14.00.
  Since proof 2: day was 4 December 2026, is 5 December 2026.
  Since proof 2: heat was 204 °C (400 °F), is 196 °C (385 °F).
  The customer learns of it by a new proof only: proofgen proof fenn"""
    )
    why = OrderFindings(order="fenn", edition=2, why=["Name was “Marek”, is now “Marec”."])
    assert "  Not as proof 2: Name was “Marek”, is now “Marec”." in terminal(
        [why], colour=False, verbose=False
    )


def test_what_was_skipped_alike_in_several_orders_is_told_once_and_stopped_orders_come_first():
    skipped = Finding(
        check="layout/faces", code="not-looked", status="skipped", says="Nobody looked.", line=1
    )
    other = Finding(check="a/b", code="c", status="skipped", says="Alone.", line=1)
    stop = Finding(check="a/b", code="d", status="stop", says="No.", line=1)
    orders = [
        OrderFindings(order="ant", edition=0, findings=[skipped, other]),
        OrderFindings(order="bee", edition=0, findings=[stop, skipped]),
        OrderFindings(order="cat", edition=0, findings=[stop]),
    ]
    told = terminal(orders, colour=False, verbose=False)
    assert told.count("Nobody looked.") == 1 and told.count("Alone.") == 1
    assert "In 2 orders" in told
    assert told.index("bee: ") < told.index("cat: ") < told.index("ant: ")
    for name in ("bee", "cat"):
        assert f"proofgen check {name} --accept b --because" in told
    assert "check ant" not in told
    assert terminal(orders, colour=False, verbose=True).count("Nobody looked.") == 2
    assert "In 1 order" not in terminal(orders[:1], colour=False, verbose=False)
