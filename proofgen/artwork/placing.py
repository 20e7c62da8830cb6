"""One layer of a design placed on a face in mm: its crop, resolution, repeat or set words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path

from proofgen.artwork.focus import choose_focus
from proofgen.artwork.joins import join_of
from proofgen.artwork.repeats import whole_repeats
from proofgen.artwork.words import missing_letters, set_words, tidy
from proofgen.errors import ProofgenError, ShopError
from proofgen.geometry import Canvas, Plan, Rect, Size, cover_crop
from proofgen.model import (
    Layer,
    PhotoFacts,
    PhotoUse,
    Placed,
    Shop,
)
from proofgen.photo import opening as photos
from proofgen.render import fonts, own_fonts
from proofgen.say import did_you_mean, sentences
from proofgen.store import Store, file_digest
from proofgen.units import ppi_of

DEFAULT_FONT = "Caladea"


class Desk:
    """What one call of lay_out or variants has already looked at, so that it looks once."""

    def __init__(self, shop: Shop, store: Store) -> None:
        self.shop = shop
        self.store = store
        self._facts: dict[Path, PhotoFacts] = {}
        self._fonts: dict[str, Path | None] = {}
        self._focus: dict[tuple[object, ...], tuple[float, float] | None] = {}

    def font(self, name: str) -> Path | None:
        if name not in self._fonts:
            self._fonts[name] = fonts.find_font(name, self.shop.folder)
        return self._fonts[name]

    def facts(self, file: Path) -> PhotoFacts:
        if file not in self._facts:
            self._facts[file] = photos.inspect(file, self.store)
        return self._facts[file]

    def focus(
        self,
        facts: PhotoFacts,
        plan: Plan,
        canvas: Canvas,
        slot: Rect,
        zoom: float,
        above: Sequence[Placed],
    ) -> tuple[float, float] | None:
        aim = _aim(canvas, slot)
        # Of the words their boxes alone count, so that all names of a list share one choice.
        over = tuple((p.face, p.kind, p.rect, p.sha256) for p in above)
        key = (facts.sha256, plan.construction, canvas.name, canvas.size, slot, zoom, aim, over)
        if key not in self._focus:
            try:
                self._focus[key] = choose_focus(
                    facts,
                    plan,
                    canvas.name,
                    slot,
                    zoom=zoom,
                    aim=aim,
                    store=self.store,
                    above=above,
                )
            except ProofgenError:
                # A photo that was whole a moment ago and is not now; its own finding tells.
                self._focus[key] = None
        return self._focus[key]


def _aim(canvas: Canvas, slot: Rect) -> tuple[float, float]:
    """Where a photo's focus goes, from the slot's top left: of a fill the canvas's own aim."""
    if slot == canvas.fill:
        return canvas.aim[0] - slot.x, canvas.aim[1] - slot.y
    return slot.width / 2, slot.height / 2


@lru_cache(maxsize=64)
def _font_digest(file: Path, stamp: int) -> str:
    return file_digest(file)


def _font(desk: Desk, layer: Layer) -> tuple[str, Path]:
    """A font by its name, the shop's own first. Errors: ShopError at the layer's place."""
    name = layer.font or DEFAULT_FONT
    folder = desk.shop.folder
    file = desk.font(name)
    if file is None:
        known = sorted(fonts.font_files(folder))
        raise ShopError(
            f"there is no font called “{name}” here",
            sentences(
                did_you_mean(name, known),
                f"Known fonts: {', '.join(known)}. Others can be put into the folder fonts/",
            ),
            layer.place,
        )
    fault = own_fonts.fault_of(file) if file.parent == folder / own_fonts.FOLDER else ""
    if fault:
        raise ShopError(
            f"the font “{name}” (fonts/{file.name}) cannot be used: {fault}",
            "put another copy of it into the folder fonts/, or choose another font",
            layer.place,
        )
    return name, file


def _rect(layer: Layer, canvas: Canvas) -> Rect:
    rect = canvas.fill if layer.at is None else layer.at.on(canvas.size)
    if rect.width <= 0 or rect.height <= 0:
        raise ShopError(
            "this layer has no width or no height on this blank",
            "write at: [left, top, width, height] with a width and a height above 0",
            layer.place,
        )
    return rect


def _place_photo(
    desk: Desk,
    layer: Layer,
    canvas: Canvas,
    plan: Plan,
    use: PhotoUse | None,
    above: Sequence[Placed],
) -> Placed:
    rect = _rect(layer, canvas)
    bare = Placed(
        kind="photo",
        rect=rect,
        face=canvas.name,
        fill=layer.at is None,
        slot=layer.slot,
        place=use.place if use else layer.place,
    )
    if use is None:
        return bare
    facts = desk.facts(use.file)
    zoom = max(use.zoom, 1.0)
    focus = use.focus
    if facts.usable and focus is None:
        focus = desk.focus(facts, plan, canvas, rect, zoom, above)
    crop = None
    if facts.usable and focus is not None:
        crop = cover_crop(
            Size(facts.width_px, facts.height_px),
            Size(rect.width, rect.height),
            focus,
            zoom,
            _aim(canvas, rect),
        )
    return Placed(
        kind="photo",
        rect=rect,
        face=canvas.name,
        fill=layer.at is None,
        slot=layer.slot,
        file=use.file,
        sha256=facts.sha256,
        photo=facts,
        crop=crop,
        focus=focus,
        focus_chosen=use.focus is None and focus is not None,
        zoom=zoom,
        ppi=_ppi(crop, rect) if crop else None,
        place=use.place if use.place.file else layer.place,
        join=join_of(facts, plan, canvas, rect, crop, desk.store) if crop else None,
    )


def _ppi(crop: Rect, rect: Rect) -> float:
    """Pixels for each finished inch, on the worse axis."""
    return min(ppi_of(crop.width, rect.width), ppi_of(crop.height, rect.height))


def _design_picture(desk: Desk, layer: Layer) -> PhotoFacts:
    if layer.file is None:
        raise ShopError(f"this {layer.kind} names no picture", "add file: NAME", layer.place)
    facts = desk.facts(layer.file)
    if not facts.usable:
        raise ShopError(f"{layer.file.name}: {facts.problem}", facts.cure, layer.place)
    return facts


def _place_art(desk: Desk, layer: Layer, canvas: Canvas) -> Placed:
    """Art covers a fill; in a box the whole of it shows, in the middle. Never stretched."""
    facts = _design_picture(desk, layer)
    rect = _rect(layer, canvas)
    whole = Rect(0.0, 0.0, float(facts.width_px), float(facts.height_px))
    if layer.at is None:
        crop = cover_crop(
            Size(whole.width, whole.height),
            Size(rect.width, rect.height),
            (0.5, 0.5),
            aim=_aim(canvas, rect),
        )
    else:
        crop = whole
        scale = min(rect.width / whole.width, rect.height / whole.height)
        width, height = whole.width * scale, whole.height * scale
        rect = Rect(rect.centre_x - width / 2, rect.centre_y - height / 2, width, height)
    return Placed(
        kind="art",
        rect=rect,
        face=canvas.name,
        fill=layer.at is None,
        file=layer.file,
        sha256=facts.sha256,
        photo=facts,
        crop=crop,
        ppi=_ppi(crop, rect),
        place=layer.place,
    )


def _place_pattern(desk: Desk, layer: Layer, canvas: Canvas, plan: Plan) -> Placed:
    """A repeat that goes all the way round is scaled so that it meets itself there."""
    facts = _design_picture(desk, layer)
    if layer.repeat_mm <= 0:
        raise ShopError(
            "this pattern does not say how wide one repeat is", "add repeat: 20 mm", layer.place
        )
    rect = _rect(layer, canvas)
    repeat, times = layer.repeat_mm, 0
    if canvas.name == "round" and rect.x <= 0 and rect.right >= canvas.size.width:
        times = whole_repeats(canvas.size.width, repeat, layer.lay)
        repeat = canvas.size.width / times
    return Placed(
        kind="pattern",
        rect=rect,
        face=canvas.name,
        fill=layer.at is None,
        file=layer.file,
        sha256=facts.sha256,
        photo=facts,
        crop=Rect(0.0, 0.0, float(facts.width_px), float(facts.height_px)),
        ppi=ppi_of(facts.width_px, repeat),
        repeat_mm=repeat,
        repeat_asked_mm=layer.repeat_mm,
        place=layer.place,
        lay=layer.lay,
        repeats_round=times,
    )


def _place_words(
    desk: Desk, layer: Layer, canvas: Canvas, plan: Plan, words: Mapping[str, str]
) -> Placed:
    name, file = _font(desk, layer)
    text = tidy(words.get(layer.slot, "") if layer.slot else layer.text)
    # Words that fill a face keep inside its safe edge: letters have no business in the bleed.
    face = Rect(0.0, 0.0, canvas.size.width, canvas.size.height)
    rect = face.inset(plan.safe) if layer.at is None else _rect(layer, canvas)
    setting = set_words(
        text,
        file,
        rect,
        asked_mm=layer.size_mm,
        align=layer.align,
        least_letter_mm=desk.shop.settings.limits.letter_height_mm,
    )
    return Placed(
        kind="words",
        rect=rect,
        face=canvas.name,
        slot=layer.slot,
        colour=layer.colour,
        text=text,
        font=name,
        font_file=file,
        font_sha256=_font_digest(file, file.stat().st_mtime_ns),
        size_mm=setting.size_mm,
        size_asked_mm=layer.size_mm,
        letter_mm=setting.letter_mm,
        runs=setting.runs,
        ink=setting.ink,
        missing=missing_letters(text, file),
        fits=setting.fits,
        align=layer.align,
        place=layer.place,
    )


def place_layer(
    desk: Desk,
    layer: Layer,
    canvas: Canvas,
    plan: Plan,
    uses: Mapping[str, PhotoUse],
    words: Mapping[str, str],
    above: Sequence[Placed] = (),
) -> Placed:
    """The layer in the face's frame. `above` are the layers drawn later, which a photo's chosen
    focus keeps out of. Errors: ShopError at the layer's place."""
    if layer.kind == "photo":
        return _place_photo(desk, layer, canvas, plan, uses.get(layer.slot), above)
    if layer.kind == "art":
        return _place_art(desk, layer, canvas)
    if layer.kind == "pattern":
        return _place_pattern(desk, layer, canvas, plan)
    if layer.kind == "words":
        return _place_words(desk, layer, canvas, plan, words)
    return Placed(
        kind="colour",
        rect=_rect(layer, canvas),
        face=canvas.name,
        fill=layer.at is None,
        colour=layer.colour,
        place=layer.place,
    )
