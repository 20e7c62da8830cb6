"""Every fault of a shop's own theme folder, mended as its cure says: a hand that knows nothing but
the sentence changes the file, and nothing is told any more."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from proofgen.errors import Place, ShopError
from proofgen.render import Theme
from proofgen.render.look import read_look
from tests.render.test_look import FAULTS

# More than the table of faults has: what people write who have seen no theme.yaml before.
MORE = [
    "tokens:\n\tpaper: '#ffffff'",
    "tokens:\n  paper: #0b4f8a",
    "tokens: {season: 0b4f8a}",
    "tokens:\n  s1: 0,5rem",
    "tokens: {display-weight: bold}",
    "tokens: {display: 'Comic\"'}",
    "tokens: {edge: wide}",
    "tokens: {zzzz: 1}",
    "zzzz: 1",
    "says: [a, b]",
    "says: \x07x",
    "says: &a [*a]",
    "says: &a x\ntokens: {text: *a}",
    "- paper",
    "plates: []",
    "plates: [" + ", ".join(["'#ffffff'"] * 9) + "]",
    "drawing: {under: white}",
    "drawing: {stroke: thick}",
    "light: {strength: 0.4}",
    "fonts: {display: {450: Manrope}}",
    "fonts: {display: {400 slanted: Manrope}}",
    "fonts: {display: Manrope}",
    "fonts: [Manrope]",
    "framing: 12",
    'tokens: {paper: "#ffffff"}\ntokens: {paper: "#fffff0"}',
    'tokens: {paper: "#ffffff", paper: "#fffff0"}',
    'tokens:\n  paper: "#ffffff"\n  paper: "#fffff0"',
]
# What takes lines of its own, with one.
IN_LINES = {
    "tokens": 'tokens: {paper: "#ffffff"}',
    "display": "fonts: {display: {400: Manrope}}",
    "fonts": "fonts: {display: {400: Manrope}}",
    "framing": "framing: {margin: 12}",
}
# A value, in quotes or brackets or bare, up to where the next begins.
_VALUE = r"(?:\"[^\"]*\"|'[^']*'|\[[^\]]*\]|[^,}\n]*)"


def _named(problem: str) -> str:
    """What a problem names in quotes, or the word it begins with or speaks of."""
    found = re.search("“(.*?)”", problem)
    assert found, problem
    return found[1]


def _followed(text: str, fault: ShopError) -> str:
    """The file with the fault's line changed as the cure says."""
    assert isinstance(fault.place, Place)
    at = (fault.place.line or 1) - 1
    lines = text.split("\n")
    line, cure, problem = lines[at], fault.cure, fault.problem
    if found := re.search(r"did you mean (.+)\?", cure) or re.search("choose from: ([^,]+)", cure):
        line = line.replace(_named(problem), found[1], 1)
    elif found := re.search(r"^write it like ([\w-]+): (.+)", cure):
        old = _VALUE if "{" in line else ".*"
        line = re.sub(rf"\b{found[1]}: ?{old}", lambda _: f"{found[1]}: {found[2]}", line, count=1)
    elif found := re.search(r"^write # and .+ like (\"#\w{6}\")$", cure):
        # the value of the name that the problem begins with; of a list, each
        name = problem.split()[0]
        listed = f"{name}: [{found[1]}]" if "[" in line else f"{name}: {found[1]}"
        line = re.sub(rf"\b{name}: ?{_VALUE}", listed, line, count=1)
    elif found := re.search(r"^write plates: (.+)", cure):
        line = f"plates: {found[1]}"
    elif found := re.search(r"^write ([\d.]+) to [\d.]+", cure) or re.search(
        "^write (left) or", cure
    ):
        line = line.replace(_named(problem), found[1])
    elif "write a weight, 100 or 200" in cure:
        line = line.replace(_named(problem), "400 italic" if "slant" in _named(problem) else "400")
    elif "write name: value in each" in cure:  # what is named is taken from the usual theme
        line = IN_LINES.get(problem.split()[0], "says: x")
    elif cure == "keep one of the two":
        twice = rf"({_named(problem)}: ?{_VALUE}), (?=.*{_named(problem)}:)"
        line = re.sub(twice, "", line) if re.search(twice, line) else ""
    elif "put spaces in the place of its tabs" in cure:
        line = line.replace("\t", "  ")
    elif "type the line anew" in cure:
        line = "".join(char for char in line if char.isprintable())
    elif "write it out in full there, without & and *" in cure:
        whole = re.search(r"&a (\w+)", text)
        full = whole[1] if whole else "x"
        return re.sub(r"\[\*a\]|\*a", full, re.sub(r"&a ", "", text))
    elif cure.startswith("check the colon and the space after it, the quotes and the indentation"):
        line = line + "'" if line.count("'") % 2 else "#" + line
    else:
        raise AssertionError(f"no hand knows what to do: {fault.sentence()}")
    lines[at] = line
    return "\n".join(lines)


@pytest.mark.parametrize("text", [fault[0] for fault in FAULTS] + MORE)
def test_a_cure_of_a_theme_that_is_followed_mends_it(text: str, tmp_path: Path) -> None:
    file, below = tmp_path / "theme.yaml", Theme("quay").look

    def told() -> ShopError | None:
        file.write_text(text, "utf-8")
        try:
            read_look(file, "theme/theme.yaml", below)
        except ShopError as fault:
            return fault
        return None

    fault = told()
    assert fault
    for _ in range(4):  # from one cure to the next until nothing is told
        before = fault.sentence()
        text = _followed(text, fault)
        fault = told()
        assert fault is None or fault.sentence() != before, text
        if fault is None:
            break
    assert fault is None and text.strip()


# A file of the folder, and the same once what its cure says was done; None: it was taken away.
_LATIN = "{# Zoë #}".encode("latin-1")
FILES: list[tuple[str, bytes, str, bytes | None]] = [
    ("templates/page.html", _LATIN, "save it as plain text in UTF-8", "{# Zoë #}".encode()),
    ("templates/page.html", b"{% if %}", "or take the file away", None),
    ("base.css", "/* Zoë */".encode("latin-1"), "save it as plain text", "/* Zoë */".encode()),
    ("base.css", b"a {}\n/* </style> */", "take it out", b"a {}\n/* > */"),
    ("theme.yaml", "says: Zoë".encode("latin-1"), "save it as plain text", "says: Zoë".encode()),
    *(
        ("theme.yaml", "says: Zoë\n".encode(wide), "save it as plain text", "says: Zoë".encode())
        for wide in ("utf-16", "utf-16-le", "utf-16-be")
    ),
]


@pytest.mark.parametrize(("name", "wrong", "cure", "mended"), FILES)
def test_a_cure_of_a_file_of_the_shops_theme_mends_it(
    name: str, wrong: bytes, cure: str, mended: bytes | None, tmp_path: Path
) -> None:
    file = tmp_path / "theme" / name
    file.parent.mkdir(parents=True)
    file.write_bytes(wrong)
    with pytest.raises(ShopError) as told:
        Theme("quay", own=tmp_path / "theme").check()
    assert cure in told.value.cure and str(told.value.place).startswith(f"theme/{name}")
    if mended is None:
        file.unlink()
    else:
        file.write_bytes(mended)
    Theme("quay", own=tmp_path / "theme").check()


def test_a_name_that_no_theme_has_is_mended_by_any_that_is_listed(tmp_path: Path) -> None:
    with pytest.raises(ShopError) as told:
        Theme("kay")
    listed = told.value.cure.removeprefix("choose one of: ").split(", ")
    assert listed and all(Theme(name).look for name in listed)
