"""Makes the pictures of the guide and of the README from the demo, and notes what they show.

    python tests/demo/guide_pictures.py [DEMO]

DEMO is a folder that `proofgen demo` built; without one it is built first. Needs Chromium and
poppler's pdftoppm. `content/guide/pictures/made-from.json` keeps for each picture the digest of
what it was made from: a test tells when the demo looks otherwise since.
"""

from __future__ import annotations

import hashlib
import io
import json
import re
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping
from html import escape
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

import pikepdf  # noqa: E402
from PIL import Image  # noqa: E402

from proofgen.pipeline.typed import typed_for  # noqa: E402
from proofgen.render.drawing import blank_svg  # noqa: E402
from proofgen.shop import built_in_blanks  # noqa: E402
from proofgen.signoff import Records  # noqa: E402

PICTURES = HOUSE / "content" / "guide" / "pictures"
MADE_FROM = PICTURES / "made-from.json"
MOST_BYTES = 400_000  # of all pictures together
# A blank of each kind, by the name of its drawing.
DRAWN = {
    "wrap": "can-wrap-linen",
    "fold": "can-fold",
    "sewn": "can-sewn-linen",
    "flat": "coaster-round",
}
_PROOF, _SHEET = "fenn-harbour", "*-sheets-*.pdf"
_NAMED = re.compile(r"\b(?:letters-)?[0-9a-f]{16}(?=\.(?:jpg|png|webp|pdf|woff2)\b)")


def proof_of(demo: Path) -> Path:
    """The page of the proof that is shown, below a demo's or the carried site."""
    token = Records(HOUSE / "content" / "records").token(_PROOF)
    return demo / "p" / str(token) / "index.html"


def page_text(path: Path, demo: Path) -> str:
    """A page's words, style and script: all but what differs with the folder it was built in and
    with how the command is typed there."""
    return _NAMED.sub("#", _typed_alike(path.read_text("utf-8"), demo))


def _typed_alike(text: str, demo: Path) -> str:
    """Commands as they are typed where the demo is called `demo` and lies before one."""
    ways = {typed_for(demo), typed_for(demo.resolve())}
    for way in sorted(ways, key=len, reverse=True):
        alone = " ".join(f"<span>{escape(word)}</span>" for word in way.split())
        for form in (way, escape(way), alone):
            text = text.replace(form, "proofgen --shop demo")
    return text


def sheet_of(demo: Path) -> Path:
    return min((demo / "workroom" / "press").glob(_SHEET))


def sheet_text(path: Path) -> str:
    """What a press sheet's first page shows: its size, its words, how large its pictures are."""
    with pikepdf.open(path) as pdf:
        page = pdf.pages[0]
        box = [float(side) for side in page.mediabox]
        images = sorted([int(one.Width), int(one.Height)] for one in page.get_images().values())
    said = subprocess.run(
        ["pdftotext", "-l", "1", "-layout", str(path), "-"], capture_output=True, check=True
    )
    return json.dumps([box, images, said.stdout.decode().split()])


SHOWN: Mapping[str, Callable[[Path], str]] = {
    "workroom.jpg": lambda demo: page_text(demo / "workroom" / "index.html", demo),
    "proof.jpg": lambda demo: page_text(proof_of(demo / "site"), demo),
    "sheet.jpg": lambda demo: sheet_text(sheet_of(demo)),
}


def digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def drawing(kind: str) -> str:
    """The drawing of a kind of blank, which takes the ink of the page it stands in."""
    blank = built_in_blanks()[DRAWN[kind]]
    plan = blank.plan()
    panel, size = next(iter(plan.panels.items()))
    svg = blank_svg(
        plan,
        panel,
        title=f"{kind}, lying flat, print side up",
        desc=f"{size.width:.0f} × {size.height:.0f} mm",
        prefix=f"blank-{kind}",
        letter_mm=(size.width + size.height) / 46,
    )
    return f"{svg}\n"


def _kept(picture: Image.Image, name: str, quality: int = 80) -> None:
    out = io.BytesIO()
    picture.convert("RGB").save(out, "JPEG", quality=quality, optimize=True, progressive=True)
    (PICTURES / name).write_bytes(out.getvalue())


def _photographed(page: Path, demo: Path, wide: int, high: int) -> Image.Image:
    from tests.browsers import running_browser

    shown = page.with_name("for-the-guide.html")
    shown.write_text(_typed_alike(page.read_text("utf-8"), demo), "utf-8")
    opened = running_browser().new_page(viewport={"width": wide, "height": high})
    try:
        opened.goto(shown.as_uri())
        opened.wait_for_timeout(1500)  # pictures that are lazy come once they are to be seen
        return Image.open(io.BytesIO(opened.screenshot()))
    finally:
        opened.close()
        shown.unlink()


def make(demo: Path) -> None:
    """Every picture anew, and what it was made from."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    _kept(_photographed(demo / "workroom" / "index.html", demo, 1180, 900), "workroom.jpg")
    _kept(_photographed(proof_of(demo / "site"), demo, 1180, 960), "proof.jpg")
    done = subprocess.run(
        ["pdftoppm", "-r", "64", "-l", "1", "-png", str(sheet_of(demo))],
        capture_output=True,
        check=True,
    )
    _kept(Image.open(io.BytesIO(done.stdout)), "sheet.jpg")
    for kind in DRAWN:
        (PICTURES / f"{kind}.svg").write_text(drawing(kind), "utf-8")
    made = {name: digest(text(demo)) for name, text in SHOWN.items()}
    MADE_FROM.write_text(json.dumps(made, indent=1) + "\n", "utf-8")


def main() -> None:
    if sys.argv[1:]:
        make(Path(sys.argv[1]).absolute())
        return
    from proofgen.cli import main as proofgen

    with tempfile.TemporaryDirectory() as scratch:
        demo = Path(scratch) / "demo"
        code = proofgen(["--quiet", "demo", str(demo)])
        if code:
            raise SystemExit(f"the demo ended with {code}")
        make(demo)


if __name__ == "__main__":
    main()
