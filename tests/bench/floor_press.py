"""The floor under `press`: the same steps in a straight script, none of proofgen's code.

    python floor_press.py ORDER_FOLDER RASTER TEXTS OUT

The signed picture read, its pixels' digest taken, mirrored and packed into a page of its sheet with
what stands around it, the small pictures that TEXTS/pictures.json names, and the pages on paper of
TEXTS set once each, with their fonts, tags and pictures.
"""

import hashlib
import json
import os
import sys
import zlib
from io import BytesIO
from pathlib import Path

import numpy as np
import pikepdf
import weasyprint
import yaml
from PIL import Image

order, kept, texts, out = map(Path, sys.argv[1:5])


def write(name: str, data: bytes) -> None:
    with (out / name).open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def set_on_paper(file: str) -> bytes:
    made = weasyprint.HTML(string=(texts / file).read_text("utf-8"), base_url=f"{texts}/")
    return made.write_pdf(pdf_tags=True)


asked = yaml.load((order / "order.yaml").read_text("utf-8"), yaml.CSafeLoader)
raster = Image.open(BytesIO(kept.read_bytes())).convert("RGB")
digest = hashlib.sha256(raster.tobytes()).hexdigest()
for name, size in json.loads((texts / "pictures.json").read_text()).items():
    small = raster.resize(size, Image.Resampling.LANCZOS)
    small.save(texts / name, "PNG" if name.endswith(".png") else "JPEG")

mirrored = raster.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
rows = np.asarray(mirrored).reshape(mirrored.height, -1)
lines = np.empty((mirrored.height, rows.shape[1] + 1), np.uint8)
lines[:, 0], lines[0, 1:], lines[1:, 1:] = 2, rows[0], rows[1:] - rows[:-1]
around, *papers = sorted(texts.glob("*.html"))
with pikepdf.open(BytesIO(set_on_paper(around.name))) as pdf:
    ink = pdf.make_stream(zlib.compress(lines.tobytes(), 1))
    ink.Type, ink.Subtype = pikepdf.Name.XObject, pikepdf.Name.Image
    ink.Width, ink.Height = mirrored.size
    ink.ColorSpace, ink.BitsPerComponent = pikepdf.Name.DeviceRGB, 8
    ink.Filter = pikepdf.Name.FlateDecode
    ink.DecodeParms = pikepdf.Dictionary(
        Predictor=15, Colors=3, BitsPerComponent=8, Columns=mirrored.width
    )
    name = pdf.pages[0].add_resource(ink, pikepdf.Name.XObject)
    pdf.pages[0].contents_add(b"q 650 0 0 290 40 60 cm %s Do Q" % str(name).encode())
    pdf.save(file := BytesIO())
write("sheets.pdf", file.getvalue())
for number, paper in enumerate(papers):
    write(f"paper-{number}.pdf", set_on_paper(paper.name))
write("sheets.json", json.dumps({"order": asked, "digest": digest}, default=str).encode())
