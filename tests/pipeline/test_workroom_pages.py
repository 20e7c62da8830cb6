"""The maker's own pages: where everything stands after each command, and nothing of another's."""

from __future__ import annotations

import html
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from proofgen.cli.parser import build_parser
from proofgen.errors import MachineError
from proofgen.pipeline import workroom_rooms
from proofgen.reports.workroom import steps_of
from proofgen.signoff import RULES, OrderFacts, Records, State, spoken_codes
from tests.cli.small import code_seen, files, make_shop, order_text, reword, run, write

HOSTILE = '</code><script>alert(1)</script><img src=x onerror="alert(2)">&amp; "quoted"'


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Two plain orders with proofs, in a folder whose name has a space."""
    made = make_shop(tmp_path / "my shop", "fenn", "quill")
    run(made, "proof").ended(0)
    return made


def index(shop: Path) -> str:
    return (shop / "workroom" / "index.html").read_text("utf-8")


def row(shop: Path, order: str) -> str:
    """An order's row of the index, and in which part it stands, as text."""
    for part in index(shop).split("<section ")[1:]:
        group = re.match(r'id="(\w+)"', part)
        for one in part.split('<li class="order"')[1:]:
            if f'id="order-{order}"' in one.split(">")[0]:
                assert group
                told = one.partition(">")[2].partition("</li>")[0]
                return f"{group[1]}: {text_of(told)}"
    raise AssertionError(f"{order} has no row")


def room(shop: Path, order: str) -> str:
    return (shop / "workroom" / "orders" / f"{order}.html").read_text("utf-8")


def text_of(page: str) -> str:
    bare = re.sub(r"(?s)<(script|style).*?</\1>", " ", page)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", "", bare)).split())


def secrets_of(shop: Path, order: str) -> set[str]:
    """What opens an order's proof, or answers it."""
    records = Records(shop / "records")
    found = {str(records.token(order))}
    for edition in records.editions(order):
        codes = [code.replace("-", "") for code in spoken_codes(edition).values()]
        found |= {edition.key.hex(), *codes}
    return found


# -- each command ------------------------------------------------------------------------------


def test_pages_are_right_after_every_command(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    run(shop, "check").ended(0)
    assert row(shop, "fenn").startswith("you: fenn for Odalys Fenn draft")
    steps: list[tuple[Callable[[], tuple[object, ...]], str]] = [
        (lambda: ("proof", "fenn"), "you: fenn for Odalys Fenn ready, proof 1"),
        (lambda: ("letter", "fenn", "--sent"), "customers: fenn for Odalys Fenn out, proof 1"),
        (lambda: ("answer", code_seen(shop, "ok")), "press: fenn for Odalys Fenn signed, proof 1"),
        (lambda: ("press", "fenn"), "press: fenn for Odalys Fenn signed, proof 1"),
        (lambda: ("press", "fenn", "--done"), "pressed: fenn for Odalys Fenn pressed, proof 1"),
        (lambda: ("handed-over", "fenn"), "done: fenn for Odalys Fenn handed over"),
    ]
    for typed, stands in steps:
        run(shop, *typed()).ended(0)
        assert row(shop, "fenn").startswith(stands)
        assert stands.split("Fenn ")[1].split(",")[0] in text_of(room(shop, "fenn"))
    run(shop, "forget", "fenn", "--sure", "fenn").ended(0)
    assert "fenn" not in (shop / "workroom" / "index.html").read_text("utf-8")
    assert not [name for name in files(shop / "workroom") if "fenn" in name]


def test_what_a_folder_says_now_is_on_the_page_after_check_alone(shop: Path) -> None:
    reword(shop, "fenn", "Odalys and Bram")
    run(shop, "check").ended(0)
    assert "draft" in row(shop, "fenn") and "is now “Odalys and Bram”" in text_of(
        room(shop, "fenn")
    )
    write(shop / "orders" / "fenn" / "order.yaml", "customer: [")
    run(shop, "check").ended(3)
    assert "orders/fenn/order.yaml" in text_of(index(shop))
    shutil.rmtree(shop / "orders" / "fenn")
    run(shop, "orders")
    assert "Its folder orders/fenn/ is gone. If it was renamed, give" in row(shop, "fenn")


def test_an_order_whose_folder_was_renamed_is_not_left_to_be_forgotten(shop: Path) -> None:
    (shop / "orders" / "fenn").rename(shop / "orders" / "fenn-pier")
    run(shop, "orders")
    assert "If it was renamed (perhaps it is fenn-pier now), give it its old name" in row(
        shop, "fenn"
    )


def test_another_customers_order_is_not_taken_for_one_that_is_gone(shop: Path) -> None:
    shutil.rmtree(shop / "orders" / "fenn")
    new = ("order", "--design", "tag", "--blank", "coaster-round", "--cloth", "white")
    run(shop, *new, "--customer", "Bo Hall", "--words", "name=Bo").ended(0)
    said = " ".join(run(shop, "orders", "fenn").out.split())
    assert "orders/fenn/ is gone. If it was renamed, give it" in said
    run(shop, *new, "--customer", "Odalys Fenn", "--words", "name=Other").ended(0)
    said = " ".join(run(shop, "orders", "fenn").out.split())
    assert "renamed (perhaps it is odalys-fenn now)" in said


def test_a_new_order_stands_there_with_its_picture(shop: Path) -> None:
    run(shop, "order", "--customer", "Bo Hall", "--design", "tag", "--blank", "coaster-round",
        "--cloth", "white", "--quantity", "3", "--words", "name=Bo").ended(0)  # fmt: skip
    assert "bo-hall for Bo Hall draft" in row(shop, "bo-hall")
    (src,) = re.findall(r'<img src="(bo-hall[^"]+)"', room(shop, "bo-hall"))
    picture = shop / "workroom" / "orders" / src
    assert picture.read_bytes()[:3] == b"\xff\xd8\xff"
    assert "3 × Plain tag on " in text_of(room(shop, "bo-hall"))


def test_withdrawn_and_accepted_are_told_at_once(shop: Path) -> None:
    run(shop, "withdraw", "quill").ended(0)
    assert row(shop, "quill").startswith("done: quill for Odalys Fenn withdrawn")
    assert "p/" not in "".join(re.findall(r'href="([^"]+)"', room(shop, "quill")))


def test_late_orders_and_those_to_be_forgotten_are_named_first(shop: Path) -> None:
    settings = (shop / "shop.yaml").read_text("utf-8") + "keep: 30 days\n"
    write(shop / "shop.yaml", settings)
    run(shop, "answer", code_seen(shop, "ok")).ended(0)
    run(shop, "press", "fenn").ended(0)
    run(shop, "press", "fenn", "--done").ended(0)
    run(shop, "handed-over", "fenn").ended(0)
    assert "Late:" not in index(shop) and "are over" not in index(shop)
    write(shop / "shop.yaml", settings.replace("2026-11-25", "2027-01-25"))
    run(shop, "orders")
    told = text_of(index(shop))
    assert "Late: quill." in told and "keep: are over, so the data may go: fenn." in told


def test_what_waits_for_the_maker_comes_first_and_the_next_day_before_later_ones(
    tmp_path: Path,
) -> None:
    shop = make_shop(tmp_path / "shop", "ash", "birch", "cedar")
    for order, day in (("ash", "2026-12-24"), ("birch", "2026-12-18"), ("cedar", "2026-12-10")):
        told = order_text().replace("2026-12-20", day)
        write(shop / "orders" / order / "order.yaml", told)
    run(shop, "proof").ended(0)
    run(shop, "letter", "cedar", "--sent").ended(0)
    assert re.findall(r'id="order-(\w+)"', index(shop)) == ["birch", "ash", "cedar"]
    assert 'href="#you">2 wait for you</a>' in index(shop)
    assert "due 10 December 2026, in 15 days" in row(shop, "cedar")


def test_links_lead_to_files_that_are_there(shop: Path) -> None:
    run(shop, "answer", code_seen(shop, "ok")).ended(0)
    run(shop, "press", "fenn").ended(0)
    pages = [shop / "workroom" / "index.html", *(shop / "workroom" / "orders").glob("*.html")]
    led = [
        (page, href)
        for page in pages
        for href in re.findall(r'(?:href|src)="([^"#:]+)[#"]', page.read_text("utf-8"))
    ]
    assert all((page.parent / href).is_file() for page, href in led)
    own = [href for page, href in led if page.name == "fenn.html"]
    for part in ("/site/p/", "letters/fenn.eml", "press/fenn-ticket.pdf", "press/fenn-sheets-"):
        assert any(part in href for href in own), part


def test_commands_are_one_line_that_does_what_it_says(shop: Path) -> None:
    (line,) = re.findall(r"<code>(.*?)</code>", room(shop, "fenn"), re.DOTALL)[:1]
    typed = text_of(line)
    assert typed.endswith(f" --shop '{shop.absolute()}' letter fenn --sent")


@pytest.mark.parametrize("state", list(State))
def test_every_next_step_has_commands_that_can_be_typed(state: State) -> None:
    step = OrderFacts(order="fenn", edition=1).filled(RULES[state].step)
    parts = steps_of(step, "proofgen --shop here")
    assert sum(bool(part["command"]) for part in parts) == step.count("proofgen ")
    for part in parts:
        assert "proofgen" not in part["says"] and part["says"]
        if part["command"]:
            build_parser().parse_args(part["command"].split()[1:])


# -- whose it is -------------------------------------------------------------------------------


def test_no_page_holds_a_key_or_the_address_of_anothers_proof(shop: Path) -> None:
    run(shop, "letter", "fenn", "--sent").ended(0)
    run(shop, "answer", code_seen(shop, "ok")).ended(0)
    run(shop, "press").ended(0)
    fenn, quill = secrets_of(shop, "fenn"), secrets_of(shop, "quill")
    token = str(Records(shop / "records").token("fenn"))
    for name, content in files(shop / "workroom").items():
        if name == "index.html" or (name.startswith("orders/") and not name.endswith(".jpg")):
            told = content.decode().replace("-", "")
            allowed = {token} if name.startswith("orders/fenn.") else set()
            allowed |= {next(iter({s} & quill)) for s in quill if "quill." in name and len(s) == 32}
            held = {secret for secret in fenn | quill if secret in told} - allowed
            assert held == set(), name
    assert token in room(shop, "fenn")


def test_nothing_of_the_workroom_is_published(shop: Path) -> None:
    run(shop, "build").ended(0)
    private = {c for n, c in files(shop / "workroom").items() if n.startswith(("orders/", "index"))}
    public = files(shop / "site")
    assert len(private) == 6 and not private & set(public.values())  # one picture serves both
    assert not [name for name in public if "workroom" in name or name.startswith("orders/")]
    assert not [n for n, c in public.items() if n.endswith(".html") and b"For you alone" in c]


def test_pages_are_for_the_maker_alone(shop: Path) -> None:
    for page in [shop / "workroom" / "index.html", *(shop / "workroom" / "orders").iterdir()]:
        assert page.stat().st_mode & 0o077 == 0, page
    for page in (index(shop), room(shop, "fenn")):
        assert 'name="robots" content="noindex' in page
        policy = re.search(r'Content-Security-Policy" content="([^"]+)"', page)
        assert policy and "default-src 'none'" in html.unescape(policy[1])
        assert "unsafe" not in policy[1] and "style=" not in page


def test_hostile_words_are_words(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    text = order_text().replace("Odalys Fenn", "'" + HOSTILE + "'")
    write(shop / "orders" / "fenn" / "order.yaml", text)
    run(shop, "proof", "fenn").ended(0)
    run(shop, "answer", "--in-person", HOSTILE, "fenn", "--says", "change").ended(0)
    letter = write(
        shop / "mail.txt",
        f"Subject: Proof 1 of fenn\nFrom: someone@fenn.example\n\n{HOSTILE} please\n",
    )
    run(shop, "answer", letter)
    for page in (index(shop), room(shop, "fenn")):
        assert "<script>alert" not in page and "<img src=x" not in page
        assert HOSTILE in text_of(page) or HOSTILE.split(">")[0] in html.unescape(page)
        assert page.count("<script>") == 1


def test_forgetting_takes_a_person_out_at_once(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    run(shop, "forget", "fenn", "--sure", "fenn").ended(0)
    for name, content in files(shop / "workroom").items():
        if name.startswith(("orders/fenn", "index")):
            assert b"Bram" not in content and b"Odalys" not in content.split(b"quill")[0]
    assert not [n for n in files(shop / "workroom" / "orders") if n.startswith("fenn.")]
    lacks = text_of(index(shop)).split("Not here now")[1]
    assert " press --plan" in lacks and " build" in lacks
    # … even where the pages cannot be set again
    monkeypatch.setattr("proofgen.pipeline.workroom_pages._Pages.keep", _full)
    told = run(shop, "forget", "quill", "--sure", "quill").ended(0)
    assert "could not be brought up to date: the disk is full" in told.err
    left = files(shop / "workroom")
    assert not [n for n in left if n.startswith("orders/quill") or n == "index.html"]


def _full(_: object) -> None:
    raise MachineError("the disk is full")


def test_damaged_records_of_one_order_are_told_in_its_row_and_the_others_stand(shop: Path) -> None:
    for path in (shop / "records" / "fenn").glob("edition-*"):
        path.unlink()
    run(shop, "orders").ended(4)
    assert row(shop, "fenn").startswith("you: No picture fenn damaged See what is damaged:")
    assert "last backup" in text_of(room(shop, "fenn"))
    assert "quill for Odalys Fenn ready, proof 1" in row(shop, "quill")


# -- what it costs -----------------------------------------------------------------------------


def test_a_command_works_out_again_only_what_it_changed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # What changed in the last seconds is looked at once more by the next run: here, as if long ago.
    monkeypatch.setattr("proofgen.again.WINDOW_NS", -(10**18))
    shop = make_shop(tmp_path / "shop", *(f"o{n}" for n in range(6)))
    run(shop, "proof").ended(0)
    orders = shop / "workroom" / "orders"
    before = {path.name: path.stat().st_mtime_ns for path in orders.iterdir()}
    asked: list[str] = []
    prepare = workroom_rooms.prepare

    def counted(workshop, order):  # type: ignore[no-untyped-def]
        asked.append(order.id)
        return prepare(workshop, order)

    monkeypatch.setattr(workroom_rooms, "prepare", counted)
    run(shop, "letter", "o2", "--sent").ended(0)
    assert asked == ["o2"]
    after = {path.name: path.stat().st_mtime_ns for path in orders.iterdir()}
    changed = {name for name in after if before.get(name) != after[name]}
    assert changed == {"o2.html", "o2.json"}
    asked.clear()
    run(shop, "orders").ended(0)
    monkeypatch.setattr("shutil.which", lambda _: "proofgen")  # typed in a shorter way from now on
    run(shop, "orders").ended(0)
    assert "<span>proofgen</span> <span>--shop</span>" in room(shop, "o5")
    assert asked == []
    settings = (shop / "shop.yaml").read_text("utf-8")
    write(shop / "shop.yaml", settings.replace("2026-11-25", "2026-11-26"))
    run(shop, "letter", "o2").ended(0)
    assert sorted(asked) == [f"o{n}" for n in range(6)]


def test_a_page_that_is_gone_or_damaged_is_made_again(shop: Path) -> None:
    orders = shop / "workroom" / "orders"

    def told() -> dict[str, bytes]:
        """What was read, but for the digest of it: of files written a moment ago it holds more."""
        return {name: re.sub(rb'"inputs": "\w+"', b"", it) for name, it in files(orders).items()}

    before = told()
    (orders / "fenn.html").unlink()
    (orders / "quill.json").write_text("{", "utf-8")
    write(orders / "nobody.html", "what was left of an order that is no more")
    run(shop, "orders").ended(0)
    assert told() == before


def test_pages_that_cannot_be_written_keep_no_command_from_its_work(shop: Path) -> None:
    shutil.rmtree(shop / "workroom" / "orders")
    write(shop / "workroom" / "orders", "in the way")
    told = run(shop, "letter", "fenn", "--sent").ended(0)
    assert "Recorded: the letter for fenn was sent." in told.err
    (line,) = [one for one in told.err.splitlines() if "brought up to date" in one]
    assert str(shop / "workroom") in line


def test_a_fault_of_ours_in_the_pages_hides_no_result(
    shop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("proofgen.pipeline.workroom_pages.room_of", lambda *_: {}["nothing"])
    told = run(shop, "withdraw", "fenn")
    assert told.code == 0 and "fenn is withdrawn." in told.out
    assert "a fault in proofgen, KeyError: 'nothing'." in told.err
