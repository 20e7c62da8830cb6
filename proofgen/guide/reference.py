"""The reference: every page of it is made from what the code itself declares."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields

from proofgen.checks.listed import CHECKS
from proofgen.errors import EXIT_CODES
from proofgen.guide import commands as commands_told
from proofgen.guide.chapters import Chapter
from proofgen.guide.commands import CommandTold, OptionTold
from proofgen.guide.fields import fields_told
from proofgen.guide.themes import theme_told
from proofgen.guide.words import cell, code, table
from proofgen.model import Limits
from proofgen.shop import usual_limit
from proofgen.signoff import RULES

_FAMILIES = {
    "order": "The order",
    "photo": "The photo",
    "layout": "The layout",
    "words": "The words",
    "blank": "The blank",
}


def reference(
    commands: Sequence[CommandTold], everywhere: Sequence[OptionTold]
) -> Iterator[Chapter]:
    """The pages of the reference, in their order."""
    yield Chapter("fields", "Every file and its lines", "\n".join(fields_told()))
    told = "\n".join(commands_told.told(commands, everywhere))
    yield Chapter("commands", "Every command", told)
    yield Chapter("checks", "Every check", "\n".join(_checks()))
    yield Chapter("limits", "Limits of your own", "\n".join(_limits()))
    yield Chapter("states", "Where an order stands", "\n".join(_states()))
    yield Chapter("exit-codes", "How a command ends", "\n".join(_exit_codes()))
    yield Chapter("theme", "What a theme decides", "\n".join(theme_told()))


def _checks() -> Iterator[str]:
    yield (
        "`proofgen check` looks at all of these, each time. A *stop* keeps proof and press shut "
        "until it is mended or accepted with a reason; a *warn* asks for a look; a *note* is good "
        "to know. `proofgen check -v` shows beside each finding what was measured and the limit.\n"
    )
    of: dict[str, list[str]] = {}
    for one in CHECKS.values():
        of.setdefault(one.id.split("/")[0], []).append(one.id)
    for family, ids in of.items():
        yield f"## {_FAMILIES[family]}\n"
        for name in ids:
            one = CHECKS[name]
            yield f"### {one.id}\n"
            yield f"**{cell(one.title)}.** {cell(one.why)}\n"
            yield table(
                ("what it may find", "what that is"),
                ((code(c), cell(s)) for c, s in one.codes.items()),
            )
            yield f"Where it comes from: {cell(one.source)}.\n"


def _limits() -> Iterator[str]:
    yield (
        "`limits:` in `shop.yaml` says what the checks ask; what you leave out has its usual "
        "value. A slip in this line keeps proof and press shut until it is mended.\n"
    )
    example = "limits: {good_ppi: 180, letter_height: 4 mm, polyester: 60 %}"
    yield f"```yaml\n# shop.yaml\n{example}\n```\n"
    rows = (
        (code(key), cell(usual), cell(one.metadata["says"]), cell(one.metadata["origin"]))
        for one in fields(Limits)
        for key, usual in [usual_limit(one.name)]
    )
    yield table(("limit", "usual value", "what it is", "where the value comes from"), rows)
    yield (
        "Sizes, bleed and safe area of a blank stand in the blank’s own file, days and spares "
        "beside the limits. When words vanish wholly (1.3 to 1) or a photo’s edges all run one "
        "way is fixed. Lightness runs from 0, black, to 100, white. Edges are in pixels at 300 to "
        "the inch. How the measured ones were found, and how often they hit and miss, stands in "
        "DEVELOPERS.md.\n"
    )


def _states() -> Iterator[str]:
    yield (
        "`proofgen orders` says of each order where it stands, whom it waits for, and the one next "
        "step.\n"
    )
    rows = (
        (
            f"**{state.value}**",
            cell(rules.stands.format_map(_NAMES)),
            cell(rules.step.format_map(_NAMES)),
        )
        for state, rules in RULES.items()
    )
    yield table(("state", "why it stands there", "the next step"), rows)


_NAMES = {
    "order": "ORDER",
    "edition": "N",
    "next": "N + 1",
    "day": "DAY",
    "file": "orders/ORDER/order.yaml",
    "both": "the one or the other",
}


def _exit_codes() -> Iterator[str]:
    yield (
        "Every command ends with a number, for scripts and for whoever asks (`echo $?`; in "
        "PowerShell `$LASTEXITCODE`). `build` does all it can and then ends with the worst that "
        "happened: 5, then 3, 4, 1.\n"
    )
    yield table(
        ("number", "what it means"), ((str(n), cell(says)) for n, says in EXIT_CODES.items())
    )
