"""What holds for every template of the house."""

from __future__ import annotations

import re

from proofgen.render.shipped import carried

_COMMAND = re.compile(r"proofgen [a-z-]+[^<]* --[a-z]")
_TYPED = re.compile(r'(?:<code>|class="command">)$')


def test_a_command_is_set_so_that_its_two_hyphens_stay_two() -> None:
    """In our text type they are drawn as one dash: a ticket read “verify –since”."""
    found = 0
    for path in sorted((carried("themes") / "base" / "templates").glob("*.html")):
        text = path.read_text("utf-8")
        for command in _COMMAND.finditer(text):
            found += 1
            assert _TYPED.search(text[: command.start()]), (path.name, command[0])
    assert found >= 4
    for style in ("press", "evening"):
        sheet = (carried("themes") / "base" / f"{style}.css").read_text("utf-8")
        assert "font-variant-ligatures: none" in sheet
