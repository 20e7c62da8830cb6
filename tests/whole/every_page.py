"""Every page that a proof's link can lead to, in each language, made by the real command.

    python tests/whole/every_page.py FOLDER

leaves FOLDER/LANGUAGE-KIND/index.html with its pictures; KIND is a state, or a construction whose
proof waits for its answer.
"""

from __future__ import annotations

import re
import shutil
import sys
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(HOUSE))

from proofgen.signoff import Records, State  # noqa: E402
from tests.slips import code_on, compose_slip, facts_on  # noqa: E402
from tests.whole.running import inside  # noqa: E402

LANGUAGES = ("en", "de", "es", "ar")
_NAMES = "Zoë Pemberley,Łucja Wiśniewska,Božena Hus,Ines O’Lund,José Peña,Il1l O0,Ada,Bo,Siân Rhys"


def _line(design: str, blank: str, cloth: str, quantity: int, words: str, photo: str = "") -> str:
    """An order's line; `photo` is one of the demo's."""
    photos = f"    photos: {{photo: {{file: photos/{photo}, focus: [0.5, 0.5]}}}}\n" * bool(photo)
    return (
        f"  - design: {design}\n    blank: {blank}\n    cloth: {cloth}\n"
        f"    quantity: {quantity}\n{photos}    {words}\n"
    )


_BOAT = 'words: {name: "Łucja & the Wren", line: "built in the shed"}'
LINES = {  # by the kind of page they make
    "main": _line("gull-coaster", "coaster-round", "sand", 6, 'words: {name: "Gull Cottage"}'),
    "other": _line("gull-coaster", "coaster-round", "sand", 1, 'words: {name: "Il1l O0"}'),
    "late": _line("gull-coaster", "coaster-round", "white", 2, 'words: {name: "Mill Lane"}'),
    "list": _line("gull-coaster", "coaster-round", "sand", 9, "list: guests.csv"),
}
CONSTRUCTIONS = {
    "wrap": _line("harbour-photo", "can-wrap-linen", "white", 6,
                  'words: {name: "Odalys & Bram", line: "forty years"}', "evening-quay.jpg"),
    "fold": _line("bunting-days", "can-fold-linen", "white", 8,
                  'words: {name: "Hattie is 70", message: "Thank you", day: "2026"}', "garden.jpg"),
    "sewn": _line("block-boat", "can-sewn-linen", "sky", 3, _BOAT),
    "patch": _line("block-boat", "market-patch", "sky", 3, _BOAT),
    "pouch": _line("block-boat", "pouch-flat", "natural", 3, _BOAT),
    "names": _line("two-on-a-hill", "can-wrap-linen", "white", 9,
                   'words: {couple: "Maren & Søren", day: "2027"}\n    list: guests.csv',
                   "hill.png"),
}  # fmt: skip


class Pages:
    """A copy of the demo's shop, and what its customers saw at their links."""

    def __init__(self, shop: Path, kept: Path) -> None:
        self.shop, self.kept = shop, kept
        self._links: dict[str, str] = {}  # records forget them with the rest
        shutil.copytree(
            HOUSE / "content", shop, ignore=shutil.ignore_patterns("records", "seasons", "orders")
        )
        self.edit(shop / "shop.yaml", "ppi: 150", "ppi: 72")

    def edit(self, path: Path, old: str, new: str) -> None:
        text = path.read_text("utf-8")
        assert old in text, f"{path.name} does not say {old}"
        path.write_text(text.replace(old, new), "utf-8")

    def order(self, kind: str, language: str, line: str) -> None:
        folder = self.shop / "orders" / f"{language}-{kind}"
        (folder / "photos").mkdir(parents=True)
        for photo in re.findall(r"photos/([\w.-]+)", line):
            (found,) = (HOUSE / "content" / "orders").glob(f"*/photos/{photo}")
            shutil.copy(found, folder / "photos")
        column = "guest" if "two-on-a-hill" in line else "name"
        names = "\n".join([column, *_NAMES.split(",")])
        (folder / "guests.csv").write_text(names + "\n", "utf-8")
        (folder / "order.yaml").write_text(
            f"customer: {{name: Ebba Lund, email: ebba@lund.example, language: {language}}}\n"
            f"due: 2026-12-20\nrights: {{show: yes}}\nlines:\n{line}",
            "utf-8",
        )

    def run(self, *arguments: str, exits: int | None = 0) -> None:
        inside(self.shop, "--quiet", *arguments, exits=exits)

    def page(self, kind: str, language: str) -> Path:
        order = f"{language}-{kind}"
        token = Records(self.shop / "records").token(order) or self._links[order]
        self._links[order] = token
        return self.shop / "site" / "p" / token / "index.html"

    def keep(self, kind: str, called: str) -> None:
        """What lies at the links of that order in each language, as it is now."""
        for language in LANGUAGES:
            folder = self.page(kind, language).parent
            shutil.copytree(folder, self.kept / f"{language}-{called.replace(' ', '-')}")

    def answer(self, kind: str, answer: str, **given: str) -> None:
        """Sent in each language, as the page's own script writes it."""
        for language in LANGUAGES:
            slip = compose_slip(facts_on(self.page(kind, language)), answer, name="Ebba", **given)  # type: ignore[arg-type]
            (self.shop / "slip.txt").write_text(slip, "utf-8")
            self.run("answer", str(self.shop / "slip.txt"))

    def each(self, kind: str, *arguments: str, exits: int | None = 0) -> None:
        for language in LANGUAGES:
            self.run(*(word.format(f"{language}-{kind}") for word in arguments), exits=exits)

    def reword(self, kind: str, old: str, new: str) -> None:
        for language in LANGUAGES:
            self.edit(self.shop / "orders" / f"{language}-{kind}" / "order.yaml", old, new)


def play(pages: Pages) -> None:
    """One order is walked through its states, a second beside it, a third is left to run out."""
    for kind, line in LINES.items():
        for language in LANGUAGES:
            pages.order(kind, language, line)
    pages.run("proof")
    pages.keep("main", "open")
    pages.keep("list", "list")
    pages.answer("main", "change", note="Larger, please.")
    pages.answer("other", "ok")
    codes = [code_on(pages.page("other", language), "change") for language in LANGUAGES]
    for code in codes:
        pages.run("answer", code, exits=None)
    pages.run("build")
    pages.keep("main", State.CHANGES)
    pages.keep("other", State.TWO_ANSWERS)
    pages.reword("main", "Gull Cottage", "Gull Cottages")
    pages.each("main", "proof", "{}")
    pages.keep("main", "second proof")
    pages.answer("main", "ok", note="But with a y!")
    pages.run("build")
    pages.keep("main", State.WORDS)
    pages.each("main", "answer", "--read", "{}")
    pages.run("build")
    pages.keep("main", State.SIGNED)
    pages.reword("main", "Gull Cottages", "Gull Cottage")
    pages.run("build", exits=None)
    pages.keep("main", State.VOIDED)
    pages.reword("main", "Gull Cottage", "Gull Cottages")
    pages.each("main", "press", "{}", "--done")
    pages.run("build")
    pages.keep("main", State.PRESSED)
    pages.each("main", "handed-over", "{}")
    pages.run("build")
    pages.keep("main", State.HANDED_OVER)
    pages.each("other", "withdraw", "{}", "--sure", "{}")
    pages.keep("other", State.WITHDRAWN)
    settings = pages.shop / "shop.yaml"
    settings.write_text(
        re.sub(r"(?m)^today: .*$", "today: 2026-12-05", settings.read_text("utf-8"))
    )
    pages.run("build", exits=None)
    pages.keep("late", State.EXPIRED)
    pages.each("main", "forget", "{}", "--sure", "{}")
    pages.keep("main", State.FORGOTTEN)


def main() -> None:
    kept = Path(sys.argv[1])
    pages = Pages(kept / "shop", kept)
    for kind, line in CONSTRUCTIONS.items():
        for language in LANGUAGES:
            pages.order(kind, language, line)
        pages.run("proof")
        pages.keep(kind, kind)
    shutil.rmtree(pages.shop)
    play(Pages(kept / "shop", kept))


if __name__ == "__main__":
    main()
