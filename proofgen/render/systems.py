"""The line that installs a library, on the system that is asked for it.

That for Debian was tried; the others are from memory, or from WeasyPrint's guide ("First steps").
"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Mapping

# What installs, and what each library is called there.
_TOOLS: Mapping[str, tuple[str, Mapping[str, str]]] = {
    "apt-get": (
        "apt-get install",
        {
            "pango": "libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0",
            "fribidi": "libfribidi0",
        },
    ),
    "dnf": ("dnf install", {"pango": "pango", "fribidi": "fribidi"}),
    "pacman": ("pacman -S", {"pango": "pango", "fribidi": "fribidi"}),
    "zypper": ("zypper install", {"pango": "libpango-1_0-0", "fribidi": "libfribidi0"}),
    "apk": ("apk add", {"pango": "pango", "fribidi": "fribidi"}),
}
_WINDOWS = {
    "pango": "in the MSYS2 UCRT64 window type: pacman -S mingw-w64-ucrt-x86_64-pango",
    "fribidi": "put fribidi.dll (for example from MSYS2) in a folder that is on PATH, then start "
    "again",
}


def line_for(library: str) -> str:
    """What to type for "pango" or "fribidi"; where no tool is known, what to look for."""
    if sys.platform == "darwin":
        return f"type: brew install {library}"
    if sys.platform == "win32":
        return _WINDOWS[library]
    for tool, (command, names) in _TOOLS.items():
        if shutil.which(tool):
            return f"type: {'' if _is_root() else 'sudo '}{command} {names[library]}"
    return f"install {library} with the program that installs software on this system"


def _is_root() -> bool:
    return sys.platform != "win32" and os.geteuid() == 0
