"""The demo shop: the carried content copied to a folder of its own and built there."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from proofgen import store
from proofgen.errors import UsageError
from proofgen.model.documents import StandingEntry
from proofgen.pipeline.builds import Built, build
from proofgen.pipeline.typed import command_here, typed_for
from proofgen.pipeline.workroom_pages import index_of, keep_workroom
from proofgen.render import carried
from proofgen.signoff import RULES, State
from proofgen.workshop import Say, Workshop, at_work, open_workshop

_GUIDE = "guide"  # is carried beside the demo shop and is no part of one


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
            inside = path.relative_to(source)
            if path.is_file() and inside.parts[0] != _GUIDE:
                store.write(side / inside, path.read_bytes())


def demo(folder: Path, say: Say) -> tuple[Built, Workshop]:
    """Copy the demo shop and build all of it."""
    copy_content(folder)
    workshop = open_workshop(folder, say)
    if not workshop.shop.settings.demo:
        raise UsageError(f"“{folder}” is a shop of your own", f"proofgen --shop {folder} build")
    with workshop, at_work(workshop):
        built = build(workshop)
        built.notices += keep_workroom(workshop)
        # Nobody's own: nothing of it goes to a host.
        built.notices = [line for line in built.notices if not line.startswith("Upload ")]
        return built, workshop


def _can_be_answered(standing: StandingEntry) -> bool:
    state = State(standing["state"])
    return RULES[state].waits or state is State.READY


def demo_walk(workshop: Workshop, standings: Sequence[StandingEntry]) -> list[str]:
    """What to open and what to try, with the real names of this demo."""
    # Without the carried records (a wheel has none) nothing is sent yet; its proof can be answered.
    waiting = [s for s in standings if RULES[State(s["state"])].waits]
    out = next((s for s in [*waiting, *standings] if _can_be_answered(s)), None)
    typed = typed_for(workshop.folder)
    lines = [
        "Now walk it yourself.",
        "1. Open the catalogue:",
        f"   {workshop.site / 'index.html'}",
    ]
    if out:
        token = workshop.records.token(out["order"])
        lines += [
            "2. Open a private proof, tick, type a name, and copy the answer it makes for you:",
            f"   {workshop.site / 'p' / str(token) / 'index.html'}",
            "   If it says that its last day is over, it goes by your calendar, and the demo’s",
            "   stands still: choose “The date of this device is wrong: let me answer”.",
            "3. Take the answer (paste it, then Ctrl+D; on Windows Ctrl+Z and Enter):",
            f"   {typed} answer -",
            "4. Make its press sheet and ticket:",
            f"   {typed} press {out['order']}",
        ]
    return [
        *lines,
        "Where every order stands, for you alone:",
        f"   {index_of(workshop)}",
        f"   {typed} orders",
        "A shop of your own:",
        f"   {command_here()} start my-shop",
    ]
