"""One word of an order is changed by one command; every other letter of its files is kept."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from proofgen.shop import whole_words
from proofgen.signoff import OrderFacts
from tests.cli.small import make_shop, run, state, write
from tests.slips import compose_slip, facts_on

GUESTS = '\ufeffguest,day\r\n"Ola, Fenn",12 June\r\nOlaf,12 June\r\n\r\nWren,13 June\r\n'
ORDER = """\
# Taken at the counter
customer: {name: Dagny Fenn, email: someone@fenn.example}   # by telephone
due: 2026-12-20

lines:
  - design: place
    blank: coaster-round
    cloth: white
    list: guests.csv
    words:
      couple: Ola's & Bram   # read it twice: Ola
  - design: tag
    blank: coaster-round
    cloth: white
    quantity: 2
    words: {'name': "Inga Moe"}
"""


@pytest.fixture(scope="module")
def proved(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = make_shop(tmp_path_factory.mktemp("proved") / "shop")
    home = folder / "orders" / "fenn"
    write(home / "order.yaml", ORDER)
    (home / "guests.csv").write_bytes(GUESTS.encode())
    run(folder, "proof").ended(0)
    return folder


@pytest.fixture
def shop(proved: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(proved, tmp_path / "shop"))


def files(shop: Path) -> tuple[str, bytes]:
    home = shop / "orders" / "fenn"
    return (home / "order.yaml").read_text("utf-8"), (home / "guests.csv").read_bytes()


def answered(shop: Path, says: str, remarks: str = "") -> str:
    """The next step once the customer's slip has come."""
    (page,) = (shop / "site" / "p").glob("*/index.html")
    write(
        shop / "slip.txt",
        compose_slip(facts_on(page), says, name="Dagny Fenn", note=remarks),
    )
    run(shop, "answer", shop / "slip.txt").ended(0)
    return str(state(shop, "fenn")["next"])


def test_a_word_is_changed_where_it_stands_and_the_proof_is_out_of_date(shop: Path) -> None:
    told = run(shop, "change", "fenn", "Inga", "Inge").ended(0).out
    assert "Name, pieces 4 and 5: “Inga Moe” → “Inge Moe”" in told
    assert "orders/fenn/order.yaml:16" in told and "proofgen proof fenn" in told
    assert files(shop) == (ORDER.replace("Inga Moe", "Inge Moe"), GUESTS.encode())
    assert state(shop, "fenn")["state"] == "draft"


def test_a_word_of_a_list_is_changed_in_its_row(shop: Path) -> None:
    told = run(shop, "change", "fenn", "Ola, Fenn", "Olla, Fenn").ended(0).out
    assert "orders/fenn/guests.csv:2" in told
    assert files(shop) == (ORDER, GUESTS.replace("Ola, Fenn", "Olla, Fenn").encode())
    run(shop, "change", "fenn", "Olaf", "Olav").ended(0)  # a word by itself, not part of one
    assert b"\r\nOlav,12 June\r\n" in files(shop)[1]


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("Ola", "Olla"), "“Ola” stands 2 times: orders/fenn/order.yaml:11"),
        (("Ola", "Olla"), "proofgen change fenn"),
        (("12 June", "14 June"), "“12 June” stands 2 times"),
        (("Inger", "Inge"), "“Inger” stands nowhere in the words of fenn"),
        (("Dagny", "Dagney"), "orders/fenn/order.yaml:2"),
        (("Inga", "Inga"), "nothing to change"),
        (("Inga", " "), "nothing to change"),
    ],
)
def test_a_word_that_is_not_there_once_is_refused(
    shop: Path, typed: tuple[str, str], told: str
) -> None:
    assert told in run(shop, "change", "fenn", *typed).ended(2).err
    assert files(shop) == (ORDER, GUESTS.encode())


def test_a_name_that_stands_twice_is_changed_on_the_piece_that_is_named(shop: Path) -> None:
    home = shop / "orders" / "fenn"
    twice = GUESTS.replace("Wren", "Olaf").encode()
    (home / "guests.csv").write_bytes(twice)
    told = run(shop, "change", "fenn", "Olaf", "Olav Moe").ended(2).err
    assert "guests.csv:3 (piece 2: “Olaf”)" in told
    assert 'proofgen change fenn Olaf "Olav Moe" --piece 2 (or 3)' in told
    assert files(shop) == (ORDER, twice)
    told = run(shop, "change", "fenn", "Olaf", "Olav Moe", "--piece", "3").ended(0).out
    assert "piece 3: “Olaf” → “Olav Moe”" in told and "guests.csv:5" in told
    assert files(shop) == (ORDER, twice.replace(b"Olaf,13", b"Olav Moe,13"))


def test_a_piece_s_own_words_come_before_those_it_shares(shop: Path) -> None:
    told = run(shop, "change", "fenn", "Ola", "Olla").ended(2).err
    assert "proofgen change fenn Ola Olla --piece 1" in told
    run(shop, "change", "fenn", "Ola", "Olla", "--piece", "1").ended(0)
    assert files(shop) == (ORDER, GUESTS.replace("Ola,", "Olla,").encode())


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        (("Olaf", "Olav", "--piece", "9"), "fenn has no piece 9"),
        (("Olaf", "Olav", "--piece", "1"), "does not stand on piece 1: it stands on piece 2"),
        (("Inga", "Inge", "--piece", "4"), "order.yaml has these words once, for piece 5 as well"),
        (("Nobody", "Bo", "--piece", "1"), "stands nowhere in the words of fenn"),
        (("Olaf", "Olav", "--piece", "x"), "--piece"),
    ],
)
def test_a_piece_that_has_not_these_words_alone_is_refused(
    shop: Path, typed: tuple[str, ...], told: str
) -> None:
    assert told in run(shop, "change", "fenn", *typed).ended(2).err.replace("To mend it: ", "")
    assert files(shop) == (ORDER, GUESTS.encode())


def test_the_next_step_names_the_file_and_the_line(shop: Path) -> None:
    step = answered(shop, "change")
    assert "orders/fenn/order.yaml, lines 11 and 16, or orders/fenn/guests.csv" in step
    assert "proofgen change fenn OLD NEW" in step and "proofgen proof fenn" in step


@pytest.mark.parametrize(
    ("says", "remarks"),
    [
        ("change", "Please, Inge instead of Inga. Thank you"),
        ("change", "Good!\nInga -> Inge"),
        ("change", "“Inga” → “Inge”, please"),
        ("change", "bitte Inge statt Inga"),
        ("ok", "Inge instead of Inga"),
    ],
)
def test_what_the_answer_itself_says_is_a_line_to_copy(shop: Path, says: str, remarks: str) -> None:
    step = answered(shop, says, remarks)
    assert "type it: proofgen change fenn Inga Inge;" in step
    assert "orders/fenn/order.yaml, lines 11 and 16" in step
    run(shop, "change", "fenn", "Inga", "Inge").ended(0)


@pytest.mark.parametrize(
    "remarks",
    [
        "Olla instead of Ola",
        "x$(date) instead of Inga",
        "--name instead of Inga",
        "Inga -> `x`",
        "In Ga instead of Inga",
        "Inga -> In Ga",
        "in ga statt Inga",
    ],
)
def test_what_is_not_clear_is_no_line_to_copy(shop: Path, remarks: str) -> None:
    step = answered(shop, "change", remarks)
    assert "type it" not in step and "proofgen change fenn OLD NEW" in step


@pytest.mark.parametrize(
    ("words", "text", "found"),
    [
        ("राम", "रामू", False),
        ("राम", "राम, सीता", True),
        ("محمد", "محمدُ", False),
        ("Zoe", "Zoe\u0331", False),
        ("Anne", "Anne-Marie", False),
        ("Marie", "Anne-Marie", False),
        ("Anne", "Anne - Marie", True),
        ("Bo", "Bo’s", True),
    ],
)
def test_words_stand_by_themselves(words: str, text: str, found: bool) -> None:
    assert bool(whole_words(words).search(text)) == found


def test_facts_of_the_records_alone_name_the_file() -> None:
    assert "orders/bo/order.yaml" in OrderFacts(order="bo").filled("{file}")
