"""The floor under `proof`: the same steps in a straight script, none of proofgen's code.

    python floor_proof.py ORDER_FOLDER PAGE_TEXT PDF_TEXT OUT

Order read, photo opened whole, press raster with words, the pictures that OUT/pictures.json names,
page, and the page on paper set once, with its fonts, tags and pictures.
"""

import hashlib
import json
import os
import sys
import zlib
from io import BytesIO
from pathlib import Path

import jinja2
import numpy as np
import weasyprint
import yaml
from PIL import Image, ImageDraw, ImageFont

order, page_text, pdf_text, out = map(Path, sys.argv[1:5])
RASTER, VIEW = (2977, 1323), (640, 1029)


def write(name: str, data: bytes) -> None:
    with (out / name).open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def jpeg(picture: Image.Image) -> bytes:
    picture.save(file := BytesIO(), "JPEG", quality=85, optimize=True)
    return file.getvalue()


sampled = Image.Resampling.LANCZOS
fill = jinja2.Environment(autoescape=True).from_string
asked = yaml.load((order / "order.yaml").read_text("utf-8"), yaml.CSafeLoader)
line = asked["lines"][0]
photo = (order / line["photos"]["photo"]["file"]).read_bytes()
source = Image.open(BytesIO(photo))
source.load()
high = source.width * RASTER[1] / RASTER[0]
raster = source.resize(RASTER, sampled, box=(0, 100, source.width, 100 + high))
for at, text in enumerate([*line["words"].values(), asked["customer"]["name"]]):
    font = ImageFont.truetype(os.environ["FLOOR_FONT"], 140)
    mask = Image.new("L", (1800, 240))
    ImageDraw.Draw(mask).text((20, 20), text, 255, font=font)
    small = mask.resize((900, 120), Image.Resampling.BOX)
    raster.paste((60, 70, 50), (200, 800 + 140 * at), small)
rows = np.asarray(raster).reshape(RASTER[1], -1)
lines = np.empty((RASTER[1], rows.shape[1] + 1), np.uint8)
lines[:, 0], lines[0, 1:], lines[1:, 1:] = 2, rows[0], rows[1:] - rows[:-1]
write("raster.png", zlib.compress(lines.tobytes(), 1))
digests = [hashlib.sha256(data).hexdigest() for data in (photo, raster.tobytes())]
told = {"order": asked, "digests": digests}
write("edition.json", json.dumps(told, default=str, sort_keys=True).encode())

y, x = np.mgrid[0 : VIEW[1], 0 : VIEW[0]]
across = np.arcsin(np.clip((x / VIEW[0] - 0.5) * 2, -1, 1)) / np.pi + 0.5
light = (0.6 + 0.4 * np.cos((x / VIEW[0] - 0.5) * 3))[..., None].astype(np.float32)
cloth = np.array([250, 248, 244], np.float32) / 255
pictures = {}
for number, (name, size) in enumerate(json.loads((out / "pictures.json").read_text()).items()):
    if size[1] > size[0]:  # in the round
        part = raster.resize((1200, VIEW[1]), box=(left := 300 * number, 0, left + 1400, RASTER[1]))
        bent = np.asarray(part)[y, (across * 1199).astype(int)] * light * cloth
        pictures[name] = jpeg(Image.fromarray(bent.astype(np.uint8)).resize(size, sampled))
    else:
        pictures[name] = jpeg(raster.resize(size, sampled))
for name, data in pictures.items():
    write(name, data)
page = fill(page_text.read_text("utf-8")).render(words=line["words"])
write("index.html", page.encode())
html = fill(pdf_text.read_text("utf-8")).render(words=line["words"])
made = weasyprint.HTML(string=html, base_url=f"{out}/")
write("proof.pdf", made.write_pdf(pdf_tags=True))
