"""What customers read of a new shop until its maker writes their own: a design, a season, a page
about the shop, in the shop's language. Remarks are for the maker, in English."""

from __future__ import annotations

import re
from collections.abc import Mapping

from proofgen.shop.yaml_text import as_yaml

FIRST = "designs/first-design"
# Capitals stand for what is in the language of the shop.
_DESIGN = """\
---
# A first design to try and to change. For the next one, copy this folder under a new name: that
# name is what you type in an order. What stands behind a # is a remark.
title: TITLE

# What it is sold on and for how much, or for how much from a quantity up. `proofgen blanks` lists
# the blanks; one that you measured yourself goes here too.
offered:
  can-wrap-linen: {1: 12.00, 6: 10.50}
  coaster-round: 8.00

# Its faces: round (all the way round a can), front, back. Each has layers, the lowest first:
#   colour: "#dfe9dc"                               a plain ground; with at:, a plate
#   photo: {slot: photo, at: fill}                  a photo of the customer
#   words: {slot: name, at: …, size: 9 mm}          words of the customer
#   art: {file: frame.png, at: …}                   a picture of yours, in this folder
#   pattern: {file: dots.png, repeat: 30 mm, at: fill}
# at: fill is the whole face; otherwise left, top, width and height, in % of the face or in mm.
# size: of the type; a capital letter is about two thirds of it. Words take a font: as well.
faces:
  front:
    - colour: "#dfe9dc"
    - photo: {slot: photo, at: fill}
    - colour: {colour: "#fdf6e6", at: [22 %, 66 %, 56 %, 16 %]}
    - words: {slot: name, at: [25 %, 66 %, 50 %, 16 %], size: 7 mm, colour: "#1d2f4f"}

# What you and your customers call these places.
labels: {photo: PHOTO, name: NAME}

# What the catalogue shows in them. Put a picture into this folder and add
#   photos: {photo: sample.jpg}
sample:
  words: {name: "YOURS"}
---
BODY
"""

_SEASON = """\
---
# What your catalogue shows. Put more designs into the list, or write another season beside it.
title: SEASON
sentence: SENTENCE
designs: [first-design]
# from: 2026-11-01      # when it is on; left out: always
# until: 2027-02-28
---
WELCOME
"""

_ABOUT = """\
# ABOUT

PROMISE
"""

_TEXTS: Mapping[str, Mapping[str, str]] = {
    "en": {
        "TITLE": "Photo and name",
        "PHOTO": "the photo",
        "NAME": "the name",
        "YOURS": "Your name",
        "BODY": "A photo of yours, with a name on a plate.",
        "SEASON": "All year round",
        "SENTENCE": "Your photo on cloth, one piece at a time.",
        "WELCOME": "Choose a design and send us your photo.",
        "ABOUT": "About us",
        "PROMISE": "We press photos and names onto cloth, one piece at a time. You see a proof of "
        "yours before\nanything is pressed.",
    },
    "de": {
        "TITLE": "Foto und Name",
        "PHOTO": "das Foto",
        "NAME": "der Name",
        "YOURS": "Ihr Name",
        "BODY": "Ein Foto von Ihnen, mit einem Namen auf einem Schild.",
        "SEASON": "Das ganze Jahr",
        "SENTENCE": "Ihr Foto auf Stoff, Stück für Stück.",
        "WELCOME": "Wählen Sie ein Muster und schicken Sie uns Ihr Foto.",
        "ABOUT": "Über uns",
        "PROMISE": "Wir drucken Fotos und Namen auf Stoff, Stück für Stück. Sie sehen eine "
        "Vorlage,\nbevor etwas gepresst wird.",
    },
    "es": {
        "TITLE": "Foto y nombre",
        "PHOTO": "la foto",
        "NAME": "el nombre",
        "YOURS": "Su nombre",
        "BODY": "Una foto suya, con un nombre en una placa.",
        "SEASON": "Todo el año",
        "SENTENCE": "Su foto sobre tela, pieza a pieza.",
        "WELCOME": "Elija un diseño y envíenos su foto.",
        "ABOUT": "Sobre nosotros",
        "PROMISE": "Estampamos fotos y nombres sobre tela, pieza a pieza. Verá una prueba de la "
        "suya antes de\nque se estampe nada.",
    },
    "ar": {
        "TITLE": "صورة واسم",
        "PHOTO": "الصورة",
        "NAME": "الاسم",
        "YOURS": "اسمك",
        "BODY": "صورة لك، مع اسم على لوحة.",
        "SEASON": "طوال العام",
        "SENTENCE": "صورتك على القماش، قطعة قطعة.",
        "WELCOME": "اختر تصميمًا وأرسل إلينا صورتك.",
        "ABOUT": "من نحن",
        "PROMISE": "نطبع الصور والأسماء على القماش، قطعة قطعة. سترى نموذجًا قبل أن نطبع أي شيء.",
    },
}


_PLACES = re.compile(rf"\b(?:{'|'.join(_TEXTS['en'])})\b")


def first_texts(language: str, sample: str = "") -> dict[str, str]:
    """The files of a new shop that its customers read something of, by their paths; in English
    where the language is none of ours. `sample`: the photo in the first design's folder that the
    catalogue shows."""
    words = _TEXTS.get(language.split("-")[0], _TEXTS["en"])
    shown = f"sample:\n  photos: {{photo: {as_yaml(sample)}}}\n" if sample else "sample:\n"
    files = {
        "words/about.md": _ABOUT,
        "seasons/all-year.md": _SEASON,
        f"{FIRST}/design.md": _DESIGN.replace("sample:\n", shown, 1),
    }
    return {file: _PLACES.sub(lambda found: words[found[0]], text) for file, text in files.items()}
