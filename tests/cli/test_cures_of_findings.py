"""What a check finds, mended as its cure says: a hand that knows the sentence alone changes the
files or types what it names, and the finding is gone, or accepted."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path
from typing import Any

import pytest

from proofgen.checks.listed import CHECKS
from proofgen.checks.runner import run_check
from tests.checks.test_checks import CASES
from tests.cli.found import ASKED, OFFERED, ON_PATCH, ORDER, PATCH, ROWS, TAG, Row
from tests.cli.small import make_shop, paint, run, write

MUST_BE_MENDED = ("order/", "blank/heat")  # no reason stands in for these


def _shop(folder: Path, row: Row) -> Path:
    shop = make_shop(folder / "shop", "fenn")
    for file, text in row.files.items():
        write(shop / file, text) if "/" in file or "." in file else None
    if "design: snap" in row.files.get(ORDER, ""):
        paint(shop / "orders" / "fenn" / "photos" / "pier.jpg", int(row.files.get("side", 1000)))
    return shop


def _found(shop: Path, code: str) -> list[dict[str, Any]]:
    orders = json.loads(run(shop, "check", "fenn", "--json").out)["orders"]
    return [f for one in orders for f in one["findings"] if f"{f['check']}:{f['code']}" == code]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.code} {row.cure}")
def test_a_cure_that_is_typed_takes_its_finding_away(row: Row, tmp_path: Path) -> None:
    shop = _shop(tmp_path, row)
    (finding, *_) = _found(shop, row.code)
    cure = re.search(row.cure, finding["cure"])
    assert cure, finding["cure"]
    typed = row.then.format(cure[1].replace("…", "200", 1).replace("…", "55"))
    file = shop / row.file
    before = file.read_text("utf-8") if file.exists() else ""
    after = (
        re.sub(row.stands, lambda _: typed, before, count=1, flags=re.M) if row.stands else typed
    )
    assert after != before, before
    write(file, after)
    told = run(shop, "check", "fenn")
    assert told.code in (0, 1), told.err
    assert not _found(shop, row.code), (after, told.out)


def test_blanks_that_are_short_are_counted_by_the_command_that_is_named(tmp_path: Path) -> None:
    files = {ORDER: ON_PATCH, TAG: OFFERED, "blanks/patch.yaml": PATCH}
    files = {name: text.replace("white", "light blue") for name, text in files.items()}
    files["blanks/patch.yaml"] += "stock: {light blue: 1, counted: 2026-11-01}\n"
    row = Row("", files, "", "", "")
    shop = _shop(tmp_path, row)
    (short,) = _found(shop, "order/stock:short")
    (command,) = re.findall(r"then: proofgen (.+)", short["cure"])
    run(shop, *shlex.split(command.replace("NUMBER", "40"))).ended(0)
    assert not _found(shop, "order/stock:short")


@pytest.mark.parametrize("code", ["words/ordered:differs", "words/as-written:differs"])
def test_words_that_were_mistyped_are_changed_by_the_command_that_is_named(
    code: str, tmp_path: Path
) -> None:
    (row,) = (row for row in ROWS if row.code == code)
    shop = _shop(tmp_path, row)
    (differs,) = _found(shop, row.code)
    assert differs["where"].startswith(f"{ORDER}:")
    (command,) = re.findall(r"proofgen (change .+)$", differs["cure"])
    run(shop, *shlex.split(command)).ended(0)
    assert not _found(shop, row.code)
    asked = shop / ASKED
    write(shop / ORDER, row.files[ORDER])
    assert _found(shop, row.code)
    asked.unlink()  # what was kept of an earlier look does not hold any more
    assert not _found(shop, row.code)


STOPS = [
    row
    for row in ROWS
    if row.code
    in {
        "photo/effective-resolution:too-coarse",
        "layout/words-fit:too-long",
        "words/letter-height:tiny",
        "words/contrast:vanishing",
        "words/hidden-characters:invisible",
        "order/due:past",
        "order/list-length:differs",
        "blank/heat:none",
        "blank/heat-agrees:differ",
        "order/rights:refused",
    }
]


@pytest.mark.parametrize("row", STOPS, ids=lambda row: row.code)
def test_a_stop_that_may_be_let_through_is_accepted_by_what_it_says_to_type(
    row: Row, tmp_path: Path
) -> None:
    shop = _shop(tmp_path, row)
    told = run(shop, "check", "fenn", "-v").ended(1).out
    stops = [f for f in _found(shop, row.code) if f["status"] == "stop"]
    assert stops
    accept = re.findall(r"proofgen (check fenn --accept .*)", told)
    assert accept or row.code.startswith(MUST_BE_MENDED)
    for command in accept:
        run(shop, *shlex.split(command.replace("…", "we talked"))).ended(0)
    for stop in _found(shop, row.code):
        assert stop.get("accepted", "") == ("we talked" if accept else "")


# Cures that no hand here follows, by their words: why.
BY_OTHERS = {
    "the customer is asked, or sends something else": (
        r"^(If it was passed on, )?[Aa]sk for |^Please |please send|, ask for |^Agree on|agree on"
        r"|^Look at what the customer wrote|^Ask for it again"
    ),
    "somebody looks at the proof, the photo or the figures": (
        r"^Look at |^Compare |^Nothing to do|^Take it so|nothing need be done|^Cut it off"
    ),
    "the maker makes the picture anew": r"^Save it in the design’s folder",
    "another design, blank or cloth is chosen": (
        r"^Choose |^Use a blank "
        r"|^Take a larger one|^Write another cloth|^Order \d+ more|^Order more"
    ),
    "the blank is measured again": r"^Measure it again",
    "the maker moves something in the design": (
        r"^Make the words smaller|^Move the words|^Let it go |^Put a plain ground"
    ),
    "a point of the photo that a person sees": r"^Write (another focus|a focus further down)",
    "words that a person knows": (
        r"^Write “|^Use (a plain|one) space|^Take the space away|^If that is not meant"
        r"|^Write the customer’s own|^Use fewer words"
    ),
    "what was ordered is known to whom it was told": r"^Write it under lines:",
    "what a customer wrote stands, whatever is done for it": r"^If it is to be sent, write what",
    "the customer hears of it": r"^Tell the customer",
}


def test_every_cure_is_followed_or_is_for_others_by_its_words() -> None:
    followed = {row.code for row in ROWS}
    used, left = set(), set()
    for case in CASES:
        if case.without:
            continue
        for finding in run_check(CHECKS[case.check], case.given):
            code = f"{finding.check}:{finding.code}"
            if not finding.cure or code in followed:
                continue
            why = [one for one, words in BY_OTHERS.items() if re.search(words, finding.cure)]
            used.update(why)
            left.update(() if why else {f"{code}: {finding.cure}"})
    assert not left
    assert used == {*BY_OTHERS}
