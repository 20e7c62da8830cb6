"""Commands as they are typed on this machine."""

from __future__ import annotations

import os
import shlex
import shutil
import sys
from pathlib import Path


def typed_for(folder: Path) -> str:
    """How every command about a shop folder begins: 'proofgen --shop FOLDER'."""
    return f"{command_here()} --shop {_word(folder)}"


def command_here() -> str:
    """How to type the command on this machine: short where the shell finds it."""
    if shutil.which("proofgen"):
        return "proofgen"
    beside = Path(sys.executable).with_name("proofgen.exe" if os.name == "nt" else "proofgen")
    return _word(beside) if beside.exists() else f"{_word(sys.executable)} -m proofgen"


def _word(word: str | Path) -> str:
    """A path as one word of a line to type, whatever its folder is called."""
    if os.name == "nt":
        return f'"{word}"' if " " in str(word) else str(word)
    return shlex.quote(str(word))
