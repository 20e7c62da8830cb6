"""Plays the demo shop's customers and maker through the real command, and keeps the outcome.

    python tests/demo/walk.py

writes content/records (what was shown and answered), site_demo (what `proofgen demo` publishes, of
its private pages some: tests/demo/carried.py) and the pictures of the guide
(tests/demo/guide_pictures.py, which needs Chromium).
Each act happens on its own day: the walk's copy of the shop has its `today` moved on.
"""

from __future__ import annotations

import re
import shutil
import sys
import tempfile
from email.message import EmailMessage
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from proofgen.cli import main  # noqa: E402
from proofgen.cli.guiding import write_guide  # noqa: E402
from proofgen.signoff import Records  # noqa: E402
from tests.demo import guide_pictures  # noqa: E402
from tests.demo.carried import left_out  # noqa: E402
from tests.slips import code_on, compose_slip, facts_on  # noqa: E402

CONTENT, SITE = HOUSE / "content", HOUSE / "site_demo"
MORNING = "2026-11-24T08:15:00Z"


class Walk:
    """The demo shop in a folder of its own, played day by day."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.records = Records(folder / "records")

    def run(self, *arguments: str, expect: int = 0) -> None:
        code = main(["--quiet", "--shop", str(self.folder), *arguments])
        assert code == expect, f"{' '.join(arguments)} ended with {code}, not {expect}"

    def day(self, day: str) -> None:
        settings = self.folder / "shop.yaml"
        text = re.sub(r"(?m)^today: .*$", f"today: {day}", settings.read_text("utf-8"))
        settings.write_text(text, "utf-8")

    def change(self, order: str, old: str, new: str) -> None:
        path = self.folder / "orders" / order / "order.yaml"
        text = path.read_text("utf-8")
        assert old in text, f"{order} no longer says {old}"
        path.write_text(text.replace(old, new), "utf-8")

    def send(self, *orders: str) -> None:
        self.run("proof", *orders)
        for order in orders:
            self.run("letter", order, "--sent")

    def page(self, order: str) -> Path:
        """The page that the customer opens."""
        return self.folder / "site" / "p" / str(self.records.token(order)) / "index.html"

    def slip(self, order: str, answer: str, *, at: str = MORNING, **given: str) -> str:
        return compose_slip(facts_on(self.page(order)), answer, written=at, print=True, **given)

    def answer(self, text: str, ending: str = "txt", expect: int = 0) -> None:
        path = self.folder.parent / f"answer.{ending}"
        path.write_text(text, "utf-8")
        self.run("answer", str(path), expect=expect)

    def mail(self, text: str, sender: str, date: str) -> None:
        message = EmailMessage()
        message["From"], message["To"] = sender, "hello@ternrow.example"
        message["Date"], message["Subject"] = date, text.split("\n", 1)[0]
        message.set_content(text)
        self.answer(message.as_string(), "eml")

    def code(self, order: str, answer: str, expect: int = 0) -> None:
        """Read out from the page."""
        self.answer(code_on(self.page(order), answer), expect=expect)


def play(walk: Walk) -> None:
    """What happened at the shop until the demo's day."""
    walk.day("2026-11-12")
    walk.send("haugen-lane")  # never answered: runs out on the 17th
    walk.send("zawadzka-jumper", "lindqvist-lamp")

    walk.day("2026-11-14")
    zawadzka = walk.slip("zawadzka-jumper", "ok", name="Łucja Zawadzka", at="2026-11-14T09:12:00Z")
    walk.mail(zawadzka, "lucja@zawadzka.example", "Sat, 14 Nov 2026 09:13:00 +0000")
    walk.code("lindqvist-lamp", "ok")

    walk.day("2026-11-17")
    walk.run("press")
    ghost = "a ghost beside the collar, the paper slipped"
    walk.run("press", "zawadzka-jumper", "--spoiled", "2", "--because", ghost)
    walk.run("press", "zawadzka-jumper", "--done")
    walk.run("handed-over", "zawadzka-jumper")
    walk.run(
        "order", "--name", "tamm-jumper", "--customer", "Kaarel Tamm", "--design", "winter-jumper",
        "--blank", "can-wrap-foam", "--cloth", "white", "--quantity", "2",
        "--words", "name=Kaarel", "--words", "line=warm hands, cold drink",
    )  # fmt: skip
    walk.send("tamm-jumper", "pell-pouch")

    walk.day("2026-11-20")
    walk.run("answer", "tamm-jumper", "--in-person", "Kaarel Tamm", "--says", "ok")
    walk.run("press", "tamm-jumper")
    walk.run("press", "tamm-jumper", "--done")
    walk.run("withdraw", "pell-pouch")

    walk.day("2026-11-22")
    walk.change("marchetti-boat", "in the shed, 2026", "in the shed, 2025")
    walk.send("quill-wedding", "okafor-garden", "marchetti-boat", "oneil-sands")
    walk.send("bracken-stall", "mistry-gulls", "sorensen-cabin")

    walk.day("2026-11-24")
    walk.run("press", "lindqvist-lamp", "--done")
    quill = walk.slip("quill-wedding", "ok", name="Maren Quill", at="2026-11-23T20:41:00Z")
    walk.mail(quill, "maren@quill.example", "Mon, 23 Nov 2026 20:42:00 +0000")
    walk.code("okafor-garden", "ok")
    boat = walk.slip("marchetti-boat", "ok", name="Zoë Marchetti", at="2026-11-24T07:30:00Z")
    walk.answer(boat)
    walk.change("marchetti-boat", "in the shed, 2025", "in the shed, 2026")  # after the sign-off
    sands = "Please write Biscuit’s year below the name."
    walk.answer(walk.slip("oneil-sands", "change", note=sands, name="Maeve O’Neil"))
    awning = "Could the awning be larger?"
    walk.answer(walk.slip("bracken-stall", "change", note=awning, name="Joss Bracken"))
    walk.answer(walk.slip("mistry-gulls", "ok", name="Anoushka Mistry"))
    walk.code("mistry-gulls", "change", expect=4)
    cabin = walk.slip("sorensen-cabin", "ok", name="Ebba Sørensen", at="2026-11-24T08:02:00Z")
    cabin += "\nPS: Wenn Ihnen das ø Mühe macht, genügt ein einfaches o.\n"
    walk.mail(cabin, "ebba@sorensen.example", "Tue, 24 Nov 2026 08:03:00 +0000")
    walk.run("forget", "tamm-jumper", "--sure", "tamm-jumper")

    walk.day("2026-11-25")
    walk.send("fenn-harbour")
    walk.run("proof", "abara-coasters")


def keep(source: Path, target: Path, *without: str) -> None:
    """Replace a folder of the checkout by what the walk made, but for what is named in `without`
    and for typefaces: those are other people's, and come from packages. Without them pages stand in
    the letters of the device."""
    shutil.rmtree(target, ignore_errors=True)
    shutil.copytree(source, target, ignore=shutil.ignore_patterns(".lock", "*.woff2", *without))


def walk_all() -> None:
    with tempfile.TemporaryDirectory() as scratch:
        shop = Path(scratch) / "shop"
        shutil.copytree(CONTENT, shop, ignore=shutil.ignore_patterns("records"))
        play(Walk(shop))
        keep(shop / "records", CONTENT / "records")
    with tempfile.TemporaryDirectory() as scratch:
        demo = Path(scratch) / "demo"
        code = main(["--quiet", "demo", str(demo)])
        assert code == 0, f"the demo ended with {code}"
        guide_pictures.make(demo)
        write_guide(demo / "site" / "guide", private=False)  # with the pictures of this demo
        keep(demo / "site", SITE, *left_out(Records(demo / "records")))


if __name__ == "__main__":
    walk_all()
