"""The slip survives what mail does to it, or is refused; no changed answer is ever taken."""

from __future__ import annotations

import base64
import functools
import html
import json
import quopri
import random
import re
import textwrap
from collections.abc import Callable
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from proofgen.signoff import canonical
from proofgen.signoff.blocks import Block, read_blocks
from proofgen.signoff.mail import decode_text, plain_from_html
from proofgen.signoff.slip import MOST_SUMMARY, read_payload, summaries, summary
from tests.signoff.conftest import KEY, MADE, VECTORS, WRITTEN, edition
from tests.slips import (
    WORDS,
    compose_slip,
    facts_of,
    payload_of,
    read_mail,
    say_time,
    script_says,
    signed,
)

PROOF = edition()
ASKED = [
    {"pieces": [12], "slot": "name", "line": 1, "old": "Odalis", "new": "Odalys"},
    {"pieces": [3, 4], "slot": "date", "line": 1, "old": "12 June", "new": "13 June"},
]
GIVEN: dict[str, Any] = {
    "wrong": [12, 37],
    "name": "Zoë Nguyễn-O’Neil",
    "note": "Piece 12: “Odalis” is “Odalys”.\nThank you >> both",
    "changes": ASKED,
}
TRUE = payload_of(facts_of(PROOF), "change", WRITTEN, **GIVEN)
_OLD = json.loads((Path(__file__).parent / "old_slip_vector.json").read_bytes())["vectors"][1]


@functools.cache
def slip() -> str:
    """Composed by the page's script in a browser."""
    return compose_slip(PROOF, "change", **GIVEN)


def fits(block: Block) -> bool:
    return block.fits(KEY, PROOF.fingerprint)


def accepted(text: str) -> list[Any]:
    """What a reader who holds the key would believe."""
    return [b.payload for b in read_blocks(text) if fits(b)]


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
    "marks in bold": lambda t: re.sub("(BEGIN|END) ANSWER CODE", r"**\g<0>**", t),
    "marks in bold, word by word": lambda t: t.replace("ANSWER CODE", "**ANSWER** _CODE_"),
    "marks as headings": lambda t: t.replace("BEGIN", "## BEGIN").replace("END A", "## END A"),
    "marks in other case": lambda t: t.replace("BEGIN ANSWER", "Begin Answer")
    .replace("END ANSWER CODE", "end answer code"),
    "marks with dashes": lambda t: t.replace("BEGIN ANSWER CODE", "—— BEGIN ANSWER‑CODE ——"),
    "in code marks": lambda t: re.sub("^", "`", t, flags=re.M).replace("\n", "`\n"),
    "in a code fence": lambda t: f"```\n{t}\n```",
    "backslashes before marks": lambda t: re.sub(r"([*_.~>-])", r"\\\\\1", t),
    "backslashes at line ends": lambda t: t.replace("\n", "\\\n"),
    "list of a chat": lambda t: re.sub("^", "• ", t, flags=re.M),
    "table of a chat": lambda t: "\n".join(f"| {x} |" for x in t.splitlines()),
    "entities": lambda t: t.replace(" ", "&nbsp;").replace("\n", "<br>\n"),
    "numbered entities": lambda t: t.replace(" ", "&#160;").replace("\n", "&#13;&#10;"),
    "hyphens that do not break": lambda t: t.replace("-", "\u2011"),
    "wide letters": lambda t: "".join(
        chr(ord(c) + 0xFEE0) if "!" <= c <= "~" and c not in "<>&" else c for c in t
    ),
}  # fmt: skip
# What only letters of one case can bear.
SURVIVES_NEW: dict[str, Callable[[str], str]] = {
    "capitals": str.upper,
    "small letters": str.lower,
    "a capital at each line's start": lambda t: "\n".join(
        x[:1].upper() + x[1:].lower() for x in t.splitlines()
    ),
    "underscores eaten": lambda t: re.sub(r"_([^_\n]+)_", r"\1", t.replace(" ", "_ ", 9)),
    "nought and one as letters": lambda t: re.sub(
        "(?s)(?<=ANSWER CODE).*(?=END)", lambda m: m[0].replace("0", "O").replace("1", "l"), t
    ),
    "groups of four": lambda t: re.sub(
        "(?s)(?<=ANSWER CODE\n).*(?=\nEND)",
        lambda m: re.sub("(.{4})", r"\1-", "".join(m[0].split())), t,
    ),
    "every dot a link": lambda t: t.replace(" ", ". "),
    "read aloud and typed": lambda t: re.sub(
        "(?s)(?<=ANSWER CODE\n).*(?=\nEND)", lambda m: " ".join(m[0].lower()), t
    ),
}  # fmt: skip
# The dot of an older slip looked like an address to some programs.
SURVIVES_OLD: dict[str, Callable[[str], str]] = {
    "a link of the dot": lambda t: re.sub(
        r"(\w{3,9})\.(\w{3,9})", r"\1.\2<http://\1.\2>", t, count=1
    ),
    "a link with a mark": lambda t: re.sub(
        r"(\w{3,9})\.(\w{3,9})", r"[\1.\2](http://\1.\2)", t, count=1
    ),
    "a link before it": lambda t: re.sub(r"(\w{3,9})\.(\w{3,9})", r"http://\1.\2", t, count=1),
    "a chat's link": lambda t: re.sub(r"(\w{3,9})\.(\w{3,9})", r"<http://\1.\2|\1.\2>", t, count=1),
    "hyphens made long": lambda t: t.replace("-", "–"),
    "the dot escaped": lambda t: t.replace(".", "\\."),
}


@pytest.mark.parametrize("way", [*SURVIVES, *SURVIVES_NEW])
def test_an_answer_survives_the_mail(way):
    mangled = {**SURVIVES, **SURVIVES_NEW}[way](slip())
    assert accepted(mangled) == [TRUE]
    assert all(fits(b) for b in read_blocks(mangled))


@pytest.mark.parametrize("packed", ["block", "deflated"])
@pytest.mark.parametrize("way", [*SURVIVES, *SURVIVES_NEW])
def test_a_published_answer_survives_the_mail(way, packed):
    for vector in VECTORS["vectors"][:3]:
        mangled = {**SURVIVES, **SURVIVES_NEW}[way](f"Hello,\n{vector[packed]}\n")
        assert accepted(mangled) == [vector["payload"]]


@pytest.mark.parametrize("way", [*SURVIVES, *SURVIVES_OLD])
def test_an_older_answer_survives_the_mail(way):
    mangled = {**SURVIVES, **SURVIVES_OLD}[way](_OLD["slip"])
    assert [p["note"] for p in accepted(mangled)] == [_OLD["payload"]["remarks"]]


@pytest.mark.parametrize("vector", VECTORS["vectors"], ids=range(len(VECTORS["vectors"])))
def test_the_page_writes_what_is_published(vector):
    """The tool is held to the same file (test_standards.py)."""
    given = [vector["payload"], VECTORS["key_hex"], VECTORS["fingerprint"], vector["canonical"]]
    assert script_says("([p]) => canonical(withoutEmpty(p))", given) == vector["canonical"]
    mac = "([p, k, f, c]) => toHex(macOf(new TextEncoder().encode(c), k, f))"
    assert script_says(mac, given) == vector["mac_hex"]
    plain = f"""([p, k, f, c]) => {{
        const signed = new TextEncoder().encode(c);
        const mac = fromHex("{vector["mac_hex"]}");
        return block("ANSWER", joined(joined(Uint8Array.of(0), signed), mac));
    }}"""
    assert script_says(plain, given) == vector["block"]
    facts = {"words": dict(WORDS), "key": VECTORS["key_hex"], "fingerprint": given[2]}
    assert accepted(signed(vector["payload"], facts)) == [vector["payload"]]


def test_a_browser_that_cannot_pack_writes_all_the_same():
    """Older ones have no CompressionStream, or none that knows raw deflate."""
    plain = script_says(
        """async (given) => {
            const kept = self.CompressionStream;
            self.CompressionStream = undefined;
            try { return await composeSlip(...JSON.parse(given)); }
            finally { self.CompressionStream = kept; }
        }""",
        json.dumps([TRUE, dict(WORDS), KEY.hex(), PROOF.fingerprint]),
    )
    assert accepted(plain) == [TRUE] and len(plain) > len(slip())


def test_there_are_enough_wrappings():
    assert len({*SURVIVES, *SURVIVES_NEW}) >= 22


@given(st.integers(1, 200), st.booleans(), st.integers(0, 3))
@settings(max_examples=60, deadline=None)
def test_an_answer_survives_wrapping_at_any_width(width, hard, depth):
    if hard:
        whole = slip()
        text = "\n".join(whole[i : i + width] for i in range(0, len(whole), width))
    else:
        text = textwrap.fill(slip(), width)
    for _ in range(depth):
        text = quoted(text)
    assert accepted(text) == [TRUE]


SPOILS = {
    "cut short": lambda t: t[: t.index("END ANSWER") - 30],
    "start lost": lambda t: t[t.index("BEGIN ANSWER") + 40 :],
    "a line lost": lambda t: "\n".join(x for i, x in enumerate(t.splitlines()) if i != 14),
    "lines swapped": lambda t: swap_lines(t, 13, 14),
    "ends forgotten": lambda t: t.replace("END ANSWER CODE", ""),
    "every line cut at 50": lambda t: "\n".join(x[:50] for x in t.splitlines()),
    "a word put in": lambda t: "\n".join([*t.splitlines()[:14], "Willy", *t.splitlines()[14:]]),
    "an Arabic word put in": lambda t: t.replace("\nEND", " لا\nEND"),
}


def swap_lines(text: str, one: int, other: int) -> str:
    lines = text.splitlines()
    lines[one], lines[other] = lines[other], lines[one]
    return "\n".join(lines)


@pytest.mark.parametrize("way", SPOILS)
def test_a_spoiled_answer_is_refused_and_never_altered(way):
    mangled = SPOILS[way](slip())
    assert mangled != slip()
    assert accepted(mangled) == []


LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZUuabcxyz-_.=+/ö! ؟"
BEGIN, END = "BEGIN ANSWER CODE\n", "\nEND ANSWER CODE"


def coded(packed: str, number: int = 2) -> str:
    """The letters of a published block between its marks."""
    return str(VECTORS["vectors"][number][packed]).removeprefix(BEGIN).removesuffix(END)


def read_alike(letters: str) -> str:
    """What the reader takes for the same: forgiven letters, and nothing that is no letter."""
    plain = "".join(c for c in letters.upper() if c.isalnum())
    return plain.translate(str.maketrans("OIL", "011"))


@pytest.mark.parametrize("number", [0, 1, 2])
def test_every_single_symbol_of_the_block_counts(number):
    """Each place with each symbol, and each swap of neighbours: none is ever believed. Of one block
    all places are tried, of others each third."""
    letters = "".join(coded("block", number).split())
    count = 0
    for at, letter in list(enumerate(letters))[number :: 3 if number else 1]:
        others = [letters[:at] + c + letters[at + 1 :] for c in "0123456789ABCDEFGHJKMNPQRSTVWXYZU"]
        others.append(letters[:at] + letters[at + 1 : at + 2] + letter + letters[at + 2 :])
        others += [letters[:at] + letters[at + 1 :], letters[:at] + letter + letters[at:]]
        for changed in others:
            if changed != letters:
                assert accepted(BEGIN + changed + END) == [], (at, changed)
                count += 1
    assert count > 1500


def test_every_single_letter_of_an_older_block_counts():
    """Each place once, with a letter drawn by a fixed lot."""
    lot = random.Random(4)
    letters = "".join(_OLD["block"].split("\n")[1:-1])
    for at, letter in enumerate(letters):
        other = lot.choice(
            [c for c in "ABCDEFGHIJKLMabcdefghijklm0123456789-_.=+/ö!" if c != letter]
        )
        changed = letters[:at] + other + letters[at + 1 :]
        assert accepted(BEGIN + changed + END) == [], (at, letter, other)


@pytest.mark.parametrize("packed", ["block", "deflated"])
@pytest.mark.parametrize("seed", range(500))
def test_no_mutation_of_the_block_is_believed(packed, seed):
    """Letters changed, put in, left out, moved, doubled; or bits of its bytes turned."""
    lot = random.Random(seed)
    number = lot.randrange(3)
    letters, answer = coded(packed, number), VECTORS["vectors"][number]["payload"]
    at, other = lot.randrange(len(letters) - 1), lot.randrange(len(letters) - 1)
    letter = lot.choice(LETTERS)
    changed = {
        "change": letters[:at] + letter + letters[at + 1 :],
        "insert": letters[:at] + letter + letters[at:],
        "drop": letters[:at] + letters[at + 1 :],
        "swap": letters[:at] + letters[at + 1] + letters[at] + letters[at + 2 :],
        "move": letters[:at] + letters[other] + letters[at:],
        "double": letters + letters[at:],
        "cut": letters[:at],
        "begin later": letters[at:],
    }[lot.choice(("change", "insert", "drop", "swap", "move", "double", "cut", "begin later"))]
    got = accepted(BEGIN + changed + END)
    # The last bits of a packed answer say nothing; whatever is believed is the answer itself.
    same = read_alike(changed) == read_alike(letters)
    assert got == [answer] if same else got in ([], [answer] if packed == "deflated" else [])


@given(st.text(max_size=300))
@settings(max_examples=200, deadline=None)
def test_any_text_can_be_read(text):
    assert accepted(text) == []
    assert accepted(f"BEGIN ANSWER CODE {text} END ANSWER CODE") == []


texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=60)
asked = st.fixed_dictionaries(
    {
        "pieces": st.sets(st.integers(1, 9999), min_size=1, max_size=5).map(sorted),
        "slot": st.sampled_from(["name", "date", "größe"]),
        "line": st.integers(1, 40),
        "old": texts,
        "new": texts,
    }
)


@given(
    answer=st.sampled_from(["ok", "change"]),
    show=st.sampled_from([None, True, False]),
    wrong=st.sets(st.integers(1, 99_999), max_size=20),
    name=texts,
    note=st.text(st.characters(exclude_categories=["Cs"]), max_size=400),
    changes=st.lists(asked, max_size=4),
)
@settings(max_examples=60, deadline=None)
def test_what_is_composed_is_what_is_read(answer, show, wrong, name, note, changes):
    more = {"show": show, "wrong": sorted(wrong), "name": name, "note": note, "changes": changes}
    text = compose_slip(PROOF, answer, written=MADE, **more)
    assert payload_of(facts_of(PROOF), answer, say_time(MADE), **more) in accepted(text)


def test_a_dot_that_opens_a_line_may_be_doubled():
    """RFC 5321 4.5.2: the sending side doubles it, and not every receiver undoes that."""
    letters = "".join(_OLD["block"].split("\n")[1:-1])
    text = f"{BEGIN}{letters.replace('.', chr(10) + '..' + chr(10))}{END}"
    assert len(accepted(text)) == 1


def test_the_summary_reads_like_a_letter():
    assert slip().split("BEGIN")[0] == (
        "Answer to proof 1 of order fenn\n"
        "\n"
        "Not yet. Change what I write and show me again.\n"
        "Words to change: 2\n"
        "Pieces marked wrong: 2\n"
        "A note is with it.\n"
        "Name: Zoë Nguyễn-O’Neil\n"
        "\n"
        "Please send the lines below just as they are.\n"
    )


@pytest.mark.parametrize("name", ["", "Z", "Z" * 200, "\U0001f600" * 90, "Ł" * 120])
def test_the_summary_is_short_and_known_as_ours_whatever_the_name(name):
    """In UTF-16 as browsers count; tool and script leave a long name out alike."""
    text = compose_slip(PROOF, "change", **{**GIVEN, "name": name})
    head = text.split("BEGIN")[0]
    assert len(head.encode("utf-16-le")) // 2 <= MOST_SUMMARY
    (block,) = read_blocks(text)
    assert head in block.summaries() and block.payload["name" if name else "note"]


@pytest.mark.parametrize("vector", VECTORS["vectors"], ids=range(len(VECTORS["vectors"])))
@pytest.mark.parametrize("form", ["short", "whole"])
def test_page_and_tool_say_the_same_of_an_answer(vector, form):
    """Published word for word, so that she can check on her copy what she wrote."""
    told = [vector["payload"], dict(WORDS), VECTORS["pieces"], form == "whole"]
    assert script_says("(told) => summary(...told)", told) == vector[form]
    assert summary(*told) == vector[form]
    assert vector[form] in summaries(vector["payload"], WORDS)


def test_a_note_that_reads_like_the_blocks_mark_does_not_hide_the_block():
    text = compose_slip(PROOF, "change", whole=True, note="Begin… the _answer_ code\nis wrong")
    assert "A note is with it." in text and len(accepted(text)) == 1
    mild = compose_slip(PROOF, "change", whole=True, note="Is this the answer code?")
    assert "Note: Is this the answer code?" in mild and len(accepted(mild)) == 1


@given(
    changes=st.lists(asked, max_size=3),
    wrong=st.sets(st.integers(1, 30), max_size=20).map(sorted),
    note=st.text(st.characters(exclude_categories=["Cs"]), max_size=300),
    pieces=st.integers(1, 6),
)
@settings(max_examples=60, deadline=None)
def test_page_and_tool_tell_any_answer_alike(changes, wrong, note, pieces):
    payload = payload_of(facts_of(PROOF), "change", changes=changes, wrong=wrong, note=note)
    for whole in (False, True):
        told = [payload, dict(WORDS), pieces, whole]
        assert script_says("(told) => summary(...told)", told) == summary(*told)


def test_a_short_slip_fits_into_a_mail_link():
    text = compose_slip(PROOF, "ok", name="Odalys Fenn")
    assert len(text) < 450


def test_the_summary_is_never_believed():
    lie = slip().replace("Not yet. Change what I write and show me again.", WORDS["ok"])
    assert lie != slip()
    assert accepted(lie) == [TRUE]


def test_two_blocks_of_one_mail_are_both_read():
    other = compose_slip(PROOF, "ok", name="O")
    assert [p["answer"] for p in accepted(other + quoted(slip()))] == ["ok", "change"]


def test_a_block_cut_off_above_a_whole_one_shows():
    cut = slip()[: slip().index("END ANSWER") - 30]
    assert [fits(b) for b in read_blocks(cut + slip())] == [False, True]


CHANGE = ASKED[0]
BAD = {
    "v": [1, 3, "2", None],
    "answer": ["yes", "corrections", "again", 1],
    "edition": [0, "1", 1.5, True, 100_000],
    "order": ["../etc", "", 7],
    "time": ["yesterday", "2026-11-25T99:99:99Z", "2026-13-01T10:00:00Z", 5],
    "name": ["x" * 201, 7],
    "note": ["x" * 4001, ["a"]],
    "wrong": [[3, 2], [0], ["1"], [100_000], 3, [True]],
    "marked": [[], [0], [1, 1], [2, 1], [-1, 3], [0, 100_000], [False, 2], ["0", 2], 0, [0, 1, 2]],
    "print": [1, "yes"],
    "show": [0],
    "changes": [
        {}, [CHANGE] * 501, [{}], [[]], [{**CHANGE, "more": 1}], [{**CHANGE, "pieces": []}],
        [{**CHANGE, "pieces": [2, 1]}], [{**CHANGE, "line": 0}], [{**CHANGE, "new": "x" * 401}],
        [{**CHANGE, "old": None}], [{**CHANGE, "slot": 5}],
    ],
}  # fmt: skip


@pytest.mark.parametrize("field", BAD)
def test_fields_of_a_wrong_kind_are_no_answer(field):
    """Under the right key, composed by the page's own script."""
    for value in BAD[field]:
        assert read_payload(canonical({**TRUE, field: value})) is None, value
        given = [{**TRUE, field: value}, KEY.hex(), PROOF.fingerprint]
        assert accepted(script_says("([p, k, f]) => sealed(p, k, f)", given)) == []
    if field in ("v", "answer", "edition", "order", "time"):
        less = {k: v for k, v in TRUE.items() if k != field}
        assert read_payload(canonical(less)) is None


@pytest.mark.parametrize(
    "given", [b"", b"{}", b"[]", b"null", b"\xff", b"[" * 5000, canonical({**TRUE, "more": 1})]
)
def test_other_json_is_no_answer(given):
    assert read_payload(given) is None


def test_an_answer_that_swells_is_not_unpacked():
    """64 KB is more than any page writes."""
    from proofgen.signoff.slip import unpacked
    from tests.signoff.vectors import deflated

    large = canonical({**TRUE, "note": "x" * 200_000})
    assert unpacked(b"\1" + deflated(large) + bytes(16)) is None
    whole = deflated(canonical(TRUE))
    assert unpacked(b"\1" + whole + bytes(16)) is not None
    assert unpacked(b"\1" + whole + b"more" + bytes(16)) is None
    assert unpacked(b"\1" + whole[:-3] + bytes(16)) is None
    assert unpacked(b"\2" + canonical(TRUE) + bytes(16)) is None


def test_only_one_spelling_of_the_same_bytes_is_taken():
    """The last letter of base64 can carry bits that decoding drops (RFC 4648 section 3.5)."""
    letters = "".join(_OLD["block"].split("\n")[1:-1])
    mac = letters.rpartition(".")[2]
    twin = next(
        mac[:-1] + c
        for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
        if c != mac[-1]
        and base64.urlsafe_b64decode(mac[:-1] + c + "=") == base64.urlsafe_b64decode(mac + "=")
    )
    assert len(accepted(BEGIN + letters + END)) == 1
    assert accepted(BEGIN + letters.removesuffix(mac) + twin + END) == []


def test_a_time_without_its_zone_is_no_time():
    with pytest.raises(ValueError, match="zone"):
        compose_slip(PROOF, "ok", written=MADE.replace(tzinfo=None))
