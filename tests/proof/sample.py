"""A proof to look at and to test: an invented order, its pictures painted here."""

from __future__ import annotations

import hashlib
import math
from dataclasses import replace
from datetime import date
from decimal import Decimal

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from proofgen.proof.content import (
    Change,
    Drawing,
    Pair,
    Piece,
    PriceLine,
    ProofContent,
    RealSize,
    Word,
    Work,
    picture,
)
from proofgen.proof.customer_findings import CustomerFinding
from proofgen.render.fonts import find_font
from proofgen.say.tongue import Tongue
from proofgen.signoff import AnswerKind, words_in
from proofgen.views.solid.made import Model

KEY = bytes(range(32))
WIDE, HIGH = 1304, 600  # the visible way round, 217.3 x 100 mm at 6 px a mm
NAMES = ("Odalys & Bram", "Zoë Nguyễn-O’Neil", "محمد", "Ilja Il1l O0", "Wren & Ísleifr")


def scene(words: str = "Odalys & Bram") -> Image.Image:
    """A harbour at dusk with a pier, and the words under it."""
    y = np.linspace(0, 1, HIGH)[:, None, None]
    top, low = np.array([58, 86, 128]), np.array([246, 196, 150])
    sky = np.broadcast_to(top + (low - top) * np.clip(y * 1.7, 0, 1), (HIGH, WIDE, 3))
    image = Image.fromarray(sky.astype(np.uint8))
    draw = ImageDraw.Draw(image)
    rng = np.random.default_rng(7)
    draw.ellipse((820, 250, 960, 390), fill=(255, 226, 170))
    for i in range(9):  # hills
        x, h = i * 170 - 60, 60 + int(rng.integers(0, 70))
        draw.ellipse((x, 350 - h, x + 320, 350 + h), fill=(70 + 4 * i, 92 + 3 * i, 112))
    draw.rectangle((0, 350, WIDE, HIGH), fill=(44, 78, 104))
    for _ in range(420):  # light on the water
        x, line = int(rng.integers(0, WIDE)), int(rng.integers(356, HIGH))
        length = int(rng.integers(6, 10 + (line - 340) // 5))
        near = max(0.0, 1 - abs(x - 890) / 420)
        shade = tuple(
            int(a + (b - a) * near) for a, b in zip((66, 104, 130), (250, 206, 150), strict=True)
        )
        draw.line((x, line, x + length, line), fill=shade, width=2)
    draw.rectangle((120, 330, 640, 346), fill=(52, 40, 36))
    for x in range(130, 640, 42):
        draw.rectangle((x, 346, x + 9, 430), fill=(46, 36, 33))
    draw.polygon([(700, 420), (860, 420), (835, 452), (722, 452)], fill=(158, 52, 38))
    draw.polygon([(770, 410), (770, 270), (850, 405)], fill=(246, 240, 226))
    file = find_font("Caladea Bold")
    assert file
    font = ImageFont.truetype(file, 78)
    draw.text((652, 530), words, font=font, fill=(255, 248, 236), anchor="mm")
    return image


def on_cloth(image: Image.Image, cloth: tuple[int, int, int] = (111, 183, 233)) -> Image.Image:
    """A plain product in 8 bit: enough for a picture to look at."""
    made = np.asarray(image).astype(float) * np.array(cloth) / 255
    return Image.fromarray(made.astype(np.uint8))


def turned(image: Image.Image, degrees: float) -> Image.Image:
    """The can seen from one side."""
    radius = WIDE / (2 * math.pi)
    across = int(2 * radius)
    x = (np.arange(across) + 0.5 - radius) / radius
    angle = np.arcsin(np.clip(x, -1, 1))
    column = (WIDE / 2 + radius * (angle + math.radians(degrees))) % WIDE
    shade = 0.45 + 0.55 * np.cos(angle)
    pixels = np.asarray(image)[:, column.astype(int)].astype(float) * shade[None, :, None]
    return Image.fromarray(pixels.astype(np.uint8)).resize((across * 2, HIGH * 2))


FLAT = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="-12 -12 264 128" role="img">
<title>The flat wrap</title><desc>Edges, the safe line and the closing strip</desc>
<image href="flat-1" x="0" y="0" width="240" height="100" preserveAspectRatio="none"/>
<g fill="none" stroke="currentColor" stroke-width="0.5">
<rect x="0" y="0" width="240" height="100"/>
<rect x="27.9" y="5" width="207.1" height="90" stroke-dasharray="2 2"/>
<path d="M0 100 L22.9 77 M0 80 L22.9 57 M0 60 L22.9 37 M0 40 L22.9 17 M0 20 L20 0"/>
<line x1="22.9" y1="0" x2="22.9" y2="100"/></g>
<g font-size="4.5" fill="currentColor"><text x="0" y="-3">hidden under the closing strip</text>
<text x="235" y="-3" text-anchor="end">keep words inside the short dashes</text></g></svg>"""

FINDINGS = (
    CustomerFinding("Your photo is a little small for this piece: it may look soft."),
    CustomerFinding("These words are hard to read on this cloth.", "You asked us to keep it pale."),
)


def words(names: tuple[str, ...] = NAMES) -> tuple[Word, ...]:
    """The date on every piece, a name on each."""
    everywhere = tuple(range(1, len(names) + 1))
    date_word = Word(pieces=everywhere, slot="Date", text="Saturday 12 June 2027")
    return (date_word, *(Word(pieces=(i,), slot="Name", text=n) for i, n in enumerate(names, 1)))


def work(names: tuple[str, ...] = NAMES, number: int = 1) -> Work:
    """One design on one blank."""
    plain = scene()
    ink = on_cloth(plain)
    views = ((0, "Front"), (90, "Right side"), (180, "The join, at the back"), (-90, "Left side"))
    every = tuple(
        Piece(
            pieces=(i,),
            numbers=str(i),
            faces=(
                picture(
                    f"piece-{number}-{i}-front",
                    on_cloth(scene(n)).resize((652, 300)).crop((163, 0, 489, 300)),
                    f"Piece {i}. “{n}” stands at the bottom, in the middle.",
                    "Front",
                ),
            ),
            differs="Set smaller than the others so that it fits." if i == 2 else "",
        )
        for i, n in enumerate(names, 1)
    )
    part = picture(
        f"part-{number}", ink.crop((392, 330, 872, 600)), "Part of the picture at its real size"
    )
    return Work(
        title="Harbour photo on the can wrap, sky",
        pieces=tuple(range(1, len(names) + 1)),
        views=tuple(
            picture(
                f"view-{number}-{i}", turned(ink, a), f"The wrapped can: {w.lower()}. A harbour.", w
            )
            for i, (a, w) in enumerate(views)
        ),
        every=tuple(sorted(every, key=lambda piece: not piece.differs)),
        drawings=(
            Drawing(
                label="Laid flat, the printed side towards you.",
                svg=FLAT.replace("flat-1", f"flat-{number}"),
                picture=picture(f"flat-{number}", ink, "The picture laid flat"),
            ),
        ),
        pairs=(
            Pair(
                side="Front",
                white=picture(f"white-{number}", plain, "The picture as ink on white"),
                cloth=picture(f"cloth-{number}", ink, "The picture as ink on sky-blue cloth"),
                cloth_name="sky",
            ),
        ),
        real_sizes=(RealSize(picture=part, width_mm=80, height_mm=45),),
        model=Model(glb=b"glTF", usdz=b"PK", size_mm=(72.1, 122.7, 72.1)),
        sharpness="Your photo has 231 pixels (the dots a picture is made of) for every printed "
        "inch: enough for this size.",
    )


def content(names: tuple[str, ...] = NAMES, edition: int = 2, **other: object) -> ProofContent:
    """The whole proof."""
    count = len(names)
    print_ = hashlib.sha256(b"sample").hexdigest()
    before = picture("before-1", on_cloth(scene("Odalis & Bram")).resize((652, 300)), "Before")
    after = picture("after-1", on_cloth(scene()).resize((652, 300)), "Now")
    change = Change(
        says="Piece 1: the name was “Odalis & Bram”, it is now “Odalys & Bram”.",
        before=before,
        after=after,
    )
    made = ProofContent(
        shop_name="Tern Row Press Room",
        contact="hello@ternrow.example",
        order="fenn",
        customer="Odalys Fenn",
        edition=edition,
        made=date(2026, 11, 25),
        answer_by=date(2026, 12, 4),
        due=date(2026, 12, 12),
        works=(work(names),),
        words=words(names),
        bill=(
            PriceLine(
                design="Harbour photo",
                blank="Standard can wrap, linen-look",
                cloth="sky",
                quantity=count,
                unit_price=Decimal("14.50"),
                total=Decimal("14.50") * count,
            ),
        ),
        total=Decimal("14.50") * count,
        findings=FINDINGS,
        before=edition - 1,
        changes=(change,) if edition > 1 else (),
        fingerprint=print_,
        key_hex=KEY.hex(),
        codes={AnswerKind.OK: "K2VC-2559", AnswerKind.CHANGE: "0QXJ-W71B"},
        slip_words=words_in(Tongue()),
        link="https://ternrow.example/p/an-invented-token/",
        demo=True,
    )
    return replace(made, **other)  # type: ignore[arg-type]
