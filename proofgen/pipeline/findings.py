"""The findings kept where the maker can open them: a document, and a page with prints."""

from __future__ import annotations

import base64
import json
from collections.abc import Container, Iterator, Sequence
from dataclasses import asdict
from functools import partial
from pathlib import Path
from typing import TypedDict

from proofgen import reports, store
from proofgen.errors import ProofgenError, UsageError
from proofgen.model import STATUSES, Finding, Layout, PlacedPhoto, about_of
from proofgen.pipeline.orders import findings_of, known_standing
from proofgen.pipeline.preflight import Prepared
from proofgen.pipeline.surroundings import surroundings
from proofgen.say import number
from proofgen.views.prints import photo_print
from proofgen.workshop import Workshop


def _print(workshop: Workshop, layout: Layout, placed: PlacedPhoto) -> reports.Print | None:
    """A photo's print; None where it has none."""
    try:
        printed = photo_print(layout, placed, workshop.materials.pictures)
    except ProofgenError:
        return None  # its own finding tells
    if placed.photo is None or printed is None:
        return None
    cut, window = printed
    name = placed.photo.file.name
    return reports.Print(
        jpeg=cut,
        width_mm=window.width,
        height_mm=window.height,
        alt=f"{name}: a part as it is printed on {layout.cloth}",
        caption=f"{name}: {number(window.width, 0)} × {number(window.height, 0)} mm of it, at real "
        "size",
    )


def _placed(prepared: Prepared) -> Iterator[tuple[int, Layout, PlacedPhoto]]:
    for variant in prepared.variants:
        for placed in variant.layout.layers:
            if isinstance(placed, PlacedPhoto):
                yield variant.line, variant.layout, placed


def _wants_print(finding: Finding) -> bool:
    if finding.status in ("stop", "broken", "warn"):
        return True
    return finding.status != "pass" and finding.check.startswith("photo/")


_Prints = dict[tuple[str, int, str], reports.Print]


def prints_of(workshop: Workshop, prepared: list[Prepared]) -> _Prints:
    """The prints of all photos that a check of photos, or a warning, speaks of."""
    around, prints = surroundings(workshop), _Prints()
    for one in prepared:
        if wanted := {(f.line, f.about) for f in one.findings if _wants_print(f)}:
            made: _Prints = around.kept(
                "prints of findings/1",
                one.order.id,
                partial(_made_prints, workshop, one, wanted),
                _read_prints,
                _as_kept,
            )
            prints |= made
    return prints


def _made_prints(
    workshop: Workshop, one: Prepared, wanted: Container[tuple[int | None, str]]
) -> _Prints:
    prints = _Prints()
    for line, layout, placed in _placed(one):
        thing = about_of(placed.slot, placed.sha256)
        key = (one.order.id, line, thing)
        if (line, thing) in wanted and key not in prints:
            made = _print(workshop, layout, placed)
            if made:
                prints[key] = made
    return prints


def _as_kept(prints: _Prints) -> bytes:
    rows = [
        [*key, {**asdict(one), "jpeg": base64.b64encode(one.jpeg).decode()}]
        for key, one in prints.items()
    ]
    return store.dump_json(rows)


def _read_prints(content: bytes) -> _Prints:
    return {
        (order, line, thing): reports.Print(**{**one, "jpeg": base64.b64decode(one["jpeg"])})
        for order, line, thing, one in json.loads(content)
    }


class _Told(TypedDict):
    """An order in the document of findings, as its JSON, and on their page."""

    entry: str
    page: reports.OrderTold


def _told(workshop: Workshop, one: Prepared) -> _Told:
    """What an earlier run told of an order, while all of it is as it was."""

    def tell() -> _Told:
        (found,) = findings_of(workshop, [one])
        prints = prints_of(workshop, [one])
        entry = json.dumps(reports.findings_entry(found), ensure_ascii=False)
        return {"entry": entry, "page": reports.order_told(found, prints, workshop.theme)}

    row = known_standing(workshop, one.order.id, one)
    differs = [row["why"], row["told"], row["since"]] if row else []
    told: _Told = surroundings(workshop).kept(
        "findings told/1",
        one.order.id,
        tell,
        json.loads,
        store.dump_json,
        beside=[differs, workshop.theme.digest],
    )
    return told


def findings_page(workshop: Workshop, prepared: Sequence[Prepared]) -> str:
    """The page of these orders' findings."""
    settings = workshop.shop.settings
    return reports.findings_page(
        [_told(workshop, one)["page"] for one in prepared],
        workshop.theme,
        shop_name=settings.name,
        day=workshop.today,
        demo=settings.demo,
    )


def write_findings(workshop: Workshop, prepared: Sequence[Prepared]) -> None:
    """Keep document and page where the maker can open them."""
    told = [_told(workshop, one) for one in prepared]
    worst = min((one["page"]["worst"] for one in told), key=STATUSES.index, default="pass")
    head = json.dumps({**reports.findings_document([]), "worst": worst}, ensure_ascii=False)
    entries = ", ".join(one["entry"] for one in told)  # indented it takes four times as long
    text = f"{head.removesuffix(']}')}{entries}]}}\n"
    store.write(workshop.workroom / "findings.json", text)
    store.write(workshop.workroom / "findings.html", findings_page(workshop, prepared))


def write_page(workshop: Workshop, prepared: list[Prepared], target: Path) -> None:
    """The page alone, where somebody wants it. UsageError for a place that is uploaded."""
    if target.resolve().is_relative_to(workshop.site.resolve()):
        raise UsageError(
            f"“{target}” would be uploaded, and the page holds customers’ photos",
            "choose a place outside site/",
        )
    store.write(target, findings_page(workshop, prepared))
