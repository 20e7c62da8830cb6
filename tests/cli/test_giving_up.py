"""Talks that end after too many slips, or that are stopped: what ends them is said to a person, who
types no option; and what was answered is not lost."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from proofgen.cli import running
from proofgen.desk.questions import TRIES
from tests.cli import small
from tests.cli.small import paint, run

ZOE = ("Zoë", "zoe@oneil.example", "2026-12-12")
ENDED = (
    ("order", (), ""),
    ("order", ZOE, "tagg"),
    ("order", (*ZOE, "tag"), "coster"),
    ("order", (*ZOE, "tag", "coaster-round"), "grene"),
    ("order", (*ZOE, "tag", "coaster-round", "white"), "many"),
    ("order", (*ZOE, "snap", "coaster-round", "white", "1"), "gone.jpg"),
    ("order", (*ZOE, "snap", "coaster-round", "white", "1"), ""),
    ("order", (*ZOE, "snap", "coaster-round", "white", "1", "PIER"), "perhaps"),
    ("measure", (), "strange"),
    ("measure", (), ""),
    ("measure", ("fold", "Pocket", ""), "wide"),
    ("measure", ("fold", "Pocket", ""), ""),
    ("measure", ("fold", "Pocket", ""), "12"),
    ("start", ("Tern Row",), "gone.jpg"),
)


@pytest.fixture
def _somebody(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(small._Pipe, "isatty", lambda _: True)


@pytest.mark.usefixtures("_somebody")
@pytest.mark.parametrize(("command", "begun", "slip"), ENDED)
def test_what_ends_a_talk_names_no_option(
    shop: Path, tmp_path: Path, command: str, begun: tuple[str, ...], slip: str
) -> None:
    pier = tmp_path / "pier.jpg"
    paint(pier)
    answers = [str(pier) if one == "PIER" else one for one in begun]
    typed = "\n".join([*answers, *[slip] * (TRIES + 1)]) + "\n"
    more = (tmp_path / "new",) if command == "start" else ()
    told = run(shop, command, *more, typed=typed).ended(2).err
    end = told[told.rindex("proofgen: ") if "proofgen: " in told else 0 :]
    assert "--" not in end, end
    assert "To mend it: " in end


@pytest.mark.usefixtures("_somebody")
def test_a_start_that_is_stopped_goes_on_where_it_stopped(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ctrl+C at the third question; the same again takes the first two with Enter alone."""
    new = tmp_path / "row"
    typed = iter(["Tern Row Sleeves", "", "hello@ternrow.example"])

    def answer(_: str) -> str:
        try:
            return next(typed)
        except StopIteration:
            raise KeyboardInterrupt from None

    with monkeypatch.context() as patch:
        patch.setattr(running, "_answer", answer)
        assert "go on" in run(tmp_path, "start", new).ended(130).err
    assert not new.exists()
    draft = tmp_path / ".row-start.json"
    assert "hello@ternrow.example" in json.loads(draft.read_text("utf-8")).values()
    told = run(tmp_path, "start", new, typed="\n" * 12).ended(0).err
    assert "You began this before and stopped (Tern Row Sleeves, hello@ternrow.example" in told
    text = (new / "shop.yaml").read_text("utf-8")
    assert "Tern Row Sleeves" in text and "hello@ternrow.example" in text and not draft.exists()
