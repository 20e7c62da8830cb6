"""Findings whose cure is something to write into the shop's files: what makes each, and where the
cure is typed."""

from __future__ import annotations

from typing import NamedTuple

from proofgen.signoff.asked import ASKED_HEAD, WORDS
from tests.cli.small import DESIGNS, SHOP, order_text
from tests.order_slips import WRITTEN, asked_text

ORDER = "orders/fenn/order.yaml"
TAG = "designs/tag/design.md"
PATCH = """\
name: Market patch
construction: flat
width: 150 mm
height: 110 mm
bleed: 4 mm
safe: 6 mm
cloth: {finish: linen-look, polyester: 100 %, colours: {white: "#ffffff", sky: "#6fb7e9"}}
press: {heat: 196 C, time: 55 s, from: maker}
"""
SNAP = order_text(design="snap")
ON_PATCH = order_text("Ada").replace("coaster-round", "patch")
OFFERED = DESIGNS["tag"].replace("offered: {", "offered: {patch: 5.00, ")

SNAPS = "designs/snap/design.md"
WRAPPED = (
    DESIGNS["snap"]
    .replace("front:", "round:")
    .replace("offered: {", "offered: {can-wrap-linen: 9.00, ")
)
ROUND = SNAP.replace("coaster-round", "can-wrap-linen")

ASKED = "orders/fenn/asked.txt"
_SLIP = {"v": 1, "time": WRITTEN, "design": "tag", "blank": "coaster-round", "cloth": "white"}
MAIL = f"{ASKED_HEAD} {'0' * 32}\n{WORDS}We wish Alles Liebe.\n\n"
SLIP = asked_text({**_SLIP, "many": 2, "words": {"name": "Alles Liebe"}})


def _used(how: str, order: str = SNAP) -> str:
    return order.replace("pier.jpg}", f"pier.jpg, {how}}}")


def _worded(words: str) -> str:
    return order_text(words)


class Row(NamedTuple):
    """A finding; the files that make it; what of its cure is typed; and where: the file, what
    stands there (or nothing, for a line more), and what then does, “{}” being what was found in
    the cure."""

    code: str
    files: dict[str, str]
    cure: str
    file: str
    stands: str
    then: str = "{}"


_PHOTO = r"in order\.yaml, as (photos?: \{.*\})"
_PHOTOS = r"photos: \{.*\}"
_WORDS = r'name: "(?:[^"\\]|\\.)*"'
ROWS = (
    # photos
    Row("layout/photo-size:larger", {ORDER: _used("size: 300 mm")}, _PHOTO, ORDER, _PHOTOS),
    Row(
        "layout/photo-size:larger",
        {ORDER: _used("size: 300 mm")},
        r"Take (size:) out",
        ORDER,
        r", size: 300 mm",
        "",
    ),
    Row(
        "photo/effective-resolution:too-coarse",
        {ORDER: SNAP, "side": "300"},
        _PHOTO,
        ORDER,
        _PHOTOS,
    ),
    Row("layout/focus:chosen", {ORDER: SNAP}, _PHOTO, ORDER, _PHOTOS),
    Row(
        "layout/focus:cut-off",
        {ORDER: _used("focus: [0, 0.5]", ROUND), SNAPS: WRAPPED},
        "Write (another focus)",
        ORDER,
        r"focus: \[.*?\]",
        "focus: [0.5, 0.5]",
    ),
    # words
    Row(
        "words/quotes:turned-apostrophe",
        {ORDER: _worded("O‘Neil")},
        "Write “(.+?)”",
        ORDER,
        _WORDS,
        'name: "{}"',
    ),
    Row(
        "words/quotes:accent",
        {ORDER: _worded("O`Neil")},
        "Write “(.+?)”",
        ORDER,
        _WORDS,
        'name: "{}"',
    ),
    Row(
        "words/look-alikes:odd-form", {ORDER: _worded("ﬁnn")}, "Write “(.+?)” in plain", ORDER, "ﬁ"
    ),
    Row(
        "words/look-alikes:mixed",
        {ORDER: _worded("Zоe")},
        "(type this word again)",
        ORDER,
        _WORDS,
        'name: "Zoe"',
    ),
    Row(
        "words/hidden-characters:invisible",
        {ORDER: _worded("Zo\u200be")},
        "(type these words again)",
        ORDER,
        _WORDS,
        'name: "Zoe"',
    ),
    Row(
        "words/hidden-characters:odd-space",
        {ORDER: _worded("Zoe\u00a0Fenn")},
        "Use a (plain space)",
        ORDER,
        "\u00a0",
        " ",
    ),
    Row(
        "words/hidden-characters:double-space",
        {ORDER: _worded("Zoe  Fenn")},
        "Use (one space)",
        ORDER,
        "Zoe  ",
        "Zoe ",
    ),
    Row(
        "words/hidden-characters:edge-space",
        {ORDER: _worded(" Zoe")},
        "(Take the space away)",
        ORDER,
        '" Zoe',
        '"Zoe',
    ),
    Row(
        "words/hidden-characters:stray-space",
        {ORDER: _worded("Bo , Di")},
        "(Take the space away)",
        ORDER,
        "Bo ,",
        "Bo,",
    ),
    Row("words/quotes:unclosed", {ORDER: _worded("“Bo")}, "(leave it out)", ORDER, "“", ""),
    Row("words/quotes:unopened", {ORDER: _worded("Bo”")}, "(leave it out)", ORDER, "”", ""),
    Row(
        "layout/words-fit:too-long",
        {ORDER: _worded("Odalysandbram" * 9)},
        "(shorten it)",
        ORDER,
        _WORDS,
        'name: "Ada"',
    ),
    Row(
        "words/letter-height:small",
        {TAG: DESIGNS["tag"].replace("size: 9 mm", "size: 4 mm")},
        "Write a larger (size:)",
        TAG,
        "size: 4 mm",
        "size: 9 mm",
    ),
    Row(
        "words/letter-height:tiny",
        {TAG: DESIGNS["tag"].replace("size: 9 mm", "size: 2 mm")},
        "Write a larger (size:)",
        TAG,
        "size: 2 mm",
        "size: 9 mm",
    ),
    Row(
        "words/contrast:vanishing",
        {TAG: DESIGNS["tag"].replace("#123", "#f3d9a4")},
        "Choose (a darker colour)",
        TAG,
        r'(?<=9 mm, colour: )"#f3d9a4"',
        '"#123"',
    ),
    Row(
        "words/sample:unchanged",
        {ORDER: _worded("Puffin")},
        "Write the customer’s (own words)",
        ORDER,
        _WORDS,
        'name: "Ada"',
    ),
    Row(
        "words/weekday:no-such-day",
        {ORDER: _worded("31 June 2027")},
        "look at the (date)",
        ORDER,
        "31 June",
        "30 June",
    ),
    Row(
        "words/spelling:no-list",
        {},
        r"write (words/names\.txt) with one name",
        "words/names.txt",
        "",
        "Odalys\nBram\nFenn\n",
    ),
    Row(
        "words/ordered:differs",
        {ORDER: _worded("Alles Leibe"), ASKED: SLIP},
        r'proofgen change fenn "Alles Leibe" "(Alles Liebe)"$',
        ORDER,
        "Alles Leibe",
    ),
    Row(
        "words/as-written:differs",
        {ORDER: _worded("Alles Leibe"), ASKED: MAIL},
        r'proofgen change fenn "Alles Leibe" "(Alles Liebe)"$',
        ORDER,
        "Alles Leibe",
    ),
    # the order
    Row(
        "order/quantity-written:differs",
        {ASKED: MAIL.replace("Liebe.", "Liebe.\n  6 pieces, please.")},
        r"Write quantity: (6) there",
        ORDER,
        r"quantity: \d+",
        "quantity: {}",
    ),
    Row(
        "order/cloth-written:differs",
        {ASKED: MAIL.replace("Liebe.", "Liebe.\n  In sky, please.")},
        r"Write (cloth: sky) there",
        ORDER,
        r"cloth: \S+",
    ),
    *(
        Row(
            f"order/as-ordered:{key}",
            {ASKED: asked_text({**_SLIP, "many": 2, key: wanted})},
            rf"Write ({key}: {wanted}) there",
            ORDER,
            rf"{key}: \S+",
        )
        for key, wanted in (("design", "snap"), ("blank", "pouch-flat"), ("cloth", "sky"))
    ),
    Row(
        "order/as-ordered:quantity",
        {ASKED: asked_text({**_SLIP, "many": 6})},
        r"Write quantity: (6) there",
        ORDER,
        r"quantity: \d+",
        "quantity: {}",
    ),
    Row(
        "order/due:no-date",
        {ORDER: order_text().replace("due: 2026-12-20\n", "")},
        r"as (due: \S+)",
        ORDER,
        "^lines:",
        "{}\nlines:",
    ),
    Row(
        "order/due:past",
        {ORDER: order_text().replace("2026-12-20", "2026-11-20")},
        r"as (due: \S+)",
        ORDER,
        "due: .*",
    ),
    Row(
        "order/rights:not-said",
        {ORDER: SNAP},
        r"write (rights: \{print: yes\}) into",
        ORDER,
        "^lines:",
        "{}\nlines:",
    ),
    Row(
        "order/rights:refused",
        {ORDER: f"rights: {{print: no}}\n{SNAP}"},
        r"mend (rights) in",
        ORDER,
        "print: no",
        "print: yes",
    ),
    Row(
        "order/language:no-sentences",
        {ORDER: order_text().replace("name: Odalys Fenn", "name: Odalys Fenn, language: pl")},
        r"write it as customer’s language: .*\((de)\)",
        ORDER,
        "(?<=language: )pl",
    ),
    Row(
        "order/list-length:differs",
        {
            ORDER: order_text().replace("quantity: 2", "quantity: 3\n    list: guests.csv"),
            "orders/fenn/guests.csv": "name\nAda\nBo\n",
        },
        r"write (quantity: \d+) into",
        ORDER,
        "quantity: 3",
    ),
    Row(
        "order/price:not-offered",
        {ORDER: ON_PATCH, "blanks/patch.yaml": PATCH},
        r"under offered:  (patch: [\d.]+)",
        TAG,
        r"offered: \{",
        "offered: {{{}, ",
    ),
    Row(
        "order/price:too-few",
        {TAG: DESIGNS["tag"].replace("{1: 5.00, 10: 4.00}", "{10: 4.00}")},
        "(write a price for fewer)",
        TAG,
        r"\{10: 4.00\}",
        "{{1: 5.00, 10: 4.00}}",
    ),
    Row(
        "order/limits-read:not-read",
        {"shop.yaml": f"{SHOP}limits: {{soft_ppi: many}}\n"},
        "(Mend shop.yaml)",
        "shop.yaml",
        "limits: .*",
        "",
    ),
    # the blank
    Row(
        "blank/heat:none",
        {
            ORDER: ON_PATCH,
            TAG: OFFERED,
            "blanks/patch.yaml": PATCH.replace(
                "press: {heat: 196 C, time: 55 s, from: maker}\n", ""
            ),
        },
        r"write (press: \{.*\}) into its file",
        "blanks/patch.yaml",
        "^cloth:",
        "{}\ncloth:",
    ),
    Row(
        "blank/dye-takes:not-told",
        {
            ORDER: ON_PATCH,
            TAG: OFFERED,
            "blanks/patch.yaml": PATCH.replace("polyester: 100 %, ", ""),
        },
        r"finish: linen-look, (polyester: 100 %), colours",
        "blanks/patch.yaml",
        "linen-look",
        "linen-look, {}",
    ),
    Row(
        "blank/finish:not-told",
        {
            ORDER: ON_PATCH,
            TAG: OFFERED,
            "blanks/patch.yaml": PATCH.replace("finish: linen-look, ", ""),
        },
        r"write that as (finish:) under cloth",
        "blanks/patch.yaml",
        "cloth: {",
        "cloth: {{{} linen-look, ",
    ),
    Row(
        "blank/heat:unusual-heat",
        {ORDER: ON_PATCH, TAG: OFFERED, "blanks/patch.yaml": PATCH.replace("196 C", "160 C")},
        "(°C and °F were mixed up)",
        "blanks/patch.yaml",
        "160 C",
        "385 F",
    ),
    Row(
        "blank/heat-agrees:differ",
        {
            ORDER: ON_PATCH,
            TAG: OFFERED,
            "blanks/patch.yaml": PATCH.replace("196 C", "196 C / 424 F"),
        },
        r"keep the right one \((\d+ °C)",
        "blanks/patch.yaml",
        " / 424 F",
        "",
    ),
)
