"""A small season to look at and to test: invented designs, their pictures painted here."""

from __future__ import annotations

import hashlib
import io
from dataclasses import replace
from decimal import Decimal

from PIL import Image, ImageDraw

from proofgen.catalogue import BlankCard, Entry, Offer, Plate, SeasonContent
from proofgen.catalogue.fitting import Cloth, Fitting, FittingOffer, Sheet, View
from proofgen.catalogue.order_form import FormBlank, FormSlot, OrderForm
from proofgen.colour import Law
from proofgen.views.fitting import Spot, Window

CUP = (160, 228)
PATCH = (200, 150)


def plate(title: str, blank: str, side: str, size: tuple[int, int] = CUP) -> Plate:
    """A painted picture, named by its content as the real ones are."""
    digest = hashlib.sha256(f"{title} {blank} {side}".encode()).digest()
    image = Image.new("RGB", size, (digest[0], digest[1], digest[2]))
    draw = ImageDraw.Draw(image)
    draw.rectangle((20, size[1] // 2, size[0] - 30, size[1] - 20), fill=tuple(digest[3:6]))
    stream = io.BytesIO()
    image.save(stream, "JPEG", quality=80)  # in memory
    content = stream.getvalue()
    return Plate(
        name=f"pictures/{hashlib.sha256(content).hexdigest()[:16]}.jpg",
        content=content,
        alt=f"{title} on {blank}: {side}",
        width_px=size[0],
        height_px=size[1],
        label=side,
        side={"Front": "front", "Back": "back"}.get(side, ""),
    )


def offer(
    title: str,
    blank: str = "wrap",
    name: str = "Linen wrap",
    construction: str = "wrap",
    prices: tuple[tuple[int, str], ...] = ((1, "14.50"),),
    sides: tuple[str, ...] = ("Front", "Left side", "Right side"),
    least_px: tuple[int, int] | None = (1985, 882),
) -> Offer:
    size = PATCH if construction == "flat" else CUP
    return Offer(
        blank=blank,
        blank_name=name,
        construction=construction,
        finish="linen-look",
        size_mm=(217.0, 100.0),
        cloths=(("white", "#ffffff"), ("sky", "#6fb7e9")),
        prices=tuple((start, Decimal(price)) for start, price in prices),
        least_px=least_px,
        plates=tuple(plate(title, name, side, size) for side in sides),
    )


def entry(name: str, title: str, *offers: Offer, **other: object) -> Entry:
    made = Entry(
        id=name,
        title=title,
        text=f"{title} is set in two inks.\n\nIt *keeps* its colour.",
        occasions=("gift", "wedding"),
        photo_slots=("photo",),
        word_slots=("the name on the board", "a line below"),
        offers=offers or (offer(title),),
    )
    return replace(made, **other)  # type: ignore[arg-type]


def with_form(one: Entry) -> Entry:
    """The same with the form that puts an order together."""
    form = OrderForm(
        design=one.id,
        title=one.title,
        words=tuple(FormSlot(id=f"w{n}", label=label) for n, label in enumerate(one.word_slots)),
        photos=tuple(FormSlot(id=f"p{n}", label=label) for n, label in enumerate(one.photo_slots)),
        blanks=tuple(
            FormBlank(
                id=offer.blank,
                name=offer.blank_name,
                cloths=tuple((name, name, shade) for name, shade in offer.cloths),
                prices=offer.prices,
            )
            for offer in one.offers
        ),
    )
    return replace(one, form=form)


def card(blank: str, name: str, designs: tuple[tuple[str, str], ...]) -> BlankCard:
    return BlankCard(
        id=blank,
        blanks=(blank,),
        name=name,
        construction="wrap",
        drawing='<svg viewBox="0 0 240 100" role="img"><title>Flat</title></svg>',
        size_mm=(240.0, 100.0),
        print_mm=(217.0, 100.0),
        good_px=(1985, 882),
        cloths=(("linen-look", (("white", "#ffffff"), ("sky", "#6fb7e9"))),),
        designs=designs,
    )


STEPS = ((1, "14.50"), (6, "13.00"), (12, "11.80"))
QUAY = entry(
    "quay-photo",
    "Quay photo",
    offer("Quay photo", prices=STEPS),
    offer("Quay photo", "slim", "Slim wrap", prices=((1, "15.25"),)),
    offer("Quay photo", "patch", "Sail patch", "flat", ((1, "9.00"), (4, "8.10")), ("Front",)),
)
KNIT = entry(
    "knit",
    "Knitted cup",
    offer("Knitted cup", prices=((1, "12.50"), (6, "11.00")), least_px=None),
    occasions=("winter",),
    photo_slots=(),
)
TILE = entry(
    "tile",
    "Gull tile",
    offer("Gull tile", "tile", "Round tile", "flat", ((1, "6.50"),), ("Front",), None),
    photo_slots=(),
    word_slots=(),
)
# Of a patch that takes a photo all over; its light is not there.
FITTING = Fitting(
    slots=(("photo", "photo"),),
    limits=(200.0, 120.0),
    ground="#f7f4ee",
    offers=(
        FittingOffer(
            blank="patch",
            called="Sail patch",
            cloths=(Cloth(name="white", called="white", shade="#ffffff", law=Law()),),
            surface=(100.0, 80.0),
            strip=(500, 400),
            size=(640, 500),
            spots=(
                Spot(
                    slot="photo",
                    width=106.0,
                    height=86.0,
                    aim=(53.0, 43.0),
                    windows=(Window(x=-3.0, y=-3.0, clip=(0.0, 0.0, 100.0, 80.0)),),
                ),
            ),
            sheets=(Sheet(spot=0),),
            views=(View(called="Front", planes="pictures/light.webp"),),
            lies=(5.0, 0.5, -0.5, 4.0, 60.0, 40.0),
        ),
    ),
)
WORDS = {
    "about": "# Who we are\n\nTwo people and [a map](https://pierhead.example/map).",
    "care": "- Wash by hand.\n- Dry it flat.",
}


def season(entries: tuple[Entry, ...] = (QUAY, KNIT, TILE), **other: object) -> SeasonContent:
    """The whole season, with a card for each blank."""
    blanks: dict[str, tuple[str, list[tuple[str, str]]]] = {}
    for one in entries:
        for it in one.offers:
            blanks.setdefault(it.blank, (it.blank_name, []))[1].append((one.id, one.title))
    made = SeasonContent(
        shop_name="Pierhead Press",
        contact="hello@pierhead.example",
        demo=False,
        title="Spring at the pierhead",
        sentence="Light things for long evenings.",
        text="The boats go out again.",
        entries=entries,
        texts=WORDS,
        blanks=tuple(card(b, name, tuple(designs)) for b, (name, designs) in blanks.items()),
    )
    return replace(made, **other)  # type: ignore[arg-type]
