"""No word that a customer reads is in no catalogue: templates looked through, orders said in marks.

A pseudo-language wraps every sentence in ⟦…⟧; what stands outside of marks on page, paper, letters
and slip must be the shop's or the customer's own.
"""

from __future__ import annotations

import email
import email.policy
import html.parser
import importlib
import json
import re
import shutil
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest
from babel.messages.pofile import read_po, write_po
from jinja2 import Environment

from proofgen import proof
from proofgen.catalogue.order_form import form_languages
from proofgen.render import Theme, html_to_pdf
from proofgen.say import tongue as tongue_module
from proofgen.say.tongue import Tongue
from proofgen.shop import read_shop
from proofgen.signoff import Records, words_in
from proofgen.signoff.codes import _WORDS as SPELLING
from proofgen.signoff.states import RULES, Notice
from tests.cli.small import make_shop, run
from tests.say import gather
from tests.slips import code_on

HOUSE = Path(__file__).resolve().parents[2]
PSEUDO = "eo"  # any language that Babel knows and proofgen does not carry
# Addresses, codes, fingerprints.
_NO_WORDS = re.compile(
    r"https?://\S+|[\w.]+@[\w.]+|\b[0-9A-Z]{4}-[0-9A-Z]{4}\b|\b[0-9a-f]{64}\b"
    r"|\b[0-9a-f]{5}(?:\.[0-9a-f]{5}){2}\b"  # how far the records are
)
_WORD = re.compile(r"[^\W\d_]{2,}")
_GAP, _KIND = "\x00", "\x01"
_SAID = ("alt", "title", "aria-label", "aria-description", "placeholder", "label")


class _Words(html.parser.HTMLParser):
    """What a page says: its text, the attributes that are read out, the facts of its script."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.text: list[str] = []
        self.attributes: list[str] = []
        self.facts: list[str] = []
        self._inside: list[str] = []

    def handle_starttag(self, tag: str, given: list[tuple[str, str | None]]) -> None:
        if tag in ("script", "style", "bdi"):
            self._inside.append(f"{tag} {dict(given).get('type', '')} {dict(given).get('lang')}")
        said = (v for k, v in given if k in _SAID or (k.startswith("data-") and " " in str(v)))
        self.attributes += [value for value in said if value]

    def handle_endtag(self, tag: str) -> None:
        if self._inside and self._inside[-1].startswith(tag):
            self._inside.pop()

    def handle_data(self, data: str) -> None:
        inside = self._inside[-1] if self._inside else ""
        if "json" in inside:
            self.facts.append(data)
        elif not inside.startswith(("script", "style")):
            self.text.append(data)


def words_of(page: str) -> _Words:
    found = _Words()
    found.feed(page)
    found.close()
    return found


# Templates


def _strings_outside_marks(tokens: list[tuple[int, str, str]]) -> Iterator[str]:
    """The strings of one {{ … }} that are not inside _( ) or ngettext( )."""
    depth, marked, before = 0, 0, ""
    for _, kind, value in tokens:
        if kind == "operator" and value == "(":
            depth += 1
            if before in ("_", "gettext", "ngettext") and not marked:
                marked = depth
        elif kind == "operator" and value == ")":
            marked = 0 if depth == marked else marked
            depth -= 1
        elif kind == "string" and not marked:
            yield re.sub(r"<[^>]*>", " ", value.strip("'\""))
        if kind != "whitespace":
            before = value


def unmarked(source: str) -> list[str]:
    """What a template says outside of marks."""
    page: list[str] = []
    loose: list[str] = []
    within: list[tuple[int, str, str]] = []
    in_value = False
    for token in Environment(extensions=["jinja2.ext.i18n"]).lex(source):
        _, kind, value = token
        if kind == "data":
            page.append(value)
        elif kind == "name" and value == "kind" and not in_value:
            page.append(_KIND)
        elif kind == "variable_begin":
            in_value, within = True, []
        elif kind == "variable_end":
            in_value = False
            page.append(_GAP)
            loose += _strings_outside_marks(within)
        elif in_value:
            within.append(token)
    # The kind of a page is a class of its body.
    source = re.sub(rf"{_KIND}\w+", "", "".join(page))
    said = words_of(source)
    sentences = re.compile(r"[A-Z][a-z]+|[a-z]{2,} [a-z]{2,}")
    return [
        text.strip(f" \n{_GAP}")
        for text in [*said.text, *said.attributes, *(s for s in loose if sentences.search(s))]
        if _WORD.search(text.replace("mm", ""))
    ]


@pytest.mark.parametrize("path", gather.customers_templates(), ids=lambda path: path.name)
def test_a_customers_template_says_nothing_outside_of_marks(path: Path) -> None:
    assert unmarked(path.read_text("utf-8")) == []


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("<p>Hello {{ name }}</p>", ["Hello"]),
        ('<img alt="A boat">', ["A boat"]),
        ('<p>{{ "Some words" if x else _("Others") }}</p>', ["Some words"]),
        ('<p>{{ _("Whole %(x)s", x="" ~ y) }} {{ ngettext("One", "Many", 2) }}</p>', []),
        ('<b class="{{ "disc" if x }}" data-x="abc">{{ z }}</b><style>p {}</style>', []),
        ('<i data-says="To be read"></i>', ["To be read"]),
    ],
)
def test_what_is_outside_of_marks_is_found(source: str, found: list[str]) -> None:
    assert unmarked(source) == found


def test_styles_of_customers_pages_hold_no_words() -> None:
    for name in ("base", "proof", "words", "answer", "pdf", "proof_pdf", "letter"):
        path = HOUSE / "themes" / "base" / f"{name}.css"
        style = path.read_text("utf-8") if path.is_file() else ""
        for value in re.findall(r"content:\s*([^;]*);", style):
            assert not _WORD.search("".join(re.findall(r'"([^"]*)"', value))), value


# A pseudo-language


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Catalogues with one language more, whose sentences are the English ones in marks."""
    folder = tmp_path_factory.mktemp("catalogues")
    shutil.copytree(gather.CATALOGUES, folder, dirs_exist_ok=True)
    with (gather.CATALOGUES / "de.po").open("rb") as file:
        catalogue = read_po(file, locale=PSEUDO)
    for message in catalogue:
        if message.id:
            message.string = (
                f"⟦{message.id}⟧"
                if isinstance(message.id, str)
                else tuple(f"⟦{form}⟧" for form in message.id)
            )
    with (folder / f"{PSEUDO}.po").open("wb") as file:
        write_po(file, catalogue)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tongue_module, "CATALOGUES", folder)
        tongue_module._sentences.cache_clear()
        yield folder
    tongue_module._sentences.cache_clear()


@pytest.fixture(scope="module")
def spoken(marked: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, str]]:
    """A shop with three orders, proved in the pseudo-language; and all that went to paper."""
    folder = tmp_path_factory.mktemp("spoken") / "shop"
    shutil.copytree(
        HOUSE / "content", folder, ignore=shutil.ignore_patterns("records", "workroom", "site")
    )
    for order in (folder / "orders").iterdir():
        if order.name not in ORDERS:
            shutil.rmtree(order)
            continue
        text = (order / "order.yaml").read_text("utf-8")
        text, changed = re.subn(r"language: \w+", f"language: {PSEUDO}", text)
        assert changed == 1
        (order / "order.yaml").write_text(text, "utf-8")
    settings = (folder / "shop.yaml").read_text("utf-8").replace("ppi: 150", "ppi: 72")
    (folder / "shop.yaml").write_text(settings, "utf-8")
    paper: list[str] = []

    def heard(ways: Sequence[Callable[[float], str]], *rest: object, **more: object) -> bytes:
        """The same sheet, set tighter or wider until it fills its pages."""
        paper.append(ways[0](0.0))
        return html_to_pdf(ways, *rest, **more)  # type: ignore[arg-type]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(importlib.import_module("proofgen.proof.build"), "html_to_pdf", heard)
        assert run(folder, "proof", *ORDERS).code == 0
    yield folder, "\n".join(paper)


# A photo round a can, a list with names of two sizes, words on a blank with two faces.
ORDERS = ("fenn-harbour", "nguyen-stars", "okafor-garden")


def own_words(shop: Path) -> list[str]:
    """What stands on a page as the shop or the customer wrote it, longest first."""
    read = read_shop(shop)
    own = [read.settings.name, read.settings.contact, read.settings.telephone]
    for order in read.orders.values():
        own += [order.id, order.customer.name, order.customer.email]
        for line in order.lines:
            design, blank = read.designs[line.design], read.blanks[line.blank]
            own += [design.title, blank.name, line.cloth]
            own += [design.label(slot) for slot in design.slots("words")]
            own += [text for piece in line.pieces for text in piece.words.values()]
            own += list(line.words.values())
    return sorted({" ".join(one.split()) for one in own if one}, key=len, reverse=True)


def outside(text: str, own: list[str]) -> list[str]:
    """The words outside of marks that are nobody's own."""
    while (less := re.sub(r"⟦[^⟦⟧]*⟧", " ", text)) != text:
        text = less
    text = re.sub(r"BEGIN ANSWER CODE.*?END ANSWER CODE", " ", text, flags=re.DOTALL)
    text = _NO_WORDS.sub(" ", text)
    for one in own:
        text = text.replace(one, " ")
    allowed = {"mm", "PDF", "ray", *SPELLING}
    return [word for word in _WORD.findall(text) if word not in allowed]


def house_words(shop: Path) -> list[str]:
    """The shop's own texts on a proof and in its letter, as they are set."""
    words = read_shop(shop).words
    texts = [words.get(name, "") for name in ("paying", "proof")]
    whole = [" ".join(one.split()) for text in texts for one in text.split("\n\n")]
    lines = [line.lstrip("#-* ") for text in texts for line in text.splitlines()]
    return [one for one in (*whole, *lines) if one]


def test_a_page_says_all_it_says_in_the_customers_language(spoken: tuple[Path, str]) -> None:
    shop, _ = spoken
    own = [*house_words(shop), *own_words(shop)]
    for order in ORDERS:
        token = Records(shop / "records").token(order)
        page = words_of((shop / "site" / "p" / str(token) / "index.html").read_text("utf-8"))
        text = " ".join(" ".join(page.text).split())
        assert text.count("⟦") > 80
        assert outside(text, own) == [], order
        for attribute in page.attributes:
            assert outside(attribute, own) == [], attribute


def test_what_the_script_says_comes_in_the_customers_language(spoken: tuple[Path, str]) -> None:
    shop, _ = spoken
    token = Records(shop / "records").token(ORDERS[1])
    page = words_of((shop / "site" / "p" / str(token) / "index.html").read_text("utf-8"))
    sentences: list[str] = []
    for text in page.facts:
        facts = json.loads(text)
        sentences += [str(one) for one in facts.get("words", facts).values()]
    assert len(sentences) > 30
    assert [one for one in sentences if outside(one, [])] == []


def test_the_paper_says_all_it_says_in_the_customers_language(spoken: tuple[Path, str]) -> None:
    shop, paper = spoken
    own = [*house_words(shop), *own_words(shop)]
    said = words_of(paper)
    text = " ".join(" ".join(said.text).split())
    assert text.count("⟦") > 100
    assert outside(text, own) == []
    assert [one for one in said.attributes if outside(one, own)] == []


def test_letters_say_all_they_say_in_the_customers_language(spoken: tuple[Path, str]) -> None:
    shop, _ = spoken
    own = [*house_words(shop), *own_words(shop)]
    for order in ORDERS:
        plain = (shop / "workroom" / "letters" / f"{order}.txt").read_text("utf-8")
        assert outside(" ".join(plain.removeprefix("Subject:").split()), own) == [], order
        mail = email.message_from_bytes(
            (shop / "workroom" / "letters" / f"{order}.eml").read_bytes(),
            policy=email.policy.default,
        )
        page = mail.get_body(("html",))
        assert page is not None
        text = " ".join(" ".join(words_of(page.get_content()).text).split())
        assert outside(text, own) == [], order
        assert outside(str(mail["Subject"]), own) == []


def test_slips_and_notices_are_said_in_the_customers_language(
    marked: Path, spoken: tuple[Path, str]
) -> None:
    shop, _ = spoken
    own = own_words(shop)
    assert [one for one in words_in(Tongue(PSEUDO)).values() if outside(one, [])] == []
    theme, read = Theme("quay", PSEUDO), read_shop(shop)
    assert theme.language == PSEUDO
    for rules in RULES.values():
        if isinstance(rules.page, Notice):
            page = words_of(proof.notice(rules.page, read, theme).decode())
            assert outside(" ".join([*page.text, *page.attributes]), own) == []
    assert outside(" ".join(words_of(proof.blank_index(theme).decode()).text), own) == []


def test_the_catalogue_says_all_it_says_in_the_shops_language(marked: Path, tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", season=True)
    settings = shop / "shop.yaml"
    text, changed = re.subn(r"(?m)^language: \w+$", f"language: {PSEUDO}", settings.read_text())
    assert changed == 1
    settings.write_text(text, "utf-8")
    sheets: list[str] = []

    def heard(page: str, *rest: object, **more: object) -> bytes:
        sheets.append(page)
        return html_to_pdf(page, *rest, **more)  # type: ignore[arg-type]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(importlib.import_module("proofgen.catalogue.pages"), "html_to_pdf", heard)
        run(shop, "catalogue").ended(0)
    read = read_shop(shop)
    own = [read.settings.name, read.settings.contact]
    for season in read.seasons:
        own += [season.title, season.sentence, *season.text.split("\n")]
    for design in read.designs.values():
        own += [design.title, *design.occasions, *design.labels.values(), *design.text.split("\n")]
        own += [design.label(slot) for slot in design.slots("words")]
        own += [label[:1].upper() + label[1:] for label in own]
    own += [line for words in read.words.values() for line in words.split("\n")]
    own += [name for _, name in form_languages()]  # each in itself, to be chosen
    own = sorted({" ".join(one.split()) for one in own if one.strip()}, key=len, reverse=True)
    pages = [path.read_text("utf-8") for path in sorted((shop / "site").rglob("*.html"))]
    assert len(pages) >= 3 and len(sheets) == 1
    for page in (*pages, *sheets):
        said = words_of(page)
        assert outside(" ".join(" ".join(said.text).split()), own) == []
        for attribute in said.attributes:
            assert outside(attribute, own) == [], attribute


def test_a_receipt_says_all_it_says_in_the_customers_language(spoken: tuple[Path, str]) -> None:
    """Last of all: an answer changes what the shop holds."""
    shop, _ = spoken
    token = Records(shop / "records").token(ORDERS[0])
    page = shop / "site" / "p" / str(token) / "index.html"
    assert run(shop, "answer", code_on(page, "ok")).code == 0
    letters = list((shop / "workroom" / "letters").glob(f"{ORDERS[0]}.receipt*.txt"))
    assert len(letters) == 1
    text = letters[0].read_text("utf-8").removeprefix("Subject:")
    assert text.count("⟦") > 10
    # Dates stand alone in its table, as the language writes them.
    dates = re.sub(r"\w+, la \d+-a de \w+ \d{4}|\w+, \d+-a de \w+ \d{4}", " ", text)
    assert outside(dates, [str(token), *own_words(shop)]) == []
