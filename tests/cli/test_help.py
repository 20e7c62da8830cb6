"""The command line as a good neighbour: its help, its slips, and commands that can be copied."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from proofgen import cli, errors
from proofgen.cli.parser import COMMANDS, read_command
from proofgen.cli.spaces import in_one_word
from proofgen.cli.stages import STAGES
from proofgen.render import carried
from proofgen.say.shell import for_shell
from tests.cli.small import make_shop, run

# Commands that are listed in the walk before they are there.
_COMING = {"guide", "take", "publish"}


def _said(capsys: pytest.CaptureFixture[str], *typed: str) -> str:
    with pytest.raises(SystemExit):
        cli.main(list(typed))
    said = capsys.readouterr()
    return said.out + said.err


def test_each_command_has_its_place_in_the_walk() -> None:
    placed = [name for _, names in STAGES for name in names]
    assert len(placed) == len(set(placed))
    assert set(COMMANDS) <= set(placed) <= set(COMMANDS) | _COMING


def test_help_begins_with_the_walk_and_tells_the_exit_codes(capsys) -> None:
    told = _said(capsys, "--help")
    at = [told.index(f"\n{title}:\n") for title, _ in STAGES]
    assert at == sorted(at) and at[-1] < told.index("options:")
    for name, record in COMMANDS.items():
        assert re.search(rf"^  {name} +{re.escape(record.purpose)}$", told, re.M), name
    codes = {value for key, value in vars(errors).items() if re.fullmatch(r"EXIT_[A-Z]+", key)
             and isinstance(value, int)}  # fmt: skip
    assert codes == set(errors.EXIT_CODES)
    for code, says in errors.EXIT_CODES.items():
        assert re.search(rf"^  {code} +{re.escape(says)}$", told, re.M)


@pytest.mark.parametrize("name", ["", *COMMANDS])
@pytest.mark.parametrize("wide", ["40", "200"])
def test_help_is_in_plain_words_and_commands_stay_whole(capsys, monkeypatch, name, wide) -> None:
    monkeypatch.setenv("COLUMNS", wide)
    told = _said(capsys, *filter(None, [name]), "--help")
    for word in ("positional", "DIR", "optional arguments", "and exit", "usage:"):
        assert word not in told
    for example in COMMANDS[name].examples if name else ():
        assert f"\n  {example}\n" in told


SLIPS = [
    (["ordr"], "no command “ordr”", "did you mean proofgen order?"),
    (["zzz"], "no command “zzz”", "proofgen --help shows them all"),
    ([], "no command was typed", "--help"),
    (["orders", "--taly"], "no option --taly here", "did you mean --tally?"),
    (["orders", "--measure"], "no option --measure", "a command: proofgen measure --help"),
    (["blanks", "--construction", "flat"], "--construction", "belongs to proofgen measure"),
    (["order", "--quantity"], "nothing stands behind --quantity", "proofgen order --help"),
    (["order", "--quantity", "six"], "“six” is not a whole number", "proofgen order --help"),
    (["check", "--fail-on", "warm"], "--fail-on cannot be “warm”", "did you mean warn?"),
    (["trial"], "BLANK is missing: proofgen trial BLANK", "proofgen trial --help"),
    (["records", "verfy"], "cannot be “verfy”", "did you mean verify?"),
]


@pytest.mark.parametrize(("typed", "problem", "cure"), SLIPS)
def test_a_slip_says_what_was_meant(capsys, typed, problem, cure) -> None:
    told = _said(capsys, *typed)
    first, second = told.strip().split("\n")
    assert problem in first and second.startswith("    To mend it: ") and cure in second


def test_an_unquoted_name_with_spaces_is_put_together(tmp_path, monkeypatch) -> None:
    (tmp_path / "my good photo.jpg").write_bytes(b"")
    monkeypatch.chdir(tmp_path)
    whole = "my good photo.jpg"
    for typed in (whole.split(), str(tmp_path / whole).split(" ")):
        _, look = read_command(["look", *typed, "--blank", "can-fold"])
        assert (str(look.photo), look.blank) == (" ".join(typed), "can-fold")
        _, order = read_command(["order", "--photo", *typed, "--quantity", "2"])
        assert (order.photo, order.quantity) == ((" ".join(typed),), 2)
    _, order = read_command(["order", "--photo", "photo=my", "good", "photo.jpg"])
    assert order.photo == (f"photo={whole}",)
    _, start = read_command(["start", "shop", "--photo", "my", "good", "photo.jpg"])
    assert str(start.photo) == whole


def test_words_that_are_no_file_stay_apart(tmp_path, monkeypatch, capsys) -> None:
    for name in ("a.jpg", "b.jpg", "a.jpg b.jpg"):
        (tmp_path / name).write_bytes(b"")
    monkeypatch.chdir(tmp_path)
    assert in_one_word(["a.jpg", "b.jpg"]) == ["a.jpg", "b.jpg"]
    assert "one word too many" in _said(capsys, "look", "a.jpg", "b.jpg")
    assert "one word too many" in _said(capsys, "look", "not", "there.jpg")
    assert in_one_word(["x" * 5000, "y", "\0"]) == ["x" * 5000, "y", "\0"]


def test_a_command_to_copy_leads_to_the_shop_it_was_said_of(tmp_path, monkeypatch, capsys) -> None:
    make_shop(tmp_path / "my shop", "fenn")
    monkeypatch.chdir(tmp_path)

    def said(*typed: str) -> str:
        cli.main([*typed])
        told = capsys.readouterr()
        return told.out + told.err

    for _ in range(2):  # worked out, and said again from memory
        told = said("-q", "--shop", "my shop", "orders")
        assert 'proofgen --shop "my shop" proof fenn' in told
        assert told == said("-q", "orders", "--shop", "my shop")
    assert 'proofgen --shop "my shop" orders' in said("-q", "orders", "--shop", "my shop", "zzz")
    assert 'proofgen --shop "my shop" check fenn' in said("-q", "--shop=my shop", "orders", "fenn")
    monkeypatch.chdir(tmp_path / "my shop")
    assert "--shop" not in said("-q", "orders")


@pytest.mark.parametrize(
    ("word", "windows", "typed"),
    [
        ("a.jpg", False, "a.jpg"),
        ("my photo.jpg", False, '"my photo.jpg"'),
        ("it's.jpg", False, '"it\'s.jpg"'),
        ("$HOME.jpg", False, "'$HOME.jpg'"),
        (r"C:\My photos\a.jpg", True, r'"C:\My photos\a.jpg"'),
        (r"C:\photos\a.jpg", True, r"C:\photos\a.jpg"),
        ("ä.jpg", False, "ä.jpg"),
    ],
)
def test_a_word_is_typed_with_straight_quotes(word: str, windows: bool, typed: str) -> None:
    assert for_shell(word, windows=windows) == typed


def test_the_way_to_a_shop_that_is_near(tmp_path: Path, monkeypatch) -> None:
    shop = make_shop(tmp_path / "wren cards", "fenn")
    monkeypatch.chdir(tmp_path)
    told = run(Path(), "orders").ended(3).err
    assert 'go into your shop first: cd "wren cards"' in told and "proofgen start my-shop" in told
    monkeypatch.chdir(shop / "orders" / "fenn")
    assert "go into your shop first: cd ../.." in run(Path(), "orders").ended(3).err
    (tmp_path / "empty").mkdir()
    monkeypatch.chdir(tmp_path / "empty")
    assert "cd my-shop" in run(Path(), "orders").ended(3).err
    told = run(tmp_path / "absent", "orders").ended(3).err
    assert "after --shop" in told and "proofgen start my-shop" in told
    monkeypatch.chdir(carried("content").parent)
    told = run(Path(), "check").ended(3).err
    assert "cd content" not in told and "proofgen start my-shop" in told


def test_one_order_and_what_is_in_it(shop) -> None:
    told = run(shop, "orders", "fenn").ended(0).out
    assert "proofgen proof fenn" in told and "quill" not in told
    assert "2 pieces of tag on coaster-round, white" in told and "“Odalys & Bram”" in told
    assert "proofgen check fenn" in told and "someone@fenn.example" in told
    rows = run(shop, "orders", "fenn", "--json").document["orders"]
    assert [row["order"] for row in rows] == ["fenn"]
    assert "did you mean fenn?" in run(shop, "orders", "fen").ended(2).err
    (shop / "orders" / "quill" / "order.yaml").write_text("lines: 3\n", "utf-8")
    assert "order.yaml" in run(shop, "orders", "quill").ended(3).err
    run(shop, "orders", "fenn").ended(0)  # another's fault is no fault of this one
    run(shop, "orders", "fenn", "--tally").ended(2)


def test_a_backup_without_a_name_is_given_one_to_copy(tmp_path: Path) -> None:
    shop = make_shop(tmp_path / "shop", "fenn")
    told = run(shop, "backup").ended(2).err
    assert re.search(r"proofgen backup shop-20\d\d-\d\d-\d\d\.zip", told)
