"""What tests open pictures and fonts with: one process for all of them, and nothing is remembered
from one test to the next."""

from __future__ import annotations

import atexit
from pathlib import Path

from proofgen.artwork.materials import Materials
from proofgen.store import NoStore

NO_SHOP = Path(__file__).parent / "no shop"  # nothing is there, so no fonts are but the installed

MATERIALS = Materials(NO_SHOP, NoStore())
PICTURES = MATERIALS.pictures
atexit.register(MATERIALS.close)
