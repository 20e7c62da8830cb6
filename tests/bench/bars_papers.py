"""Bars of papers and records: proofs and seasons as PDF, the catalogue's pages, the door."""

from __future__ import annotations

import io
import json
import shutil
import sys
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import replace
from decimal import Decimal
from functools import partial
from pathlib import Path
from urllib.parse import quote

from PIL import Image

from proofgen import catalogue
from proofgen.again import HOME
from proofgen.catalogue import Entry, Offer, Plate, SeasonContent
from proofgen.catalogue.booklet import season_sheets
from proofgen.catalogue.told import plain as plain_words
from proofgen.pipeline.seasons import season_content
from proofgen.render import Theme, html_to_pdf, pdf
from proofgen.render.fonts import Fonts
from proofgen.render.house_text import safe_markdown
from proofgen.signoff.journal import Journal
from proofgen.workshop import open_workshop
from tests.bench import door, order
from tests.bench import floor_papers as floors
from tests.bench import season as season_shop
from tests.bench.bars import CAMERA, Bar, Scale, Took, camera_photo, held, in_turn
from tests.bench.photo_set import path_of
from tests.bench.proofs import shop_of
from tests.catalogue.season import season

_THEME, _FEW = "quay", 8  # designs that share an occasion

_DESIGN = """\
---
title: Quay {number}
occasions: [day {day}]
offered: {{coaster-round: {{1: 6.50, 6: 5.50}}}}
faces:
  front:
    - colour: {{colour: "#1d2f4f", at: [19 %, 69 %, 62 %, 7 %]}}
sample: {{cloth: white}}
---
Number {number} is set in two inks.

It *keeps* its colour.
"""

# Runs a proof and leaves every way its paper may be set, with its pictures.
_WAYS = """
import json, sys
from pathlib import Path
from proofgen.cli import main
from proofgen.render import pdf
out, plain = Path(sys.argv[1]), pdf._fullest
def seen(ways, files, *told):
    (out / "ways.json").write_text(json.dumps([way(0.0) for way in ways]))
    for name, data in files.items():
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        (out / name).write_bytes(data)
    (out / "files.json").write_text(json.dumps(list(files)))
    return plain(ways, files, *told)
pdf._fullest = seen
main(sys.argv[2:])
"""


def with_fonts(html: str, folder: Path) -> None:
    """Put the fonts that a page names where a plain setter finds them."""
    (folder / "fonts").mkdir(exist_ok=True)
    for name, file in Fonts().files.items():
        if f"fonts/{name}" in html or f"fonts/{quote(name)}" in html:
            shutil.copy(file, folder / "fonts" / name)


def _png(data: bytes) -> bytes:
    with Image.open(io.BytesIO(data)) as picture:
        picture.save(out := io.BytesIO(), "PNG")
    return out.getvalue()


def _set(ways: list[str], files: Mapping[str, bytes]) -> bytes:
    """As a run sets its one proof: the fonts are read anew."""
    pdf._fonts.cache_clear()
    every = [lambda _, text=text: text for text in ways]
    return html_to_pdf(every, files, page_title="Proof")


def proof_pdf(scale: Scale, careless: bool) -> Took:
    """All ways that a proof's paper is tried in, beside one setting of its first without pictures;
    the careless variant gives pictures that must be packed again."""
    with tempfile.TemporaryDirectory() as scratch:
        shop, out = Path(scratch) / "shop", Path(scratch) / "out"
        out.mkdir()
        shop_of(shop, camera_photo(scale), {"one": 1})
        order.spent(
            [sys.executable, "-c", _WAYS, str(out), "-q", "--shop", str(shop), "proof", "one"]
        )
        ways = json.loads((out / "ways.json").read_text("utf-8"))
        files = {
            name: (out / name).read_bytes() for name in json.loads((out / "files.json").read_text())
        }
        if careless:
            files = {name: _png(data) for name, data in files.items()}
        with_fonts(ways[0], out)
        bare = floors.without_pictures(ways[0])
        ours = partial(_set, ways, files)
        made = ours()
        named = [data for name, data in files.items() if any(name in way for way in ways)]
        shown = [data for data in named if data.startswith(b"\xff\xd8")]
        inside = bool(shown) and all(data in made for data in shown)
        took = in_turn({"floor": partial(floors.set_alone, bare, out), "ours": ours}, scale.rounds)
        memory = held(ours)
    return Took(**took, memory=memory, fault="" if inside else "a JPEG is not inside verbatim")


def _plates(many: int) -> list[Plate]:
    """Pictures of a design's size, parts of real photographs."""
    made = []
    for number in range(many):
        with Image.open(path_of(CAMERA[number % len(CAMERA)])) as photo:
            photo.draft("RGB", (photo.width // 2, photo.height // 2))
            left = 37 * number % (photo.width - 960)
            part = photo.convert("RGB").crop((left, 200, left + 960, 200 + 1200))
        part.save(file := io.BytesIO(), "JPEG", quality=85)
        name = f"pictures/{number:016}.jpg"
        plate = Plate(
            name=name, content=file.getvalue(), alt="On cloth", width_px=960, height_px=1200
        )
        made.append(plate)
    return made


def season_of(designs: int, plates: list[Plate]) -> SeasonContent:
    """A season of so many designs; eight at a time are good for the same."""

    def one(number: int) -> Entry:
        offer = Offer(
            blank="wrap",
            blank_name="Linen wrap",
            construction="wrap",
            finish="linen-look",
            size_mm=(217.0, 100.0),
            cloths=(("white", "#ffffff"), ("sky", "#6fb7e9")),
            prices=((1, Decimal("14.50")), (6, Decimal("13.00"))),
            least_px=(1985, 882),
            plates=tuple(replace(plates[(number + n) % len(plates)]) for n in range(3)),
        )
        return Entry(
            id=f"design-{number:05}",
            title=f"Quay {number}",
            text=f"Number {number} is set in two inks.\n\nIt *keeps* its colour.",
            occasions=(f"day {number // _FEW}",),
            photo_slots=("photo",),
            word_slots=("the name on the board",),
            offers=(offer, replace(offer, blank="slim", blank_name="Slim wrap")),
        )

    return season(tuple(one(number) for number in range(designs)))


def season_pdf(scale: Scale, careless: bool) -> Took:
    """Set from its content; the careless variant sets it until its sheets are filled."""
    content = season_of(max(2, scale.sheets - 8), _plates(min(24, scale.sheets)))
    theme = Theme(_THEME)

    def ours() -> bytes:
        page, plates = season_sheets(content, theme)
        pdf._fonts.cache_clear()
        ways = [lambda _: page, lambda _: page] if careless else page
        return html_to_pdf(ways, plates, page_title="Season")

    page, plates = season_sheets(content, theme)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        (folder / "pictures").mkdir()
        for name, data in plates.items():
            (folder / name).write_bytes(data)
        with_fonts(page, folder)
        alone = partial(floors.set_alone, page, folder)
        took = in_turn({"floor": alone, "ours": ours}, scale.rounds)
        return Took(**took, memory=held(ours), of=f"{floors.sheets_of(page, folder)} pages")


def read_anew() -> None:
    """A run reads each text once; what the run before read is not there any more."""
    safe_markdown.cache_clear()
    plain_words.cache_clear()


def pages(scale: Scale, careless: bool) -> Took:
    """Pages of a catalogue without its PDF; the careless variant compiles templates for each."""
    content, theme = season_of(scale.pages, _plates(6)), Theme(_THEME)
    made = catalogue.build(content, theme, with_pdf=False)
    texts = [data.decode() for name, data in made.items() if name.endswith(".html")]
    del made
    plain = theme.render

    def forgetting(*given: object, **named: object) -> str:
        theme._pages = theme._environment(theme._folders)
        return plain(*given, **named)  # type: ignore[arg-type]

    if careless:
        theme.render = forgetting  # type: ignore[method-assign, assignment]

    def ours() -> object:
        return catalogue.build(content, theme, with_pdf=False)

    works = {"floor": partial(floors.written, texts), "ours": ours}
    took = in_turn(works, scale.rounds, read_anew)
    return Took(**took, memory=held(ours), of=f"{len(texts):,} of them")


def shop_of_designs(home: Path, many: int) -> Path:
    """A shop with a season of so many designs that share one picture, its catalogue made; kept for
    the next time."""
    shop = home / f"designs-{many}"
    if not (shop / "site").exists():
        shutil.rmtree(shop, ignore_errors=True)
        season_shop.shop_of(shop, 1)
        names = [f"quay-{number:05}" for number in range(many)]
        for number, name in enumerate(names):
            (shop / "designs" / name).mkdir()
            text = _DESIGN.format(number=number, day=number // _FEW)
            (shop / "designs" / name / "design.md").write_text(text, "utf-8")
        text = f"---\ntitle: Quay\nsentence: Many boards.\ndesigns: [{', '.join(names)}]\n---\n"
        (shop / "seasons" / "winter.md").write_text(text, "utf-8")
        season_shop.spent(*season_shop.proofgen(shop, "catalogue"))
    return shop


def pages_again(scale: Scale, careless: bool) -> Took:
    """`catalogue` where nothing changed, less a bare start, beside what setting the pages alone
    takes, everything that stands on them being there; the careless variant forgets what it said."""
    shop = shop_of_designs(scale.home, scale.pages)
    ours = season_shop.proofgen(shop, "catalogue")
    season_shop.spent(*ours)

    def before() -> None:
        read_anew()
        if careless:
            shutil.rmtree(shop / HOME, ignore_errors=True)

    with open_workshop(shop) as workshop:
        (one,) = workshop.shop.seasons
        content, theme = season_content(workshop, one), workshop.theme_for(None)
        works: dict[str, Callable[[], object]] = {
            "floor": partial(catalogue.build, content, theme, with_pdf=False),
            "bare": partial(season_shop.spent, sys.executable, "-c", "pass"),
            "ours": partial(season_shop.spent, *ours),
        }
        took = in_turn(works, scale.rounds, before)
    told = len(content.entries)
    fault = "" if told == scale.pages else f"{told} designs are shown"
    spent, of = took["ours"] - took["bare"], f"{told:,} designs"
    return Took(ours=spent, floor=took["floor"], of=of, fault=fault)


def the_door(scale: Scale, careless: bool) -> Took:
    """The chain checked; the careless variant reads it again for the orders."""
    with tempfile.TemporaryDirectory() as scratch:
        path = door.written(Path(scratch), scale.lines)

        def ours() -> None:
            Journal(path).sound()

        def twice() -> None:
            ours()
            Journal(path).read()

        works: dict[str, Callable[[], object]] = {
            "floor": partial(floors.lines_read, path),
            "ours": twice if careless else ours,
        }
        return Took(**in_turn(works, max(scale.rounds, 7)), memory=held(works["ours"]))


def door_alone(scale: Scale, careless: bool) -> Took:
    """The check in a process of its own, less that process; the careless variant checks again for
    each of twelve orders that it looks at."""
    with tempfile.TemporaryDirectory() as scratch:
        path = door.written(Path(scratch), scale.lines)
        load = "from pathlib import Path; from proofgen.signoff.journal import Journal"
        check = f"[Journal(Path({str(path)!r})).sound() for _ in range({12 if careless else 1})]"
        programs = {"bare": "pass", "loaded": load, "checked": f"{load}; {check}"}
        works = {
            name: partial(order.spent, [sys.executable, "-c", program])
            for name, program in programs.items()
        }
        took = in_turn(works, max(scale.rounds, 7))
    return Took(ours=took["checked"] - took["loaded"], floor=took["bare"])


BARS = (
    Bar(
        key="proof-pdf",
        row="a proof on paper, as often as it is set",
        floor="WeasyPrint, the same page once, without pictures",
        limit=1.5,
        measure=proof_pdf,
        careless="pictures are PNG and packed again",
    ),
    Bar(
        key="season-pdf",
        row="a season on paper",
        floor="WeasyPrint alone, the same page",
        limit=1.3,
        measure=season_pdf,
        careless="set again until its sheets are full",
        takes="about half an hour at 100 pages",
    ),
    Bar(
        key="pages",
        row="pages of a catalogue",
        floor="the same bytes written to memory",
        limit=20,
        measure=pages,
        careless="templates compiled for each page",
        takes="over half an hour at 10,000 pages",
    ),
    Bar(
        key="pages-again",
        row="`catalogue`, nothing changed, less a bare start",
        floor="setting its pages alone",
        limit=0.1,
        measure=pages_again,
        careless="what it said is forgotten",
        takes="hours at 10,000 designs (less with --pages)",
    ),
    Bar(
        key="door",
        row="records checked at the door, 10,000 lines",
        floor="every line read as JSON",
        limit=1.5,
        measure=the_door,
        careless="read once for the chain, once for the orders",
    ),
    Bar(
        key="door-alone",
        row="the same, beside a bare start",
        floor="a bare interpreter start",
        limit=5,
        measure=door_alone,
        careless="checked for each of twelve orders",
    ),
)
