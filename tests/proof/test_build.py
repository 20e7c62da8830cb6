"""What a proof's files are, and what is in none of them."""

from __future__ import annotations

import dataclasses
import io
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from PIL import Image, PngImagePlugin

from proofgen.model import Settings, Shop
from proofgen.proof.build import blank_index, build, notice
from proofgen.proof.content import Drawing, Picture, ProofContent, Word, picture
from proofgen.proof.guard import drawn, ending
from proofgen.render import Theme
from proofgen.signoff import RULES, Notice
from tests.proof.sample import FLAT, content

HOSTILE = (
    "<script>document.title='taken'</script>",
    "\"'><img src=x onerror=alert(1)>",
    "{{ 7 * 7 }} ${7*7} <%= 7*7 %>",
    "</style></title><base href='//evil.example/'>",
    "\u202etxt.exe \u2066x",
    "</script><!-- & &amp; ]]>",
)


class Tags(HTMLParser):
    """Every element of a page, with its attributes."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.words = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.words += data


def page_of(files: dict[str, bytes]) -> str:
    return files["index.html"].decode()


def hostile() -> ProofContent:
    """The sample with hostile words wherever a customer's words can stand."""
    base = content(names=("A",), edition=2)
    work = base.works[0]
    bad = "".join(HOSTILE)
    every = tuple(
        dataclasses.replace(
            piece,
            numbers=bad,
            differs=bad,
            faces=tuple(dataclasses.replace(f, alt=bad, caption=bad) for f in piece.faces),
        )
        for piece in work.every
    )
    return dataclasses.replace(
        base,
        customer=bad,
        words=tuple(Word(pieces=(1,), slot=bad, text=t) for t in HOSTILE),
        works=(dataclasses.replace(work, title=bad, every=every, sharpness=bad),),
        findings=(dataclasses.replace(base.findings[1], says=bad, accepted=bad),),
        changes=(dataclasses.replace(base.changes[0], says=bad),),
    )


def test_pictures_first_page_last_names_by_content(sample: ProofContent, theme: Theme) -> None:
    files = build(sample, theme, with_pdf=False)
    assert list(files)[-1] == "index.html"
    models = [name for name in files if name.startswith("model-")]
    assert sorted(name.rpartition(".")[2] for name in models) == ["glb", "usdz"]
    assert len(files) == len(sample.pictures) + len(theme.font_files) + len(models) + 1
    for name, data in files.items():
        assert re.fullmatch(r"index\.html|[a-z0-9-]+-[0-9a-f]{16}\.(jpg|png|woff2|glb|usdz)", name)
        if name not in ("index.html", *theme.font_files, *models):
            assert name in page_of(files), "a picture that the page does not show"
            assert data in [p.data for p in sample.pictures]
    assert files == build(sample, theme, with_pdf=False)


def test_a_picture_to_tap_leads_to_a_model(sample: ProofContent, theme: Theme) -> None:
    files = build(sample, theme, with_pdf=False)
    models = [name for name in files if name.startswith("model-")]
    page = page_of(files)
    glb, usdz = sorted(models, key=lambda name: name.rpartition(".")[2])
    assert f'<a rel="ar" href="{usdz}"><img' in page  # one picture in it and nothing else
    assert f'<a href="{glb}" download>' in page


def test_one_file_leads_to_no_model() -> None:
    page = page_of(build(content(), Theme("quay"), one_file=True))
    assert '<a rel="ar"' not in page and ".glb" not in page


def test_without_a_model_nothing_is_said_of_a_table() -> None:
    sample = content()
    bare = dataclasses.replace(
        sample, works=tuple(dataclasses.replace(work, model=None) for work in sample.works)
    )
    files = build(bare, Theme("quay"), with_pdf=False)
    assert not any(name.startswith("model-") for name in files)
    assert "On your table" not in page_of(files) and '<a rel="ar"' not in page_of(files)


def test_every_picture_of_the_page_is_among_the_files(sample: ProofContent, theme: Theme) -> None:
    files = build(sample, theme, with_pdf=False)
    tags = Tags(page_of(files)).found
    shown = [a["src"] for t, a in tags if t == "img"] + [a["href"] for t, a in tags if t == "image"]
    assert shown and set(shown) <= set(files)
    assert all(a.get("alt") for t, a in tags if t == "img")


def test_one_file_holds_everything(sample: ProofContent, theme: Theme) -> None:
    files = build(sample, theme, one_file=True)
    assert list(files) == ["index.html"]
    sources = re.findall(r'(?:src|href)="([^"#]*)"', page_of(files))
    assert all(s.startswith(("data:", "mailto:")) for s in sources)
    assert sum(s.startswith("data:image/jpeg;base64,") for s in sources) >= len(sample.pictures)


def test_the_page_has_everything_without_its_script(sample: ProofContent, theme: Theme) -> None:
    page = page_of(build(sample, theme, with_pdf=False))
    words = " ".join(Tags(page).words.split())
    for code in sample.codes.values():
        assert code in words
    for sentence in (
        "Proof 2 for Odalys Fenn",
        "5 pieces: Harbour photo on Standard can wrap, linen-look, sky",
        "Please look it through, and tell us by Friday 4 December.",
        "Tern Row Press Room",
        "this shop is invented",
        "Zoë Nguyễn-O’Neil",
        "All 5 pieces, Date",
        "Please check these four things",
        "€72.50",
        "Saturday 12 December 2026",
        "You asked us to keep it pale.",
        "it is now “Odalys & Bram”",
        "your own copy of what you sent is your evidence",
        sample.fingerprint,
    ):
        assert sentence in words, sentence


def test_the_page_loads_nothing_and_asks_to_be_left_alone(
    sample: ProofContent, theme: Theme
) -> None:
    tags = Tags(page_of(build(sample, theme, with_pdf=False))).found
    assert tags[2][0] == "meta"
    assert tags[2][1]["http-equiv"] == "Content-Security-Policy"
    names = {a["name"]: a["content"] for t, a in tags if t == "meta" and a.get("name")}
    assert "noindex" in (names["robots"] or "")
    assert names["referrer"] == "no-referrer"
    for tag, attributes in tags:
        assert tag not in ("iframe", "object", "embed", "base", "link") or (
            attributes == {"rel": "icon", "href": "data:,"}
        )
        assert not any(a == "style" or a.startswith("on") for a in attributes), (tag, attributes)
        for key in ("src", "href", "srcset", "action"):
            assert "//" not in (attributes.get(key) or "")


def test_the_key_is_in_the_page_and_in_nothing_else(sample: ProofContent, theme: Theme) -> None:
    assert sample.key_hex in page_of(build(sample, theme, with_pdf=False))
    assert sample.key_hex not in repr(sample)


def test_hostile_words_are_words(theme: Theme) -> None:
    plain = Tags(page_of(build(content(names=("A",)), theme, with_pdf=False)))
    made = Tags(page_of(build(hostile(), theme, with_pdf=False)))
    kinds = {t for t, _ in plain.found} | {"p"}
    assert {t for t, _ in made.found} <= kinds
    assert sum(t == "script" for t, _ in made.found) == sum(t == "script" for t, _ in plain.found)
    for text in HOSTILE:
        assert text in made.words
    assert not any("evil" in (a.get("href") or "") for _, a in made.found)


def test_customers_words_stand_apart_from_ours(theme: Theme) -> None:
    page = page_of(build(content(names=("\u202eevil",)), theme, with_pdf=False))
    assert '<p class="text"><bdi>⟨U+202E⟩evil</bdi></p>' in page
    assert re.search(r"<h1>Proof 2 for <bdi>Odalys Fenn</bdi>", page)


def test_several_lines_of_an_order_are_told_apart(sample: ProofContent, theme: Theme) -> None:
    from tests.proof.sample import work

    second = dataclasses.replace(work(("Wren",), 2), title="Harbour photo on the pouch, white")
    both = dataclasses.replace(sample, works=(*sample.works, second))
    page = page_of(build(both, theme, with_pdf=False))
    assert "<h2>Harbour photo on the pouch, white</h2>" in page
    ids = [a["id"] for _, a in Tags(page).found if a.get("id")]
    assert len(ids) == len(set(ids))


def test_pictures_are_rebuilt_from_bare_pixels() -> None:
    stream = io.BytesIO()
    exif = Image.Exif()
    exif[0x010E] = "canary-exif"
    image = Image.new("RGB", (40, 30), (9, 99, 199))
    image.save(stream, "JPEG", comment=b"canary-comment", exif=exif, icc_profile=b"canary-icc")
    opened = Image.open(io.BytesIO(stream.getvalue()))
    made = picture("a", opened, "A")
    assert b"canary" not in made.data
    assert ending(made) == ".jpg"
    assert (made.width_px, made.height_px) == (40, 30)


def with_bytes(data: bytes, kind: str = "image/jpeg", name: str = "a") -> Picture:
    return Picture(name=name, data=data, media_type=kind, width_px=8, height_px=8, alt="A")


def saved(form: str, **options: object) -> bytes:
    stream = io.BytesIO()
    Image.new("RGB", (8, 8)).save(stream, form, **options)  # type: ignore[arg-type]
    return stream.getvalue()


def test_a_picture_with_something_hidden_is_not_published() -> None:
    text = PngImagePlugin.PngInfo()
    text.add_text("Author", "canary")
    exif = Image.Exif()
    exif[0x010E] = "canary"
    for bad in (
        with_bytes(saved("JPEG", comment=b"canary")),
        with_bytes(saved("JPEG", icc_profile=b"canary")),
        with_bytes(saved("JPEG", exif=exif)),
        with_bytes(saved("PNG", pnginfo=text), "image/png"),
        with_bytes(saved("WEBP", exif=exif), "image/webp"),
        with_bytes(saved("WEBP", icc_profile=b"canary"), "image/webp"),
        with_bytes(saved("GIF"), "image/gif"),
        with_bytes(saved("JPEG"), name="../a"),
        with_bytes(saved("JPEG"), name="Odalys Fenn"),
    ):
        with pytest.raises(ValueError, match=r"hidden|published|no name"):
            ending(bad)
    assert ending(with_bytes(saved("JPEG"))) == ".jpg"
    assert ending(with_bytes(saved("WEBP"), "image/webp")) == ".webp"


def test_two_pictures_may_not_share_a_name(sample: ProofContent) -> None:
    with pytest.raises(ValueError, match="two pictures"):
        _ = dataclasses.replace(sample, works=(sample.works[0], content().works[0])).pictures


SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">{}</svg>'


@pytest.mark.parametrize(
    "inside",
    [
        "<script>x</script>",
        "<foreignObject/>",
        "<style>*{}</style>",
        '<rect onclick="x"/>',
        '<rect style="fill:red"/>',
        '<image href="https://a.example/x.png"/>',
        '<image href="other-picture"/>',
        '<use href="file.svg#a"/>',
        '<rect fill="url(https://a.example/#x)"/>',
        '<a href="#x"/>',
        '<script xmlns="http://www.w3.org/1999/xhtml">x</script>',
    ],
)
def test_a_drawing_only_draws(inside: str) -> None:
    with pytest.raises(ValueError, match="a drawing may"):
        drawn(Drawing(label="x", svg=SVG.format(inside)), "", "d")
    with pytest.raises(ValueError, match="document type"):
        drawn(Drawing(label="x", svg="<!DOCTYPE svg>" + SVG.format("")), "", "d")


def test_a_drawing_gets_its_picture_and_keeps_its_words(sample: ProofContent) -> None:
    shown = sample.works[0].drawings[0]
    svg = drawn(
        dataclasses.replace(shown, svg=shown.svg.replace("wrap<", "&lt;b&gt;<")), "p.jpg", "d"
    )
    assert 'href="p.jpg"' in svg and "flat-1" not in svg
    assert "&lt;b&gt;" in svg


def test_drawings_on_one_page_keep_their_ids_apart() -> None:
    inside = (
        '<title id="t">x</title><clipPath id="c"/><rect clip-path="url(#c)" aria-labelledby="t t"/>'
        '<use href="#c"/><rect aria-label="t"/>'
    )
    said = drawn(Drawing(label="x", svg=SVG.format(inside)), "", "drawing-2")
    for part in ('id="drawing-2-t"', "url(#drawing-2-c)", 'href="#drawing-2-c"',
                 'aria-labelledby="drawing-2-t drawing-2-t"', 'aria-label="t"'):  # fmt: skip
        assert part in said


def test_a_thing_without_a_join_is_not_asked_about_one(theme: Theme) -> None:
    base = content(names=("A",))
    flat = dataclasses.replace(base.works[0], views=base.works[0].views[:1])
    words = Tags(
        page_of(build(dataclasses.replace(base, works=(flat,)), theme, with_pdf=False))
    ).words
    assert "Where the edges fall" in words and "join" not in words.split("What your answer")[0]
    assert (
        "Where the edges fall and the cloth meets"
        in Tags(page_of(build(base, theme, with_pdf=False))).words
    )


def test_words_of_every_piece_come_first(theme: Theme, sample: ProofContent) -> None:
    mixed = dataclasses.replace(sample, words=tuple(reversed(sample.words)))
    page = page_of(build(mixed, theme, with_pdf=False))
    said = re.findall(r'<p class="of">([^<]*)<', page)
    assert said[0] == "All 5 pieces, Date"


def test_lines_in_pixels_become_lines_in_mm_on_paper() -> None:
    line = '<path d="M0 0" stroke-width="1.4" stroke-dasharray="4 2" {}/>'
    svg = SVG.replace("0 0 9 9", "0 0 348 10").format(
        line.format('vector-effect="non-scaling-stroke"') + line.format("")
    )
    said = drawn(Drawing(label="x", svg=svg), "", "d", print_mm=174)
    # 348 units on 174 mm: 1.4 px = 0.3704 mm = 0.741 units.
    assert re.findall(r'stroke-width="([\d.]+)"', said) == ["0.741", "1.4"]
    assert re.findall(r'stroke-dasharray="([\d. ]+)"', said) == ["2.117 1.058", "4 2"]
    assert "vector-effect" not in said
    # Lines of the sample have a thickness of their own in mm, and keep it.
    bare = re.sub("<image[^>]*>", "", FLAT)
    of_lines = 'stroke-(?:width|dasharray)="[^"]+"'
    kept = re.findall(of_lines, drawn(Drawing(label="x", svg=bare), "", "d", print_mm=174))
    assert kept == re.findall(of_lines, FLAT) == ['stroke-width="0.5"', 'stroke-dasharray="2 2"']


def test_mail_links_carry_the_code_whoever_the_shop_is(sample: ProofContent, theme: Theme) -> None:
    shop = dataclasses.replace(sample, contact="a b?cc=x@ternrow.example")
    page = page_of(build(shop, theme, with_pdf=False))
    links = re.findall(r'href="(mailto:[^"]+)"', page)
    assert len(links) == 4 and links[0] == links[1] == "mailto:a%20b%3Fcc%3Dx@ternrow.example"
    for link, code in zip(links[2:], sample.codes.values(), strict=True):
        assert link.startswith("mailto:a%20b%3Fcc%3Dx@ternrow.example?subject=")
        assert code in link and len(link) < 1800
    by_telephone = dataclasses.replace(sample, contact="+353 1 555 0100")
    assert 'href="mailto:' not in page_of(build(by_telephone, theme, with_pdf=False))


def test_notices_and_the_empty_page(theme: Theme) -> None:
    settings = Settings(name="Tern & Row", contact="hello@ternrow.example")
    shop = Shop(folder=Path("x"), settings=settings, blanks={}, designs={}, orders={})
    pages = {
        state: notice(rules.page, shop, theme).decode()
        for state, rules in RULES.items()
        if isinstance(rules.page, Notice)
    }
    assert set(pages) == {"withdrawn", "expired", "forgotten"}
    assert len(set(pages.values())) == 3
    for page in pages.values():
        assert "Tern &amp; Row" in page and "noindex" in page and "<img" not in page
    assert "noindex" in blank_index(theme).decode()
    assert "<a " not in blank_index(theme).decode()


@pytest.mark.parametrize(
    ("customer", "lacking"),
    [("Éloïse Crêtenoud", False), ("Łukasz Žižka-Straße", False), ("Božena Černá", True)],
)
def test_a_name_stands_in_the_headlines_typeface_if_that_has_its_letters(
    customer: str, lacking: bool
) -> None:
    files = build(
        dataclasses.replace(content(), customer=customer), Theme("kite", "de"), with_pdf=False
    )
    page = files["index.html"].decode()
    (heading,) = re.findall(r"<h1[^>]*>.*?</h1>", page, re.DOTALL)
    assert ("other-letters" in heading) is lacking
    style = " ".join(re.findall(r"<style>(.*?)</style>", page, re.DOTALL))
    assert "h1 bdi" not in style, "no rule gives every name another typeface"
