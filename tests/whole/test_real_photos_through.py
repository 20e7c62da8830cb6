"""Photographs as cameras and programs make them, from the order to the press, in one shop."""

from __future__ import annotations

import hashlib
import io
import json
import re
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pillow_heif
import pytest
from PIL import Image, ImageCms

from tests.real_photos import PHOTOS, real_photo
from tests.slips import code_on
from tests.whole import papers
from tests.whole import reckoning as sums
from tests.whole.running import copy_of_demo, inside, page_of, state_of

pytestmark = [pytest.mark.whole, pytest.mark.photos]

PPI = 100
LARGE = ("pug.heic", "seeding.jpg", "adobe-rgb.jpg", "cmyk.jpg")
TURNED = "hopper-all-ways"
BLANK, WIDE, HIGH = "real-patch", 150.0, 110.0
EDGE = 5.0  # bleed, mm

DESIGN = f"""---
title: Nothing but the photo
occasions: [gift]
offered: {{{BLANK}: 9.00}}
faces:
  front:
    - photo: {{slot: photo, at: fill}}
---
Invented.
"""
PATCH = f"""name: Patch
construction: flat
shape: rectangle
width: {WIDE} mm
height: {HIGH} mm
thickness: 1 mm
bleed: {EDGE} mm
safe: 4 mm
cloth: {{finish: smooth, polyester: 100 %, colours: {{white: "#ffffff"}}}}
press: {{heat: 196 C, time: 55 s, pressure: medium, from: trial}}
"""


def order_of(name: str) -> str:
    return name.replace(".", "-")


@dataclass(frozen=True, slots=True)
class Shop:
    folder: Path
    findings: dict[str, list[dict[str, Any]]]
    press: dict[str, Any]

    def rasters(self, order: str) -> dict[str, np.ndarray]:
        """The kept pictures of an order by their names."""
        return {name: raster for name, (_, raster) in self.kept(order).items()}

    def kept(self, order: str) -> dict[str, tuple[str, np.ndarray]]:
        """The same with their files; pictures alike share one."""
        home = self.folder / "records" / order
        (head,) = home.glob("edition-1-*.json")
        kept = {hashlib.sha256(p.read_bytes()).hexdigest(): p for p in (home / "rasters").iterdir()}
        found = {}
        for name, digests in json.loads(head.read_text("utf-8"))["rasters"].items():
            with Image.open(kept[digests["file"]]) as picture:
                file = kept[digests["file"]].relative_to(self.folder).as_posix()
                found[name] = file, np.asarray(picture.convert("RGB"))
        return found


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """One shop with an order for each large photo, and one whose eight lines are one portrait."""
    photos = {name: real_photo(name) for name in LARGE}
    hoppers = [real_photo(f"hopper-{turn}.jpg") for turn in range(1, 9)]
    folder = copy_of_demo(tmp_path_factory.mktemp("real") / "shop")
    settings = (folder / "shop.yaml").read_text("utf-8")
    settings = re.sub(r"^printer:.*$", f"printer: {{ppi: {PPI}}}", settings, flags=re.MULTILINE)
    (folder / "shop.yaml").write_text(settings, "utf-8")
    (folder / "designs" / "bare").mkdir()
    (folder / "designs" / "bare" / "design.md").write_text(DESIGN, "utf-8")
    (folder / "blanks" / f"{BLANK}.yaml").write_text(PATCH, "utf-8")
    for name, path in photos.items():
        inside(
            folder, "order", "--customer", "Iñigo Ås", "--due", "2026-12-18", "--design", "bare",
            "--blank", BLANK, "--cloth", "white", "--quantity", "1", "--photo", str(path),
            "--name", order_of(name),
        )  # fmt: skip
        # Where the crop lies is not what is asked here.
        order = folder / "orders" / order_of(name) / "order.yaml"
        text, times = re.subn(
            r'(\{file: "[^"]+")\}', r"\1, focus: [0.5, 0.5]}", order.read_text("utf-8")
        )
        assert times == 1, text
        order.write_text(text, "utf-8")
    eight_ways(folder, hoppers)
    return through(folder, [*map(order_of, LARGE), TURNED])


def eight_ways(folder: Path, hoppers: list[Path]) -> None:
    order = folder / "orders" / TURNED
    (order / "photos").mkdir(parents=True)
    lines = []
    for path in hoppers:
        (order / "photos" / path.name).write_bytes(path.read_bytes())
        lines.append(
            f"  - design: bare\n    blank: {BLANK}\n    cloth: white\n    quantity: 1\n"
            f"    photos: {{photo: {{file: photos/{path.name}, focus: [0.5, 0.5]}}}}\n"
        )
    (order / "order.yaml").write_text(
        "customer: {name: Iñigo Ås, email: any@any.example}\ndue: 2026-12-18\nlines:\n"
        + "".join(lines),
        "utf-8",
    )


def through(folder: Path, names: list[str]) -> Shop:
    """Check, accept what is coarse, build, answer each by its code, press all."""
    checked = inside(folder, "check", "--json", exits=1).document
    findings = {row["order"]: row["findings"] for row in checked["orders"]}
    assert sorted(findings) == sorted(names)
    for name, found in findings.items():
        for finding in found:
            if finding["status"] in ("stop", "broken"):
                assert (name, finding["code"]) == (TURNED, "too-coarse"), finding
                inside(folder, "check", name, "--accept", finding["key"], "--because", "wanted so")
    inside(folder, "build")
    for name in names:
        code = code_on(page_of(folder, name), "ok")
        inside(folder, "answer", "-", typed=code)
        assert state_of(folder, name)["state"] == "signed"
    return Shop(folder, findings, inside(folder, "press", "--json").document)


def test_all_of_them_are_on_the_sheets(shop: Shop, tmp_path: Path) -> None:
    wanted: dict[tuple[str, str], list[np.ndarray]] = defaultdict(list)
    for order in [*map(order_of, LARGE), TURNED]:
        for file, raster in shop.kept(order).values():
            wanted[order, file].append(raster)
    assert sum(map(len, wanted.values())) == len(LARGE) + 8
    for sheet in shop.press["sheets"]:
        file = shop.folder / sheet["file"]
        found = {one.pixels.tobytes() for one in papers.pictures_on(file, tmp_path, sheet["page"])}
        for piece in sheet["pieces"]:
            flat = wanted[piece["order"], piece["raster"]].pop()[:, ::-1]
            flat = np.rot90(flat, -1) if piece["turned"] else flat
            assert np.ascontiguousarray(flat).tobytes() in found
    assert not any(wanted.values())


@pytest.mark.parametrize("name", [*LARGE, *(f"hopper-{turn}.jpg" for turn in range(1, 9))])
def test_upright_size(shop: Shop, name: str) -> None:
    photo = PHOTOS[name]
    path = real_photo(name)
    told = inside(shop.folder, "look", str(path), "--blank", BLANK, "--json", exits=None).document
    assert (told["photo"]["width_px"], told["photo"]["height_px"]) == (photo.width, photo.height)
    slot = (WIDE + 2 * EDGE, HIGH + 2 * EDGE)
    part = sums.crop((photo.width, photo.height), slot, (0.5, 0.5), 1, (0, 0))
    (fit,) = told["fits"]
    assert fit["ppi"] == pytest.approx(sums.ppi_of(part, slot), rel=1e-6)


def in_srgb(name: str, *, heed: bool = True) -> np.ndarray:
    """All pixels of a photo in sRGB, by its embedded profile if it has one (and we heed it)."""
    if name.endswith(".heic"):
        shot = pillow_heif.open_heif(real_photo(name))
        assert shot.data is not None
        picture = Image.frombytes(shot.mode, shot.size, shot.data, "raw", shot.mode, shot.stride)
        profile = shot.info["icc_profile"]
    else:
        with Image.open(real_photo(name)) as opened:
            picture, profile = opened.convert("RGB"), opened.info.get("icc_profile")
    if profile and heed:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        # Relative colorimetric (ICC.1:2022, 6.4).
        intent = ImageCms.Intent.RELATIVE_COLORIMETRIC
        target = ImageCms.createProfile("sRGB")
        done = ImageCms.profileToProfile(picture, source, target, intent, outputMode="RGB")
        assert done is not None
        picture = done
    return np.asarray(picture)


def blocks(picture: np.ndarray) -> np.ndarray:
    """Mean colours of 12 by 8 parts."""
    bands = picture[..., None] if picture.ndim == 2 else picture
    small = [
        Image.fromarray(bands[..., band].astype(np.float32)).resize((12, 8), Image.Resampling.BOX)
        for band in range(bands.shape[2])
    ]
    return np.stack([np.asarray(band) for band in small], axis=2)


@pytest.mark.parametrize("name", LARGE[:3])
def test_colours_and_crop_of_the_large_ones(shop: Shop, name: str) -> None:
    """Against a conversion and a crop done here, in 96 parts of the picture."""
    whole = in_srgb(name)
    slot = (WIDE + 2 * EDGE, HIGH + 2 * EDGE)
    middle = (slot[0] / 2, slot[1] / 2)
    x, y, w, h = sums.crop((whole.shape[1], whole.shape[0]), slot, (0.5, 0.5), 1, middle)
    part = whole[round(y) : round(y + h), round(x) : round(x + w)]
    (raster,) = shop.rasters(order_of(name)).values()
    assert raster.shape[1::-1] == tuple(sums.raster_px(side, PPI) for side in slot)
    off = np.abs(blocks(part) - blocks(raster))
    assert off.max() < 2.5
    assert off.mean() < 0.45
    if name != "seeding.jpg":  # which has no profile
        raw = in_srgb(name, heed=False)[round(y) : round(y + h), round(x) : round(x + w)]
        assert np.abs(blocks(raw) - blocks(raster)).mean() > 2.5 * off.mean()
    assert np.abs(blocks(part[:, ::-1]) - blocks(raster)).mean() > 5  # a mirror would show


def test_inks_are_not_negative(shop: Shop) -> None:
    """Adobe writes CMYK JPEGs the other way round (a marker says so); light stays light."""
    with Image.open(real_photo("cmyk.jpg")) as opened:
        assert opened.mode == "CMYK"
        light = 255 - np.asarray(opened.getchannel("K"), float)
    (raster,) = shop.rasters(order_of("cmyk.jpg")).values()
    _, y, _, h = sums.crop((1000, 1000), (WIDE + 10, HIGH + 10), (0.5, 0.5), 1, (80, 60))
    part = light[round(y) : round(y + h)]
    seen = blocks(raster).mean(axis=2).ravel()
    key = blocks(part).ravel()
    assert np.corrcoef(seen, key)[0, 1] > 0.7


def test_eight_ways_of_lying_are_one_picture(shop: Shop) -> None:
    rasters = list(shop.rasters(TURNED).values())
    assert len(rasters) == 8
    first = rasters[0].astype(float)
    for other in rasters[1:]:
        assert np.abs(other - first).mean() < 6  # each was saved as JPEG anew
    for wrong in (first[:, ::-1], first[::-1], first[::-1, ::-1]):
        assert np.abs(wrong - first).mean() > 20
    turned = [f for f in shop.findings[TURNED] if f["check"] == "photo/orientation"]
    assert len([f for f in turned if f["status"] == "note"]) == 7


def private_bytes() -> list[bytes]:
    """What the phone wrote about place, day and camera, as it stands in the file."""
    raw = bytes(pillow_heif.open_heif(real_photo("pug.heic")).info["exif"])
    tags = Image.Exif()
    tags.load(raw)
    place = tags.get_ifd(0x8825)  # GPS IFD
    degrees, minutes = (int(v).to_bytes(4, "big") for v in place[2][:2])
    at = raw.index(degrees + b"\0\0\0\1" + minutes)  # rationals of four bytes over four
    return [raw[at : at + 24], tags[306].encode(), tags[272].encode()]


def streams(content: bytes) -> bytes:
    """Everything in a PDF, unpacked."""
    with pikepdf.open(io.BytesIO(content)) as pdf:
        kept = [str(dict(pdf.docinfo)).encode()]
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Stream):
                try:
                    kept.append(thing.read_bytes())
                except pikepdf.PdfError:
                    kept.append(thing.read_raw_bytes())  # a JPEG, as it is
        return b"\n".join(kept)


def test_the_place_is_told_to_the_maker_and_published_nowhere(shop: Shop) -> None:
    found = [f for f in shop.findings["pug-heic"] if f["check"] == "photo/location"]
    assert "location" in [f["code"] for f in found]
    needles = private_bytes()
    photo = real_photo("pug.heic").read_bytes()
    assert all(needle in photo for needle in needles)  # so they would be found
    made = [
        path
        for part in ("site", "workroom", "records")
        for path in (shop.folder / part).rglob("*")
        if path.is_file()
    ]
    kinds = {path.suffix for path in made}
    assert {".html", ".jpg", ".pdf", ".png", ".txt"} <= kinds
    for path in made:
        content = path.read_bytes()
        if path.suffix == ".pdf":
            content += streams(content)
        for needle in needles:
            assert needle not in content, path
        for start in (b"Exif\0\0", b"http://ns.adobe.com/xap/", b"ICC_PROFILE", b"eXIf"):
            assert start not in content or path.suffix not in (".jpg", ".png", ".pdf"), path
