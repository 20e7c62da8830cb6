"""The season's pages: their links, their prices, and words that stay words."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape

import pytest

from proofgen.catalogue import build
from proofgen.catalogue.content import Scaled, Standing
from proofgen.render import Theme
from tests.catalogue.reading import Page, broken, pages
from tests.catalogue.season import KNIT, QUAY, TILE, WORDS, card, entry, offer, season

HOSTILE = (
    "<script>document.title='taken'</script>",
    "\"'><img src=x onerror=alert(1)>",
    "{{ 7 * 7 }} {% raw %} ${7*7}",
    "</style></title><base href='//evil.example/'>",
)


@pytest.fixture(scope="module")
def theme() -> Theme:
    return Theme("quay", "en", "EUR")


@pytest.fixture(scope="module")
def files(theme: Theme) -> dict[str, bytes]:
    return build(season(), theme, with_pdf=False)


def page(files: dict[str, bytes], name: str) -> Page:
    return Page(files[name].decode())


def test_every_link_leads_somewhere(files: dict[str, bytes]) -> None:
    assert broken(files) == []
    lost = {name: content for name, content in files.items() if name != "designs/knit.html"}
    assert broken(lost), "the reader itself must notice a page that is gone"
    front = page(files, "index.html")
    for one in (QUAY, KNIT, TILE):
        assert f"designs/{one.id}.html" in front.references
    for name in WORDS:
        assert all(
            any(r.endswith(f"words/{name}.html") for r in it.references)
            for it in pages(files).values()
        )


def test_every_picture_is_used_and_said_in_words(files: dict[str, bytes]) -> None:
    used = {r.removeprefix("../") for it in pages(files).values() for r in it.references}
    assert {name for name in files if name.startswith("pictures/")} <= used
    for it in pages(files).values():
        for image in it.every("img"):
            assert image["alt"] and int(image["width"]) > 0 and int(image["height"]) > 0


def test_a_design_s_model_is_linked_and_not_loaded(theme: Theme) -> None:
    model = Standing(
        glb_name="pictures/0123456789abcdef.glb",
        usdz_name="pictures/0123456789abcdef.usdz",
        glb=b"glTF" * 300_000,
        usdz=b"PK",
        size="On its can it is 72 mm wide and 123 mm high.",
    )
    made = build(season(entries=(replace(QUAY, model=model), KNIT)), theme, with_pdf=False)
    assert made[model.glb_name] == model.glb and made[model.usdz_name] == model.usdz
    text = made[f"designs/{QUAY.id}.html"].decode()
    assert f'<a rel="ar" href="../{model.usdz_name}"><img' in text  # one picture, nothing else
    assert f'<a href="../{model.glb_name}" download>' in text
    assert "(GLB, 1.2 MB)" in text and model.size in text
    assert all(not image["src"].endswith((".glb", ".usdz"))
               for image in page(made, f"designs/{QUAY.id}.html").every("img"))  # fmt: skip
    assert broken(made) == []
    for name, content in made.items():
        if name.endswith(".html") and name != f"designs/{QUAY.id}.html":
            assert b"On your table" not in content and b'<a rel="ar"' not in content


def test_nothing_is_loaded_from_elsewhere(files: dict[str, bytes]) -> None:
    for name, it in pages(files).items():
        loaded = [a.get("src", "") for tag, a in it.found if tag in ("img", "script", "iframe")]
        loaded += [a.get("href", "") for a in it.every("link")]
        assert not [x for x in loaded if x.startswith(("http", "//"))], name
        policy = it.every("meta")[0]
        assert policy["http-equiv"] == "Content-Security-Policy"
        assert policy["content"].startswith("default-src 'none'")
        assert "http" not in policy["content"]


@pytest.mark.parametrize("name", ["index.html", "designs/knit.html", "words/care.html"])
def test_a_page_has_one_heading_and_says_where_one_is(files: dict[str, bytes], name: str) -> None:
    it = page(files, name)
    assert len(it.every("h1")) == 1
    here = [a for a in it.every("a") if a.get("aria-current") == "page"]
    assert len(here) == (0 if name.startswith("designs") else 1)
    assert it.every("html")[0]["lang"] == "en"


def test_prices_with_their_steps(files: dict[str, bytes]) -> None:
    quay = page(files, "designs/quay-photo.html").words
    # What so many alike cost each, wherever the steps of a piece lie.
    assert "Piece 1 4+ 6+ 12+ Linen wrap €14.50 €14.50 €13.00 €11.80" in quay
    assert "Slim wrap €15.25 €15.25 €15.25 €15.25" in quay
    assert "Sail patch €9.00 €8.10 €8.10 €8.10" in quay
    tile = page(files, "designs/tile.html").words
    assert "by how many" not in tile, "one price needs no steps"
    front = page(files, "index.html").words
    # Each beside a picture of the piece that costs so much.
    quay = "€14.50 · €11.80 each from 12 pieces · other pieces from €9.00"
    assert f"Quay photo With your photo and words {quay}" in front
    assert "Knitted cup With your words €12.50 · €11.00 each from 6 pieces" in front
    assert "Gull tile €6.50" in front and "from €6.50" not in front


def test_a_picture_of_another_piece_has_that_piece_s_price(theme: Theme) -> None:
    """A flat thing has one side, so the tile below a cover shows the next piece."""
    flat = offer("Mat", "mat", "Mat", "flat", prices=((1, "5.00"),), sides=("Front",))
    sleeve = offer("Mat", prices=((1, "14.50"),))
    both = replace(season(), entries=(entry("mat", "Mat", flat, sleeve), KNIT), scene=None)
    front = page(build(both, theme, with_pdf=False), "index.html").words
    assert "Mat, €5.00" in front and "words €14.50 · other pieces from €5.00" in front


def test_a_catalogue_of_one_design_shows_it_once(theme: Theme) -> None:
    alone = replace(season(), entries=(KNIT,), scene=None)
    front = page(build(alone, theme, with_pdf=False), "index.html")
    assert "The designs" not in front.words
    assert len([it for it in front.every("img") if it["alt"] == KNIT.plate.alt]) == 1
    assert "designs/knit.html" in front.references


def test_what_a_single_one_costs_is_its_first_step_wherever_that_is_least() -> None:
    dear = offer("x", "a", prices=((1, "20.00"), (50, "2.00")))
    plain = offer("x", "b", prices=((1, "12.00"),))
    one = entry("x", "x", dear, plain)
    assert str(one.single_price) == "12.00"
    assert (str(dear.single_price), str(dear.least_price)) == ("20.00", "2.00")


def test_what_a_photo_needs_and_which_words(files: dict[str, bytes]) -> None:
    quay = page(files, "designs/quay-photo.html").words
    assert quay.count("1,985 × 882 pixels") == 3
    for need in ("A photo", "The name on the board", "A line below"):
        assert need in quay
    assert "pixels" not in page(files, "designs/knit.html").words
    assert "What we need from you" not in page(files, "designs/tile.html").words
    assert "Left side" in quay


def test_the_front_does_not_show_one_picture_twice(files: dict[str, bytes]) -> None:
    shown = [image["src"] for image in page(files, "index.html").every("img")]
    assert len(shown) == len(set(shown)) == 4
    alone = build(season((TILE,)), Theme("quay"), with_pdf=False)
    assert broken(alone) == [], "a design with one picture has no other to show"


def test_hostile_titles_and_names_are_only_words(theme: Theme) -> None:
    for bad in HOSTILE:
        one = entry("bad", bad, offer(bad, name=bad), word_slots=(bad,), occasions=(bad,))
        one = replace(
            one,
            offers=tuple(replace(o, finish=bad, cloths=((bad, "#ffffff"),)) for o in one.offers),
        )
        made = build(
            season(
                (one,),
                title=bad,
                sentence=bad,
                shop_name=bad,
                contact=f"{bad}@pierhead.example",
                blanks=(card("wrap", bad, (("bad", bad),)),),
            ),
            theme,
            with_pdf=False,
        )
        for name, it in pages(made).items():
            assert bad in unescape(it.words), name
            tags = [tag for tag, _ in it.found]
            assert "base" not in tags and tags.count("style") == 1
            # Data alone, which no browser runs (HTML, "data block").
            assert {a["type"] for a in it.every("script")} <= {"application/ld+json"}, name
            assert not [a for _, attrs in it.found for a in attrs if a.startswith("on")]
            assert all(i.get("src", "").lstrip("./").startswith("pict") for i in it.every("img"))


def test_hostile_markdown_is_inert(theme: Theme) -> None:
    bad = "\n\n".join(
        (
            *HOSTILE,
            "[a](javascript:alert(1)) [b](data:text/html,x) [c](//evil.example/c)",
            "![p](https://evil.example/p.png)",
            '<style>p{color:red}</style><form action="https://evil.example">x</form>',
            "<p style='color:red' class='unseen' id='designs'>kept</p>",
        )
    )
    one = entry("bad", "Plain", text=bad)
    texts = {"about": "# <b onclick=x>Us</b>\n" + bad}
    made = pages(build(season((one, KNIT), text=bad, texts=texts), theme, with_pdf=False))
    for name, it in made.items():
        tags = {tag for tag, _ in it.found}
        assert not tags & {"base", "form", "iframe", "object", "embed"}, name
        assert {a["type"] for a in it.every("script")} <= {"application/ld+json"}, name
        for _, attributes in it.found:
            assert not [a for a in attributes if a.startswith("on") or a == "style"]
        loaded = [a.get("src", "") + a.get("href", "") for tag, a in it.found if tag != "a"]
        assert not [x for x in loaded if "evil" in x]
        assert not [r for r in it.references if r.lower().startswith(("javascript:", "data:text"))]
        assert it.ids.count("designs") == (1 if name == "index.html" else 0)
    assert "<b onclick=x>Us</b>" in made["words/about.html"].words


def test_a_contact_that_is_no_mail_is_no_link(theme: Theme) -> None:
    made = build(season(contact="+353 1 555 0100"), theme, with_pdf=False)
    assert not [r for r in page(made, "index.html").references if r.startswith("mailto:")]
    assert "+353 1 555 0100" in page(made, "index.html").words
    odd = build(season(contact="a&b?c@pierhead.example"), theme, with_pdf=False)
    assert "mailto:a%26b%3Fc@pierhead.example" in page(odd, "index.html").references


def test_a_house_text_without_a_heading_is_called_by_its_name(files: dict[str, bytes]) -> None:
    assert page(files, "words/care.html").words.count("Washing") >= 2
    assert "Who we are" in page(files, "words/about.html").words
    assert "# Who we are" not in page(files, "words/about.html").words


def test_a_demonstration_says_so_on_every_page(theme: Theme) -> None:
    made = build(season(demo=True), theme, with_pdf=False)
    assert all("this shop is invented" in it.words for it in pages(made).values())


def test_an_empty_season_still_stands(theme: Theme) -> None:
    made = build(season(()), theme, with_pdf=False)
    assert broken(made) == []
    assert "Spring at the pierhead" in page(made, "index.html").words


def test_the_same_season_makes_the_same_bytes(theme: Theme, files: dict[str, bytes]) -> None:
    assert build(season(), theme, with_pdf=False) == files


def test_what_is_shown_slim_is_published_slim_alone_but_for_messengers(theme: Theme) -> None:
    """The JPEG of such a picture is for paper, and of a design's first one for who shares it."""
    first = season().entries[0]
    shown = [
        replace(
            plate,
            scaled=tuple(
                Scaled(name=f"pictures/{side}-{wide}.webp", content=b"slim", width_px=wide)
                for wide in (plate.width_px // 2, plate.width_px * 2)
            ),
        )
        for side, plate in enumerate(first.offers[0].plates)
    ]
    entry = replace(first, offers=(replace(first.offers[0], plates=tuple(shown)),))
    for site in ("", "https://pierhead.example/shop"):
        files = build(season((entry,), site=site), theme, with_pdf=False)
        page = files[f"designs/{entry.id}.html"].decode()
        for at, plate in enumerate(shown):
            assert (plate.name in files) == (plate.name in page) == (bool(site) and at == 0)
            assert f'src="../{plate.scaled[1].name}"' in page  # not the one with too few pixels
            assert all(one.name in files and one.name in page for one in plate.scaled)


def test_a_piece_that_goes_under_the_can_says_how_much_of_its_picture_does(theme: Theme) -> None:
    plain, under = QUAY.offers[0], replace(QUAY.offers[0], blank="pouch", base_mm=30.0)
    one = replace(QUAY, offers=(plain, under))
    made = build(season((one,)), theme, with_pdf=False)
    text = made[f"designs/{one.id}.html"].decode()
    assert len(re.findall(r"the last 30\smm lie under the can", text)) == 1
