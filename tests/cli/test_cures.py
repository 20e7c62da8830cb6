"""Every command that is named anywhere can be typed: it is there, and takes the options it is named
with. And a cure that a refusal names, typed as it stands, is taken."""

from __future__ import annotations

import contextlib
import io
import re
import shlex
from collections.abc import Iterator
from pathlib import Path

import pytest

from proofgen.cli.meant import options_of
from proofgen.cli.parser import COMMANDS, read_command
from tests.cli.small import run

HOUSE = Path(__file__).parents[2]
_NAMED = re.compile(r"\bproofgen ((?:--shop \S+ |-q )*)([a-z][a-z-]+)((?: +[^;`<>\n]*)?)")


def _texts() -> Iterator[tuple[str, str]]:
    """What is said to people: source, templates, the documents."""
    for pattern in ("proofgen/**/*.py", "themes/**/*.html", "content/guide/**/*.md", "README.md"):
        for path in sorted(HOUSE.glob(pattern)):
            text = path.read_text("utf-8")
            if path.suffix == ".py":  # a sentence in parts is one
                text = re.sub(r'"\s*\n\s*f?"', "", text)
            yield path.relative_to(HOUSE).as_posix(), text


def test_every_command_that_is_named_is_there_with_its_options() -> None:
    wrong = []
    seen = set()
    for where, text in _texts():
        for found in _NAMED.finditer(text):
            name, rest = found[2], found[3]
            if name not in COMMANDS:  # a word of a sentence, but where a command is set apart
                is_typed = text[: found.start()].endswith(("`", "<code>", ": "))
                wrong += [(where, name)] if is_typed else []
                continue
            seen.add(name)
            known = {*options_of(name), "--version"}
            for option in re.findall(r"(?<= )--[a-z][a-z-]*", rest.split("proofgen")[0]):
                wrong += [(where, f"{name} {option}")] if option not in known else []
    assert not wrong
    assert {"proof", "press", "handed-over", "measure", "check"} <= seen


REFUSED = (
    ("proof", "fen"),
    ("orders", "fen"),
    ("press", "fenn"),
    ("press", "fenn", "--done"),
    ("press", "--done"),
    ("handed-over", "fenn"),
    ("letter", "fenn"),
    ("letter",),
    ("letter", "fenn", "--ready"),
    ("answer", "fenn", "--read"),
    ("answer", "fenn", "--apply"),
    ("answer", "nothing.eml"),
    ("check", "fenn", "--accept", "x"),
    ("check", "fenn", "--accept", "x", "--because", "y"),
    ("orders", "--since", "2026-01-01"),
    ("orders", "--cleared", "fenn"),
    ("blanks", "coaster-rond"),
    ("blanks", "--count", "white=3"),
    ("swatches", "coaster-round", "a.pdf", "--readings", "b.csv"),
    ("serve", "--port", "0"),
    ("trial", "coaster-rond"),
)


@pytest.mark.parametrize("typed", REFUSED, ids=" ".join)
def test_the_cure_of_a_refusal_can_be_typed_as_it_stands(shop, typed) -> None:
    told = run(shop, *typed)
    assert told.code in (2, 3, 4), told
    assert "To mend it: " in told.err
    for cure in re.findall(r"proofgen (?:[a-z-]+)(?: [^;`,()]+)?", told.err.split("mend it")[1]):
        with contextlib.redirect_stderr(io.StringIO()) as said:
            try:
                read_command(shlex.split(cure.rstrip(". "))[1:])
            except SystemExit as ended:
                assert ended.code == 0, f"{cure}: {said.getvalue()}"


def test_an_option_by_another_name_is_named(shop) -> None:
    told = run(shop, "press", "fenn", "--spoiled", "1", "--reason", "smudged")
    assert told.code == 2 and "it is called --because here" in told.err
    told = run(shop, "orders", "--reason", "smudged")
    assert told.code == 2 and "it is called" not in told.err, "there is none such here"
