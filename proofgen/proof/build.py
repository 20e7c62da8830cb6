"""A proof's files: its page, its pictures and its PDF, named by what is in them."""

from __future__ import annotations

import base64
import hashlib
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from functools import partial
from typing import Literal, TypedDict
from urllib.parse import quote

from proofgen.model import Shop
from proofgen.proof.content import Picture, ProofContent, RealSize, Work
from proofgen.proof.guard import drawn, ending
from proofgen.proof.models import model_files, on_table
from proofgen.proof.paper import on_paper
from proofgen.proof.reading import Text, names_told, texts_of
from proofgen.render import Alike, AtRealSize, Theme, html_to_pdf
from proofgen.say.tongue import Tongue
from proofgen.signoff import CHOICES, AnswerKind, Notice, spelled

PAGE = "index.html"
_DRAWING_MM, _HALF_MM = 122.0, 84.0  # how wide the PDF sets one drawing, two (proof_pdf.css)
# How much larger or smaller its pictures may be, so that no sheet is left nearly bare.
_GROWN = (1.0, 0.93, 0.86)
# Of the height of what follows the first sheet, what the smallest takes at least: distances stay as
# they are (of the demo's proofs 0.94 and more). Rows of pieces get another piece, and so shorter.
_LEAST, _LEAST_IN_ROWS = 0.9, 0.0
_LINE_MM = 8.0  # from one line to write on to the next (proof_pdf.css)


def _stem(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:16]


def _names(pictures: list[Picture]) -> dict[str, str]:
    """Picture name to file name; the same bytes have the same name, so a browser may keep them."""
    return {p.name: f"{p.name}-{_stem(p.data)}{ending(p)}" for p in pictures}


def _data_uri(picture: Picture) -> str:
    return f"data:{picture.media_type};base64,{base64.b64encode(picture.data).decode()}"


class LabelledDrawing(TypedDict):
    """A flat drawing ready to stand in a page; `narrow` is for phones, '' where there is none."""

    label: str
    svg: str
    narrow: str


class Shared(TypedDict):
    """What page and PDF both show."""

    it: ProofContent
    texts: list[Text]
    names_told: str
    real: list[AtRealSize]
    drawings: list[LabelledDrawing]
    joined: bool
    answers: tuple[AnswerKind, ...]
    mail: str  # of the shop, as a link has it
    code_links: dict[str, str]
    spelled: dict[str, str]


def _at_real_size(part: RealSize) -> AtRealSize:
    return AtRealSize(
        href=part.picture.src,
        alt=part.picture.alt,
        width_mm=round(part.width_mm, 2),
        height_mm=round(part.height_mm, 2),
        caption=part.picture.caption,
    )


def _drawings(content: ProofContent, *, on_paper: bool) -> list[LabelledDrawing]:
    every = [d for work in content.works for d in work.drawings]
    print_mm = 0.0 if not on_paper else _HALF_MM if len(every) > 1 else _DRAWING_MM
    made: list[LabelledDrawing] = []
    for i, drawing in enumerate(every, 1):
        src = drawing.picture.src if drawing.picture else ""
        narrow = replace(drawing, svg=drawing.narrow_svg)
        made.append(
            {
                "label": drawing.label,
                "svg": drawn(drawing, src, f"drawing-{i}", print_mm),
                "narrow": drawn(narrow, src, f"narrow-{i}") if narrow.svg and not print_mm else "",
            }
        )
    return made


def _mail(content: ProofContent) -> str:
    return quote(content.contact, safe="@")


def _code_links(content: ProofContent) -> dict[str, str]:
    """A mail for each answer (RFC 6068, everything encoded); none where the contact is no mail."""
    if not content.contact_is_mail:
        return {}
    title = content.slip_words["title"]
    subject = title.replace("{edition}", str(content.edition)).replace("{order}", content.order)
    links: dict[str, str] = {}
    for kind in CHOICES:
        body = f"{subject}\r\n\r\n{content.slip_words[kind]}\r\n{content.codes[kind]}\r\n"
        to = _mail(content)
        links[kind] = f"mailto:{to}?subject={quote(subject, safe='')}&body={quote(body, safe='')}"
    return links


_SCRIPTS = (
    "sha256", "coded", "sending", "growing", "slip", "turntable", "letters", "remembering", "proof",
    "kept", "larger", "pictures", "words", "answer",
)  # fmt: skip
_TO_SCRIPT: tuple[Literal["id", "pieces", "slot", "line", "label", "text"], ...] = (
    "id", "pieces", "slot", "line", "label", "text",
)  # fmt: skip


def _facts(content: ProofContent, texts: list[Text], tongue: Tongue) -> dict[str, object]:
    """What the page's script must know to write the slip and to turn things."""
    return {
        "order": content.order,
        "edition": content.edition,
        **({"today": content.stands_at.isoformat()} if content.stands_at else {}),
        "fingerprint": content.fingerprint,
        "key": content.key_hex,
        "pieces": content.quantity,
        "mail": content.contact if content.contact_is_mail else "",
        "words": dict(content.slip_words),
        "given_for": content.signed,
        "dates": tongue.day_form(),
        "texts": [{key: text[key] for key in _TO_SCRIPT} for text in texts],
        "rounds": [asdict(w.turntable) if w.turntable else None for w in content.works],
    }


def _joined(content: ProofContent) -> bool:
    """Whether a piece goes round something, so that it has a join."""
    return any(len(work.views) > 1 for work in content.works)


def _shared(content: ProofContent, theme: Theme, *, on_paper: bool = False) -> Shared:
    """`content` is published."""
    return {
        "it": content,
        "texts": texts_of(content, theme.tongue),
        "names_told": names_told(content, theme.tongue),
        "real": [_at_real_size(part) for work in content.works for part in work.real_sizes],
        "drawings": _drawings(content, on_paper=on_paper),
        "joined": _joined(content),
        "answers": CHOICES,
        "mail": _mail(content) if content.contact_is_mail else "",
        "code_links": _code_links(content),
        "spelled": {kind: spelled(code) for kind, code in content.codes.items()},
    }


def _stage_width(view: Picture) -> str:
    """As high as the screen allows, no wider than its pixels; CSS."""
    wide, high = view.width_px, view.height_px
    return f"min({wide}px, calc(min(80vh, 44rem) * {wide} / {high}))"


def _stages(works: Sequence[Work]) -> str:
    """Style that keeps the place of each large picture before it is there."""
    return "\n".join(
        f".stage-{i} :is(img, canvas) {{ width: {_stage_width(work.views[0])} }}"
        for i, work in enumerate(works, 1)
    )


def _page(
    content: ProofContent, theme: Theme, places: Mapping[str, str], pdf: str, fonts: str = ""
) -> bytes:
    published = content.published(places)
    shared = _shared(published, theme)
    return theme.render(
        "proof.html",
        styles=("base", "proof", "words", "pieces", "composed", "answer"),
        own_style=_stages(content.works),
        scripts=_SCRIPTS,
        private=True,
        fonts=fonts,
        facts=_facts(content, shared["texts"], theme.tongue),
        pdf=pdf,
        models=[] if fonts else on_table(published, theme.tongue),  # no page holds files inside
        standing="",
        closed=False,
        **shared,
    ).encode()


def pdf_of(content: ProofContent, theme: Theme) -> bytes:
    """The proof on A4, for a customer without a screen; the same bytes for the same content."""
    names = _names(content.pictures)
    shared = _shared(content.published(names), theme, on_paper=True)

    def way(grow: float, spare_mm: float) -> str:
        return theme.render(
            "proof_pdf.html",
            medium="paper",
            styles=("pdf", "proof_pdf"),
            own_style=f":root {{ --grow: {grow} }}",
            lines=math.ceil(spare_mm / _LINE_MM),
            **shared,
        )

    return html_to_pdf(
        [partial(way, grow) for grow in _GROWN],
        {names[name]: data for name, data in on_paper(content).items()},
        page_title=f"Proof {content.edition}",
        least=_LEAST_IN_ROWS if any(work.every for work in content.works) else _LEAST,
        alike=Alike(theme.kept, _kind_of(content, theme)) if theme.kept else None,
    )


def _kind_of(content: ProofContent, theme: Theme) -> str:
    """What proofs have in common that are about as long."""
    lines = [f"{one.design} {one.blank} {one.cloth}" for one in content.bill]
    return "\n".join([theme.name, theme.language, *lines])


def build(
    content: ProofContent, theme: Theme, *, one_file: bool = False, with_pdf: bool = True
) -> dict[str, bytes]:
    """The files of a proof, in the order in which they should be written: `index.html` last.

    With `one_file` there is only the page, with its pictures inside. Errors: ValueError for a
    picture or drawing that may not be published; MachineError and ProofgenError as html_to_pdf.
    """
    if one_file:
        for picture in content.pictures:
            ending(picture)
        # One file holds each picture once.
        larger = {p.large.name for p in content.pictures if p.large}
        places = {p.name: _data_uri(p) for p in content.pictures if p.name not in larger}
        return {PAGE: _page(content, theme, places, "", "inside")}
    names = _names(content.pictures)
    files = {names[p.name]: p.data for p in content.pictures} | theme.font_files
    files |= model_files(content)
    pdf = ""
    if with_pdf:
        made = pdf_of(content, theme)
        pdf = f"proof-{content.edition}-{_stem(made)}.pdf"
        files[pdf] = made
    files[PAGE] = _page(content, theme, names, pdf)
    return files


_STANDING = re.compile(rb'<div id="standing">.*?</div>', re.DOTALL)


def standing_of(says: str, theme: Theme, *, closed: bool) -> bytes:
    """What a proof's page says at its top of how it stands, from a marked sentence; '' says
    nothing. `closed`: it takes no answer any more."""
    standing = theme.tongue(says) if says else ""
    return theme.render("proof-standing.html", standing=standing, closed=closed).encode()


def with_standing(page: bytes, told: bytes) -> bytes:
    """A proof's page that says so at its top. A page of an older version stays as it is."""
    return _STANDING.sub(lambda _: told, page, count=1)


def without_standing(page: bytes) -> bytes:
    """The page as it was set, whatever its top was told to say since."""
    return _STANDING.sub(b'<div id="standing"></div>', page, count=1)


def notice(words: Notice, shop: Shop, theme: Theme) -> bytes:
    """The plain page that takes a proof's place."""
    return theme.render(
        "notice.html",
        private=True,
        title=theme.tongue(words.title),
        says=theme.tongue(words.says),
        shop_name=shop.settings.name,
        contact=shop.settings.contact,
        demo=shop.settings.demo,
    ).encode()


def blank_index(theme: Theme) -> bytes:
    """The page of a folder that lists nothing."""
    return theme.render("blank.html", private=True).encode()
