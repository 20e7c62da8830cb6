"""The parser stands apart from the work, and says the same as the work does."""

from __future__ import annotations

import dataclasses
import importlib
import subprocess
import sys
import typing
from pathlib import Path

import pytest

from proofgen.cli import blank_commands, commands
from proofgen.cli.options import COMMANDS, made
from proofgen.cli.parser import read_command
from proofgen.desk.measuring import LENGTHS as BLANK_LENGTHS
from proofgen.desk.measuring import SHAPES as BLANK_SHAPES

HEAVY = ("numpy", "PIL", "jinja2", "yaml", "weasyprint", "pikepdf", "rapidfuzz", "wcwidth")


def test_the_options_of_a_tape_are_what_can_be_measured():
    options = {one.name: one.metadata for one in dataclasses.fields(made(blank_commands.Measure))}
    tape = {k for k, m in options.items() if m and m["how"].get("metavar") == "LENGTH"}
    assert tape == set(BLANK_LENGTHS)
    shapes = options["shape"]["how"]["help"].removeprefix("of a flat blank: ")
    assert sorted(shapes.replace(" or ", ", ").split(", ")) == sorted(BLANK_SHAPES)


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_is_run_by_a_function_that_takes_its_record(name: str) -> None:
    record = COMMANDS[name]
    run = getattr(importlib.import_module(f"proofgen.cli.{record.runs_in}"), name.replace("-", "_"))
    assert typing.get_type_hints(run) == {"given": record, "return": int}


def test_what_is_typed_becomes_a_record_of_its_types() -> None:
    name, given = read_command(["--shop", "demo", "-q", "check", "fenn", "--page", "a.html", "-v"])
    assert (name, given) == (
        "check",
        made(commands.Check)(
            shop=Path("demo"), quiet=True, orders=("fenn",), page=Path("a.html"), verbose=True
        ),
    )
    name, given = read_command(
        ["order", "--photo", "a.jpg", "--photo", "b=c.jpg", "--quantity", "3"]
    )
    assert given == made(commands.Order)(
        shop=Path(), quiet=False, photo=("a.jpg", "b=c.jpg"), quantity=3
    )  # fmt: skip
    assert read_command(["demo"])[1] == made(commands.Demo)(
        shop=Path(), quiet=False, folder=Path("demo")
    )
    assert read_command(["measure", "--name", "My wrap"])[1] == made(blank_commands.Measure)(
        shop=Path(), quiet=False, name=None, title="My wrap"
    )


def test_a_wrong_word_cannot_steer_the_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        read_command(["order", "\x1b[2J\u202e"])
    assert ended.value.code == 2
    assert "⟨U+001B⟩[2J⟨U+202E⟩" in capsys.readouterr().err


def test_what_is_typed_twice_is_not_dropped(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        read_command(["check", "fenn", "--accept", "blur", "--accept", "exposure"])
    assert ended.value.code == 2
    assert "--accept was given twice, and not the same" in capsys.readouterr().err
    assert read_command(["check", "fenn", "--accept", "blur", "--accept", "blur"])[1] == made(
        commands.Check
    )(shop=Path(), quiet=False, orders=("fenn",), accept="blur")


def test_a_help_text_loads_nothing_heavy():
    look = (
        "import sys; from proofgen.cli.parser import build_parser; build_parser(); "
        f"print([m for m in {HEAVY!r} if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", look], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
