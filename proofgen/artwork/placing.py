"""One layer of a design placed on a face in mm: its crop, resolution, repeat or set words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import assert_never

from proofgen.artwork.focus import choose_focus
from proofgen.artwork.joins import join_of
from proofgen.artwork.materials import Materials
from proofgen.artwork.repeats import whole_repeats
from proofgen.artwork.typeface import Typeface
from proofgen.artwork.words import set_words, tidy
from proofgen.errors import ProofgenError, ShopError
from proofgen.geometry import Canvas, Plan, Rect, Size, cover_crop
from proofgen.model import (
    ArtLayer,
    ColourLayer,
    Layer,
    PatternLayer,
    PhotoFacts,
    PhotoLayer,
    PhotoUse,
    Placed,
    PlacedArt,
    PlacedColour,
    PlacedPattern,
    PlacedPhoto,
    PlacedWords,
    WordsLayer,
)
from proofgen.say import did_you_mean, sentences
from proofgen.units import ppi_of

DEFAULT_FONT = "Caladea"


@dataclass(frozen=True, slots=True, kw_only=True)
class Filling:
    """What goes into a design's slots, by slot; letters become no lower than the least height."""

    photos: Mapping[str, PhotoUse]
    words: Mapping[str, str]
    least_letter_mm: float


def _aim(canvas: Canvas, slot: Rect) -> tuple[float, float]:
    """Where a photo's focus goes, from the slot's top left: of a fill the canvas's own aim."""
    if slot == canvas.fill:
        return canvas.aim[0] - slot.x, canvas.aim[1] - slot.y
    return slot.width / 2, slot.height / 2


def _typeface(materials: Materials, layer: WordsLayer) -> tuple[str, Typeface]:
    """A font by its name, the shop's own first. Errors: ShopError at the layer's place."""
    name, fonts = layer.font or DEFAULT_FONT, materials.fonts
    file = fonts.find(name)
    if file is None:
        known = sorted(fonts.files)
        raise ShopError(
            f"there is no font called “{name}” here",
            sentences(
                did_you_mean(name, known),
                f"Known fonts: {', '.join(known)}. Others can be put into the folder fonts/",
            ),
            layer.place,
        )
    fault = fonts.fault(file)
    if fault:
        raise ShopError(
            f"the font “{name}” (fonts/{file.name}) cannot be used: {fault}",
            "put another copy of it into the folder fonts/, or choose another font",
            layer.place,
        )
    return name, materials.typeface(file)


def _rect(layer: Layer, canvas: Canvas) -> Rect:
    rect = canvas.fill if layer.at is None else layer.at.on(canvas.size)
    if rect.width <= 0 or rect.height <= 0:
        raise ShopError(
            "this layer has no width or no height on this blank",
            "write at: [left, top, width, height] with a width and a height above 0",
            layer.place,
        )
    return rect


def _chosen_focus(
    materials: Materials,
    facts: PhotoFacts,
    canvas: Canvas,
    plan: Plan,
    rect: Rect,
    zoom: float,
    above: Sequence[Placed],
) -> tuple[float, float] | None:
    """The focus of a photo that nobody gave one; None for a photo that was whole a moment ago and
    is not now: its own finding tells."""
    try:
        return choose_focus(
            facts,
            plan,
            canvas.name,
            rect,
            zoom=zoom,
            aim=_aim(canvas, rect),
            pictures=materials.pictures,
            above=above,
        )
    except ProofgenError:
        return None


def _place_photo(
    materials: Materials,
    layer: PhotoLayer,
    canvas: Canvas,
    plan: Plan,
    use: PhotoUse | None,
    above: Sequence[Placed],
) -> PlacedPhoto:
    rect = _rect(layer, canvas)
    if use is None:
        return PlacedPhoto(
            rect=rect,
            face=canvas.name,
            fill=layer.at is None,
            place=layer.place,
            slot=layer.slot,
        )
    facts = materials.pictures.inspect(use.file)
    zoom = max(use.zoom, 1.0)
    focus = use.focus
    if facts.usable and focus is None:
        focus = _chosen_focus(materials, facts, canvas, plan, rect, zoom, above)
    crop = None
    if facts.usable and focus is not None:
        crop = cover_crop(
            Size(facts.width_px, facts.height_px),
            Size(rect.width, rect.height),
            focus,
            zoom,
            _aim(canvas, rect),
        )
    return PlacedPhoto(
        rect=rect,
        face=canvas.name,
        fill=layer.at is None,
        place=use.place if use.place.file else layer.place,
        slot=layer.slot,
        photo=facts,
        crop=crop,
        focus=focus,
        focus_chosen=use.focus is None and focus is not None,
        zoom=zoom,
        ppi=_ppi(crop, rect) if crop else None,
        join=join_of(facts, plan, canvas, rect, crop, materials.pictures) if crop else None,
    )


def _ppi(crop: Rect, rect: Rect) -> float:
    """Pixels for each finished inch, on the worse axis."""
    return min(ppi_of(crop.width, rect.width), ppi_of(crop.height, rect.height))


def _design_picture(materials: Materials, layer: ArtLayer | PatternLayer) -> PhotoFacts:
    facts = materials.pictures.inspect(layer.file)
    if not facts.usable:
        raise ShopError(f"{layer.file.name}: {facts.problem}", facts.cure, layer.place)
    return facts


def _place_art(materials: Materials, layer: ArtLayer, canvas: Canvas) -> PlacedArt:
    """Art covers a fill; in a box the whole of it shows, in the middle. Never stretched."""
    facts = _design_picture(materials, layer)
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
    return PlacedArt(
        rect=rect,
        face=canvas.name,
        fill=layer.at is None,
        place=layer.place,
        picture=facts,
        crop=crop,
        ppi=_ppi(crop, rect),
    )


def _place_pattern(materials: Materials, layer: PatternLayer, canvas: Canvas) -> PlacedPattern:
    """A repeat that goes all the way round is scaled so that it meets itself there."""
    facts = _design_picture(materials, layer)
    rect = _rect(layer, canvas)
    repeat, times = layer.repeat_mm, 0
    if canvas.name == "round" and rect.x <= 0 and rect.right >= canvas.size.width:
        times = whole_repeats(canvas.size.width, repeat, layer.lay)
        repeat = canvas.size.width / times
    return PlacedPattern(
        rect=rect,
        face=canvas.name,
        fill=layer.at is None,
        place=layer.place,
        picture=facts,
        repeat_mm=repeat,
        repeat_asked_mm=layer.repeat_mm,
        lay=layer.lay,
        repeats_round=times,
        ppi=ppi_of(facts.width_px, repeat),
    )


def place_words(
    materials: Materials, layer: WordsLayer, canvas: Canvas, plan: Plan, filling: Filling
) -> PlacedWords:
    """Words set in their box, which is the same whatever they say. Errors: as `place_layer`."""
    name, face = _typeface(materials, layer)
    text = tidy(filling.words.get(layer.slot, "") if layer.slot else layer.text)
    # Words that fill a face keep inside its safe edge: letters have no business in the bleed.
    whole = Rect(0.0, 0.0, canvas.size.width, canvas.size.height)
    rect = whole.inset(plan.safe) if layer.at is None else _rect(layer, canvas)
    setting = set_words(
        text,
        face,
        rect,
        asked_mm=layer.size_mm,
        align=layer.align,
        least_letter_mm=filling.least_letter_mm,
    )
    return PlacedWords(
        rect=rect,
        face=canvas.name,
        place=layer.place,
        slot=layer.slot,
        colour=layer.colour,
        text=text,
        font=name,
        font_file=face.file,
        font_sha256=face.sha256,
        size_mm=setting.size_mm,
        size_asked_mm=layer.size_mm,
        letter_mm=setting.letter_mm,
        runs=setting.runs,
        ink=setting.ink,
        missing=face.missing(text),
        fits=setting.fits,
        align=layer.align,
    )


def place_layer(
    materials: Materials,
    layer: Layer,
    canvas: Canvas,
    plan: Plan,
    filling: Filling,
    above: Sequence[Placed] = (),
) -> Placed:
    """The layer in the face's frame. `above` are the layers drawn later, which a photo's chosen
    focus keeps out of. Errors: ShopError at the layer's place."""
    match layer:
        case PhotoLayer():
            return _place_photo(
                materials, layer, canvas, plan, filling.photos.get(layer.slot), above
            )
        case ArtLayer():
            return _place_art(materials, layer, canvas)
        case PatternLayer():
            return _place_pattern(materials, layer, canvas)
        case WordsLayer():
            return place_words(materials, layer, canvas, plan, filling)
        case ColourLayer():
            return PlacedColour(
                rect=_rect(layer, canvas),
                face=canvas.name,
                fill=layer.at is None,
                place=layer.place,
                colour=layer.colour,
            )
        case _:
            assert_never(layer)
