"""Orders driven through every state by the real command; each next step names one that works."""

from __future__ import annotations

import re
import shlex
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from proofgen.signoff import CHOICES, RULES, Records, State
from proofgen.signoff.facts import read_facts
from proofgen.signoff.states import Refusal
from tests.cli.small import (
    Ran,
    code_seen,
    files,
    id_of,
    make_shop,
    order_text,
    page,
    reword,
    run,
    state,
    write,
)

FIELDS = {"order", "state", "edition", "fingerprint", "link", "next", "words"}
FIELDS |= {"asked", "earlier", "unmarked", "why", "told", "since", "clear"}
FIELDS |= {"customer", "due", "days_left", "waits_for", "waits_since", "forget_since"}


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    return make_shop(tmp_path / "shop", "fenn")


def now(shop: Path, order: str = "fenn") -> str:
    """The state of an order; its row is whole and its next step is a command that can be typed."""
    document = run(shop, "orders", "--json").document
    assert set(document) == {"schema", "orders"} and document["schema"] == "proofgen/orders/1"
    row = next(o for o in document["orders"] if o["order"] == order)
    assert set(row) == FIELDS and row["state"] in set(State)
    return str(row["state"])


def step(shop: Path, order: str = "fenn", *, pick: int = 0) -> Ran:
    """Type the command that the next step names."""
    said = state(shop, order)["next"]
    commands = re.findall(r"proofgen [a-z][^;]*", said)
    return run(shop, *shlex.split(commands[pick])[1:])


def say(shop: Path, answer: str = "ok", order: str = "fenn") -> Ran:
    """The customer reads a code out on the telephone."""
    return run(shop, "answer", "-", typed=code_seen(shop, answer, order))


def days(shop: Path, day: str) -> None:
    """Turn the shop's calendar."""
    text = (shop / "shop.yaml").read_text()
    write(shop / "shop.yaml", re.sub(r"today: .*", f"today: {day}", text))


def test_the_long_way(shop):
    assert now(shop) == "draft"
    step(shop).ended(0)
    assert now(shop) == "ready"
    link = state(shop, "fenn")["link"]
    assert link.startswith("https://puffinyard.example/p/")
    letter = step(shop).ended(0)
    assert link in letter.out and "Recorded" in letter.err
    assert now(shop) == "out"

    say(shop, "change").ended(0)
    assert now(shop) == "changes"
    run(shop, "press", "fenn").ended(4)
    reword(shop, "fenn", "Odalys & Bran")
    assert now(shop) == "changes"
    step(shop, pick=1).ended(0)
    assert now(shop) == "ready" and state(shop, "fenn")["edition"] == 2
    assert state(shop, "fenn")["link"] == link
    assert "Odalys &amp; Bran" in page(shop, "fenn") and "Bram" in page(shop, "fenn")

    say(shop).ended(0)
    assert now(shop) == "signed"
    step(shop).ended(0)
    sheets = files(shop / "workroom" / "press")
    assert set(sheets) == {
        "fenn-packing.pdf", "fenn-sheets-A4-196C-50s-medium.pdf", "fenn-ticket.pdf",
    }  # fmt: skip

    reword(shop, "fenn", "Odalys & Brom")
    assert now(shop) == "voided"
    refused = run(shop, "press", "fenn").ended(4)
    assert "Bran" in refused.err and "Brom" in refused.err and "proofgen proof fenn" in refused.err
    assert files(shop / "workroom" / "press") == {}
    run(shop, "build").ended(0)
    assert state(shop, "fenn")["edition"] == 2, "a build never asks the customer again by itself"

    reword(shop, "fenn", "Odalys & Bran")
    assert now(shop) == "signed"
    step(shop).ended(0)
    assert files(shop / "workroom" / "press") == sheets
    step(shop).ended(0)  # the sheets are there
    assert now(shop) == "pressed"
    run(shop, "build").ended(0)
    assert set(files(shop / "workroom" / "press")) == {"fenn-packing.pdf"}  # to be packed yet
    step(shop).ended(0)
    assert now(shop) == "handed over"
    assert run(shop, "check").ended(0).out.count("fenn") == 0
    step(shop).ended(2)  # asks for its name
    one = id_of(shop, "fenn")
    run(shop, "forget", "fenn", "--sure", "fenn").ended(0)
    assert now(shop, one) == "forgotten"
    assert run(shop, "records", "verify").ended(0)


def test_proof_without_a_name_shows_what_was_changed_as_its_customer_asked(shop):
    run(shop, "proof").ended(0)
    run(shop, "letter", "fenn", "--sent").ended(0)
    say(shop, "change").ended(0)
    assert run(shop, "proof").ended(0).out.startswith("No order is waiting")
    reword(shop, "fenn", "Odalys & Bran")
    run(shop, "build").ended(0)
    assert state(shop, "fenn")["edition"] == 1, "a build never asks the customer again by itself"
    assert "fenn: proof 2 is at" in run(shop, "proof").ended(0).out
    assert now(shop) == "ready" and "Odalys &amp; Bran" in page(shop, "fenn")


def test_proof_without_a_name_names_what_changed_after_it_was_sent_or_signed(shop):
    run(shop, "proof").ended(0)
    run(shop, "letter", "fenn", "--sent").ended(0)
    reword(shop, "fenn", "Odalys & Bran")
    for stands in ("it has no proof of how it is now", "it changed after it was signed"):
        told = run(shop, "proof").ended(0).out
        assert "No order is waiting" not in told and state(shop, "fenn")["edition"] == 1
        assert "fenn is not as proof 1 any more" in told and stands in told
        assert told.rstrip().endswith("proofgen proof fenn")
        reword(shop, "fenn", "Odalys & Bram")
        say(shop).ended(0)
        reword(shop, "fenn", "Odalys & Bran")


def test_again_and_a_changed_order_in_between(shop):
    run(shop, "proof").ended(0)
    run(shop, "letter", "fenn", "--sent").ended(0)
    say(shop, "change").ended(0)
    assert now(shop) == "changes"
    told = step(shop, pick=1).ended(4)  # nothing changed
    assert "nothing of fenn changed since proof 1" in told.err
    assert "proofgen proof fenn --again" in told.err and state(shop, "fenn")["edition"] == 1
    run(shop, "proof", "fenn", "--again").ended(0)
    assert state(shop, "fenn")["edition"] == 2 and now(shop) == "ready"


def test_two_answers_are_settled_by_a_new_proof(shop):
    run(shop, "proof").ended(0)
    say(shop).ended(0)
    assert now(shop) == "signed"
    run(shop, "press").ended(0)
    told = say(shop, "change").ended(4)
    assert "differs" in told.err
    assert now(shop) == "two answers"
    following = state(shop, "fenn")["next"]
    assert "“OK” of 2" in following and "“change it” of 2" in following
    run(shop, "press", "fenn").ended(4)
    assert files(shop / "workroom" / "press") == {}
    step(shop).ended(0)
    assert now(shop) == "ready"
    say(shop).ended(0)
    assert now(shop) == "signed"
    told = say(shop).ended(0)
    assert "nothing new" in told.out


def test_expired_is_a_notice_and_late_answers_are_refused(shop):
    run(shop, "proof").ended(0)
    run(shop, "letter", "fenn", "--sent").ended(0)
    days(shop, "2026-11-30")
    assert now(shop) == "out"  # the last day counts
    days(shop, "2026-12-01")
    assert now(shop) == "expired"
    told = run(shop, "build").ended(0)
    assert re.search(r"Upload site/p/\w+/ and delete its other files there: fenn", told.out)
    folder = next(p for p in (shop / "site" / "p").iterdir() if p.is_dir())
    assert [p.name for p in folder.iterdir()] == ["index.html"]
    assert "Odalys" not in (folder / "index.html").read_text()
    late = say(shop).ended(4)
    assert "2026-11-30" in late.err and "--on DAY" in late.err
    code = code_seen(shop, "ok")
    run(shop, "answer", "-", "--on", "2026-11-29", typed=code).ended(0)
    assert now(shop) == "signed"


def test_expired_takes_a_new_proof(shop):
    run(shop, "proof").ended(0)
    days(shop, "2026-12-03")
    assert now(shop) == "expired"
    step(shop).ended(0)
    assert now(shop) == "ready" and "8 December 2026" in page(shop, "fenn")


def test_withdrawn_and_taken_up_again(shop):
    run(shop, "proof").ended(0)
    told = run(shop, "withdraw", "fenn").ended(0)
    folder = next(p for p in (shop / "site" / "p").iterdir() if p.is_dir())
    assert f"upload site/p/{folder.name}/" in told.out
    assert [p.name for p in folder.iterdir()] == ["index.html"]
    assert now(shop) == "withdrawn" and state(shop, "fenn")["link"] == ""
    say(shop).ended(4)
    run(shop, "build").ended(0)
    assert now(shop) == "withdrawn"
    step(shop).ended(0)
    assert now(shop) == "ready" and state(shop, "fenn")["edition"] == 2
    assert "Odalys" in page(shop, "fenn")
    assert state(shop, "fenn")["link"].rstrip("/").endswith(folder.name)


def test_what_a_killed_withdrawal_left_is_cleared_by_the_next_build(shop):
    run(shop, "proof").ended(0)
    folder = next(p for p in (shop / "site" / "p").iterdir() if p.is_dir())
    before = files(folder)
    run(shop, "withdraw", "fenn").ended(0)
    for name, content in before.items():
        if name != "index.html":
            (folder / name).write_bytes(content)  # as if it had been killed after the notice
    run(shop, "build").ended(0)
    assert [p.name for p in folder.iterdir()] == ["index.html"]


def test_forgotten_leaves_the_bare_fact(shop):
    write(shop / "orders" / "quill" / "order.yaml", order_text("Maren", customer="Maren Quill"))
    run(shop, "proof").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys Fenn").ended(0)
    run(shop, "answer", "quill", "--in-person", "Maren Quill").ended(0)
    run(shop, "build").ended(0)
    run(shop, "proof", "fenn", "--one-file").ended(0)
    run(shop, "forget", "fenn").ended(2)  # signed, and not pressed
    one = id_of(shop, "fenn")
    told = run(shop, "forget", "fenn", "--sure", "fenn").ended(0)
    assert "and delete its other files there" in told.out  # the pictures that are on the web still
    assert "old backups" in told.out and f"proofgen orders --cleared {one}" in told.out
    assert now(shop, one) == "forgotten"
    for name, content in files(shop).items():
        assert b"Odalys" not in content and "Odalys" not in name, name
        assert b"Bram" not in content, name
    left = {n for n in files(shop) if "fenn" in n}
    assert left == set(), left
    assert b"Maren" in b"".join(files(shop / "orders").values())
    run(shop, "records", "verify").ended(0)
    for command in (["proof", "fenn"], ["press", "fenn"], ["letter", "fenn"], ["check", "fenn"]):
        run(shop, *command).ended(2)
    run(shop, "forget", one).ended(0)  # once more is no harm
    run(shop, "forget", "fenn").ended(2)  # nobody knows that name
    run(shop, "build").ended(0)
    assert now(shop, one) == "forgotten" and now(shop, "quill") == "signed"


def test_an_order_that_cannot_be_read_can_be_forgotten(shop):
    write(shop / "orders" / "torn" / "order.yaml", "customer: [\n")
    run(shop, "forget", "torn").ended(2)
    run(shop, "forget", "torn", "--sure", "torn").ended(0)
    assert not (shop / "orders" / "torn").exists()
    run(shop, "check").ended(0)
    told = run(shop, "forget", "..").ended(2)
    assert "there is no order" in told.err and (shop / "orders" / "fenn").is_dir()


def test_draft_orders_are_left_alone_until_named(shop):
    write(shop / "orders" / "fenn" / "order.yaml", "draft: yes\n" + order_text())
    run(shop, "build").ended(0)
    assert now(shop) == "draft"
    assert run(shop, "proof").ended(0).out.startswith("No order is waiting")
    step(shop).ended(0)
    assert now(shop) == "ready"


def test_changed_before_it_was_sent_makes_a_new_proof_by_itself(shop):
    run(shop, "build").ended(0)
    reword(shop, "fenn", "Odalys & Bran")
    assert now(shop) == "draft"
    run(shop, "letter", "fenn").ended(4)
    run(shop, "build").ended(0)
    assert now(shop) == "ready" and state(shop, "fenn")["edition"] == 2


def test_changed_while_it_is_out_waits_for_the_maker(shop):
    run(shop, "build").ended(0)
    run(shop, "letter", "fenn", "--sent").ended(0)
    reword(shop, "fenn", "Odalys & Bran")
    run(shop, "build").ended(0)
    assert state(shop, "fenn")["edition"] == 1
    say(shop).ended(0)
    assert now(shop) == "voided"
    told = step(shop).ended(0)
    assert "proof 2" in told.out


def test_without_a_site_nothing_waits_to_be_cleared(shop):
    settings = shop / "shop.yaml"
    text = settings.read_text("utf-8")
    settings.write_text(re.sub(r"(?m)^site: .*\n", "", text), "utf-8")
    run(shop, "proof", "fenn").ended(0)
    told = run(shop, "withdraw", "fenn").ended(0).out
    assert "if you ever uploaded site/: upload site/p/" in told and "--cleared" not in told
    told = run(shop, "forget", "fenn").ended(0).out
    assert "if you ever uploaded site/: upload site/p/" in told and "--cleared" not in told


def test_a_code_of_no_proof_is_told_as_a_code(shop):
    told = run(shop, "answer", "4TFB-C9EQ").ended(4)
    assert "no proof in these records has this code" in told.err.lower()
    told = run(shop, "answer", "-", typed="Just two of them, please").ended(4)
    assert "--in-person NAME --says change" in told.err
    told = run(shop, "answer", "-", typed="Ja hoor, prima zo! Sanne").ended(4)
    assert "did you mean fenn?" in run(shop, "orders", "f").err
    assert "they said yes to you: proofgen answer ORDER --in-person NAME;" in told.err


def test_only_signed_orders_are_marked_pressed(shop):
    run(shop, "proof").ended(0)
    told = run(shop, "press", "fenn", "--done").ended(4)
    assert "cannot be marked as pressed: its proof is not answered yet" in told.err
    told = run(shop, "handed-over", "fenn").ended(4)
    assert "cannot be marked as handed over: its proof is not answered yet" in told.err


def test_noting_the_same_again_is_nothing_new(shop):
    run(shop, "proof").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0)
    run(shop, "press").ended(0)
    for typed, said, step in (
        (("press", "fenn", "--done"), "pressed", "Hand them over"),
        (("handed-over", "fenn"), "handed over", "Nothing is left to do"),
    ):
        first = run(shop, *typed).ended(0).out
        assert ("proofgen letter fenn --ready" in first) is (said == "pressed")
        noted = (shop / "records" / "journal.jsonl").read_bytes()
        told = run(shop, *typed).ended(0).out
        assert f"fenn was noted as {said} before: nothing new." in told and step in told
        assert (shop / "records" / "journal.jsonl").read_bytes() == noted


def test_answer_in_person_and_its_states(shop):
    run(shop, "proof").ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys", "--says", "change").ended(0)
    assert now(shop) == "changes"
    reword(shop, "fenn", "Odalys & Bran")
    step(shop, pick=1).ended(0)
    run(shop, "answer", "fenn", "--in-person", "Odalys").ended(0)
    assert now(shop) == "signed"
    run(shop, "answer", "fen", "--in-person", "Odalys").ended(2)


def test_one_stopping_order_never_keeps_another_from_the_press(shop, monkeypatch):
    """A piece that no paper holds is told, and the others' sheets are made."""
    write(shop / "orders" / "quill" / "order.yaml", order_text("Maren"))
    run(shop, "proof").ended(0)
    for name in ("fenn", "quill"):
        run(shop, "answer", name, "--in-person", "O").ended(0)
    from proofgen import press
    from proofgen.errors import StopError

    true_make = press.make

    def make(jobs, *rest, **more):
        if any(j.order.id == "quill" for j in jobs):
            raise StopError("no paper holds quill", "add a larger paper")
        return true_make(jobs, *rest, **more)

    monkeypatch.setattr("proofgen.pipeline.presses.press.make", make)
    told = run(shop, "build").ended(1)
    assert told.err.count("no paper holds quill") == 1
    assert "fenn-ticket.pdf" in files(shop / "workroom" / "press")


def test_naming_one_order_takes_away_sheets_it_shares(shop):
    """Else the same piece would lie ready to print twice."""
    text = (shop / "shop.yaml").read_text().replace("paper: [A4]", "paper: [A3]")
    write(shop / "shop.yaml", text)
    write(shop / "orders" / "quill" / "order.yaml", order_text("Maren"))
    run(shop, "proof").ended(0)
    for name in ("fenn", "quill"):
        run(shop, "answer", name, "--in-person", "O").ended(0)
    run(shop, "press").ended(0)
    assert "shared-sheets-A3-196C-50s-medium.pdf" in files(shop / "workroom" / "press")
    reword(shop, "fenn", "Changed")
    run(shop, "press", "fenn").ended(4)
    assert "shared-sheets-A3-196C-50s-medium.pdf" not in files(shop / "workroom" / "press")
    run(shop, "press").ended(0)
    assert set(files(shop / "workroom" / "press")) == {
        "quill-packing.pdf",
        "quill-sheets-A3-196C-50s-medium.pdf",
        "quill-ticket.pdf",
    }


# -- every state, reached by the command, behaves as its row of the table says -----------------


def _typed(*commands: str) -> Callable[[Path], None]:
    """A way that types these commands, each of which must succeed."""

    def go(shop: Path) -> None:
        for command in commands:
            run(shop, *shlex.split(command)).ended(0)

    return go


def _answered(*answers: str) -> Callable[[Path], None]:
    def go(shop: Path) -> None:
        run(shop, "proof").ended(0)
        for answer in answers:
            say(shop, answer)

    return go


def _expired(shop: Path) -> None:
    _typed("proof", "letter fenn --sent")(shop)
    days(shop, "2026-12-03")


def _changed(*commands: str, words: str = "Odalys & Brom") -> Callable[[Path], None]:
    def go(shop: Path) -> None:
        _typed(*commands)(shop)
        reword(shop, "fenn", words)

    return go


OK = "answer fenn --in-person Odalys"
# How an order comes to each state, and what has an effect there: which commands do what they are
# for, whether `check` lists it, what its page shows after a build, whether that build ends well.
OPEN = "check answer build"


def _beside(words: str) -> Callable[[Path], None]:
    def way(shop: Path) -> None:
        run(shop, "proof").ended(0)
        run(shop, "answer", "-", typed=f"{code_seen(shop, 'ok')}\n{words}\n").ended(0)

    return way


WAYS: list[tuple[State, Callable[[Path], None], str]] = [
    (State.DRAFT, _typed(), "check build proof proof-NAME"),
    (State.DRAFT, _changed("proof", "letter fenn --sent"), f"{OPEN} proof-NAME as-it-was"),
    (State.STOPPED, _changed(words=""), "check"),
    (State.STOPPED, _changed("proof", words=""), "check answer as-it-was"),
    (State.READY, _typed("proof"), f"{OPEN} letter form"),
    (State.OUT, _typed("proof", "letter fenn --sent"), f"{OPEN} letter form"),
    (State.CHANGES, _answered("change"), f"{OPEN} letter form proof-again"),
    (State.TWO_ANSWERS, _answered("ok", "change"), f"{OPEN} letter form proof-NAME"),
    (State.WORDS, _beside("with y, please"), f"{OPEN} letter form proof-again read"),
    (State.SIGNED, _answered("ok"), f"{OPEN} letter form press press-NAME pressed"),
    (State.VOIDED, _changed("proof", OK), f"{OPEN} proof-NAME as-it-was"),
    (
        State.PRESSED,
        _typed("proof", OK, "press fenn --done"),
        "build letter form press-NAME handed-over",
    ),
    (
        State.HANDED_OVER,
        _typed("proof", OK, "press fenn --done", "handed-over fenn"),
        "build letter form press-NAME",
    ),
    (State.EXPIRED, _expired, f"{OPEN} letter notice proof-NAME"),
    (State.WITHDRAWN, _typed("proof", "withdraw fenn"), "build notice proof-NAME"),
    (State.FORGOTTEN, _typed("proof", "forget fenn --sure fenn"), "build notice"),
]


def test_every_state_can_be_reached():
    assert {state for state, *_ in WAYS} == set(State)


@pytest.fixture(
    scope="module", params=WAYS, ids=[f"{state.name}-{n}" for n, (state, *_) in enumerate(WAYS)]
)
def came(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[State, Path, set[str]]:
    """A state, a shop whose order was brought there, and what has an effect on it."""
    state, way, effects = request.param
    shop = make_shop(tmp_path_factory.mktemp("state") / "shop", "fenn")
    way(shop)
    listed = {o["state"] for o in run(shop, "orders", "--json").document["orders"]}
    assert listed == {state}  # a forgotten one has another name
    return state, shop, set(effects.split())


@pytest.fixture
def reached(came: tuple[State, Path, set[str]], tmp_path: Path) -> tuple[State, Path, set[str]]:
    """The same in a copy of the shop."""
    state, shop, effects = came
    return state, Path(shutil.copytree(shop, tmp_path / "shop")), effects


def _sheets(shop: Path) -> bool:
    return any("sheet" in name for name in files(shop / "workroom" / "press"))


def _editions(shop: Path) -> int:
    return len(Records(shop / "records").heads("fenn"))


def _answer_counts(shop: Path) -> bool:
    """Whether one more answer, given in time and not given before, is kept."""
    records = Records(shop / "records")
    latest, given = records.latest("fenn"), [a.answer for a in records.answers("fenn")]
    if latest is None:
        return False
    other = next((kind for kind in CHOICES if kind not in given), CHOICES[0])
    typed = f"{code_seen(shop, other)}\n{'and once more, in other words' * (other in given)}"
    run(shop, "answer", "-", "--on", "2026-11-25", typed=typed)
    return len(records.answers("fenn")) > len(given)


def _page_shows(shop: Path) -> str:
    """What a build leaves at the order's link."""
    folders = [p for p in (shop / "site" / "p").glob("*") if p.is_dir()]
    run(shop, "build")  # which says at the page's top how the order stands
    before = [files(folder) for folder in folders]
    if not folders:
        return ""
    text = (folders[0] / "index.html").read_text("utf-8")
    if "<form" not in text:
        return "notice"
    (folders[0] / "index.html").write_text("spoiled", "utf-8")
    shutil.rmtree(shop / "workroom" / "pages", ignore_errors=True)  # nothing to put back from
    for path in (shop / "workroom" / "letters").iterdir():
        path.unlink()  # so that the page counts as not set
    run(shop, "build")
    again = (folders[0] / "index.html").read_text("utf-8") == text
    return "form" if again and before == [files(f) for f in folders] else "as-it-was"


def _noted(shop: Path) -> int:
    journal = shop / "records" / "journal.jsonl"
    return len(journal.read_bytes()) if journal.is_file() else 0


def test_each_state_allows_what_it_should(reached, tmp_path):
    state, shop, expected = reached

    def tried(*arguments: str) -> tuple[Ran, Path]:
        """What a command does in a copy of the shop."""
        other = tmp_path / "-".join(arguments)
        shutil.copytree(shop, other)
        return run(other, *arguments), other

    def copy(name: str) -> Path:
        return Path(shutil.copytree(shop, tmp_path / name))

    wanted = {"proof": (), "proof-NAME": ("fenn",), "proof-again": ("fenn", "--again")}
    proofs = {name: tried("proof", *given)[1] for name, given in wanted.items()}
    effects = {name for name, other in proofs.items() if _editions(other) > _editions(shop)}
    if "proof-NAME" in effects:
        effects.discard("proof-again")  # adds nothing
    sheets = {
        name: tried("press", *n)[1]
        for name, n in (("press", ()), ("press-NAME", ["fenn", "--again"]))
    }
    effects |= {name for name, other in sheets.items() if _sheets(other)}
    marks = {
        "letter": ("letter", "fenn"),
        "pressed": ("press", "fenn", "--done"),
        "handed-over": ("handed-over", "fenn"),
        "build": ("build",),
        "read": ("answer", "fenn", "--read"),
    }
    for name, typed in marks.items():
        ran, other = tried(*typed)
        # What was noted before is said once more, and nothing is noted.
        is_new = name not in ("pressed", "handed-over") or _noted(other) > _noted(shop)
        effects |= {name} if ran.code == 0 and is_new else set()
    effects |= {"check"} if "fenn" in run(shop, "check").out else set()
    effects |= {"answer"} if _answer_counts(copy("answered")) else set()
    if not (state is State.DRAFT and "proof" in effects):  # else a build makes its first page
        effects |= {_page_shows(copy("page"))} - {""}
    assert effects == expected


def test_the_press_says_why_it_is_shut(reached):
    state, shop, _ = reached
    facts = read_facts(Records(shop / "records"), "fenn")
    state = facts.state if state is State.DRAFT else state  # the OK is asked for before the artwork
    refusal = RULES[state].press
    again = ["--again"] if state in (State.PRESSED, State.HANDED_OVER) else []
    told = run(shop, "press", "fenn", *again)
    if not isinstance(refusal, Refusal):
        told.ended(0)
    elif state not in ("stopped", "forgotten"):  # told by its finding; not known any more
        told.ended(4)
        assert facts.filled(refusal.problem) in told.err
        assert facts.filled(refusal.cure) in told.err
