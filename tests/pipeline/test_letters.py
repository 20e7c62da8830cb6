"""Letters through the command: a working way to the proof, reminders, ready, receipts."""

from __future__ import annotations

import email
import email.policy
import re
from email.message import EmailMessage
from pathlib import Path

import pytest

from proofgen.pipeline import letters
from proofgen.signoff import Records
from tests.cli.small import (
    Ran,
    code_seen,
    files,
    make_shop,
    order_text,
    paint,
    reword,
    run,
    state,
    write,
)
from tests.slips import compose_slip


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    return make_shop(tmp_path / "shop", "fenn")


def setting(shop: Path, line: str, key: str) -> None:
    """Put a line of shop.yaml in the place of another; '' takes it out."""
    text = (shop / "shop.yaml").read_text("utf-8")
    write(shop / "shop.yaml", re.sub(rf"(?m)^{key}:.*\n", line and f"{line}\n", text))


def day(shop: Path, iso: str) -> None:
    setting(shop, f"today: {iso}", "today")


def mail_of(shop: Path, name: str) -> EmailMessage:
    content = (shop / "workroom" / "letters" / f"{name}.eml").read_bytes()
    made = email.message_from_bytes(content, policy=email.policy.default)
    assert isinstance(made, EmailMessage)
    return made


def plain(shop: Path, name: str) -> str:
    part = mail_of(shop, name).get_body(("plain",))
    assert part is not None
    text = (shop / "workroom" / "letters" / f"{name}.txt").read_text("utf-8")
    assert text.partition("\n\n")[2] == part.get_content().replace("\r\n", "\n")
    return text


def sent(shop: Path) -> Ran:
    run(shop, "proof", "fenn").ended(0)
    return run(shop, "letter", "fenn", "--sent").ended(0)


def say(shop: Path, answer: str = "ok", beside: str = "") -> Ran:
    return run(shop, "answer", "-", typed=f"{code_seen(shop, answer, 'fenn')}\n{beside}")


# -- the way to the proof --------------------------------------------------------------------


def test_with_an_address_the_letter_brings_the_link(shop: Path) -> None:
    told = sent(shop)
    link = state(shop, "fenn")["link"]
    assert link.startswith("https://") and link in plain(shop, "fenn").split()
    assert told.out.strip() == plain(shop, "fenn").strip()
    assert "workroom/letters/fenn.eml" in told.err
    assert not list(mail_of(shop, "fenn").iter_attachments())
    assert not list((shop / "workroom" / "letters").glob("*.html"))


def test_without_an_address_the_proof_itself_goes_along(shop: Path) -> None:
    setting(shop, "", "site")
    told = sent(shop)
    assert "site/p/" not in told.out
    (page,) = mail_of(shop, "fenn").iter_attachments()
    lies = shop / "workroom" / "letters" / "fenn-proof-1.html"
    assert page.get_filename() == lies.name and page.get_payload(decode=True) == lies.read_bytes()
    assert lies.name in told.out and "workroom/letters/fenn-proof-1.html" in told.err
    assert 'src="data:image/' in lies.read_text("utf-8")  # its pictures are in it
    assert state(shop, "fenn")["state"] == "out"


def test_no_letter_is_noted_as_sent_that_leads_nowhere(shop: Path) -> None:
    setting(shop, "", "site")
    run(shop, "proof", "fenn").ended(0)
    (shop / "workroom" / "letters" / "fenn-proof-1.html").unlink()
    told = run(shop, "letter", "fenn", "--sent").ended(4)
    assert "does not lead to its proof" in told.err and "proofgen proof fenn" in told.err
    assert state(shop, "fenn")["state"] == "ready"
    run(shop, "proof", "fenn").ended(0)
    run(shop, "letter", "fenn", "--sent").ended(0)


def test_an_address_that_came_later_or_changed_is_heeded(shop: Path) -> None:
    setting(shop, "site: https://elsewhere.example/press", "site")
    run(shop, "proof", "fenn").ended(0)
    setting(shop, "site: https://puffinyard.example", "site")
    told = run(shop, "letter", "fenn", "--sent").ended(4)
    assert "site: in shop.yaml changed" in told.err
    run(shop, "proof", "fenn").ended(0)
    assert "https://puffinyard.example/p/" in run(shop, "letter", "fenn", "--sent").ended(0).out


def test_a_proof_too_large_for_a_mail(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(letters, "MOST_ATTACHED", 1000)
    setting(shop, "", "site")
    run(shop, "proof", "fenn").ended(0)
    assert not list(mail_of(shop, "fenn").iter_attachments())
    told = run(shop, "letter", "fenn").ended(0)
    assert "too much for a mail" in told.err and "fenn-proof-1.html in another way" in told.err
    assert "write site: into shop.yaml" in run(shop, "letter", "fenn", "--sent").ended(4).err
    assert run(shop, "proof", "fenn").ended(0).out.count("proof 1") == 0  # and is not set again


@pytest.mark.parametrize("site", ["ftp://a.example", "a.example", "file:///site", "https://"])
def test_an_address_is_one_that_a_browser_opens(shop: Path, site: str) -> None:
    setting(shop, f"site: {site}", "site")
    assert "is not a web address" in run(shop, "orders").ended(3).err


def test_a_customer_without_an_address_gets_a_mail_all_the_same(shop: Path) -> None:
    text = order_text().replace(", email: someone@fenn.example", "")
    write(shop / "orders" / "fenn" / "order.yaml", text)
    run(shop, "proof", "fenn").ended(0)
    assert "no mail address" in run(shop, "letter", "fenn").ended(0).err
    assert mail_of(shop, "fenn")["To"] is None


# -- reminders -------------------------------------------------------------------------------


def test_reminders_are_for_proofs_half_of_whose_time_is_over(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn", "quill", "wren", "new")
    run(shop, "proof", "fenn", "quill", "wren").ended(0)
    run(shop, "letter", "fenn", "--sent").ended(0)
    run(shop, "letter", "quill", "--sent").ended(0)
    run(shop, "answer", "-", typed=code_seen(shop, "ok", "quill")).ended(0)
    day(shop, "2026-11-26")
    told = run(shop, "letter", "--all").ended(0)
    assert told.out == "" and "fenn: none yet, half of its time is over on 2026-11-27" in told.err
    day(shop, "2026-11-27")  # sent on the 25th, to be answered until the 30th
    told = run(shop, "letter", "--all").ended(0)
    assert told.out.count("Subject:") == 1 and "order fenn" in told.out
    for line in ("fenn: to be answered until 2026-11-30", "quill: none, it is signed",
                 "wren: none, its proof is not answered yet",
                 "new: none, it has no proof of how it is now"):  # fmt: skip
        assert line in told.err
    text = plain(shop, "fenn.reminder-1")
    assert state(shop, "fenn")["link"] in text.split()
    assert code_seen(shop, "ok", "fenn") in text and "30 November 2026" in text
    day(shop, "2026-12-01")
    told = run(shop, "letter", "--all").ended(0)
    assert told.out == "" and "fenn: none, the last day for its answer has gone by" in told.err


def test_a_reminder_carries_the_proof_where_there_is_no_address(shop: Path) -> None:
    setting(shop, "", "site")
    sent(shop)
    day(shop, "2026-11-29")
    run(shop, "letter", "--all").ended(0)
    assert len(list(mail_of(shop, "fenn.reminder-1").iter_attachments())) == 1


def test_all_stands_alone(shop: Path) -> None:
    assert "proofgen letter --all" in run(shop, "letter", "fenn", "--all").ended(2).err
    assert "proofgen letter ORDER" in run(shop, "letter").ended(2).err


# -- what comes after ------------------------------------------------------------------------


def test_ready_to_collect_once_it_is_pressed(shop: Path) -> None:
    sent(shop)
    refused = run(shop, "letter", "fenn", "--ready").ended(4)
    assert "not ready to collect: its customer has not answered yet" in refused.err
    say(shop).ended(0)
    run(shop, "press", "fenn").ended(0)
    run(shop, "press", "fenn", "--done").ended(0)
    setting(shop, "keep: 30 days\ntoday: 2026-11-25", "today")
    told = run(shop, "letter", "fenn", "--ready").ended(0)
    assert told.out.startswith("Subject: Ready to collect: your order fenn from Puffin Yard")
    assert "2 × Plain tag" in told.out
    assert "photos" not in told.out and "30 days" not in told.out  # it has none
    assert "The price is €10.00." in told.out
    assert told.out.strip() == plain(shop, "fenn.ready").strip()


@pytest.mark.parametrize(
    ("paid", "says"),
    [
        ("4", "The price is €10.00. Paid: €4.00; still to pay: €6.00."),
        ("10.00", "The price is €10.00, and it is paid."),
    ],
)
def test_what_is_still_to_pay_is_said_once_it_is_ready(shop: Path, paid: str, says: str) -> None:
    sent(shop)
    say(shop).ended(0)
    run(shop, "press", "fenn").ended(0)
    run(shop, "press", "fenn", "--done").ended(0)
    path = shop / "orders" / "fenn" / "order.yaml"
    write(path, f"paid: {paid}\n{path.read_text('utf-8')}")
    assert says in " ".join(run(shop, "letter", "fenn", "--ready").ended(0).out.split())
    assert state(shop, "fenn")["state"] == "pressed"


def test_photos_are_spoken_of_where_the_order_has_some(tmp_path: Path) -> None:
    folder = make_shop(tmp_path / "shop", "pic")
    paint(folder / "orders" / "pic" / "photos" / "pier.jpg")
    write(folder / "orders" / "pic" / "order.yaml", order_text(design="snap"))
    setting(folder, "keep: 30 days\ntoday: 2026-11-25", "today")
    run(folder, "proof").ended(0)
    run(folder, "answer", "pic", "--in-person", "Odalys").ended(0)
    run(folder, "press", "pic").ended(0)
    run(folder, "press", "pic", "--done").ended(0)
    assert "for 30 days" in run(folder, "letter", "pic", "--ready").ended(0).out


def test_an_answer_is_thanked_for_with_what_was_written_down(shop: Path) -> None:
    sent(shop)
    told = say(shop).ended(0)
    assert "workroom/letters/fenn.receipt-1.eml" in told.out
    text = plain(shop, "fenn.receipt-1")
    edition = Records(shop / "records").latest("fenn")
    assert edition is not None
    assert "We press your order exactly as you saw it on proof 1." in text
    for part in (edition.fingerprint, "Yes. Press it exactly as shown.", "2 × Plain tag",
                 "as a code", "25 November 2026"):  # fmt: skip
        assert part in text
    (file,) = mail_of(shop, "fenn.receipt-1").iter_attachments()
    assert file.get_filename() == "fenn-proof-1.txt"
    assert str(file.get_content()).strip() in text
    assert code_seen(shop, "ok", "fenn") not in text and edition.key.hex() not in text
    assert "A receipt" not in say(shop).ended(0).out  # nothing new, nothing to thank for


@pytest.mark.parametrize(
    ("answer", "beside", "thanks"),
    [
        ("ok", "but Willy with y", "we read it before anything is pressed"),
        ("change", "the name is Bran", "We change what you wrote"),
    ],
)
def test_a_receipt_tells_what_follows(shop: Path, answer: str, beside: str, thanks: str) -> None:
    sent(shop)
    say(shop, answer, beside)
    text = plain(shop, "fenn.receipt-1")
    assert thanks in text and beside in text and "exactly as you saw it" not in text


def test_two_answers_are_thanked_for_as_two(shop: Path) -> None:
    sent(shop)
    say(shop).ended(0)
    say(shop, "change").ended(4)
    assert "until we have asked you which of them holds" in plain(shop, "fenn.receipt-1")


def test_a_refused_answer_is_not_thanked_for(shop: Path) -> None:
    sent(shop)
    day(shop, "2026-12-02")
    assert "receipt" not in say(shop).ended(4).out
    assert not (shop / "workroom" / "letters" / "fenn.receipt-1.eml").exists()


# -- what is kept of them --------------------------------------------------------------------


def test_a_letter_that_was_replaced_is_still_known_as_ours(shop: Path) -> None:
    sent(shop)
    first = plain(shop, "fenn")
    say(shop, "change").ended(0)
    reword(shop, "fenn", "Odalys & Bran")
    run(shop, "proof", "fenn").ended(0)
    assert "Your proof 2" in plain(shop, "fenn")
    earlier = (shop / "workroom" / "letters" / "fenn.earlier.txt").read_text("utf-8")
    assert first.strip() in earlier


def test_forgetting_takes_every_letter_along_and_no_other(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn", "fenn-2")
    setting(shop, "", "site")
    for order in ("fenn", "fenn-2"):
        run(shop, "proof", order).ended(0)
        run(shop, "letter", order, "--sent").ended(0)
    say(shop).ended(0)
    others = {n for n in files(shop / "workroom" / "letters") if n.startswith("fenn-2")}
    run(shop, "forget", "fenn", "--sure", "fenn").ended(0)
    assert set(files(shop / "workroom" / "letters")) == others and len(others) == 3


def test_letters_stay_in_the_workroom_and_name_no_folder(shop: Path) -> None:
    sent(shop)
    say(shop).ended(0)
    run(shop, "build").ended(0)
    for name, content in files(shop / "site").items():
        assert b"Dear Odalys" not in content and not name.endswith(".eml")
    for content in files(shop / "workroom" / "letters").values():
        assert str(shop.parent).encode() not in content


# -- what the customer allows ----------------------------------------------------------------


@pytest.mark.parametrize(
    ("said", "status"), [({}, "warn"), ({"print": True}, "pass"), ({"print": False}, "stop")]
)
def test_leave_given_on_the_page_is_heard_by_the_check(
    tmp_path: Path, said: dict[str, bool], status: str
) -> None:
    shop = make_shop(tmp_path / "shop")
    write(shop / "orders" / "pic" / "order.yaml", order_text(design="snap"))
    paint(shop / "orders" / "pic" / "photos" / "pier.jpg")
    run(shop, "proof", "pic").ended(0)
    edition = Records(shop / "records").latest("pic")
    assert edition is not None
    slip = compose_slip(edition, written="2026-11-25T09:00:00Z", **said)
    run(shop, "answer", "-", typed=slip).ended(0)
    (found,) = run(shop, "check", "pic", "--json").document["orders"]
    (mine,) = [f["status"] for f in found["findings"] if f["check"] == "order/rights"]
    assert mine == status
    assert run(shop, "press", "pic").code == (1 if status == "stop" else 0)


@pytest.mark.parametrize(
    ("noted", "said", "rows"),
    [
        ("", {}, ()),
        ("", {"print": True, "show": False},
         ("Using your pictures for this order\n    allowed, by this answer",
          "Showing your order to others\n    not allowed, by this answer")),
        ("rights: {print: yes, show: yes}\n", {"show": False},
         ("Using your pictures for this order\n    allowed, as you told us before",
          "Showing your order to others\n    not allowed, by this answer")),
        ("rights: {print: yes, show: no}\n", {"show": True},
         ("Showing your order to others\n    not allowed, as you told us before",)),
    ],
    ids=["nobody said", "by the answer", "both", "a no that stays"],
)  # fmt: skip
def test_the_certificate_says_what_is_allowed_and_who_said_so(
    tmp_path: Path, noted: str, said: dict[str, bool], rows: tuple[str, ...]
) -> None:
    shop = make_shop(tmp_path / "shop")
    write(shop / "orders" / "pic" / "order.yaml", order_text(design="snap") + noted)
    paint(shop / "orders" / "pic" / "photos" / "pier.jpg")
    run(shop, "proof", "pic").ended(0)
    edition = Records(shop / "records").latest("pic")
    assert edition is not None
    slip = compose_slip(edition, written="2026-11-25T09:00:00Z", **said)
    run(shop, "answer", "-", typed=slip).ended(0)
    receipt = plain(shop, "pic.receipt-1")
    for row in rows:
        assert row in receipt
    assert ("allowed" in receipt) is bool(rows)
    assert "Ready on\n    Sunday 20 December 2026" in receipt and "Day\n" not in receipt


@pytest.mark.parametrize(
    ("due", "by"),
    [
        ("2026-12-20", "2026-11-30"),
        ("2026-12-10", "2026-11-30"),
        ("2026-12-09", "2026-11-29"),
        ("2026-12-05", "2026-11-25"),
        ("2026-12-04", "2026-11-26"),
        ("2026-11-27", "2026-11-26"),
        ("2026-11-26", "2026-11-25"),
        ("2026-11-25", "2026-11-25"),
    ],
)
def test_an_answer_is_asked_for_before_the_order_is_due(shop: Path, due: str, by: str) -> None:
    """Ten days are for making: five from 25 November are too many where that would come late."""
    file = shop / "orders" / "fenn" / "order.yaml"
    text = re.sub(r"(?m)^due:.*\n", "", file.read_text("utf-8"))
    write(file, text.replace("lines:\n", f"due: {due}\nlines:\n", 1))
    run(shop, "proof", "fenn").ended(0)
    edition = Records(shop / "records").latest("fenn")
    assert edition is not None and edition.answer_by.isoformat() == by


@pytest.mark.parametrize(
    ("file", "is_its"),
    [
        ("fenn.txt", True),
        ("fenn.ready.eml", True),
        ("fenn-photo.txt", True),
        ("fenn-proof-12.html", True),
        ("fenn", False),
        ("fenn.", False),
        ("fenn-photo.eml", False),
        ("fenn-proof-x.html", False),
        ("fenn-two.txt", False),
        ("two-fenn.txt", False),
    ],
)
def test_a_letter_belongs_to_one_order(file: str, is_its: bool) -> None:
    assert letters.is_of(file, "fenn") == is_its
