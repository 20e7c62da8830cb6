"""What a proof page is given: pictures made from the very rasters that will be pressed."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from PIL import Image

from proofgen import checks, proof, signoff
from proofgen.artwork.rasters import Rasters, by_name
from proofgen.geometry import FaceName
from proofgen.model import Finding, Limits, Line, PlacedPhoto, PlacedWords, Shop, Variant
from proofgen.model.artwork_document import ArtworkDocument
from proofgen.model.documents import Verdict
from proofgen.pipeline.colour_words import LEAST_SHARE, say_colours, say_reach
from proofgen.pipeline.preflight import Prepared
from proofgen.render.drawing import blank_svg
from proofgen.say import number, pieces
from proofgen.say.parts import FACES, ON_NARROW_DRAWINGS, VIEWS
from proofgen.views.colours import kept_report
from proofgen.views.cut import face_picture, flat_view, real_size_crop
from proofgen.views.gamut import hatched
from proofgen.views.ink import on_cloth, on_its_cloth
from proofgen.views.inround import round_views
from proofgen.views.pictures import fitted
from proofgen.workshop import Workshop

_LOOKS: dict[Verdict, str] = {"good": "sharp", "soft": "a little soft", "coarse": "coarse"}
VIEW_WIDTH = 640  # px: the picture is the loud thing on the page
FACE_WIDTH = 520
FLAT_WIDTH = 1000
# Type in the flat drawing, as a share of its width and height: smaller than the page's where there
# is room, large enough to read where the whole drawing is as wide as a phone.
LETTER, NARROW_LETTER = 1 / 58, 1 / 36
REAL_SIZE_MM = (85.0, 50.0)
SHOWN_FACES = 60  # a longer guest list shows its words, and these many pictures
TOLD = ("stop", "warn", "broken", "note")  # what the customer is told of the findings
# What a maker needs to know and a customer does not; names on the shop's list are other people's.
# Nobody else's order is named to a customer, either.
FOR_THE_MAKER = ("blank/", "order/stock", "order/due", "order/same-photo", "words/spelling")


@dataclass
class Shown:
    """An edition and what is needed to draw it."""

    prepared: Prepared
    edition: signoff.Edition
    rasters: list[Rasters]  # of each variant
    before: signoff.Edition | None = None
    before_pictures: Mapping[str, Image.Image] = field(default_factory=dict)
    link: str = ""


def _title(workshop: Workshop, line: Line) -> str:
    design = workshop.shop.designs[line.design].title
    return f"{design} on {workshop.shop.blanks[line.blank].name}, {line.cloth}"


def _sharpness(placed: list[PlacedPhoto], limits: Limits) -> str:
    ppi = min((p.ppi for p in placed if p.ppi is not None), default=None)
    if ppi is None:
        return ""
    looks = _LOOKS[checks.verdict(ppi, limits)]
    return f"Your photo has {number(ppi, 0)} pixels for every printed inch: {looks}."


def _faces(shown: Shown, of_line: list[tuple[int, Variant]], title: str) -> list[proof.Picture]:
    found = []
    for index, variant in of_line[:SHOWN_FACES]:
        # What is drawn all the way round shows the front as well.
        drawn = variant.layout.faces
        faces: list[FaceName] = ["round"] if "round" in drawn else list(drawn)
        several = len(faces) > 1
        for face in faces:
            image = face_picture(shown.rasters[index], face)
            found.append(
                proof.picture(
                    f"face-{index + 1}-{face}",
                    fitted(image, FACE_WIDTH),
                    f"{title}: {FACES[face]}, {pieces(variant.pieces)}",
                    f"{pieces(variant.pieces, capital=True)}, {FACES[face]}"
                    if several
                    else pieces(variant.pieces, capital=True),
                )
            )
    return found


def _drawings(shown: Shown, index: int, title: str) -> list[proof.Drawing]:
    variant, rasters = shown.prepared.variants[index], shown.rasters[index]
    plan = variant.layout.plan
    made = []
    for panel, size in plan.panels.items():
        image = fitted(flat_view(rasters, panel), FLAT_WIDTH)
        slug = panel.replace(" ", "-")
        picture = proof.picture(f"flat-{variant.line}-{slug}", image, f"{title}, laid flat")
        wide, narrow = (
            blank_svg(
                plan,
                panel,
                prefix="flat",
                picture_href=picture.name,
                title=f"{title}, laid flat",
                desc="Where the edges, the join and the hidden strip fall.",
                letter_mm=(size.width + size.height) * share,
                labels=labels,
            )
            for share, labels in ((LETTER, None), (NARROW_LETTER, ON_NARROW_DRAWINGS))
        )
        label = "The whole cloth, laid flat" if len(plan.panels) == 1 else f"The {panel}, laid flat"
        made.append(proof.Drawing(label=label, svg=wide, picture=picture, narrow_svg=narrow))
    return made


def _pair(shown: Shown, index: int, title: str, workshop: Workshop) -> proof.Pair:
    layout = shown.prepared.variants[index].layout
    rasters = shown.rasters[index]
    face = next(iter(layout.faces))
    pictures = {
        cloth: fitted(face_picture(rasters, face, cloth=cloth), FACE_WIDTH)
        for cloth in (False, True)
    }
    line = shown.prepared.variants[index].line
    same = layout.cloth_hex.lower() == "#ffffff" and layout.correction is None
    says = () if same else say_colours(kept_report(layout, workshop.materials))
    reach, printed = None, False
    if printer := workshop.printer:
        # Swatches were pressed by way of the printer: what they tell has its reach in it already.
        if layout.correction is None:
            given = on_cloth(printer.printed(pictures[False]), layout.cloth_hex)
            pictures[True], same, printed = given, False, True
        missed, share = hatched(pictures[False], printer)
        if share >= LEAST_SHARE:
            alt = f"{title}: what the printer cannot reach"
            reach = proof.picture(f"reach-{line}", missed, alt)
            says = (*says, say_reach(share))
    return proof.Pair(
        white=proof.picture(f"ink-white-{line}", pictures[False], f"{title}: the ink on white"),
        cloth=None
        if same
        else proof.picture(
            f"ink-cloth-{line}",
            pictures[True],
            f"{title}: the ink on {layout.cloth}, as the printer gives it"
            if printed
            else f"{title}: the ink on {layout.cloth}",
        ),
        cloth_name=layout.cloth,
        shape="round" if layout.plan.shape == "round" else "",
        says=says,
        printed=printed,
        reach=reach,
    )


def _real_size(shown: Shown, index: int, title: str) -> proof.RealSize:
    image, rect = real_size_crop(shown.rasters[index], *REAL_SIZE_MM)
    line = shown.prepared.variants[index].line
    return proof.RealSize(
        picture=proof.picture(f"real-size-{line}", image, f"{title}: a part at its real size"),
        width_mm=rect.width,
        height_mm=rect.height,
    )


def work_of(shown: Shown, workshop: Workshop, line: Line) -> proof.Work:
    """One line of the order, drawn."""
    of_line = [
        (index, v) for index, v in enumerate(shown.prepared.variants) if v.line == line.number
    ]
    first = of_line[0][0]
    title = _title(workshop, line)
    views = [
        proof.picture(
            f"view-{line.number}-{view.kind}",
            view.image,
            f"{title}: {VIEWS[view.kind]}",
            VIEWS[view.kind],
        )
        for view in round_views(shown.rasters[first], VIEW_WIDTH, background=workshop.theme.plate)
    ]
    order = ("front", "right", "closure", "back", "left")  # as it is turned in the hand
    views.sort(key=lambda p: order.index(p.name.rsplit("-", 1)[1]))
    placed = [p for _, v in of_line for p in v.layout.layers if isinstance(p, PlacedPhoto)]
    return proof.Work(
        title=title,
        pieces=tuple(sorted(n for _, v in of_line for n in v.pieces)),
        views=tuple(views),
        faces=tuple(_faces(shown, of_line, title)) if len(of_line) > 1 else (),
        drawings=tuple(_drawings(shown, first, title)),
        pair=_pair(shown, first, title, workshop),
        real_size=_real_size(shown, first, title),
        sharpness=_sharpness(placed, workshop.shop.settings.limits),
    )


def words_of(prepared: Prepared, shop: Shop) -> list[proof.Word]:
    """Every text that will be pressed, once, with the pieces that carry it."""
    found: dict[tuple[int, str, str], set[int]] = {}
    for variant in prepared.variants:
        for placed in variant.layout.layers:
            if isinstance(placed, PlacedWords) and placed.slot and placed.text:
                key = (variant.line, placed.slot, placed.text)
                found.setdefault(key, set()).update(variant.pieces)
    ordered = sorted(found.items(), key=lambda item: (min(item[1]), item[0][0]))
    designs = {line.number: shop.designs[line.design] for line in prepared.order.lines}
    return [
        proof.Word(pieces=tuple(sorted(pieces)), slot=designs[line].label(slot), text=text)
        for (line, slot, text), pieces in ordered
    ]


def bill_of(workshop: Workshop, prepared: Prepared) -> tuple[list[proof.PriceLine], Decimal | None]:
    """What it costs; no total when a price is missing."""
    lines = []
    for line in prepared.order.lines:
        design = workshop.shop.designs[line.design]
        price = design.price(line.blank, line.quantity)
        lines.append(
            proof.PriceLine(
                design=design.title,
                blank=workshop.shop.blanks[line.blank].name,
                cloth=line.cloth,
                quantity=line.quantity,
                unit_price=price,
                total=None if price is None else price * line.quantity,
            )
        )
    totals = [x.total for x in lines]
    if any(t is None for t in totals):
        return lines, None
    return lines, sum((t for t in totals if t is not None), Decimal(0))


def _in_words(document: ArtworkDocument, shop: Shop) -> ArtworkDocument:
    """A description with titles and labels where it has ids: for people, not for a fingerprint."""
    worded = copy.deepcopy(document)
    for line in worded["lines"]:
        design, blank = shop.designs.get(line["design"]), shop.blanks.get(line["blank"])
        line["blank"] = blank.name if blank else line["blank"]
        if design is None:
            continue
        line["design"] = design.title
        for variant in line["variants"]:
            variant["words"] = {design.label(s): text for s, text in variant["words"].items()}
            for layer in (x for layers in variant["faces"].values() for x in layers):
                if layer.get("slot"):
                    layer["slot"] = design.label(layer["slot"])
    return worded


def changes_of(shown: Shown, shop: Shop) -> list[proof.Change]:
    """What differs from the edition before, in words, and the first picture that differs."""
    if shown.before is None:
        return []
    sentences = signoff.changes(
        _in_words(shown.before.document, shop), _in_words(shown.edition.document, shop)
    )
    made = [proof.Change(says=text) for text in sentences]
    layouts = {name: of.layout for of in shown.rasters for name in of.names.values()}
    for name, now in by_name(shown.rasters).items():
        then = shown.before_pictures.get(name)
        if made and then is not None and then.tobytes() != now.tobytes():
            pair = [
                proof.picture(
                    f"change-{when}",
                    fitted(on_its_cloth(image, layouts[name]), FACE_WIDTH),
                    alt,
                    f"Proof {edition.number}",
                )
                for when, alt, image, edition in (
                    ("before", "The artwork as it was", then, shown.before),
                    ("after", "The artwork as it is now", now, shown.edition),
                )
            ]
            made[0] = proof.Change(says=made[0].says, before=pair[0], after=pair[1])
            break
    return made


def told_findings(findings: list[Finding]) -> list[Finding]:
    """The findings a customer should know of."""
    return [f for f in findings if f.status in TOLD and not f.check.startswith(FOR_THE_MAKER)]


def content_of(shown: Shown, workshop: Workshop) -> proof.ProofContent:
    """Everything on the page."""
    prepared, edition, settings = shown.prepared, shown.edition, workshop.shop.settings
    bill, total = bill_of(workshop, prepared)
    return proof.ProofContent(
        shop_name=settings.name,
        contact=settings.contact,
        order=prepared.order.id,
        customer=prepared.order.customer.name,
        edition=edition.number,
        made=edition.made.date(),
        answer_by=edition.answer_by,
        due=prepared.order.due,
        works=tuple(work_of(shown, workshop, line) for line in prepared.order.lines),
        words=tuple(words_of(prepared, workshop.shop)),
        bill=tuple(bill),
        total=total,
        findings=tuple(told_findings(prepared.findings)),
        changes=tuple(changes_of(shown, workshop.shop)),
        fingerprint=edition.fingerprint,
        key_hex=edition.key.hex(),
        codes=signoff.three_codes(edition),
        slip_words=signoff.SLIP_WORDS,
        link=shown.link,
        house_words=workshop.shop.words.get("proof", ""),
        demo=settings.demo,
    )
