"""The thing turned on the page: by what, how near to the tool's own pictures, at what weight."""

from __future__ import annotations

import base64
import io
import json
import math
from collections.abc import Callable
from dataclasses import asdict, replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageFilter
from playwright.sync_api import Page, expect
from skimage.color import deltaE_ciede2000, rgb2lab

from proofgen.proof.build import build
from proofgen.proof.content import Picture, picture
from proofgen.render import Theme, carried
from proofgen.store import NoStore
from proofgen.views.hand.camera import COS, SIN
from proofgen.views.hand.maps import map_of
from proofgen.views.hand.picture import printed, strip_of
from proofgen.views.hand.sleeve import frame_of, sleeve_of
from proofgen.views.hand.turntable import turntable_of
from tests.artwork.scenes import laid
from tests.proof.sample import content, on_cloth, scene
from tests.views.test_hand import SLEEVES, finished

browser_only = pytest.mark.browser
Visit = Callable[..., Page]
WIDE = 640
SIDES = (0, 90, 180, 270)


@cache
def seen(construction: str, finish: str, degrees: int, calm: bool = False) -> Image.Image:
    """The tool's own picture of a harbour on a sleeve, turned so far."""
    layout = laid(finished(SLEEVES[construction], finish), {})
    sleeve, ring = sleeve_of(layout), on_cloth(scene(), (230, 235, 240))
    ring = ring.filter(ImageFilter.GaussianBlur(6)) if calm else ring
    frame = frame_of(sleeve, WIDE)
    strip = strip_of(ring, map_of(sleeve, frame, 0.0, NoStore()))
    view = map_of(sleeve, frame, math.radians(degrees), NoStore())
    centre = (layout.plan.front_share + degrees / 360) % 1.0
    return printed(strip, view, centre, layout.cloth_hex, "#ece7dd")


def lossless(image: Image.Image, name: str) -> Picture:
    """Its pixels as they are: what a JPEG loses is no fault of the turning."""
    out = io.BytesIO()
    image.save(out, "PNG")
    shown = picture(name, image, f"The can: {name}.", name)
    return replace(shown, data=out.getvalue(), media_type="image/png")


def page_of(
    folder: Path,
    construction: str = "wrap",
    finish: str = "smooth",
    *,
    calm: bool = False,
    one_file: bool = False,
) -> Path:
    """A proof's page on disk whose first piece turns."""
    layout = laid(finished(SLEEVES[construction], finish), {})
    views = tuple(lossless(seen(construction, finish, d, calm), f"side-{d}") for d in SIDES)
    whole = content()
    work = replace(whole.works[0], views=views, turntable=turntable_of(sleeve_of(layout), WIDE))
    made = build(
        replace(whole, works=(work,)), Theme("quay", "en", "EUR"), one_file=one_file, with_pdf=False
    )
    for name, data in made.items():
        (folder / name).write_bytes(data)
    return folder / "index.html"


def ready(page: Page) -> Page:
    page.evaluate("document.querySelectorAll('img').forEach((i) => { i.loading = 'eager'; })")
    page.evaluate("Promise.all([...document.images].map((i) => i.decode()))")
    return page


def drawn(page: Page, degrees: float) -> Image.Image:
    """What the page's script draws; in a page of one file pixels may be read back."""
    url = page.evaluate(
        """(angle) => {
          const canvas = document.createElement("canvas");
          turntable(facts.rounds[0], all(".stills img"), canvas)(angle);
          return canvas.toDataURL();
        }""",
        math.radians(degrees),
    )
    return Image.open(io.BytesIO(base64.b64decode(url.split(",")[1]))).convert("RGB")


def alike(one: Image.Image, other: Image.Image) -> float:
    """The share of pixels within CIEDE2000 of 2."""
    a, b = (rgb2lab(np.asarray(image) / 255.0) for image in (one, other))
    return float((deltaE_ciede2000(a, b) <= 2).mean())


@browser_only
@pytest.mark.parametrize(
    ("construction", "finish"),
    [("wrap", "linen-look"), ("wrap", "smooth"), ("fold", "foam"), ("sewn", "linen-look")],
)
def test_it_is_the_tool_s_own_picture_at_every_side(
    visit: Visit, tmp_path: Path, construction: str, finish: str
) -> None:
    page = ready(visit(page_of(tmp_path, construction, finish, one_file=True)))
    for degrees in SIDES:
        assert alike(drawn(page, degrees), seen(construction, finish, degrees)) > 0.99


@browser_only
@pytest.mark.parametrize(
    ("construction", "finish"),
    [("wrap", "linen-look"), ("wrap", "smooth"), ("fold", "foam"), ("sewn", "linen-look")],
)
def test_between_two_sides_it_is_nearly_the_tool_s_own_picture(
    visit: Visit, tmp_path: Path, construction: str, finish: str
) -> None:
    """Of a calm picture; sharp edges are softer than the tool's own: see the next."""
    page = ready(visit(page_of(tmp_path, construction, finish, calm=True, one_file=True)))
    least = 0.989 if construction == "fold" else 0.99  # its base turns under the can
    for degrees in (20, 45, 135, 340):
        own = seen(construction, finish, degrees, calm=True)
        assert alike(drawn(page, degrees), own) > least, degrees


@browser_only
def test_of_a_picture_with_sharp_edges_these_alone_are_softer(visit: Visit, tmp_path: Path) -> None:
    page = ready(visit(page_of(tmp_path, "fold", "foam", one_file=True)))
    for degrees in (45, 340):
        assert alike(drawn(page, degrees), seen("fold", "foam", degrees)) > 0.96, degrees


@browser_only
def test_a_finger_turns_it_as_far_as_it_goes(visit: Visit, tmp_path: Path) -> None:
    page = ready(visit(page_of(tmp_path), viewport={"width": 390, "height": 844}))
    stage, canvas, label = (page.locator(f".stage {s}") for s in ("img", "canvas", ".stage-label"))
    expect(canvas).to_be_hidden()
    place = stage.bounding_box()
    assert place
    x, y = place["x"] + place["width"] / 2, place["y"] + place["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 30, y)
    assert canvas.bounding_box() == pytest.approx(place)
    assert label.inner_text() == "side-0"
    before = canvas.screenshot()
    page.mouse.move(x - 120, y)  # the radius is about 136 px wide: 50 degrees
    assert label.inner_text() == "side-90"
    assert canvas.screenshot() != before
    page.mouse.up()
    page.wait_for_timeout(300)
    expect(canvas).to_be_visible()  # it stays as it was let go, and turns by nothing
    page.focus(".stage")
    page.keyboard.press("ArrowRight")
    assert label.inner_text() == "side-90"
    expect(canvas).to_be_hidden()
    assert stage.get_attribute("alt") == "The can: side-90."


@browser_only
def test_keys_and_buttons_turn_it_smoothly_to_the_next_side(visit: Visit, tmp_path: Path) -> None:
    page = ready(visit(page_of(tmp_path, "sewn")))
    page.focus(".stage")
    page.keyboard.press("ArrowLeft")
    assert page.inner_text(".stage-label") == "side-270"
    expect(page.locator(".stage canvas")).to_be_visible()
    place = page.locator(".turn-on").bounding_box()
    page.click(".turn-on")
    page.evaluate("document.querySelector('.stage-label').textContent = 'Back, where it closes'")
    assert page.locator(".turn-on").bounding_box() == place, "it stays under the thumb"
    page.click(".turn-on")
    assert page.inner_text(".stage-label") == "side-90"
    expect(page.locator(".stage canvas")).to_be_hidden()
    shifted = page.evaluate(
        """() => new Promise((told) => {
          const whole = (seen) => seen.getEntries().reduce((sum, e) => sum + e.value, 0);
          new PerformanceObserver((seen) => told(whole(seen)))
            .observe({ type: "layout-shift", buffered: true });
          setTimeout(() => told(0), 300);
        })"""
    )
    assert shifted <= 0.02


@browser_only
def test_who_wants_no_motion_sees_none(visit: Visit, tmp_path: Path) -> None:
    page = ready(visit(page_of(tmp_path), reduced_motion="reduce"))
    page.evaluate(
        """() => {
          const canvas = document.querySelector(".stage canvas");
          window.moved = 0;
          new MutationObserver(() => { window.moved += canvas.hidden ? 0 : 1; })
            .observe(canvas, { attributeFilter: ["hidden"] });
        }"""
    )
    page.click(".turn-on")
    assert page.inner_text(".stage-label") == "side-90"
    page.wait_for_timeout(200)
    assert page.evaluate("window.moved") == 0


def test_the_numbers_are_those_of_the_camera() -> None:
    sleeve = sleeve_of(laid(SLEEVES["sewn"], {}))
    frame, told = frame_of(sleeve, WIDE), turntable_of(sleeve, WIDE)
    assert (told.width, told.height) == (frame.width_px, frame.height_px)
    assert told.middle == pytest.approx(WIDE / 2)
    assert told.radius == pytest.approx(sleeve.radius * frame.per_mm, abs=0.01)
    assert told.fin == pytest.approx(sleeve.fin * frame.per_mm, abs=0.01)
    assert told.bead == pytest.approx(sleeve.bead * frame.per_mm, abs=0.01)
    half = len(told.top) // 2
    straight = (sleeve.radius * SIN - sleeve.top * COS - frame.top) * frame.per_mm
    assert told.top[half] == pytest.approx(straight, abs=0.06)
    assert told.top[0] == pytest.approx((-sleeve.top * COS - frame.top) * frame.per_mm, abs=0.06)
    assert told.light[half] == 1 and told.light[-1] < told.light[0] < 1  # lit from the left
    assert turntable_of(sleeve_of(laid(SLEEVES["wrap"], {})), WIDE).fin == 0


def test_turning_adds_little_to_a_page() -> None:
    told = json.dumps(asdict(turntable_of(sleeve_of(laid(SLEEVES["fold"], {})), WIDE)))
    script = (carried("themes") / "base" / "turntable.js").read_bytes()
    assert len(told) + len(script) < 16_000
