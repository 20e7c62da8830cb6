"""A customer's own photo on the pieces of a design's page: what is seen, told, asked and kept."""

from __future__ import annotations

import functools
import io
import math
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pillow_heif
import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect
from skimage.color import deltaE_ciede2000, rgb2lab

from proofgen.artwork.layout import lay_out
from proofgen.artwork.painting import paint
from proofgen.artwork.placing import Filling
from proofgen.catalogue.pages import TRY_PHOTO
from proofgen.geometry import cover_crop
from proofgen.model import Layout, PhotoUse, PlacedPhoto
from proofgen.pipeline.seasons import sample_layout
from proofgen.render import carried
from proofgen.views.inround import round_views, shared_width
from proofgen.workshop import Workshop
from tests.catalogue.fitted import (
    at_rest,
    choose,
    hosted,
    listen,
    publish,
    seen_on,
    settled,
    shop_of,
    tried,
    write_shop,
)
from tests.page_checkers import axe_faults, nu_faults
from tests.real_photos import real_photo

pillow_heif.register_heif_opener()
pytestmark = pytest.mark.browser
PHOTO = "dragonfly.jpg"  # 4224 x 3168, a JPEG as a camera made it
# Of the pixels of a picture, those within CIEDE2000 of 3; what differs more are edges, which a
# browser draws a little softer or sharper than the workroom.
ALIKE = 0.95


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workshop]:
    with shop_of(write_shop(tmp_path_factory.mktemp("fitted"))) as opened:
        publish(opened)
        yield opened


Open = Callable[..., Page]


@pytest.fixture
def visit(browser: Browser, workshop: Workshop) -> Iterator[Open]:
    """Open a design's page from the disk, or from a host; a fault of the page fails the test."""
    opened, wrong = [], []
    with hosted(workshop.site) as host:

        def go(design: str, *, on_host: bool = False, **options: Any) -> Page:
            context = browser.new_context(**{"viewport": {"width": 1280, "height": 900}, **options})
            opened.append(context)
            page = context.new_page()
            page.on("pageerror", lambda error: wrong.append(str(error)))
            page.on(
                "console", lambda said: wrong.append(said.text) if said.type == "error" else None
            )
            listen(page)
            where = host if on_host else workshop.site.as_uri()
            page.goto(f"{where}/designs/{design}.html")
            return page

        yield go
        for context in opened:
            context.close()
    assert wrong == []


def told(page: Page) -> dict[str, Any]:
    last = tried(page)
    assert last
    return last


def pick(page: Page, blank: str, cloth: str) -> None:
    """As the order's form does."""
    page.evaluate(
        """([blank, cloth]) => document.dispatchEvent(
             new CustomEvent('piece-chosen', { detail: { blank, cloth } }))""",
        [blank, cloth],
    )
    page.wait_for_timeout(1200)


def set_slider(page: Page, name: str, value: float) -> None:
    page.evaluate(
        """([name, value]) => { const it = document.querySelector(name);
             it.value = value; it.dispatchEvent(new Event('input', { bubbles: true })); }""",
        [name, value],
    )
    page.wait_for_timeout(700)


def ordered(
    workshop: Workshop, design: str, blank: str, cloth: str, photos: dict[str, PhotoUse]
) -> Layout:
    """The piece as an order has it."""
    found = workshop.shop.designs[design]
    return lay_out(
        found,
        workshop.shop.blanks[blank],
        Filling(photos=photos, words=found.sample_words, least_letter_mm=3),
        cloth=cloth,
        materials=workshop.materials,
        place=found.place,
    )


def use_of(detail: dict[str, Any]) -> PhotoUse:
    """What order.yaml says of the photo that was tried."""
    x, y = detail["focus"]
    return PhotoUse(file=real_photo(PHOTO), focus=(x, y), zoom=detail["zoom"], turn=detail["turn"])


def tool_views(workshop: Workshop, layout: Layout, design: str) -> list[Image.Image]:
    """The workroom's own pictures of it: all four sides as the page turns them, or the one."""
    found = workshop.shop.designs[design]
    samples = [sample_layout(workshop, found, workshop.shop.blanks[b]) for b in found.offered]
    own = next(one for one in samples if one.blank.id == layout.blank.id)
    views = round_views(
        paint(layout, 300, workshop.materials),
        640,
        background=workshop.theme.look.plates[0],
        width_mm=shared_width(own, samples),
        store=workshop.store,
    )
    kinds = {view.kind: view.image for view in views}
    return [kinds[k] for k in ("front", "right", "closure", "back", "left") if k in kinds]


def alike(one: Image.Image, other: Image.Image, within: float = 3.0) -> float:
    a, b = (rgb2lab(np.asarray(image) / 255.0) for image in (one, other))
    return float((deltaE_ciede2000(a, b) <= within).mean())


@pytest.mark.parametrize(
    ("blank", "cloth"), [("my-wrap", "white"), ("can-fold", "sky"), ("can-sewn-linen", "natural")]
)
def test_the_page_draws_what_the_workroom_draws(
    visit: Open, workshop: Workshop, blank: str, cloth: str
) -> None:
    page = visit("round", on_host=True)
    choose(page, real_photo(PHOTO))
    pick(page, blank, cloth)
    set_slider(page, ".fit-zoom", 1.3)
    set_slider(page, ".fit-down", 0.3)
    layout = ordered(workshop, "round", blank, cloth, {"photo": use_of(told(page))})
    for side in tool_views(workshop, layout, "round"):
        at_rest(page)
        assert alike(seen_on(page), side) > ALIKE
        page.click(".turn-on")


@pytest.mark.parametrize("blank", ["coaster-round", "can-fold"])
def test_two_photos_lie_where_the_design_has_them(
    visit: Open, workshop: Workshop, blank: str
) -> None:
    page = visit("front", on_host=True)
    photos = {}
    for slot, down in (("large", 0.2), ("small", 0.9)):
        page.select_option(".fit-slot select", slot)
        choose(page, real_photo(PHOTO))
        set_slider(page, ".fit-across", down)
        assert told(page)["slot"] == slot
        photos[slot] = use_of(told(page))
    pick(page, blank, "white")
    layout = ordered(workshop, "front", blank, "white", photos)
    assert alike(seen_on(page), tool_views(workshop, layout, "front")[0]) > ALIKE


def test_what_was_dragged_is_the_crop_that_is_pressed(visit: Open, workshop: Workshop) -> None:
    page = visit("round")
    choose(page, real_photo(PHOTO))
    set_slider(page, ".fit-zoom", 2)
    crop = page.locator(".fit-crop")
    crop.scroll_into_view_if_needed()
    box = crop.bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 37, y + 21, steps=5)
    page.mouse.up()
    page.wait_for_timeout(400)
    detail = told(page)
    assert (detail["width"], detail["height"], detail["zoom"]) == (4224, 3168, 2)
    layout = ordered(workshop, "round", "my-wrap", "white", {"photo": use_of(detail)})
    (placed,) = (p for p in layout.layers if isinstance(p, PlacedPhoto))
    assert placed.crop and placed.photo
    # Where the middle's crop lay, moved by as many of the photo's pixels as the pointer went.
    canvas = layout.plan.canvases[placed.face]
    before = cover_crop(
        placed.photo.size_px, placed.rect.size, (0.5, 0.5), 2, canvas.aim_in(placed.rect)
    )
    shown = 4224 / box["width"]
    middle_x, middle_y = (4224 - before.width) / 2, (3168 - before.height) / 2
    # Zoomed about the middle of what showed.
    assert placed.crop.x == pytest.approx(middle_x - 37 * shown, abs=1)
    assert placed.crop.y == pytest.approx(middle_y + 21 * shown, abs=1)
    assert page.text_content(".fit-ppi") == str(math.floor(placed.ppi or 0))
    wide, high = (f"{math.floor(v):,}" for v in (placed.crop.width, placed.crop.height))
    assert page.text_content(".fit-used") == f"{wide} × {high}"


def test_a_finger_turns_the_piece_with_the_photo_on_it(visit: Open, workshop: Workshop) -> None:
    page = visit("round", on_host=True)
    choose(page, real_photo(PHOTO))
    at_rest(page)
    page.locator(".fit-stage canvas").scroll_into_view_if_needed()
    box = page.locator(".fit-stage canvas").bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    front = seen_on(page)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - box["width"] / 4, y, steps=6)
    at_rest(page)
    between = seen_on(page)
    assert between.size == front.size and alike(front, between) < 0.8
    page.mouse.up()
    page.click(".turn-on")
    at_rest(page)
    expect(page.locator(".fit-side-name")).to_have_text("Right side")
    layout = ordered(workshop, "round", "my-wrap", "white", {"photo": use_of(told(page))})
    assert alike(seen_on(page), tool_views(workshop, layout, "round")[1]) > ALIKE


def test_keys_alone_do_all(visit: Open) -> None:
    page = visit("round")
    choose(page, real_photo(PHOTO))
    page.focus(".fit-zoom")
    for _ in range(30):
        page.keyboard.press("ArrowRight")
    page.wait_for_timeout(300)
    assert told(page)["zoom"] == pytest.approx(1.3)
    before = told(page)["focus"]
    page.focus(".fit-across")
    page.keyboard.press("Home")
    page.wait_for_timeout(300)
    assert told(page)["focus"][0] < before[0] and told(page)["focus"][1] == before[1]
    page.focus(".turn-on")
    page.keyboard.press("Enter")
    expect(page.locator(".fit-side-name")).to_have_text("Right side")
    page.focus(".fit-turn")
    page.keyboard.press("Enter")
    page.wait_for_timeout(300)
    assert told(page)["turn"] == 90 and (told(page)["width"], told(page)["height"]) == (4224, 3168)
    page.focus(".fit-away")
    page.keyboard.press("Enter")
    page.wait_for_timeout(300)
    assert tried(page) is None
    expect(page.locator(".fit-board")).to_be_hidden()
    assert page.evaluate("document.activeElement.id") == "fit-file"


def test_a_turned_photo_is_turned_as_the_order_turns_it(visit: Open, workshop: Workshop) -> None:
    page = visit("round", on_host=True)
    choose(page, real_photo(PHOTO))
    page.click(".fit-turn")
    page.wait_for_timeout(900)
    layout = ordered(workshop, "round", "my-wrap", "white", {"photo": use_of(told(page))})
    assert alike(seen_on(page), tool_views(workshop, layout, "round")[0]) > ALIKE


def test_a_photos_place_outlives_a_reload(visit: Open) -> None:
    """What was typed was kept, and where the photo lay was lost."""
    page = visit("round", on_host=True)
    choose(page, real_photo(PHOTO))
    set_slider(page, ".fit-zoom", 1.7)
    set_slider(page, ".fit-across", 0.8)
    page.click(".fit-turn")
    page.wait_for_timeout(600)
    before, looked = told(page), seen_on(page)
    page.reload()
    page.wait_for_timeout(600)
    assert page.inner_text(".fit-again span") == (
        f"Choose your photo again ({PHOTO}): its place is kept."
    )
    for part in (".fit-stage", ".fit-verdict", ".fit-picks"):
        expect(page.locator(part)).to_be_hidden()
    assert told(page) == before and PHOTO in page.inner_text("#order-photo")
    choose(page, payload("letter.jpg", b"Dear all, " * 40))
    expect(page.locator(".fit-again")).to_be_visible()
    page.set_input_files("#fit-file", real_photo(PHOTO))
    expect(page.locator(".fit-stage")).to_be_visible(timeout=20_000)
    page.wait_for_timeout(900)
    expect(page.locator(".fit-again")).to_be_hidden()
    assert told(page) == before
    assert alike(seen_on(page), looked) > ALIKE
    page.reload()
    choose(page, payload("another.jpg", plain(size=(2400, 1100))))
    assert told(page)["focus"] == [0.5, 0.5] and told(page)["zoom"] == 1


def test_a_kept_place_can_be_forgotten(visit: Open) -> None:
    page = visit("round", on_host=True)
    for way in (".fit-forget", "#order-forget"):
        page.fill("#order-name", "Odalys")
        choose(page, payload("small.jpg", plain()))
        assert told(page)["verdict"] == "coarse"
        assert "small.jpg" in page.inner_text("#order-coarse")
        page.reload()
        expect(page.locator(".fit-again")).to_be_visible()
        page.click(way)
        expect(page.locator(".fit-again")).to_be_hidden()
        expect(page.locator(".fit-board")).to_be_hidden()
        assert tried(page) is None and "small.jpg" not in page.inner_text("#order-photo")
        assert page.inner_text("#order-coarse") == ""
        assert page.evaluate("localStorage.getItem('photo-place/round')") is None
    assert page.evaluate("Object.keys(localStorage)") == []


def test_what_another_hand_wrote_as_a_place_is_none(visit: Open) -> None:
    page = visit("round", on_host=True)
    for kept in ("[]", "{", '{"photo":1}', '{"photo":{"width":-1}}', '{"no":{"width":4}}', "7"):
        page.evaluate("(kept) => localStorage.setItem('photo-place/round', kept)", kept)
        page.reload()
        page.wait_for_timeout(200)
        expect(page.locator(".fit-board")).to_be_hidden()


def test_beside_the_piece_it_says_that_its_words_are_samples(visit: Open) -> None:
    """It stood at the foot of all, and the customer’s own words had been typed below."""
    page = visit("round")
    choose(page, real_photo(PHOTO))
    said = page.inner_text(".fit-stage figcaption")
    assert "Sample words: yours come with the proof." in said
    page = visit("front")
    choose(page, real_photo(PHOTO))
    assert "Sample words" not in page.inner_text("#try")


def test_nothing_is_asked_of_a_network_and_only_the_place_is_kept(
    visit: Open, workshop: Workshop
) -> None:
    asked: list[str] = []
    page = visit("round", on_host=True)
    page.on("request", lambda request: asked.append(request.url))
    page.on("request", lambda request: asked.append("sent") if request.post_data else None)
    choose(page, real_photo(PHOTO))
    set_slider(page, ".fit-zoom", 2)
    page.click(".turn-on")
    page.wait_for_timeout(800)
    own = page.url.rsplit("/designs/", 1)[0]
    assert asked and all(url.startswith(f"{own}/pictures/") for url in asked)
    assert {url.split("?")[0] for url in asked} == set(asked), "no address carries anything"
    kept = page.evaluate(
        """async () => [localStorage.length, sessionStorage.length, document.cookie,
             (await indexedDB.databases()).length, (await caches.keys()).length]"""
    )
    assert kept == [1, 0, "", 0, 0]
    place = page.evaluate("JSON.parse(localStorage.getItem('photo-place/round'))")
    assert {*place["photo"]} == {"name", "width", "height", "focus", "zoom", "turn"}
    policy = page.get_attribute("meta[http-equiv]", "content") or ""
    assert "default-src 'none'" in policy
    assert "blob:" not in policy and "'unsafe" not in policy


def test_a_page_that_nobody_tries_loads_nothing_more(visit: Open) -> None:
    page = visit("round", on_host=True)
    page.wait_for_timeout(800)
    loaded = page.evaluate("performance.getEntriesByType('resource').map((it) => it.name)")
    own = page.evaluate("JSON.parse(document.querySelector('#try-facts').textContent).offers")
    sheets = {name for offer in own for sheet in offer["sheets"] for name in sheet["pictures"]}
    lights = {view["planes"] for offer in own for view in offer["views"]}
    assert len(lights) > 4 and sheets
    assert not [url for url in loaded if url.endswith(tuple(sheets | lights))]
    scripts = [(carried("themes") / "base" / f"{name}.js").stat().st_size for name in TRY_PHOTO]
    assert sum(scripts) < 60_000


def payload(name: str, content: bytes) -> dict[str, object]:
    return {"name": name, "mimeType": "image/jpeg", "buffer": content}


@functools.cache
def plain(kind: str = "JPEG", size: tuple[int, int] = (300, 200), **how: Any) -> bytes:
    out = io.BytesIO()
    image = Image.effect_mandelbrot(size, (-2, -1, 1, 1), 20).convert("RGB")
    image.save(out, kind, **how)  # in memory
    return out.getvalue()


def test_a_file_that_cannot_be_shown_is_told_plainly(visit: Open) -> None:
    page = visit("round")
    for name, content, said in (
        ("cut.jpg", plain()[:40], "damaged"),
        ("empty.png", b"", "no picture of a kind"),
        ("letter.jpg", b"Dear all, " * 40, "no picture of a kind"),
    ):
        choose(page, payload(name, content))
        assert said in page.inner_text(".fit-says")
        expect(page.locator(".fit-board")).to_be_hidden()
        assert page.evaluate("tried.length") == 0
    choose(page, real_photo("pug.heic"))  # Chromium shows none
    assert "cannot show a picture of this kind (HEIC)" in page.inner_text(".fit-says")
    assert page.inner_text(".fit-sentence") == "Your photo has enough pixels for this piece."
    expect(page.locator(".fit-stage")).to_be_hidden()
    detail = told(page)
    assert (detail["name"], detail["width"], detail["height"]) == ("pug.heic", 4032, 3024)
    choose(page, payload("mine.heic", plain("HEIF", (1600, 1000), quality=60)))
    assert page.inner_text(".fit-says") == (
        "Your browser cannot show a picture of this kind (HEIC). "
        "Send it to us all the same: we can open it."
    )
    assert (told(page)["width"], told(page)["height"]) == (1600, 1000)
    assert "mine.heic" in page.inner_text("#order-photo")
    choose(page, payload("small.jpg", plain()))
    assert page.inner_text(".fit-says") == ""
    expect(page.locator(".fit-stage")).to_be_visible()
    assert page.inner_text(".fit-sentence") == (
        "Too few pixels for this size: it would look coarse. "
        "If it is a copy, send us the original as the camera made it."
    )


def test_zoomed_too_far_it_says_what_helps(visit: Open) -> None:
    page = visit("round")
    choose(page, payload("enough.jpg", plain(size=(2400, 1100))))
    assert "enough pixels" in page.inner_text(".fit-sentence")
    set_slider(page, ".fit-zoom", 1.5)
    assert page.inner_text(".fit-sentence") == (
        "Few pixels for this size: it will look a little soft. Zoom out, or send a larger photo."
    )
    set_slider(page, ".fit-zoom", 4)
    assert page.inner_text(".fit-sentence") == (
        "Too few pixels for this size: it would look coarse. Zoom out, or send a larger photo."
    )
    expect(page.locator(".fit-ppi")).to_be_hidden()
    page.click(".fit-more summary")
    expect(page.locator(".fit-ppi")).to_be_visible()


def test_a_slider_that_cannot_move_says_why(visit: Open) -> None:
    page = visit("round")
    choose(page, real_photo(PHOTO))
    expect(page.locator(".fit-across")).to_be_disabled()
    width = "The whole width is used; zoom in to move it sideways."
    assert page.inner_text(".fit-whole") == width
    set_slider(page, ".fit-zoom", 1.2)
    expect(page.locator(".fit-across")).to_be_enabled()
    assert page.inner_text(".fit-whole") == ""
    choose(page, payload("strip.jpg", plain(size=(2400, 300))))
    assert page.inner_text(".fit-whole") == (
        "The whole height is used; zoom in to move it up and down."
    )


def test_beside_its_colour_a_cloth_says_what_it_makes_of_a_photo(visit: Open) -> None:
    """Faces turned red on coral, and nothing had said so."""
    page = visit("round")
    choose(page, real_photo(PHOTO))
    said = {}
    for cloth in ("white", "natural", "sky", "coral"):
        pick(page, "can-sewn-linen", cloth)
        said[cloth] = page.inner_text(".fit-does")
    told = "The ink is see-through: on this cloth the light parts of a photo turn {}."
    assert said == {
        "white": "",
        "natural": "",
        "sky": told.format("blue"),
        "coral": told.format("red"),
    }


def test_an_upright_photo_stands_and_a_wide_gamut_is_srgb(visit: Open) -> None:
    exif = Image.Exif()
    exif[0x112] = 6
    red_above = Image.new("RGB", (600, 400), "#2040c0")
    red_above.paste("#d02020", (0, 0, 300, 400))  # left as stored: above once it is upright
    out = io.BytesIO()
    red_above.save(out, "JPEG", exif=exif, quality=95)  # in memory
    page = visit("round", on_host=True)
    choose(page, payload("tall.jpg", out.getvalue()))
    assert (told(page)["width"], told(page)["height"]) == (400, 600)
    shown = seen_on(page, ".fit-crop")
    assert shown.width < shown.height
    red, blue = (shown.getpixel((shown.width // 2, shown.height * k // 8)) for k in (1, 7))
    assert isinstance(red, tuple) and isinstance(blue, tuple)
    assert red[0] > 2 * red[2] and blue[2] > 2 * blue[0]
    choose(page, real_photo("adobe-rgb.jpg"))
    assert told(page)["name"] == "adobe-rgb.jpg"


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 1280])
def test_checkers_find_nothing(
    visit: Open, workshop: Workshop, tmp_path: Path, scheme: str, width: int
) -> None:
    page = visit(
        "front",
        viewport={"width": width, "height": 800},
        color_scheme=scheme,
        bypass_csp=True,
    )
    assert axe_faults(page) == []
    choose(page, real_photo(PHOTO))
    assert axe_faults(page) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    if (scheme, width) == ("light", 1280):
        assert nu_faults([workshop.site / "designs/front.html"], tmp_path) == []


def test_two_fingers_zoom_and_one_moves(visit: Open) -> None:
    page = visit("round", viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    choose(page, real_photo(PHOTO))
    page.locator(".fit-crop").scroll_into_view_if_needed()
    page.evaluate(
        """() => {
          const crop = document.querySelector('.fit-crop');
          crop.setPointerCapture = () => {};
          const box = crop.getBoundingClientRect();
          const point = (id, name, x) => crop.dispatchEvent(new PointerEvent('pointer' + name,
            { pointerId: id, clientX: box.x + x, clientY: box.y + 60, bubbles: true }));
          point(1, 'down', 100); point(2, 'down', 140);
          point(1, 'move', 80); point(2, 'move', 160);
          point(1, 'up', 80); point(2, 'up', 160);
        }"""
    )
    page.wait_for_timeout(400)
    assert told(page)["zoom"] == pytest.approx(2)


@pytest.mark.parametrize("high", [568, 844])
def test_on_a_phone_no_slider_lies_under_the_piece(visit: Open, high: int) -> None:
    page = visit("round", viewport={"width": 390, "height": high}, has_touch=True, is_mobile=True)
    choose(page, real_photo(PHOTO))
    for slider in page.locator(".fit-sliders input:not(:disabled)").all():
        page.evaluate("scrollTo(0, document.body.scrollHeight)")
        slider.scroll_into_view_if_needed()
        slider.evaluate("it => it.scrollIntoView({block: 'nearest'})")
        stage, box = page.locator(".fit-stage").bounding_box(), slider.bounding_box()
        assert stage and box and box["y"] >= stage["y"] + stage["height"]
        assert box["y"] + box["height"] <= high


def test_on_a_phone_all_of_the_picture_and_its_sliders_lie_below_the_piece(visit: Open) -> None:
    """The piece covered half of the picture, and that was half as wide as the screen."""
    page = visit("round", viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    choose(page, real_photo(PHOTO))
    page.locator(".fit-frame").evaluate("it => it.scrollIntoView()")
    column = page.locator(".fit-cut").bounding_box()
    stage, crop = (page.locator(it).bounding_box() for it in (".fit-stage", ".fit-crop"))
    assert column and stage and crop
    assert crop["width"] == pytest.approx(column["width"], abs=1)
    assert crop["y"] >= stage["y"] + stage["height"]
    for slider in page.locator(".fit-sliders input").all():
        box = slider.bounding_box()
        assert box and box["height"] >= 44 and box["y"] + box["height"] <= 844


def test_a_newly_chosen_photo_starts_at_the_front(visit: Open) -> None:
    """A second one was opened on the side where the first had been left."""
    page = visit("round")
    choose(page, real_photo(PHOTO))
    page.click(".turn-on")
    expect(page.locator(".fit-side-name")).to_have_text("Right side")
    page.click(".turn-on")
    choose(page, payload("small.jpg", plain()))  # while it turns
    expect(page.locator(".fit-side-name")).to_have_text("Front")


def test_a_file_is_dropped(visit: Open) -> None:
    page = visit("round")
    page.evaluate(
        """(bytes) => {
          const data = new DataTransfer();
          data.items.add(new File([new Uint8Array(bytes)], "drop.jpg", { type: "image/jpeg" }));
          document.querySelector('#try').dispatchEvent(
            new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
        }""",
        list(plain()),
    )
    settled(page, 0)
    assert told(page)["name"] == "drop.jpg"


def test_without_script_it_is_not_there(visit: Open) -> None:
    page = visit("round", java_script_enabled=False)
    expect(page.locator("#try")).to_be_hidden()
