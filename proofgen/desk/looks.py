"""Questions that need no order: how large can this photo be; what is this blank in numbers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from proofgen import checks
from proofgen.errors import ProofgenError, ShopError, ShopFaults, StopError, UsageError
from proofgen.geometry import (
    CAN_PLAY,
    Plan,
    Shift,
    Size,
    cans_that_fit,
    cover_crop,
    way_round,
    wrap_shift,
)
from proofgen.model import (
    BLOCKING,
    FINEST_PPI,
    Blank,
    PhotoFacts,
    PhotoMeasures,
    Settings,
    measure_key,
)
from proofgen.model.documents import (
    BlankDocument,
    BlanksDocument,
    Fit,
    LookDocument,
    ShiftEntry,
    SleeveAllowance,
    WrapAllowance,
)
from proofgen.photo.measures import measure_all
from proofgen.photo.opening import Pictures
from proofgen.say import did_you_mean, quoted, visible
from proofgen.shop import built_in_blanks, read_shop
from proofgen.store import NoStore
from proofgen.units import pixels


def shop_or_built_in(
    folder: Path,
) -> tuple[dict[str, Blank], Settings, tuple[ShopError, ...]]:
    """The shop's blanks and settings, or the built-in ones where there is no shop folder."""
    return _opened(folder)[:3]


def _opened(
    folder: Path,
) -> tuple[dict[str, Blank], Settings, tuple[ShopError, ...], tuple[str, ...]]:
    """The same, and the blanks that the shop uses: those it offers, as its designs name them, and
    those it measured."""
    if not (folder / "shop.yaml").is_file():
        return dict(built_in_blanks()), Settings(name="", contact=""), (), ()
    shop = read_shop(folder)
    offered = [name for design in shop.designs.values() for name in design.offered]
    known = [name for name in offered if name in shop.blanks]
    own = [blank.id for blank in shop.blanks.values() if not blank.built_in]
    return dict(shop.blanks), shop.settings, shop.faults, tuple(dict.fromkeys([*known, *own]))


def _faults_of_blanks(faults: Iterable[ShopError]) -> list[ShopError]:
    return [f for f in faults if f.place and f.place.file.startswith("blanks/")]


def chosen_blank(blanks: Mapping[str, Blank], name: str, faults: Iterable[ShopError]) -> Blank:
    """The blank of that name. ShopFaults when its file has faults, UsageError if there is none."""
    own = [
        f
        for f in _faults_of_blanks(faults)
        if f.place and f.place.file in (f"blanks/{name}.yaml", f"blanks/{name}.yml")
    ]
    if own:
        raise ShopFaults(own)
    if name not in blanks:
        raise UsageError(
            f"there is no blank called {quoted(name)}",
            did_you_mean(name, blanks, typed=True) or "`proofgen blanks` lists them all",
        )
    return blanks[name]


def look(folder: Path, photo: Path, blank: str | None) -> tuple[LookDocument, bool, frozenset[str]]:
    """The document proofgen/look/1, those first that the shop uses; whether a finding stops the
    photo; the blanks that the shop uses (none where that is all that was asked for, or unknown).
    What is found is said of the blank that the shop offers first."""
    blanks, settings, faults, used = _opened(folder)
    limits = settings.limits
    if blank:
        blanks, used = {blank: chosen_blank(blanks, blank, faults)}, ()
    first = blank or next(iter(used), "")
    blanks = {name: blanks[name] for name in (*used, *(n for n in blanks if n not in used))}
    if not photo.is_file():
        raise UsageError(
            f"there is no file “{visible(str(photo))}”", "check the name, or drag the file here"
        )
    with Pictures(NoStore()) as pictures:
        facts = pictures.inspect(photo)
        table = checks.fits(facts, blanks.values(), limits)
        seen = _measured(pictures, facts, table, settings, first)
    size_mm = next(iter(seen), (0.0, 0.0))
    findings = checks.look(facts, blanks.values(), limits, seen.get(size_mm), size_mm, first)
    smallest = next(reversed(seen.values()), None)
    for row in table:
        measures = seen.get((row["width_mm"], row["height_mm"]), smallest)
        row["verdict"] = checks.judged(row, facts, limits, measures)
    document: LookDocument = {
        "schema": "proofgen/look/1",
        "photo": {
            "file": photo.name,
            "format": facts.format,
            "width_px": facts.width_px,
            "height_px": facts.height_px,
        },
        "fits": table,
        "findings": [f.as_json() for f in findings],
    }
    return document, any(f.status in BLOCKING for f in findings), frozenset(used)


def _measured(
    pictures: Pictures, facts: PhotoFacts, table: list[Fit], settings: Settings, first: str
) -> dict[tuple[float, float], PhotoMeasures]:
    """What the photo's pixels tell at sizes (mm): of the `first` blank at each of its faces, the
    largest first; last of all where it has most pixels per inch: who is blurred there is blurred
    everywhere. Nothing for a photo that cannot be used."""
    rows = sorted(table, key=lambda fit: fit["ppi"])
    ppi, keys = min(settings.printer.ppi, FINEST_PPI), {}
    for row in [*(one for one in rows if one["blank"] == first), *rows[-1:]]:
        size = Size(row["width_mm"], row["height_mm"])
        crop = cover_crop(Size(facts.width_px, facts.height_px), size, (0.5, 0.5))
        raster = (pixels(size.width, ppi), pixels(size.height, ppi))
        keys[size.width, size.height] = measure_key(facts, crop, raster)
    try:
        seen = measure_all(facts, keys.values(), pictures)
    except ProofgenError:
        return {}  # its own finding tells
    return {size: seen[key] for size, key in keys.items()}


def _allowance(blank: Blank, plan: Plan) -> WrapAllowance | SleeveAllowance | None:
    """What a millimetre of cloth or another can of its kind moves; all finished mm."""
    if blank.vessel_mm is None or plan.way_round is None:
        return None
    if blank.closure is None or plan.overlap is None or plan.on_top is None:
        around = way_round(blank.vessel_mm, blank.thickness_mm)
        return {
            "can_mm": blank.vessel_mm,
            "can_way_round_mm": around,
            "faces_mm": plan.way_round,
            "stretch_mm": around - plan.way_round,
        }
    thicker = wrap_shift(plan.on_top, thickness=1.0)
    other = wrap_shift(plan.on_top, diameter=CAN_PLAY)
    held = (blank.closure.shortest_mm, blank.closure.width_mm * (1 - blank.shrink[0]))
    play = abs(thicker.overlap) + abs(other.overlap)
    return {
        "thicker": _in_mm(1.0, thicker),
        "other_can": _in_mm(CAN_PLAY, other),
        "overlap_between_mm": [plan.overlap - play, plan.overlap + play],
        "overlap_allowed_mm": list(held),
        "cans_mm": list(cans_that_fit(plan.way_round + plan.overlap, blank.thickness_mm, *held)),
    }


def _in_mm(by: float, shift: Shift) -> ShiftEntry:
    """A shift under the names of the blank's document."""
    return {
        "by_mm": by,
        "way_round_mm": shift.way_round,
        "overlap_mm": shift.overlap,
        "front_centre_mm": shift.front_centre,
    }


def blank_document(blank: Blank) -> BlankDocument:
    """The document proofgen/blank/1, all finished mm."""
    plan = blank.plan()
    first = next(iter(plan.panels.values()))
    return {
        "schema": "proofgen/blank/1",
        "name": blank.id,
        "title": blank.name,
        "construction": blank.construction,
        "width_mm": first.width,
        "height_mm": first.height,
        "way_round_mm": plan.way_round,
        "overlap_mm": plan.overlap,
        "allowance": _allowance(blank, plan),
        "faces": [
            {
                "name": face.name,
                "x_mm": face.rect.x,
                "y_mm": face.rect.y,
                "width_mm": face.rect.width,
                "height_mm": face.rect.height,
                "turn_deg": face.turn,
                "centre_x_mm": face.rect.centre_x,
            }
            for face in plan.faces
        ],
        "zones": [
            {
                "kind": zone.kind,
                "face": zone.face,
                "x_mm": zone.rect.x,
                "y_mm": zone.rect.y,
                "width_mm": zone.rect.width,
                "height_mm": zone.rect.height,
            }
            for zone in plan.zones
        ],
    }


def blank_problems(blank: Blank) -> list[str]:
    """What keeps a blank from being pressed, each with its place and cure."""
    return [
        StopError(says, cure, blank.place_of(key)).sentence()
        for key, says, cure in blank.plan().problems
    ]


def blanks(
    folder: Path, name: str | None
) -> tuple[BlankDocument | BlanksDocument, list[str], list[ShopError]]:
    """One blank or the list of all; what is wrong with it; what could not be read."""
    known, _, faults = shop_or_built_in(folder)
    if name is None:
        document: BlanksDocument = {
            "schema": "proofgen/blanks/1",
            "blanks": [blank_document(b) for b in known.values()],
        }
        return document, [], _faults_of_blanks(faults)
    blank = chosen_blank(known, name, faults)
    return blank_document(blank), blank_problems(blank), []
