"""A command that was typed beside a shop: which way it is."""

from __future__ import annotations

from pathlib import Path

from proofgen.render import carried
from proofgen.say import joined
from proofgen.say.shell import for_shell

_MOST_NAMED = 3
_MOST_LOOKED_AT = 500  # of the folders in one: a home is full of them


def _is_shop(folder: Path) -> bool:
    try:
        return (folder / "shop.yaml").is_file()
    except OSError:
        return False


def _shops_near(folder: Path) -> list[str]:
    """The nearest shop above, as a way with dots; else those right in the folder."""
    for up, above in enumerate(folder.parents, start=1):
        if _is_shop(above):
            return ["/".join([".."] * up)]
    try:
        inside = sorted(folder.iterdir())[:_MOST_LOOKED_AT]
    except OSError:
        return []
    demo = carried("content").resolve()  # of which others are made; nobody's to work in
    shops = (one for one in inside if not one.name.startswith(".") and _is_shop(one))
    return [path.name for path in shops if path.resolve() != demo]


def way_to_a_shop(folder: Path) -> str:
    """What to type where `folder` is no shop: the way to one that is near, else how to make one."""
    folder = folder.absolute()
    near = _shops_near(folder)
    made = "if you have none yet, make one: proofgen start my-shop"
    if folder != Path.cwd():
        return f"write the folder of your shop after --shop; {made}"
    if not near:
        return f"go into the folder of your shop first, like: cd my-shop; {made}"
    ways = joined((f"cd {for_shell(name)}" for name in near[:_MOST_NAMED]), "or")
    return f"go into your shop first: {ways}; {made}"
