"""Where the folders that travel with proofgen are: themes and the demo shop's content."""

from __future__ import annotations

import importlib.util
from pathlib import Path

from proofgen.errors import MachineError

_PACKAGE = Path(__file__).resolve().parent.parent


def carried(name: str) -> Path:
    """The folder `name` ('themes' or 'content'): inside an installed wheel, else in the checkout.

    Errors: MachineError when the installation lacks it.
    """
    # The wheel's own copy first: beside an installed package anything may be called `content`.
    for folder in (_PACKAGE / "_carried" / name, _PACKAGE.parent / name):
        if folder.is_dir():
            return folder
    raise MachineError(
        f"this installation of proofgen lacks its folder “{name}”",
        "install proofgen again",
        _PACKAGE / "_carried" / name,
    )


def beside_code() -> Path | None:
    """The folder where this Python keeps compiled code of ours: only those can write there who can
    change the program, so what lies there serves every shop of this machine. None where Python
    keeps none."""
    try:
        return Path(importlib.util.cache_from_source(__file__)).parent
    except NotImplementedError:
        return None
