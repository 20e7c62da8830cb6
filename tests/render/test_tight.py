"""A page's style and script lose their comments and white space, and nothing that counts."""

from __future__ import annotations

import re

import pytest
import tinycss2

from proofgen.render.shipped import carried
from proofgen.render.tight import tight_script, tight_style

SHEETS = sorted(carried("themes").glob("*/*.css"))
SCRIPTS = sorted(carried("themes").glob("*/*.js"))


def tokens(text: str) -> list[str]:
    """What a browser reads of a sheet, without white space, comments and a block's last semicolon
    (by tinycss2, which knows nothing of ours)."""
    read = tinycss2.parse_component_value_list(text, skip_comments=True)
    found = "".join(tinycss2.serialize([one]) for one in read)
    return re.sub(r"/\*.*?\*/|\s+", "", found, flags=re.DOTALL).replace(";}", "}").split("}")


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_a_sheet_says_the_same_in_fewer_letters(path) -> None:
    text = path.read_text("utf-8")
    made = tight_style(text)
    assert tokens(made) == tokens(text)
    assert "/*" not in made and len(made) < len(text)


@pytest.mark.parametrize(
    "text, made",
    [
        ("a b > c {\n  color: red;\n}\n", "a b > c{color:red}\n"),
        ("a :hover { x: y }", "a :hover{x:y}\n"),  # not the same as a:hover
        ('p::after { content: "a ; /* b */  c" }', 'p::after{content:"a ; /* b */  c"}\n'),
        ("p { width: calc(1px + 2 * var(--a)) /* so */ }", "p{width:calc(1px + 2 * var(--a))}\n"),
        (r"p { content: '\'  ;' }", r"p{content:'\'  ;'}" + "\n"),
        ("@media (min-width: 1px) and (x: y) { a, b { c: d e } }",
         "@media (min-width:1px) and (x:y){a,b{c:d e}}\n"),
    ],
)  # fmt: skip
def test_room_that_means_something_stays(text: str, made: str) -> None:
    assert tight_style(text) == made


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.stem)
def test_a_script_keeps_each_of_its_lines(path) -> None:
    text = path.read_text("utf-8")
    said = re.sub(r"(?ms)^\s*/\*.*?\*/", "", text)  # what a script says, its remarks left out
    left = [line.strip() for line in said.splitlines()]
    for line in tight_script(text).splitlines():
        at = next(i for i, whole in enumerate(left) if whole.startswith(line))
        lost, left = left[:at], left[at + 1 :]
        assert not [x for x in lost if x and not x.startswith(("/*", "//")) and "*/" not in x[-2:]
                    and x.endswith((";", "{", "}", ","))], lost  # fmt: skip
    assert all(line.count("`") % 2 == 0 for line in text.splitlines())


def test_what_looks_like_a_comment_in_a_script_stays() -> None:
    text = 'const a = "/* x */";\n/* gone */\n  b("//x"); /* gone */\nconst c = /\\/*$/;\n// gone\n'
    assert tight_script(text) == 'const a = "/* x */";\nb("//x");\nconst c = /\\/*$/;\n'
