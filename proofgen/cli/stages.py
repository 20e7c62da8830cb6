"""Every command under the part of the walk that it belongs to, as `--help` shows them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

# A test holds this together with the commands there are.
STAGES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Begin", ("demo", "start", "ready", "guide")),
    ("Know your blanks", ("blanks", "measure", "truesize", "trial", "swatches")),
    ("Take an order", ("look", "take", "order", "change", "check")),
    ("Show it and have it signed", ("proof", "letter", "answer")),
    ("Press it and hand it over", ("press", "handed-over")),
    ("See where you are", ("orders", "build", "serve")),
    ("Show what you offer", ("catalogue", "publish")),
    ("Keep it, or let it go", ("backup", "restore", "records", "withdraw", "forget")),
    ("Your terminal", ("completion",)),
)


def by_stage(commands: Iterable[str]) -> Iterator[tuple[str, list[str]]]:
    """The commands there are, under their headings."""
    known = set(commands)
    for title, names in STAGES:
        if here := [name for name in names if name in known]:
            yield title, here
