"""One layer of a design placed on a face in mm: its crop, resolution, repeat or set words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import assert_never

from proofgen.artwork.description import Kept, layer_document, photo_key
from proofgen.artwork.focus import choose_focus
from proofgen.artwork.joins import join_of, under_can
from proofgen.artwork.materials import Materials
from proofgen.artwork.repeats import whole_repeats
from proofgen.artwork.typeface import Typeface
from proofgen.artwork.words import set_words, tidy
from proofgen.errors import ProofgenError, ShopError
from proofgen.geometry import Canvas, Plan, Rect, cover_crop, within
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
    """What goes into a design's slots, by slot; letters become no lower than the least height.
    `kept` is what a proof shows already: a choice that was made stays."""

    photos: Mapping[str, PhotoUse]
    words: Mapping[str, str]
    least_letter_mm: float
    kept: Kept = field(default_factory=Kept)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """A face of a blank, and what layers are placed on it with."""

    materials: Materials
    filling: Filling
    plan: Plan
    canvas: Canvas

    def place(self, layer: Layer, above: Sequence[Placed]) -> Placed:
        """The layer in the face's frame. `above` are the layers drawn later, which a photo's
        chosen focus keeps out of. Errors: ShopError at the layer's place."""
        match layer:
            case PhotoLayer():
                return self._photo(layer, above)
            case ArtLayer():
                return self._art(layer)
            case PatternLayer():
                return self._pattern(layer)
            case WordsLayer():
                return self.words(layer)
            case ColourLayer():
                return PlacedColour(
                    rect=self._rect(layer),
                    face=self.canvas.name,
                    fill=layer.at is None,
                    place=layer.place,
                    colour=layer.colour,
                )
            case _:
                assert_never(layer)

    def words(self, layer: WordsLayer) -> PlacedWords:
        """Words set in their box, which is the same whatever they say. Errors: as `place`."""
        name, face = self._typeface(layer)
        given = self.filling.words.get(layer.slot, "") if layer.slot else layer.text
        text = tidy(given)
        rect = self._free() if layer.at is None else self._rect(layer)
        setting = set_words(
            text,
            face,
            rect,
            asked_mm=layer.size_mm,
            align=layer.align,
            least_letter_mm=self.filling.least_letter_mm,
        )
        return PlacedWords(
            rect=rect,
            face=self.canvas.name,
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
            missing=(missing := face.missing(text)),
            boxed=face.draws_a_box_for(missing),
            fits=setting.fits,
            align=layer.align,
        )

    def _free(self) -> Rect:
        """Where words lie that fill a face: letters have no business in the bleed, nor in strips
        that hide or lose them, so inside the safe edge of the largest part that is seen. Those of
        a proof that shows them in the whole face stay there."""
        whole = self.canvas.size.rect
        if self.filling.kept.has_box(self.canvas.name, whole.inset(self.plan.safe)):
            return whole.inset(self.plan.safe)
        areas = self.plan.clear_of(self.canvas, whole)
        return max(areas, key=lambda area: area.width * area.height).inset(self.plan.safe)

    def _rect(self, layer: Layer) -> Rect:
        rect = self.canvas.fill if layer.at is None else layer.at.on(self.canvas.size)
        if rect.width <= 0 or rect.height <= 0:
            raise ShopError(
                "this layer has no width or no height on this blank",
                "write at: [left, top, width, height] with a width and a height above 0",
                layer.place,
            )
        return rect

    def _typeface(self, layer: WordsLayer) -> tuple[str, Typeface]:
        """A font by its name, the shop's own first. Errors: ShopError at the layer's place."""
        name, fonts = layer.font or DEFAULT_FONT, self.materials.fonts
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
        return name, self.materials.typeface(file)

    def _photo(self, layer: PhotoLayer, above: Sequence[Placed]) -> PlacedPhoto:
        pictures, use = self.materials.pictures, self.filling.photos.get(layer.slot)
        rect, fill = self._for_photo(layer, use)
        empty = PlacedPhoto(
            rect=rect,
            face=self.canvas.name,
            fill=fill,
            place=use.place if use and use.place.file else layer.place,
            slot=layer.slot,
        )
        if use is None:
            return empty
        facts, zoom = pictures.inspect(use.file).turned(use.turn), max(use.zoom, 1.0)
        given = replace(empty, photo=facts, zoom=zoom, focus=use.focus)
        focus = use.focus
        if focus is None and not use.anew:
            focus = self.filling.kept.focuses.get(photo_key(given.face, layer_document(given)))
        if facts.usable and focus is None:
            try:
                focus = choose_focus(facts, self.plan, self.canvas, rect, zoom, pictures, above)
            except ProofgenError:
                return given  # it was whole a moment ago and is not now: its own finding tells
        if not facts.usable or focus is None:
            return given
        crop = cover_crop(facts.size_px, rect.size, focus, zoom, self.canvas.aim_in(rect))
        return replace(
            given,
            crop=crop,
            focus=focus,
            focus_chosen=use.focus is None,
            ppi=_ppi(crop, rect),
            join=join_of(facts, self.plan, self.canvas, rect, crop, pictures),
            under=under_can(facts, self.plan, self.canvas, rect, crop, pictures),
        )

    def _for_photo(self, layer: PhotoLayer, use: PhotoUse | None) -> tuple[Rect, bool]:
        """Where a photo is printed, and whether that fills the face: its slot, or as much of it as
        the order asks for, in its middle (of a fill where a focus is steered to, and within the
        edge: what ends inside a face has no bleed)."""
        slot, fill = self._rect(layer), layer.at is None
        if use is None or use.size_mm is None:
            return slot, fill
        whole = self.canvas.size.rect if fill else slot
        about = self.canvas.aim if fill else (slot.centre_x, slot.centre_y)
        part = within(whole, *use.size_mm, about)
        return (slot, fill) if part.size == whole.size else (part, False)

    def _design_picture(self, layer: ArtLayer | PatternLayer) -> PhotoFacts:
        facts = self.materials.pictures.inspect(layer.file)
        if not facts.usable:
            raise ShopError(f"{layer.file.name}: {facts.problem}", facts.cure, layer.place)
        return facts

    def _art(self, layer: ArtLayer) -> PlacedArt:
        """Art covers a fill; in a box the whole of it shows, in the middle. Never stretched."""
        facts, rect = self._design_picture(layer), self._rect(layer)
        crop = facts.size_px.rect
        if layer.at is None:
            aim = self.canvas.aim_in(rect)
            crop = cover_crop(facts.size_px, rect.size, (0.5, 0.5), aim=aim)
        else:
            scale = min(rect.width / crop.width, rect.height / crop.height)
            width, height = crop.width * scale, crop.height * scale
            rect = Rect(rect.centre_x - width / 2, rect.centre_y - height / 2, width, height)
        return PlacedArt(
            rect=rect,
            face=self.canvas.name,
            fill=layer.at is None,
            place=layer.place,
            picture=facts,
            crop=crop,
            ppi=_ppi(crop, rect),
        )

    def _pattern(self, layer: PatternLayer) -> PlacedPattern:
        """A repeat that goes all the way round is scaled so that it meets itself there."""
        facts, rect = self._design_picture(layer), self._rect(layer)
        repeat, times, way = layer.repeat_mm, 0, self.canvas.size.width
        if self.canvas.goes_round(rect):
            times = whole_repeats(way, repeat, layer.lay)
            repeat = way / times
        return PlacedPattern(
            rect=rect,
            face=self.canvas.name,
            fill=layer.at is None,
            place=layer.place,
            picture=facts,
            repeat_mm=repeat,
            repeat_asked_mm=layer.repeat_mm,
            lay=layer.lay,
            repeats_round=times,
            ppi=ppi_of(facts.width_px, repeat),
        )


def _ppi(crop: Rect, rect: Rect) -> float:
    """Pixels for each finished inch, on the worse axis."""
    return min(ppi_of(crop.width, rect.width), ppi_of(crop.height, rect.height))
