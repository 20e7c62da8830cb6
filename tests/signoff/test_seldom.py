"""What comes seldom: records put back by halves, answers to what is gone, mails of odd make."""

from __future__ import annotations

import base64
import json
from dataclasses import replace
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import pytest

from proofgen.errors import SignoffError
from proofgen.model.asked import AskedChange
from proofgen.signoff import EventKind, Known, Records, admit
from proofgen.signoff.digests import canonical
from proofgen.signoff.earlier import earlier_of
from proofgen.signoff.mail import open_mail, plain_from_html
from proofgen.signoff.names import held
from proofgen.signoff.wording import person_words
from tests.signoff.conftest import NOW, TODAY, VECTORS, code, new_edition, seen, take

OLD = json.loads((Path(__file__).parent / "old_slip_vector.json").read_bytes())["vectors"][0]


def test_of_a_journal_of_an_older_version_a_forgotten_order_is_known_by_its_name(tmp_path):
    records = Records(tmp_path, lambda name: name)
    new_edition(records)
    records.names.path.unlink()
    records.forget("fenn", NOW)
    got = take(Records(tmp_path), VECTORS["vectors"][0]["block"])
    assert got.status == "refused" and "was removed" in got.sentence and got.order == "fenn"


def test_an_ok_after_words_without_an_answer_says_what_still_holds_the_press(records, kept):
    records.mark(
        "fenn", EventKind.WROTE, NOW, words=["Could it be darker?"], dated=TODAY.isoformat()
    )
    got = take(records, code(kept, "ok"))
    assert got.status == "recorded" and "proofgen answer --read fenn" in got.cure
    with pytest.raises(SignoffError):
        admit(records, "fenn", kept.document, pixel_digest=seen)


def test_codes_of_two_orders_in_one_text_are_given_one_by_one(records):
    one, other = new_edition(records, "a"), new_edition(records, "b")
    got = take(records, f"{code(one, 'ok')} and {code(other, 'ok')}")
    assert got.status == "refused" and "more than one code" in got.sentence
    assert "a" in got.sentence and got.cure.endswith("proofgen answer CODE")
    assert records.answers("a") == records.answers("b") == []


def test_an_answer_to_other_artwork_keeps_the_door_shut(records, kept):
    take(records, code(kept, "ok"))
    (answer,) = records.answers("fenn")
    records.record_answer(replace(answer, fingerprint="00" * 32))
    with pytest.raises(SignoffError, match="is for other artwork"):
        admit(records, "fenn", kept.document, pixel_digest=seen)


def test_what_came_up_after_the_proof_shuts_the_door_with_its_words(records, kept):
    take(records, code(kept, "ok"))
    with pytest.raises(SignoffError, match="The photo is too coarse"):
        admit(records, "fenn", kept.document, pixel_digest=seen, late=("The photo is too coarse.",))


@pytest.mark.parametrize("head", [b"", b"{", b"[]", b'{"lines": 2}', b'{"digest": 1, "lines": []}'])
def test_a_head_that_says_nothing_shows(records, kept, head):
    take(records, code(kept, "ok"))
    (records.folder / "journal.head").write_bytes(head)
    (problem, *_) = Records(records.folder).verify()
    assert ("is missing" if not head else "cannot be read") in problem
    with pytest.raises(SignoffError):
        new_edition(Records(records.folder), fill=8)


def test_a_line_of_an_older_version_that_went_on_past_lost_ones_shows(records, kept):
    head = records.journal.read().entries[-1].head
    records.journal.append({**head, "lost": ["00" * 32]})
    assert any("lost or changed" in problem for problem in Records(records.folder).verify())


def test_a_line_whose_order_is_no_order_is_nobodys(records, kept):
    head = records.journal.read().entries[-1].head
    records.journal.append({**head, "order": "../quill"})
    again = Records(records.folder)
    assert again.orders() == ["fenn"]
    assert again.latest("fenn") == kept


def test_files_and_names_of_two_orders_swapped_together_show(records):
    """Each file has the digest that its line names, and lies where the line's order would."""
    new_edition(records, "fenn"), new_edition(records, "quill", fill=9)
    names = json.loads(records.names.path.read_bytes())
    (one, other) = names["orders"]
    names["orders"] = {one: names["orders"][other], other: names["orders"][one]}
    records.names.path.write_bytes(canonical(names))
    for start, end in ("fenn", "aside"), ("quill", "fenn"), ("aside", "quill"):
        (records.folder / start).rename(records.folder / end)
    again = Records(records.folder)
    assert any("belongs to another line" in problem for problem in again.verify())
    with pytest.raises(SignoffError, match="belongs to another line"):
        again.latest("fenn")


def test_no_two_orders_get_one_id(tmp_path):
    records = Records(tmp_path, lambda name: "order-0000000000")
    for order in ("fenn", "quill"):
        new_edition(records, order)
    assert records.names.id_of("fenn") == "order-0000000000" != records.names.id_of("quill")
    assert Records(tmp_path).orders() == ["fenn", "quill"]


def test_who_holds_the_records_within_a_hold_lets_go_at_the_outer_end(records, kept):
    """Of what another run adds meanwhile nothing is seen until then."""
    other = Records(records.folder)
    with held(records.journal, records.names):
        with held(records.journal, records.names):
            pass
        other.mark("fenn", EventKind.SENT, NOW)
        assert EventKind.SENT not in records.happened("fenn")
    assert EventKind.SENT in records.happened("fenn")


def test_a_picture_is_only_kept_of_a_proof(records, kept):
    assert records.raster_path("fenn", "line1-a-round.png").is_file()
    with pytest.raises(KeyError):
        records.raster_path("quill", "line1-a-round.png")


def _older(**over: Any) -> str:
    """A slip of the older page with other fields, its code as it was."""
    fields = {**OLD["payload"], **over}
    mac = "".join(OLD["block"].split("\n")[1:-1]).rpartition(".")[2]
    signed = base64.urlsafe_b64encode(canonical(fields)).decode().rstrip("=")
    return f"BEGIN ANSWER CODE\n{signed}.{mac}\nEND ANSWER CODE"


@pytest.mark.parametrize(
    "over",
    [{"ticks": "colour"}, {"ticks": {"colour": 1}}, {"remarks": 5}, {"answer": None}, {"name": []}],
    ids=str,
)
def test_an_older_slip_with_fields_of_a_wrong_kind_is_damaged(records, kept, over):
    assert "was changed on the way" in take(records, _older()).sentence
    got = take(records, _older(**over))
    assert got.status == "refused" and "was damaged on the way" in got.sentence


def _with_picture(size: int, inside: bool) -> bytes:
    mail = EmailMessage()
    mail["From"], mail["Date"] = "odalys@example.org", "Thu, 26 Nov 2026 08:30:00 +0000"
    mail.set_content("As we said")
    mail.add_attachment(b"\x89PNG" + bytes(size), "image", "png", filename="anchor.png")
    if inside:
        mail.get_payload()[-1]["Content-ID"] = "<anchor@example.org>"
    return mail.as_bytes()


@pytest.mark.parametrize(
    ("size", "inside", "attached"), [(900, True, 0), (900, False, 1), (900_000, True, 1)]
)
def test_the_logo_of_a_signature_is_no_file_and_a_photo_in_a_mail_is(size, inside, attached):
    mail = open_mail(_with_picture(size, inside))
    assert [one.name for one in mail.attached] == ["anchor.png"] * attached
    assert mail.unread == ("anchor.png",) * attached and "As we said" in mail.texts[0]


def test_words_that_stand_for_a_picture_are_read():
    page = '<p>Yes<img src="a.png" alt="but with a darker sky"><img src="b.png" alt="logo"></p>'
    assert plain_from_html(page).split() == ["Yes", "but", "with", "a", "darker", "sky"]


def test_of_words_without_end_the_rest_is_counted():
    said = person_words(["word " * 50_000], Known())
    assert (len(said[0]), said[1]) == (200_000, "(50,000 more letters)")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("-------- Original Message --------", False),
        ("---------- Forwarded message ---------", False),
        ("Begin forwarded message:", False),
        ("-----Ursprüngliche Nachricht-----", False),
        ("Anfang der weitergeleiteten Nachricht:", False),
        ("----- Mensaje original -----", False),
        ("----- الرسالة الأصلية -----", False),
        ("________________________________", False),
        ("-- Original Message, but darker --", True),
        ("Begin forwarded message: darker", True),
    ],
)
def test_a_mail_programs_line_above_what_it_quotes_is_nobodys_word(line, says):
    assert person_words([f"{line}\n"], Known()) == ((line,) if says else ())


def _with_names(*names: str) -> dict[str, Any]:
    variants = [{"pieces": [n], "words": {"name": text}} for n, text in enumerate(names, 1)]
    return {"lines": [{"line": 1, "variants": variants}]}


@pytest.mark.parametrize(
    ("names", "became", "now"),
    [
        (("Odalys", "Bram"), "changed", "Odalys"),
        (("Odalis", "Bram"), "as it was", "Odalis"),
        (("Odalyss", "Bram"), "other", "Odalyss"),
        (("", "Bram"), "gone", ""),
        ((), "gone", ""),
    ],
)
def test_what_was_asked_before_is_followed_into_the_next_proof(records, kept, names, became, now):
    take(records, code(kept, "change"))
    (plain,) = records.answers("fenn")
    asked = AskedChange(pieces=(1,), slot="name", line=1, old="Odalis", new="Odalys")
    given = replace(plain, changes=(asked, asked), wrong=(3, 2), remarks="Darker, please")
    told = earlier_of([given], ["By Friday?"], 1, _with_names(*names))
    assert [(one.became, one.now) for one in told if one.asked] == [(became, now)]
    assert told[0].said.startswith(asked.said)
    assert [one.said for one in told[1:]] == [
        "pieces 2 and 3 marked as wrong", "“Darker, please”", "“By Friday?”"
    ]  # fmt: skip
    assert earlier_of([given], (), 2, None) == []
