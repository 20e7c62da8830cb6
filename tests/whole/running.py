"""The real command on a copy of the demo shop, cut down so that it is quick."""

from __future__ import annotations

import contextlib
import io
import json
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from proofgen import cli

HOUSE = Path(__file__).parents[2]


@dataclass(frozen=True, slots=True)
class Done:
    """How a command ended and what it said."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> Any:
        return json.loads(self.out)

    def __str__(self) -> str:
        return f"exit {self.code}\n--- said\n{self.out}\n--- aside\n{self.err}"


def command(shop: Path, *arguments: str, typed: str = "", exits: int = 0) -> Done:
    """`proofgen --shop SHOP …` in a process of its own, as a person runs it."""
    paths = [str(HOUSE), os.environ.get("PYTHONPATH", "")]
    ran = subprocess.run(
        [sys.executable, "-W", "error", "-m", "proofgen", "--shop", str(shop), *arguments],
        input=typed,
        capture_output=True,
        encoding="utf-8",
        cwd=shop,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(p for p in paths if p)},
        timeout=600,  # a busy machine takes its time
        check=False,
    )
    done = Done(ran.returncode, ran.stdout, ran.stderr)
    assert done.code == exits, f"{' '.join(arguments)}: {done}"
    return done


def inside(shop: Path, *arguments: str, typed: str = "", exits: int | None = 0) -> Done:
    """The same without a process of its own: for many runs in a row. `exits` None: any code."""
    out, err, held = io.StringIO(), io.StringIO(), sys.stdin
    sys.stdin = io.TextIOWrapper(io.BytesIO(typed.encode()), "utf-8")
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            code = cli.main(["--shop", str(shop), *arguments])
    finally:
        sys.stdin = held
    done = Done(code, out.getvalue(), err.getvalue())
    assert exits in (None, done.code), f"{' '.join(arguments)}: {done}"
    return done


def copy_of_demo(folder: Path, *orders: str) -> Path:
    """The demo shop with these orders alone, the designs they use, no season and no records."""
    content = HOUSE / "content"
    shutil.copytree(content, folder, ignore=shutil.ignore_patterns("records", "seasons"))
    for path in (folder / "orders").iterdir():
        if path.name not in orders:
            shutil.rmtree(path)
    told = "".join((folder / "orders" / name / "order.yaml").read_text("utf-8") for name in orders)
    for path in (folder / "designs").iterdir():
        if f"design: {path.name}\n" not in told:
            shutil.rmtree(path)
    return folder


def state_of(shop: Path, order: str) -> dict[str, Any]:
    """The row of `orders --json` about one order."""
    rows = inside(shop, "orders", "--json").document["orders"]
    (row,) = [row for row in rows if row["order"] == order]
    return dict(row)


def page_of(shop: Path, order: str) -> Path:
    """The private page of an order, found by the link that its letter carries."""
    token = state_of(shop, order)["link"].rstrip("/").rsplit("/", 1)[-1]
    return shop / "site" / "p" / token / "index.html"


def sheets_of(shop: Path, order: str) -> list[str]:
    """Files for the press that carry an order's name, or several orders."""
    folder = shop / "workroom" / "press"
    names = [path.name for path in folder.iterdir()] if folder.is_dir() else []
    return sorted(n for n in names if n.startswith((f"{order}-", "shared-")))
