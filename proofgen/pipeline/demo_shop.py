"""The demo shop: the carried content copied to a folder of its own and built there."""

from __future__ import annotations

import os
import shlex
import shutil
import sys
from collections.abc import Sequence
from pathlib import Path

from proofgen import store
from proofgen.errors import UsageError
from proofgen.model.documents import StandingEntry
from proofgen.pipeline.builds import Built, build
from proofgen.render import carried
from proofgen.signoff import RULES, State
from proofgen.workshop import Say, Workshop, at_work, open_workshop


def copy_content(folder: Path) -> None:
    """Lay the demo shop into `folder` by one rename. UsageError if something else is there."""
    if (folder / "shop.yaml").is_file():
        return  # a demo of before: build it again
    if folder.exists() and any(folder.iterdir()):
        raise UsageError(
            f"the folder “{folder}” holds something else", "name a new one: proofgen demo my-demo"
        )
    source = carried("content")
    with store.appearing(folder.absolute()) as side:
        for path in source.rglob("*"):
            if path.is_file():
                store.write(side / path.relative_to(source), path.read_bytes())


def demo(folder: Path, say: Say) -> tuple[Built, Workshop]:
    """Copy the demo shop and build all of it."""
    copy_content(folder)
    workshop = open_workshop(folder, say)
    if not workshop.shop.settings.demo:
        raise UsageError(f"“{folder}” is a shop of your own", f"proofgen --shop {folder} build")
    with workshop, at_work(workshop):
        return build(workshop), workshop


def _command_here() -> str:
    """How to type the command on this machine: short where the shell finds it."""
    if shutil.which("proofgen"):
        return "proofgen"
    beside = Path(sys.executable).with_name("proofgen.exe" if os.name == "nt" else "proofgen")
    return _typed(beside) if beside.exists() else f"{_typed(sys.executable)} -m proofgen"


def _typed(word: str | Path) -> str:
    """A path as one word of a line to type, whatever its folder is called."""
    if os.name == "nt":
        return f'"{word}"' if " " in str(word) else str(word)
    return shlex.quote(str(word))


def demo_walk(workshop: Workshop, standings: Sequence[StandingEntry]) -> list[str]:
    """What to open and what to try, with the real names of this demo."""
    out = next((s for s in standings if RULES[State(s["state"])].waits), None)
    typed = f"{_command_here()} --shop {_typed(workshop.folder)}"
    lines = [
        "",
        "Now walk it yourself.",
        "1. Open the catalogue:",
        f"   {workshop.site / 'index.html'}",
    ]
    if out:
        token = workshop.records.token(out["order"])
        lines += [
            "2. Open a private proof, tick, type a name, and copy the answer it makes for you:",
            f"   {workshop.site / 'p' / str(token) / 'index.html'}",
            "3. Take the answer (paste it, then Ctrl+D; on Windows Ctrl+Z and Enter):",
            f"   {typed} answer -",
            "4. Make its press sheet and ticket:",
            f"   {typed} press {out['order']}",
        ]
    return lines
