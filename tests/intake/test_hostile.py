"""Two thousand slips made hostile by a seeded hand: none writes outside its own order, none changes
a price or another order, none ends in a traceback."""

from __future__ import annotations

import copy
import hashlib
import random
from collections.abc import Callable
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import yaml

from proofgen.errors import ProofgenError
from proofgen.intake import Taken, take
from proofgen.shop import read_shop
from proofgen.signoff.order_slip import OrderPayload
from proofgen.workshop import Workshop
from tests.intake.conftest import one_of
from tests.order_slips import GOOD, SYMBOLS, as_json, block, order_slip, packed
from tests.signoff.test_slip import SPOILS, SURVIVES, SURVIVES_NEW

MANY = 2000
HOSTILE: list[Any] = [
    "../../../../etc/passwd",
    "/etc/passwd",
    "C:\\Windows\\win.ini",
    "..\\..\\shop.yaml",
    "CON",
    "shop.yaml\0.jpg",
    "a/b",
    ".",
    "..",
    "",
    " ",
    "\n",
    "\r\nBcc: all@example.org",
    "\x1b[2J\x1b]0;x",
    "\u202egpj.exe",
    "\u200b\u2060",
    "\ud800",
    "\ufeff",
    "a" * 200,
    "a" * 20_000,
    "x\n" * 4000,
    "price: 0.01",
    "draft: no\nlines: []",
    "&a [*a, *a]",
    "!!python/object/apply:os.system [id]",
    "{{ 7*7 }}",
    "<script>alert(1)</script>",
    "%s%n",
    "${PATH}",
    "$(id)",
    "`id`",
    "'; DROP TABLE",
    '=HYPERLINK("http://x")',
    "@SUM(1)",
    "+1|cmd",
    "NO",
    "12:30",
    "0123",
    "~",
    "null",
    "- x",
    "# x",
    "BEGIN ORDER CODE",
    "END ORDER CODE 0000",
    "proofgen/asked/1 0",
    "محمد",
    "漢字",
    "👨‍👩‍👧",
    "ﬁ",
    "e\u0301",
    0,
    -1,
    1,
    5000,
    5001,
    10**6,
    10**15,
    2**53,
    1e300,
    0.5,
    -0.5,
    1.0000001,
    True,
    False,
    None,
    [],
    {},
    [[]],
    [""],
    ["a"] * 1001,
    [1],
    {"a": 1},
    {"name": "x"},
    {"../name": "x"},
    {"name": ["a", "b"]},
    {"photo": {}},
    {"photo": {"name": "x"}},
    [0.5, 0.4],
    [2, 2],
    [None, None],
    "2026-13-45",
    "0001-01-01",
    "9999-12-31",
    "2026-12-20",
    "EUR",
    "1e9",
    "NaN",
    "Infinity",
    "-5",
    "0.00",
    "14.50",
    "de",
    "xx",
]
LETTERS = SYMBOLS + "UuabcILO-_.=+/ö! ؟>|<&;%\n\t"


def _fields(value: Any, at: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every place in a payload, from the top down."""
    found = [at] if at else []
    inner = value.items() if isinstance(value, dict) else ()
    inner = enumerate(value) if isinstance(value, list) else inner
    return found + [one for key, below in inner for one in _fields(below, (*at, key))]


def _payload(hand: random.Random) -> str:
    """Other values in some places of a payload, packed as a page would."""
    payload = copy.deepcopy(GOOD)
    for _ in range(hand.choice((1, 1, 1, 2, 3))):
        *way, last = hand.choice(_fields(payload))
        holder: Any = payload
        for key in way:
            holder = holder[key]
        what = hand.random()
        if what < 0.15 and isinstance(holder, dict):
            del holder[last]
        elif what < 0.3 and isinstance(holder, dict):
            holder[hand.choice([h for h in HOSTILE if isinstance(h, str)])] = hand.choice(HOSTILE)
        elif what < 0.4 and isinstance(holder, dict):
            new = hand.choice([*OrderPayload.__annotations__, "lists", "price"])
            holder[new] = hand.choice(HOSTILE)
        else:
            holder[last] = hand.choice(HOSTILE)
    return block(packed(as_json(payload), hand.random() < 0.7))


def _letters(hand: random.Random) -> str:
    """Letters of a good slip put in, taken out, changed or swapped."""
    text = [*order_slip(hand.random() < 0.5)]
    for _ in range(hand.choice((1, 1, 2, 5, 40))):
        at = hand.randrange(len(text))
        what = hand.randrange(4)
        if what == 0:
            text[at] = hand.choice(LETTERS)
        elif what == 1:
            del text[at]
        elif what == 2:
            text.insert(at, hand.choice(LETTERS))
        else:
            other = hand.randrange(len(text))
            text[at], text[other] = text[other], text[at]
    return "".join(text)


def _bytes(hand: random.Random) -> str:
    """Bytes of a block changed, whatever stands in them."""
    content = bytearray(packed(as_json(GOOD), hand.random() < 0.5))
    for _ in range(hand.choice((1, 2, 8))):
        content[hand.randrange(len(content))] = hand.randrange(256)
    end = hand.choice((None, None, hand.randrange(len(content))))
    return block(bytes(content[:end]))


_CORPORA: tuple[Callable[[str], str], ...] = tuple({**SURVIVES, **SURVIVES_NEW, **SPOILS}.values())


def _mangled(hand: random.Random, way: Callable[[str], str]) -> str:
    """By the proof reader's corpora of what mails survive and what spoils them."""
    text = order_slip(hand.random() < 0.5).replace("ORDER CODE", "ANSWER CODE")
    # Long enough for what takes single lines away.
    return way("\n" * 15 + text).replace("ANSWER", "ORDER")


def _mail(hand: random.Random) -> bytes:
    """A payload in a mail whose head and files are hostile too."""
    mail = EmailMessage()
    plain = [h for h in HOSTILE if isinstance(h, str) and h.isprintable() and h]
    mail["Subject"] = hand.choice(plain)[:300]
    mail["From"] = "x@example.org"
    mail.set_content(_payload(hand) if hand.random() < 0.7 else hand.choice(plain))
    for _ in range(hand.randrange(3)):
        content = hand.choice((b"", b"\xff\xd8\xff", b"GIF89a", b"%PDF-1.7", b"MZ\0", b"x" * 999))
        name = hand.choice(plain)[:300]
        mail.add_attachment(content, maintype="image", subtype="jpeg", filename=name)
    raw = bytes(mail)
    return raw.replace(b"Subject", hand.choice((b"Subject", b"\xff\xfe", b"Date")), 1)


WAYS = (_payload, _payload, _letters, _bytes, None, _mail)  # None: by the corpora, in turn


def _tree(folder: Path, apart: set[str]) -> dict[str, str]:
    """Digests of all files but those of orders that are new, the tool's own store and lock."""
    found = {}
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        own = name.startswith("workroom/store") or name == "records/lock"
        new = name.startswith("orders/") and name.split("/")[1] in apart
        if path.is_file() and not own and not new:
            found[name] = hashlib.sha256(path.read_bytes()).hexdigest()
    return found


def test_two_thousand_slips_change_nothing_but_their_own_order(
    workshop: Workshop, tmp_path: Path
) -> None:
    hand = random.Random(2026)
    other = one_of(workshop, order_slip(time="2026-11-01T00:00:00Z")).order
    before, around = _tree(workshop.folder, set()), {p.name for p in tmp_path.iterdir()}
    assert len(_CORPORA) * len(WAYS) < MANY, "each of the corpora has its turn"
    new: set[str] = set()
    away = 0
    for number in range(MANY):
        turn, kind = divmod(number, len(WAYS))
        way = WAYS[kind]
        given = way(hand) if way else _mangled(hand, _CORPORA[turn % len(_CORPORA)])
        raw = given if isinstance(given, bytes) else given.encode("utf-8", "surrogatepass")
        for one in take(workshop, raw):
            if isinstance(one, Taken):
                new |= {one.order} if one.is_new else set()
            else:
                assert isinstance(one, ProofgenError) and one.problem
                assert "\x1b" not in one.sentence() and "\u202e" not in one.sentence()
                away += 1
    assert other not in new and len(new) > 100 and away > 500
    assert _tree(workshop.folder, new) == before
    assert {p.name for p in tmp_path.iterdir()} == around
    for name in new:
        _is_modest(workshop.folder / "orders" / name)
    read = read_shop(workshop.folder)
    assert read.faults == () and new <= read.orders.keys()
    assert all(order.draft for order in read.orders.values())


def _is_modest(folder: Path) -> None:
    """An order of the fields that `take` writes, none of them a price, and of its own files."""
    for path in folder.rglob("*"):
        assert not path.is_symlink() and path.stat().st_size < 2_000_000
        assert path.name.isascii() and ".." not in path.name
    order = yaml.load((folder / "order.yaml").read_text("utf-8"), Loader=yaml.BaseLoader)
    assert order.keys() <= {"customer", "due", "rights", "draft", "lines"}
    for line in order.get("lines", []):
        assert line.keys() <= {"design", "blank", "cloth", "quantity", "photos", "words", "list"}
