"""Check order/limits-read."""

from __future__ import annotations

from collections.abc import Iterator

from proofgen.checks.registry import Said, check, stop
from proofgen.checks.subjects import OrderSubject, whole_order


@check(
    "order/limits-read",
    over=whole_order,
    why="With a slip in a limit the usual value would stand in for it, and something would be "
    "pressed that the shop meant to be stopped.",
    source="shop.yaml",
    codes={"not-read": "a limit of shop.yaml is not what it should be"},
)
def limits_read(subject: OrderSubject) -> Iterator[Said]:
    """The shop’s own limits are known."""
    if not subject.given.shop.settings.limits_sound:
        yield stop(
            "not-read",
            "There is a slip in the limits of shop.yaml, so the usual ones were asked here.",
            "Mend shop.yaml; its line is told with every command.",
            where="shop.yaml",
        )
