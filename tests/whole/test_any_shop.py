"""Shops drawn by chance through the real commands, against sums done apart from the program.

Which shop it was stands in the name of a failed test; `cases.draw(NUMBER)` draws it again.
"""

from __future__ import annotations

import hashlib
import html
import json
import re
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from tests.slips import code_on
from tests.whole import cases, chart, papers
from tests.whole import reckoning as sums
from tests.whole.running import inside, page_of, state_of

pytestmark = pytest.mark.whole

SIGNS = {"EUR": "€", "GBP": "£", "USD": "$"}
NEAR_MM = 0.1
NEAR_PX = 1.5


@dataclass
class Ran:
    """One shop after build, answer and press."""

    case: cases.Case
    folder: Path
    marks: list[chart.Mark]
    findings: list[dict[str, Any]]
    press: dict[str, Any]

    @cached_property
    def edition(self) -> dict[str, Any]:
        (file,) = (self.folder / "records" / cases.ORDER).glob("edition-1-*.json")
        return dict(json.loads(file.read_text("utf-8")))

    @cached_property
    def rasters(self) -> dict[str, chart.Pixels]:
        """The kept pictures by name, found by the digest that the edition gives."""
        kept = self.folder / "records" / cases.ORDER / "rasters"
        by_digest = {hashlib.sha256(p.read_bytes()).hexdigest(): p for p in kept.iterdir()}
        found = {}
        for name, digests in self.edition["rasters"].items():
            with Image.open(by_digest[digests["file"]]) as picture:
                found[name] = np.asarray(picture.convert("RGB"))
        return found

    def rasters_of(self, panel: str) -> list[chart.Pixels]:
        slug = "both" if panel == "front and back" else panel
        return [r for name, r in self.rasters.items() if name.endswith(f"-{slug}.png")]

    @cached_property
    def page(self) -> str:
        return page_of(self.folder, cases.ORDER).read_text("utf-8")

    @property
    def photo(self) -> Path:
        return self.folder / "orders" / cases.ORDER / "photos" / self.case.photo_name


@pytest.fixture(scope="module", params=range(len(cases.KINDS)))
def ran(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Ran:
    """A drawn shop, its order accepted where its photo is coarse, proved, signed and pressed."""
    case = cases.draw(request.param)
    print(case)  # pytest shows it beside what fails
    folder = tmp_path_factory.mktemp("any") / "shop"
    marks = cases.write(case, folder)
    worst, _ = wanted_findings(case)[0]
    checked = inside(folder, "check", "--json", exits=1 if worst == "stop" else 0)
    (row,) = checked.document["orders"]
    for finding in row["findings"]:
        if finding["status"] == "stop":
            inside(folder, "check", cases.ORDER, "--accept", finding["key"], "--because", "seen")
    inside(folder, "build")
    code = code_on(page_of(folder, cases.ORDER), "ok")
    inside(folder, "answer", "-", typed=f"ok, it is {code}")
    assert state_of(folder, cases.ORDER)["state"] == "signed"
    pressed = inside(folder, "press", cases.ORDER, "--json").document
    return Ran(case, folder, marks, row["findings"], pressed)


def wanted_findings(case: cases.Case) -> list[tuple[str, float]]:
    """(status, ppi) of the photo on each face it lies on that is not sharp; worst first."""
    good, floor = case.limits
    found = []
    for face in case.faces:
        slot, _ = case.slot(face)
        part = sums.crop(case.photo_px, slot[2:], (0.5, 0.5), case.zoom, (0, 0))
        ppi = sums.ppi_of(part, slot[2:])
        status = {"good": "pass", "soft": "warn", "coarse": "stop"}[sums.verdict(ppi, good, floor)]
        found.append((status, ppi))
    return sorted(found, key=lambda one: ("stop", "warn", "pass").index(one[0]))


def test_the_blank_in_numbers(ran: Ran) -> None:
    told = inside(ran.folder, "blanks", cases.BLANK, "--json").document
    wanted = ran.case.reckoned
    wide, high = next(iter(wanted.panels.values()))
    assert (told["width_mm"], told["height_mm"]) == pytest.approx((wide, high), abs=1e-6)
    for key, value in (("way_round_mm", wanted.way_round), ("overlap_mm", wanted.overlap)):
        assert told[key] == (None if value is None else pytest.approx(value, abs=1e-6))
    faces = {face["name"]: face for face in told["faces"]}
    assert set(faces) == set(wanted.faces)
    for name, (_, box, turn) in wanted.faces.items():
        face = faces[name]
        assert box_of(face) == pytest.approx(box, abs=1e-6), name
        assert face["turn_deg"] == turn
        assert face["centre_x_mm"] == pytest.approx(box[0] + box[2] / 2, abs=1e-6)
    zones = sorted((zone["kind"], *box_of(zone)) for zone in told["zones"])
    assert len(zones) == len(wanted.zones)
    for zone, (kind, box) in zip(zones, sorted(wanted.zones), strict=True):
        assert zone[0] == kind
        assert zone[1:] == pytest.approx(box, abs=1e-6), kind


def box_of(told: dict[str, Any]) -> sums.Box:
    return told["x_mm"], told["y_mm"], told["width_mm"], told["height_mm"]


def test_the_photo_looked_at(ran: Ran) -> None:
    case, good_floor = ran.case, ran.case.limits
    told = inside(
        ran.folder, "look", str(ran.photo), "--blank", cases.BLANK, "--json", exits=None
    ).document
    assert (told["photo"]["width_px"], told["photo"]["height_px"]) == case.photo_px
    fits = {fit["face"]: fit for fit in told["fits"]}
    fills = case.reckoned.fills
    assert set(fits) == set(fills)
    for face, (_, _, wide, high) in fills.items():
        fit = fits[face]
        assert (fit["width_mm"], fit["height_mm"]) == pytest.approx((wide, high), abs=1e-6)
        ppi = sums.ppi_of(
            sums.crop(case.photo_px, (wide, high), (0.5, 0.5), 1, (0, 0)), (wide, high)
        )
        assert fit["ppi"] == pytest.approx(ppi, rel=1e-6)
        assert fit["verdict"] == sums.verdict(ppi, *good_floor)


def test_the_sharpness_found(ran: Ran) -> None:
    found = [f for f in ran.findings if f["check"] == "photo/effective-resolution"]
    wanted = [(status, ppi) for status, ppi in wanted_findings(ran.case) if status != "pass"]
    if not wanted:
        assert [f["status"] for f in found] == ["pass"]
        return
    told = sorted((f["status"], f["measure"], f["limit"]) for f in found)
    good, floor = ran.case.limits
    for (status, measure, limit), (wanted_status, ppi) in zip(told, sorted(wanted), strict=True):
        assert status == wanted_status
        assert measure == pytest.approx(ppi, rel=1e-4)
        assert limit == (floor if status == "stop" else good)


def test_the_rasters_have_their_size(ran: Ran) -> None:
    m, blank = ran.case.measures, ran.case.reckoned
    variants = max(len(ran.case.names), 1)
    assert len(ran.rasters) == variants * len(blank.panels)
    for panel, (wide, high) in blank.panels.items():
        wanted = tuple(sums.raster_px(side + 2 * m.bleed, ran.case.ppi) for side in (wide, high))
        found = ran.rasters_of(panel)
        assert len(found) == variants
        assert {(r.shape[1], r.shape[0]) for r in found} == {wanted}


def test_the_photo_lies_where_the_crop_rule_puts_it(ran: Ran) -> None:
    looked_at = [one for face in ran.case.faces for one in marks_on(ran, face)]
    assert len(looked_at) >= 3, "no marks to see: draw this case another way"
    missed = []
    for mark, panel, (x, y), reach in looked_at:
        for raster in ran.rasters_of(panel):
            found = chart.middle_of(mark, raster, (x, y), reach)
            if found is None or max(abs(found[0] - x), abs(found[1] - y)) > NEAR_PX:
                missed.append((mark, panel, (x, y), found))
    assert missed == []


def marks_on(ran: Ran, face: str) -> list[tuple[chart.Mark, str, tuple[float, float], float]]:
    """Each mark that shows whole on a face: panel, where its middle must be (px), how far to look.

    Left out: marks cut by the slot's edge, hidden by patch or name, and those near a join of two
    faces, which show on both sides of it.
    """
    case, blank = ran.case, ran.case.reckoned
    slot, aim = case.slot(face)
    part = sums.crop(
        case.photo_px, slot[2:], case.focus, case.zoom, (aim[0] - slot[0], aim[1] - slot[1])
    )
    mm_a_px = slot[2] / part[2]
    px_a_mm = case.ppi / sums.INCH
    bleed = case.measures.bleed
    found = []
    for mark in ran.marks:
        left, top, right, bottom = (
            slot[i % 2] + (edge - part[i % 2]) * mm_a_px for i, edge in enumerate(mark.box)
        )
        inside_slot = (
            left > slot[0] + 0.5
            and top > slot[1] + 0.5
            and right < slot[0] + slot[2] - 0.5
            and bottom < slot[1] + slot[3] - 0.5
        )
        joins = [share * blank.size(face)[0] for share in (0.25, 0.75)]
        at_join = (
            face == "round"
            and "round" not in blank.faces
            and any(left - bleed - 2 < join < right + bleed + 2 for join in joins)
        )
        if not inside_slot or at_join or hidden(case, face, (left, top, right, bottom)):
            continue
        panel, x, y = blank.on_panel(face, (left + right) / 2, (top + bottom) / 2)
        spot = ((x + bleed) * px_a_mm, (y + bleed) * px_a_mm)
        found.append((mark, panel, spot, (right - left) / 2 * px_a_mm + 8))
    return found


def hidden(case: cases.Case, face: str, box: tuple[float, float, float, float]) -> bool:
    """Whether the patch or the name lies over a box (left, top, right, bottom; the face's mm)."""
    if face == "back":
        return False
    wide, high = case.reckoned.size(case.tag_face)
    # The tag is on the front, a quarter of the way round from where `round` begins.
    shift = wide / 2 if (face, case.tag_face) == ("round", "front") else 0.0
    for x, y, w, h in (cases.PATCH, cases.NAME):
        left, top = shift + x * wide, y * high
        if (
            box[0] < left + w * wide + 1
            and box[2] > left - 1
            and box[1] < top + h * high + 1
            and box[3] > top - 1
        ):
            return True
    return False


def test_the_price(ran: Ran) -> None:
    case = ran.case
    total = sums.price(case.steps, case.quantity)
    shown = f"{SIGNS[case.currency]}{total:,.2f}"
    together = re.search(r"<tfoot>.*?</tfoot>", html.unescape(ran.page), re.DOTALL)
    assert together
    assert re.findall(r"[€£$][\d,.]+", together[0]) == [shown]
    assert f'<td class="sum">{case.quantity}</td>' in together[0]


def test_the_cloth_shows_through(ran: Ran) -> None:
    """Mean colour of the flat patch on the page's picture of ink on this cloth."""
    case = ran.case
    for kind, cloth in (("cloth", case.cloth), ("white", "#ffffff")):
        names = sorted(set(re.findall(rf'src="(ink-{kind}-1-[^"]+)"', ran.page)))
        x, y, w, h = cases.PATCH
        shown = case.face
        if len(names) > 1 and case.face == "round":  # two faces, each shown as it is held
            shown = "front"
        elif (case.face, case.tag_face) == ("round", "front"):
            x, w = 0.25 + x / 2, w / 2
        name = next((n for n in names if f"-{shown}-" in n), names[0])
        with Image.open(page_of(ran.folder, cases.ORDER).parent / name) as picture:
            seen = np.asarray(picture.convert("RGB"), float)
        high, wide, _ = seen.shape
        middle = seen[
            int((y + h / 4) * high) : int((y + h * 3 / 4) * high),
            int((x + w / 4) * wide) : int((x + w * 3 / 4) * wide),
        ].reshape(-1, 3)
        wanted = sums.ink_on_cloth(case.patch, cloth)
        # 2 codes of our own; 1 more for how JPEG rounds a flat area.
        assert np.abs(middle.mean(axis=0) - wanted).max() <= 3, (kind, case.patch, cloth)
        assert middle.std(axis=0).max() < 2
        if case.box:  # left of the photo no ink lies: the cloth's own code
            bare = seen[int(0.3 * high) : int(0.6 * high), int(0.02 * wide) : int(0.07 * wide)]
            assert np.abs(bare.reshape(-1, 3).mean(axis=0) - sums.rgb(cloth)).max() <= 2


def test_the_sheets_carry_the_signed_pixels_where_they_say(ran: Ran, tmp_path: Path) -> None:
    case = ran.case
    seen = []
    for sheet in ran.press["sheets"]:
        file = ran.folder / sheet["file"]
        page = papers.page_mm(file, sheet["page"])
        assert page == pytest.approx((sheet["width_mm"], sheet["height_mm"]), abs=0.01)
        laid = papers.pictures_on(file, tmp_path, sheet["page"])
        assert len(laid) == len(sheet["pieces"])
        for piece in sheet["pieces"]:
            picture = lies_as_it_says(ran, piece, laid)
            assert picture.x >= 0 and picture.y >= 0
            assert picture.right <= page[0] and picture.bottom <= page[1]
            seen.append((piece["piece"], piece["face"]))
        apart(laid)
    inked = list(case.reckoned.panels)
    assert sorted(seen) == sorted((n + 1, p) for n in range(case.quantity) for p in inked)


def lies_as_it_says(ran: Ran, piece: dict[str, Any], laid: list[papers.Laid]) -> papers.Laid:
    """The one picture of the page that is this piece: pixels, size and place.

    Mirrored, what a raster has beyond the whole mm lies left and below; turned clockwise after
    that, above and left.
    """
    case = ran.case
    with Image.open(ran.folder / piece["raster"]) as kept:
        raster = np.asarray(kept.convert("RGB"))
    shrink, bleed = case.measures.shrink, case.measures.bleed
    panel = case.reckoned.panels[piece["face"]]
    ink = [(side + 2 * bleed) / (1 - s) for side, s in zip(panel, shrink, strict=True)]
    whole = [
        count * sums.INCH / case.ppi / (1 - s)
        for count, s in zip(raster.shape[1::-1], shrink, strict=True)
    ]
    on_paper = raster[:, ::-1]
    if piece["turned"]:
        on_paper, ink, whole = np.rot90(on_paper, -1), ink[::-1], whole[::-1]
    ink = [side / s for side, s in zip(ink, case.scale, strict=True)]
    whole = [side / s for side, s in zip(whole, case.scale, strict=True)]
    assert (piece["width_mm"], piece["height_mm"]) == pytest.approx(ink, abs=0.002)
    right, bottom = piece["x_mm"] + ink[0], piece["y_mm"] + ink[1]
    top = bottom - whole[1] if piece["turned"] else piece["y_mm"]
    wanted = (right - whole[0], top, *whole)
    (one,) = [p for p in laid if (p.x, p.y) == pytest.approx(wanted[:2], abs=NEAR_MM)]
    assert (one.width, one.height) == pytest.approx(wanted[2:], abs=0.005)
    assert one.pixels.shape == on_paper.shape
    assert one.pixels.tobytes() == np.ascontiguousarray(on_paper).tobytes()
    return one


def apart(laid: list[papers.Laid]) -> None:
    """No two pictures of a sheet overlap."""
    for index, one in enumerate(laid):
        for other in laid[index + 1 :]:
            assert (
                one.right <= other.x
                or other.right <= one.x
                or one.bottom <= other.y
                or other.bottom <= one.y
            )


def test_the_ticket_says_what_to_do(ran: Ran) -> None:
    (name,) = ran.press["tickets"]
    told = " ".join(papers.text_of(ran.folder / name).split())
    case = ran.case
    given = [float(number) for number in re.findall(r"\d+", case.heat)]
    celsius = given[0] if case.heat.split()[1] == "C" else (given[0] - 32) * 5 / 9
    assert f"{celsius:.0f} °C" in told
    assert f"{celsius * 9 / 5 + 32:.0f} °F" in told
    assert f"{case.seconds} s" in told
    for text in case.names:
        assert text in told
    (batch,) = ran.press["batches"]
    assert batch["heat_c"] == pytest.approx(celsius, abs=0.05)
    assert batch["time_s"] == case.seconds
