"""What was chosen to show of a photo is written into its order once, and stays what was signed:
whatever is installed then, and however a later release would choose."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from PIL import Image

from proofgen.artwork import focus
from proofgen.errors import MachineError
from proofgen.geometry import Rect
from proofgen.photo.faces import Face
from proofgen.pipeline import proofs
from proofgen.shop import focus_writer
from proofgen.signoff.records import Records
from tests.cli import small
from tests.cli.small import make_shop, order_text, run, write

WHERE = "orders/pic/order.yaml"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """An order with a wide photo, a busy square at its left and another at its right."""
    made = make_shop(tmp_path / "shop")
    write(made / WHERE, "# Odalys, by telephone\r\n" + order_text(design="snap"))
    image = Image.new("RGB", (1600, 800), "#d8d2c4")
    for left in (150, 1150):
        for i in range(100):
            x, y = left + i % 10 * 30, 250 + i // 10 * 30
            image.paste("#103c28" if (i + i // 10) % 2 else "#e6781e", (x, y, x + 30, y + 30))
    (made / "orders/pic/photos").mkdir(parents=True, exist_ok=True)
    image.save(made / "orders/pic/photos/pier.jpg", quality=92)
    return made


def faces(monkeypatch: pytest.MonkeyPatch, *found: Rect | None) -> None:
    """As if these faces were found; None: as if nobody could look."""
    told = None if None in found else tuple(Face(box, 0.9, 0.0) for box in found if box)
    monkeypatch.setattr(focus, "find_faces", lambda facts, pictures: told)


def state(shop: Path) -> str:
    return str(small.state(shop, "pic")["state"])


def text(shop: Path) -> str:
    return (shop / WHERE).read_bytes().decode()


LEFT, RIGHT = Rect(250, 300, 150, 180), Rect(1250, 300, 150, 180)


def test_a_proof_writes_what_was_chosen_and_nothing_else(shop: Path) -> None:
    before = text(shop)
    assert "so a point was chosen" in told(shop, "check", "pic", "--verbose")
    run(shop, "orders").ended(0)
    assert text(shop) == before
    assert "order.yaml says it now: focus: [" in told(shop, "proof", "pic")
    written = text(shop)
    head, _, tail = written.partition(", focus: [")
    numbers, _, rest = tail.partition("]")
    assert head + rest == before
    assert all(0 <= float(number) <= 1 for number in numbers.split(", "))
    assert "so a point was chosen" not in " ".join(run(shop, "check", "pic").out.split())
    assert state(shop) == "ready"
    assert "order.yaml" not in run(shop, "proof", "pic", "--again").out
    assert text(shop) == written


@pytest.mark.parametrize("written", [True, False])
@pytest.mark.parametrize(("then", "now"), [((LEFT,), (None,)), ((None,), (RIGHT,)), ((), (LEFT,))])
def test_what_was_signed_holds_whatever_is_installed(
    shop: Path,
    monkeypatch: pytest.MonkeyPatch,
    written: bool,
    then: tuple[Rect | None, ...],
    now: tuple[Rect | None, ...],
) -> None:
    faces(monkeypatch, *then)
    if not written:  # as an older release left it
        monkeypatch.setattr(proofs, "write_chosen", lambda prepared: [])
    run(shop, "proof", "pic").ended(0)
    assert ("focus: [" in text(shop)) == written
    run(shop, "answer", "pic", "--in-person", "Odalys Fenn").ended(0)
    faces(monkeypatch, *now)
    assert state(shop) == "signed"
    run(shop, "press", "pic").ended(0)
    assert run(shop, "check", "pic", "--json").document["orders"][0]["edition"] == 1
    assert state(shop) in ("signed", "sheets-made")


def test_an_older_proof_is_not_voided_by_another_way_to_choose(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as older:
        older.setattr(proofs, "write_chosen", lambda prepared: [])
        older.setattr("proofgen.artwork.placing.choose_focus", lambda *given: (0.2345, 0.5))
        run(shop, "proof", "pic").ended(0)
        run(shop, "answer", "pic", "--in-person", "Odalys Fenn").ended(0)
    assert state(shop) == "signed"
    run(shop, "build")
    assert state(shop) in ("signed", "sheets-made") and "focus" not in text(shop)

    # A new proof for another reason keeps the crop, and writes the numbers it had.
    write(shop / WHERE, text(shop).replace("quantity: 2", "quantity: 3"))
    run(shop, "proof", "pic").ended(0)
    assert "focus: [0.2345, 0.5]" in text(shop)


def test_auto_chooses_anew(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    faces(monkeypatch, LEFT)
    run(shop, "proof", "pic").ended(0)
    before = text(shop)
    given = before[before.index("focus:") : before.index("]") + 1]
    faces(monkeypatch, RIGHT)
    write(shop / WHERE, before.replace(", " + given, ""))
    assert state(shop) == "ready"  # left out: as the proof shows it
    write(shop / WHERE, before.replace(given, "focus: auto"))
    assert state(shop) != "ready"
    run(shop, "proof", "pic").ended(0)
    assert "auto" not in text(shop) and given not in text(shop) and "focus: [" in text(shop)


def test_a_photo_turned_after_a_focus_was_chosen_is_given_another(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    faces(monkeypatch, LEFT)
    run(shop, "proof", "pic").ended(0)
    before = text(shop)
    given = before[before.index("focus:") : before.index("]") + 1]
    faces(monkeypatch, Rect(300, 1250, 180, 150))
    write(shop / WHERE, before.replace(given, f"{given}, turn: 90"))
    run(shop, "proof", "pic").ended(0)
    assert given not in text(shop) and "turn: 90" in text(shop) and "focus: [" in text(shop)
    again = text(shop)
    run(shop, "proof", "pic", "--again").ended(0)
    assert text(shop) == again
    write(shop / WHERE, again.replace(", turn: 90", ""))
    assert state(shop) != "ready"


def test_a_file_that_cannot_be_written_is_told_and_keeps_nobody_from_a_proof(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = text(shop)

    def closed(*_: object, **__: object) -> bool:
        raise MachineError("this folder may not be written to", "check its permissions")

    monkeypatch.setattr(focus_writer, "store", SimpleNamespace(write=closed))
    made = run(shop, "proof", "pic")
    assert made.code == 0, made.err
    assert "could not be written into order.yaml (this folder may not be written to)" in made.out
    assert text(shop) == before and state(shop) == "ready"


def another_photo(shop: Path) -> None:
    """The customer's next photo, under the same file name."""
    place = shop / "orders/pic/photos/pier.jpg"
    with Image.open(place) as image:
        image.transpose(Image.Transpose.FLIP_TOP_BOTTOM).save(place, quality=92)


def told(shop: Path, *more: str) -> str:
    return " ".join(run(shop, *more).out.split())


def shown(shop: Path) -> float:
    """How far from the photo's left the focus in the order lies."""
    return float(text(shop).partition("focus: [")[2].partition(",")[0])


def test_what_was_chosen_lapses_with_the_photo(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    faces(monkeypatch, LEFT)
    run(shop, "proof", "pic").ended(0)
    before = text(shop)
    assert shown(shop) < 0.4
    # A new proof of the same photo, for another reason, does not make it the maker's.
    write(shop / WHERE, before.replace("quantity: 2", "quantity: 3"))
    run(shop, "proof", "pic").ended(0)
    another_photo(shop)
    faces(monkeypatch, RIGHT)
    said = told(shop, "check", "pic")
    assert "was chosen for the one before" in said and "a point was chosen anew" in said
    assert shown(shop) < 0.4
    assert "chosen anew, and order.yaml says it now: focus: [" in told(shop, "proof", "pic")
    assert shown(shop) > 0.6 and state(shop) == "ready"
    after = text(shop)
    assert (
        after.partition("focus: [")[0]
        == before.replace("quantity: 2", "quantity: 3").partition("focus: [")[0]
    )
    assert "chosen anew" not in told(shop, "check", "pic")
    assert text(shop) == after


@pytest.mark.parametrize("first", ["chosen", "typed"])
def test_what_the_maker_typed_stays_with_another_photo(
    shop: Path, monkeypatch: pytest.MonkeyPatch, first: str
) -> None:
    faces(monkeypatch, LEFT)
    if first == "chosen":
        run(shop, "proof", "pic").ended(0)
        given = text(shop)[text(shop).index("focus:") : text(shop).index("]") + 1]
        write(shop / WHERE, text(shop).replace(given, "focus: [0.31, 50 %]"))
    else:
        typed = text(shop).replace("photos/pier.jpg}", "photos/pier.jpg, focus: [0.31, 50 %]}")
        write(shop / WHERE, typed)
    assert "focus: [0.31, 50 %]" in text(shop)
    run(shop, "proof", "pic").ended(0)
    another_photo(shop)
    faces(monkeypatch, RIGHT)
    assert "chosen anew" not in told(shop, "check", "pic")
    run(shop, "proof", "pic").ended(0)
    assert "focus: [0.31, 50 %]" in text(shop)


def test_of_an_older_proof_equal_numbers_are_the_tools(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    faces(monkeypatch, LEFT)
    with monkeypatch.context() as older:
        keep = Records._record

        def without(
            self: Records, order: str, kind: Any, edition: int, at: str, fields: Any, *more: Any
        ) -> None:
            kept = {k: v for k, v in fields.items() if k != "chosen"}
            keep(self, order, kind, edition, at, kept, *more)

        older.setattr(Records, "_record", without)
        run(shop, "proof", "pic").ended(0)
    before, _, rest = text(shop).partition("focus: [")
    share, _, rest = rest.partition(",")
    write(
        shop / WHERE, f"{before}focus: [{float(share) * 100:.2f} %,{rest}"
    )  # the same in other words
    assert state(shop) == "ready"
    another_photo(shop)
    faces(monkeypatch, RIGHT)
    assert "chosen anew" in told(shop, "check", "pic")
    run(shop, "proof", "pic").ended(0)
    assert shown(shop) > 0.6
