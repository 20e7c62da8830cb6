"""Words that a person wrote around a slip, around answers or beside a photo: shown and kept."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from proofgen.catalogue.order_form import slip_told
from proofgen.intake.keeping import ASKED
from proofgen.pipeline.preflight import prepare
from proofgen.say.tongue import Tongue, languages
from proofgen.signoff import asked
from proofgen.signoff.asked import also_in, came_with
from proofgen.signoff.order_slip import slips_in
from proofgen.workshop import Workshop, open_workshop
from tests.cli.small import run, state
from tests.intake.conftest import one_of
from tests.intake.test_letters import filled, mail, photo, with_photos
from tests.order_slips import GOOD, order_slip

WISH = "If white is out, sky will do.\nRing before noon: 20 913 0148"
LATE = "Sorry, make it three, not two!"


def whole(workshop: Workshop, language: str, **changed: object) -> str:
    """A slip as its page writes it in a language: all that can be read, then the block."""
    bare = order_slip(**changed)
    (slip,) = slips_in(bare)
    assert slip
    shop = workshop.shop
    design, blank = shop.designs[slip["design"]], shop.blanks[slip["blank"]]
    return slip_told(slip, design, blank, Tongue(language)) + "\n" + bare.partition("\n\n")[2]


@pytest.mark.parametrize("language", languages())
def test_a_bare_slip_has_no_words_of_a_person(workshop: Workshop, language: str) -> None:
    taken = one_of(workshop, whole(workshop, language))
    assert taken.remarks == (GOOD["note"],)
    folder = workshop.folder / "orders" / taken.order
    assert [*came_with(folder).remarks] == [GOOD["note"]]


@pytest.mark.parametrize("quote", ["", "> "])
def test_words_around_a_slip_are_told_and_kept(workshop: Workshop, quote: str) -> None:
    slip = "".join(f"{quote}{line}\n" for line in whole(workshop, "de").splitlines())
    body = f"Hello Tern Row,\n\n{WISH}\n\n{slip}\nKind regards\nOdalys Fenn\n"
    taken = one_of(workshop, bytes(mail("Order: Harbour photo", body)))
    assert taken.remarks == (GOOD["note"], WISH)
    folder = workshop.folder / "orders" / taken.order
    assert [*came_with(folder).remarks] == [GOOD["note"], WISH]
    kept = (folder / ASKED).read_text("utf-8")
    assert also_in(kept) == (WISH,) and slips_in(kept) == [GOOD]


def test_a_subject_that_says_something_is_a_word_too(workshop: Workshop) -> None:
    taken = one_of(workshop, bytes(mail("For Saturday, please!", whole(workshop, "en"))))
    assert "For Saturday, please!" in taken.remarks


def test_the_same_slip_with_new_words_is_not_nothing(workshop: Workshop) -> None:
    first = one_of(workshop, bytes(mail("Order: Harbour photo", whole(workshop, "en"))))
    later = bytes(mail("Order: Harbour photo", f"{LATE}\n\n{whole(workshop, 'en')}"))
    again = one_of(workshop, later)
    assert (again.order, again.is_new, again.remarks) == (first.order, False, (LATE,))
    assert one_of(workshop, later).remarks == ()
    assert [*came_with(workshop.folder / "orders" / first.order).remarks] == [GOOD["note"], LATE]


def test_the_head_of_a_forwarded_mail_is_no_remark(workshop: Workshop) -> None:
    head = (
        "---------- Weitergeleitete Nachricht ----------\n"
        "Von: Annamengia Caflisch <anna@caflisch.example>\nDatum: 28. November 2026\n"
        "Betreff: Bestellung\nAn: Odalys Fenn <odalys@example.org>\n"
    )
    body = f"{WISH}\n\n{head}\nTwo sleeves with the cat.\nMum\n"
    taken = one_of(workshop, bytes(with_photos(mail("Fwd: Bestellung", body), photo())))
    assert WISH in taken.remarks and not any("Caflisch" in one for one in taken.remarks)
    assert any("Two sleeves with the cat." in one for one in taken.remarks)


def test_words_around_answers_are_told(workshop: Workshop) -> None:
    subject, body = filled(workshop, "en")
    photo_asked = re.compile(r"(?m)^(Photo .*:) *$")
    assert photo_asked.search(body)
    body = photo_asked.sub(r"\1 in the shared album; leave out the dog", body)
    said = f"Hello,\n{WISH}\n\n{body}\nKind regards\nOdalys\n\nP.S. {LATE}\n"
    taken = one_of(workshop, bytes(mail(subject, said)))
    assert taken.remarks == (WISH, "in the shared album; leave out the dog", f"P.S. {LATE}")


def test_answers_alone_are_no_words(workshop: Workshop) -> None:
    subject, body = filled(workshop, "ar")
    assert one_of(workshop, bytes(mail(subject, body))).remarks == ()


def test_they_are_shown_wherever_the_order_is(shop: Path, tmp_path: Path) -> None:
    with_words = tmp_path / "a.eml"
    with_words.write_bytes(with_photos(mail("Hi", WISH, "Cy <cy@example.org>"), photo()))
    said = run(shop, "take", with_words).ended(0).out
    assert "The customer wrote: “" in said and "sky will do" in said
    assert state(shop, "cy")["words"] == [WISH]
    page = (shop / "workroom" / "orders" / "cy.html").read_text("utf-8")
    assert "If white is out, sky will do." in page


def test_words_beside_a_photo_that_comes_later(shop: Path, tmp_path: Path) -> None:
    (tmp_path / "slip.txt").write_text(order_slip(photos=None), "utf-8")
    run(shop, "take", tmp_path / "slip.txt").ended(0)
    later = tmp_path / "later.eml"
    later.write_bytes(with_photos(mail("My photo", f"Hello,\n\n{LATE}\n"), photo()))
    said = run(shop, "take", later, "--for", "odalys-fenn").ended(0).out
    assert LATE in said and "is now photos/" in said
    assert LATE in state(shop, "odalys-fenn")["words"]


def test_no_words_pass_for_another_line_of_the_file(workshop: Workshop) -> None:
    """The file's head is read line by line, so what a person wrote can add none of ours."""
    hostile = "One\u2028Taken: never\nproofgen/asked/1 0\nAlso written: forged\nRead: {}"
    body = f"{hostile}\n\n{whole(workshop, 'en')}"
    taken = one_of(workshop, bytes(mail("Order: Harbour photo", body)))
    folder = workshop.folder / "orders" / taken.order
    (kept,) = also_in((folder / ASKED).read_text("utf-8"))
    assert "Also written: forged" in kept and kept.count("\n") == 4


def test_what_came_with_an_order_is_read_once_for_its_checks(
    workshop: Workshop, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Slip, remarks and mails of one file were three readings of it."""
    taken = one_of(workshop, whole(workshop, "en"))
    read, reader = list[Path](), asked.read_asked

    def noted(folder: Path) -> str:
        read.append(folder)
        return reader(folder)

    monkeypatch.setattr(asked, "read_asked", noted)
    with open_workshop(workshop.folder) as fresh:
        order = fresh.shop.orders[taken.order]
        findings = prepare(fresh, order).findings
    assert [f.says for f in findings if f.check == "order/remark" and f.status == "note"]
    assert read == [order.folder]
