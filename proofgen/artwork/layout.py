"""Layout: a design laid on a blank, and the different pieces an order asks for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from proofgen.artwork.description import Kept
from proofgen.artwork.materials import Materials
from proofgen.artwork.placing import Bench, Filling
from proofgen.artwork.words import tidy
from proofgen.errors import Place, ShopError
from proofgen.geometry import Canvas, FaceName, Plan, from_the_seam
from proofgen.model import (
    Blank,
    Design,
    Layout,
    Line,
    Order,
    Placed,
    Shop,
    Variant,
    WordsLayer,
)
from proofgen.say import did_you_mean, joined, sentences
from proofgen.say.parts import FACES


def _face_place(design: Design, face: FaceName) -> Place:
    line = design.lines.get(f"faces.{face}") or design.lines.get(face)
    return Place(design.place.file, line or design.lines.get("faces") or design.place.line)


def _canvas(plan: Plan, design: Design, blank: Blank, face: FaceName) -> Canvas:
    if face in plan.canvases:
        return plan.canvases[face]
    have = joined(f"“{name}”" for name in plan.canvases)
    gloss = f" ({FACES[face]})" if FACES[face] != face else ""
    raise ShopError(
        f"this design draws on “{face}”{gloss}, but {blank.name} has only {have}",
        "take this blank out of offered:, or give the design a face the blank has",
        _face_place(design, face),
    )


def _cloth_hex(blank: Blank, cloth: str, place: Place) -> str:
    if cloth in blank.cloth.colours:
        return blank.cloth.colours[cloth]
    known = ", ".join(blank.cloth.colours)
    raise ShopError(
        f"{blank.name} does not come in “{cloth}”",
        sentences(did_you_mean(cloth, blank.cloth.colours), f"It comes in: {known}"),
        place,
    )


def lay_out(
    design: Design,
    blank: Blank,
    filling: Filling,
    *,
    cloth: str,
    materials: Materials,
    place: Place,
    strict: bool = True,
) -> Layout:
    """A design laid on a blank: each layer in finished mm of its face's frame.

    A photo slot without a usable photo is placed without a crop: checks speak of it and the raster
    leaves it bare. `place` is where the cloth was asked for. Not `strict`, a face the blank lacks
    is left out.
    Errors: ShopError (a face the blank lacks, an unknown font or cloth, art that cannot be read);
    MachineError where words cannot be shaped.
    """
    plan = from_the_seam(blank.plan()) if filling.kept.from_seam else blank.plan()
    benches = {
        face: Bench(
            materials=materials,
            filling=filling,
            plan=plan,
            canvas=_canvas(plan, design, blank, face),
        )
        for face in design.faces
        if strict or face in plan.canvases
    }
    return Layout(
        blank=blank,
        plan=plan,
        cloth=cloth,
        cloth_hex=_cloth_hex(blank, cloth, place),
        correction=blank.cloth.correction(cloth),
        faces=_faces(design, benches),
    )


def _faces(design: Design, benches: dict[FaceName, Bench]) -> dict[FaceName, tuple[Placed, ...]]:
    """Every layer placed, the last drawn first, since a photo must know what will lie over it."""
    above: list[Placed] = []
    for face in reversed(benches):
        for layer in reversed(design.faces[face]):
            above.append(benches[face].place(layer, above))
    drawn = reversed(above)
    return {face: tuple(next(drawn) for _ in design.faces[face]) for face in benches}


def _in_other_words(
    design: Design, layout: Layout, filling: Filling, materials: Materials
) -> Layout:
    """The layout with other words. A photo's chosen place depends on their boxes, never on what
    they say, so that all names of a list share it."""
    faces = {}
    for face, layers in layout.faces.items():
        canvas = layout.plan.canvases[face]
        bench = Bench(materials=materials, filling=filling, plan=layout.plan, canvas=canvas)
        faces[face] = tuple(
            bench.words(layer) if isinstance(layer, WordsLayer) else placed
            for layer, placed in zip(design.faces[face], layers, strict=True)
        )
    return replace(layout, faces=faces)


def _known(shop: Shop, line: Line) -> tuple[Design, Blank]:
    design, blank = shop.designs.get(line.design), shop.blanks.get(line.blank)
    if design is not None and blank is not None:
        return design, blank
    kind, name = ("blank", line.blank) if design is not None else ("design", line.design)
    known = list(shop.blanks if design is not None else shop.designs)
    raise ShopError(
        f"there is no {kind} called “{name}”",
        sentences(did_you_mean(name, known), f"Known: {', '.join(known)}"),
        line.place_of(kind),
    )


def variants(
    shop: Shop,
    order: Order,
    materials: Materials,
    kept: Mapping[int, Kept] | None = None,
) -> list[Variant]:
    """The different pieces of an order: pieces of one line with the same words share one layout.
    `kept` is what its proof shows, by the number of the line.

    Words no slot of the design takes are left out: they change nothing that is pressed. A face the
    blank lacks is left out too, and a check stops the order for it.
    Errors: as lay_out otherwise, and ShopError for a design or blank the shop does not have.
    """
    least = shop.settings.limits.letter_height_mm
    looks: list[Variant] = []
    for line in order.lines:
        design, blank = _known(shop, line)
        slots = design.slots("words")
        alike: dict[tuple[str, ...], list[int]] = {}
        for piece in line.pieces:
            given = {**line.words, **piece.words}
            alike.setdefault(tuple(tidy(given.get(s, "")) for s in slots), []).append(piece.number)
        layout: Layout | None = None
        for texts, numbers in alike.items():
            words = dict(zip(slots, texts, strict=True))
            filling = Filling(
                photos=line.photos,
                words=words,
                least_letter_mm=least,
                kept=(kept or {}).get(line.number, Kept()),
            )
            if layout is None:
                cloth, place = line.cloth, line.place_of("cloth")
                layout = lay_out(
                    design,
                    blank,
                    filling,
                    cloth=cloth,
                    materials=materials,
                    place=place,
                    strict=False,
                )
            else:
                layout = _in_other_words(design, layout, filling, materials)
            looks.append(
                Variant(line=line.number, pieces=tuple(numbers), words=words, layout=layout)
            )
    return looks
