"""The slip survives what mail does to it, or is refused; no changed answer is ever taken."""

from __future__ import annotations

import base64
import html
import quopri
import random
import re
import textwrap
from email.message import EmailMessage

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proofgen.signoff import canonical
from proofgen.signoff.mail import decode_text, plain_from_html
from proofgen.signoff.slip import Block, mac_of, read_blocks
from tests.signoff.conftest import KEY, MADE, WRITTEN, edition
from tests.slips import coded_block, compose_slip, make_payload, read_mail, say_time

PROOF = edition()
SLIP = compose_slip(
    PROOF,
    "corrections",
    ["quantity", "spelling"],
    False,
    [37, 12],
    "Zoë Nguyễn-O’Neil",
    "Piece 12: “Odalis” is “Odalys”.\nThank you >> both",
    WRITTEN,
)
TRUE = make_payload(
    PROOF,
    "corrections",
    ["spelling", "quantity"],
    False,
    [12, 37],
    "Zoë Nguyễn-O’Neil",
    "Piece 12: “Odalis” is “Odalys”.\nThank you >> both",
    WRITTEN,
)


def fits(block: Block) -> bool:
    return block.whole and mac_of(KEY, block.signed) == block.mac


def accepted(text: str) -> list[dict]:
    """What a reader who holds the key would believe."""
    return [b.payload() for b in read_blocks(text) if fits(b)]


def quoted(text: str) -> str:
    return "".join(f"> {line}\n" for line in text.splitlines())


def mailed(text: str, encoding: str, subtype: str = "plain") -> bytes:
    message = EmailMessage()
    message["Date"] = "Wed, 25 Nov 2026 15:00:00 +0100"
    message["From"] = "odalys@example.org"
    message.set_content(text, cte=encoding, subtype=subtype)
    return message.as_bytes()


def as_html(text: str) -> str:
    lines = "<br>".join(html.escape(line) for line in text.splitlines())
    return f"<html><head><style>p{{}}</style></head><body><p>{lines}</p></body></html>"


def forwarded(text: str) -> str:
    inner = EmailMessage()
    inner["Subject"] = "Answer"
    inner.set_content(text)
    outer = EmailMessage()
    outer["Date"] = "Thu, 26 Nov 2026 08:00:00 +0000"
    outer.set_content("See below.")
    outer.add_attachment(inner)
    return read_mail(outer.as_bytes())[0]


def hung_on(text: str) -> str:
    """The downloaded slip as an attachment."""
    message = EmailMessage()
    message["Date"] = "Thu, 26 Nov 2026 08:00:00 +0000"
    message.set_content("Here it is.")
    message.add_attachment(text.encode(), maintype="text", subtype="plain", filename="answer.txt")
    return read_mail(message.as_bytes())[0]


def flowed_soft(text: str) -> str:
    """The body as it lies in the mail, soft line breaks undone by nobody."""
    return quopri.encodestring(text.encode()).decode()


SURVIVES = {
    "nothing": lambda t: t,
    "windows line ends": lambda t: t.replace("\n", "\r\n"),
    "old line ends": lambda t: t.replace("\n", "\r"),
    "quoted": quoted,
    "quoted three times": lambda t: quoted(quoted(quoted(t))),
    "quoted with initials": lambda t: re.sub("^", "OF> ", t, flags=re.M),
    "quoted with bars": lambda t: re.sub("^", "| ", t, flags=re.M),
    "wrapped at 72": lambda t: textwrap.fill(t, 72, break_on_hyphens=False),
    "wrapped at 40": lambda t: textwrap.fill(t, 40, break_on_hyphens=False),
    "wrapped at 17": lambda t: textwrap.fill(t, 17, break_on_hyphens=True),
    "wrapped at 10": lambda t: textwrap.fill(t, 10),
    "one long line": lambda t: " ".join(t.split()),
    "no line breaks at all": lambda t: t.replace("\n", ""),
    "quoted, then wrapped": lambda t: textwrap.fill(quoted(t), 50).replace("\n", "\n> "),
    "trailing spaces": lambda t: t.replace("\n", "   \n"),
    "leading spaces and tabs": lambda t: re.sub("^", " \t  ", t, flags=re.M),
    "double spacing": lambda t: t.replace("\n", "\n\n"),
    "non-breaking spaces": lambda t: t.replace(" ", "\u00a0").replace("\n", "\u00a0\n"),
    "zero-width spaces": lambda t: "\u200b".join(t),
    "soft hyphens": lambda t: re.sub("(.{20})", "\\1\u00ad", t),
    "byte order mark": lambda t: "\ufeff" + t,
    "direction marks": lambda t: "\u200e" + t.replace("\n", "\u200f\n"),
    "forwarded inline": lambda t: "FYI\n\n--- Forwarded ---\nFrom: a\n\n" + t + "\n-- \nO.",
    "text all round": lambda t: "Hello Tern Row, 4 > 3.\n" + t + "\nThanks, see you on Friday",
    "soft line breaks": flowed_soft,
    "soft line breaks, windows": lambda t: flowed_soft(t).replace("\n", "\r\n"),
    "quoted-printable mail": lambda t: read_mail(mailed(t, "quoted-printable"))[0],
    "base64 mail": lambda t: read_mail(mailed(t, "base64"))[0],
    "8-bit mail": lambda t: read_mail(mailed(t, "8bit"))[0],
    "html mail": lambda t: read_mail(mailed(as_html(t), "quoted-printable", "html"))[0],
    "html to text": lambda t: plain_from_html(as_html(t)),
    "html, every line its block": lambda t: plain_from_html(
        "".join(f"<div>{html.escape(x)}&nbsp;</div>" for x in t.splitlines())
    ),
    "forwarded as attachment": forwarded,
    "downloaded and attached": hung_on,
    "notepad": lambda t: decode_text(t.encode("utf-16")),
    "old editor": lambda t: decode_text(t.encode("latin-1", "replace")),
    "mail address": lambda t: "mailto:a@b.example?body=" + re.sub(
        r"[^A-Za-z0-9._~-]", lambda m: "".join(f"%{b:02X}" for b in m[0].encode()), t
    ),
    "pasted twice": lambda t: t + "\n\n" + quoted(t),
}  # fmt: skip


@pytest.mark.parametrize("way", SURVIVES)
def test_an_answer_survives_the_mail(way):
    mangled = SURVIVES[way](SLIP)
    assert accepted(mangled) == [TRUE]
    assert all(fits(b) for b in read_blocks(mangled))


@given(st.integers(1, 200), st.booleans(), st.integers(0, 3))
@settings(max_examples=60, deadline=None)
def test_an_answer_survives_wrapping_at_any_width(width, hard, depth):
    if hard:
        text = "\n".join(SLIP[i : i + width] for i in range(0, len(SLIP), width))
    else:
        text = textwrap.fill(SLIP, width)
    for _ in range(depth):
        text = quoted(text)
    assert accepted(text) == [TRUE]


SPOILS = {
    "capitals": str.upper,
    "small letters": str.lower,
    "cut short": lambda t: t[: t.index("END ANSWER") - 30],
    "start lost": lambda t: t[t.index("BEGIN ANSWER") + 40 :],
    "a line lost": lambda t: "\n".join(x for i, x in enumerate(t.splitlines()) if i != 14),
    "lines swapped": lambda t: swap_lines(t, 13, 14),
    "ends forgotten": lambda t: t.replace("END ANSWER CODE", ""),
    "hyphens made long": lambda t: "-".join(t.split("_")),
    "every line cut at 50": lambda t: "\n".join(x[:50] for x in t.splitlines()),
}


def swap_lines(text: str, one: int, other: int) -> str:
    lines = text.splitlines()
    lines[one], lines[other] = lines[other], lines[one]
    return "\n".join(lines)


@pytest.mark.parametrize("way", SPOILS)
def test_a_spoiled_answer_is_refused_and_never_altered(way):
    mangled = SPOILS[way](SLIP)
    assert mangled != SLIP
    assert accepted(mangled) == []


CODED = SLIP[SLIP.index("BEGIN") + 18 : SLIP.index("\nEND")]
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_.=+/ö!"


def test_every_single_letter_of_the_block_counts():
    """Each place once, with a letter drawn by a fixed lot."""
    lot = random.Random(4)
    for at, letter in enumerate(CODED):
        if letter == "\n":
            continue
        other = lot.choice([c for c in LETTERS if c != letter])
        changed = CODED[:at] + other + CODED[at + 1 :]
        assert accepted(SLIP.replace(CODED, changed)) == [], (at, letter, other)


@given(st.data())
@settings(max_examples=300, deadline=None)
def test_no_mutation_of_the_block_is_believed(data):
    """Letters changed, put in, left out, moved; or bytes of the JSON changed and coded anew."""
    kind = data.draw(st.sampled_from(["change", "insert", "drop", "swap", "bytes", "mac"]))
    at = data.draw(st.integers(0, len(CODED) - 2))
    letter = data.draw(st.sampled_from(LETTERS))
    if kind in ("bytes", "mac"):
        signed = canonical(TRUE)
        mac = mac_of(KEY, signed)
        old = signed if kind == "bytes" else mac
        place = data.draw(st.integers(0, len(old) - 1))
        new = bytearray(old)
        new[place] ^= data.draw(st.integers(1, 255))
        changed = coded_block(*((bytes(new), mac) if kind == "bytes" else (signed, bytes(new))))
        assert accepted(SLIP[: SLIP.index("BEGIN")] + changed) == []
        return
    changed = {
        "change": CODED[:at] + letter + CODED[at + 1 :],
        "insert": CODED[:at] + letter + CODED[at:],
        "drop": CODED[:at] + CODED[at + 1 :],
        "swap": CODED[:at] + CODED[at + 1] + CODED[at] + CODED[at + 2 :],
    }[kind]
    got = accepted(SLIP.replace(CODED, changed))
    # White space may move about, and a dot that opens a line may double: neither carries anything.
    same = re.sub(r"\.\.", ".", "".join(changed.split())) == "".join(CODED.split())
    assert got == ([TRUE] if same else [])


@given(st.text(max_size=300))
@settings(max_examples=200, deadline=None)
def test_any_text_can_be_read(text):
    assert accepted(text) == []
    assert accepted(f"BEGIN ANSWER CODE {text} END ANSWER CODE") == []


@given(
    answer=st.sampled_from(["ok", "corrections", "again"]),
    ticks=st.sets(st.sampled_from(["spelling", "crop", "colour", "quantity", "photo"])),
    may_show=st.booleans(),
    wrong=st.sets(st.integers(1, 99_999), max_size=20),
    name=st.text(st.characters(exclude_categories=["Cs"]), max_size=60),
    remarks=st.text(st.characters(exclude_categories=["Cs"]), max_size=400),
)
@settings(max_examples=100, deadline=None)
def test_what_is_composed_is_what_is_read(answer, ticks, may_show, wrong, name, remarks):
    payload = make_payload(PROOF, answer, ticks, may_show, wrong, name, remarks, WRITTEN)
    slip = compose_slip(PROOF, answer, ticks, may_show, wrong, name, remarks, MADE)
    assert slip.isascii() or name or remarks
    expected = {**payload, "time": say_time(MADE)}
    assert expected in accepted(slip)


def test_a_dot_that_opens_a_line_may_be_doubled():
    """RFC 5321 4.5.2: the sending side doubles it, and not every receiver undoes that."""
    text = SLIP.replace(CODED, CODED.replace("\n", "").replace(".", "\n..\n"))
    assert accepted(text) == [TRUE]


def test_the_summary_reads_like_a_letter():
    assert SLIP.split("BEGIN")[0] == (
        "Answer to proof 1 of order fenn\n"
        "\n"
        "OK with corrections: please change what I wrote, then show me a new proof.\n"
        "I checked: spelling, quantity\n"
        "The shop may show it to others: no\n"
        "Wrong pieces: 12, 37\n"
        "Name: Zoë Nguyễn-O’Neil\n"
        "Remarks: Piece 12: “Odalis” is “Odalys”.\n"
        "Thank you >> both\n"
        f"Written: {WRITTEN}\n"
        "\n"
        "The lines below carry this answer. Please send them just as they are.\n"
    )


def test_the_summary_is_never_believed():
    lie = SLIP.replace("OK with corrections: please", "OK: please").replace("12, 37", "none")
    assert lie != SLIP
    assert accepted(lie) == [TRUE]


def test_two_blocks_of_one_mail_are_both_read():
    other = compose_slip(PROOF, "ok", [], False, [], "O", "", WRITTEN)
    assert [p["answer"] for p in accepted(other + quoted(SLIP))] == ["ok", "corrections"]


def test_a_block_cut_off_above_a_whole_one_shows():
    cut = SLIP[: SLIP.index("END ANSWER") - 30]
    assert [fits(b) for b in read_blocks(cut + SLIP)] == [False, True]


BAD = {
    "answer": "yes",
    "edition": 0,
    "fingerprint": "00",
    "may_show": 1,
    "name": "x" * 201,
    "order": "../etc",
    "remarks": None,
    "ticks": ["spelling", "mirror"],
    "time": "yesterday",
    "wrong": [3, 2],
}


@pytest.mark.parametrize("field", BAD)
def test_fields_of_a_wrong_kind_are_no_answer(field):
    signed = canonical({**TRUE, field: BAD[field]})
    assert Block(signed, mac_of(KEY, signed)).payload() is None
    less = canonical({k: v for k, v in TRUE.items() if k != field})
    assert Block(less, mac_of(KEY, less)).payload() is None


@pytest.mark.parametrize(
    "signed", [b"", b"{}", b"[]", b"null", b"\xff", b"[" * 5000, canonical({**TRUE, "more": 1})]
)
def test_other_json_is_no_answer(signed):
    assert Block(signed, mac_of(KEY, signed)).payload() is None


def test_only_one_spelling_of_the_same_bytes_is_taken():
    """The last letter of base64 can carry bits that decoding drops (RFC 4648 section 3.5)."""
    coded = base64.urlsafe_b64encode(mac_of(KEY, canonical(TRUE))).decode().rstrip("=")
    twin = next(
        coded[:-1] + c
        for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
        if c != coded[-1]
        and base64.urlsafe_b64decode(coded[:-1] + c + "=") == mac_of(KEY, canonical(TRUE))
    )
    plain = "".join(CODED.split())
    assert plain.endswith(coded)
    assert accepted(f"BEGIN ANSWER CODE {plain} END ANSWER CODE") == [TRUE]
    spelled = plain.removesuffix(coded) + twin
    assert accepted(f"BEGIN ANSWER CODE {spelled} END ANSWER CODE") == []


def test_an_answer_that_the_page_cannot_give_is_not_composed():
    with pytest.raises(ValueError, match="page could give"):
        compose_slip(PROOF, "perhaps", [], False, [], "", "", WRITTEN)
    with pytest.raises(ValueError, match="zone"):
        compose_slip(PROOF, "ok", [], False, [], "", "", MADE.replace(tzinfo=None))
    with pytest.raises(ValueError, match="not a time"):
        compose_slip(PROOF, "ok", [], False, [], "", "", "noon")
