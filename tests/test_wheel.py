"""The wheel: what it carries, and that it works with no checkout beside it."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.cli.test_exit_codes import NO_PANGO

HOUSE = Path(__file__).parent.parent
CARRIED = ("themes", "content")
MOST_BYTES = 5_000_000

pytestmark = pytest.mark.whole


def pip(*arguments: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check", *arguments],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.fixture(scope="module")
def ours() -> list[str]:
    """Every file of ours that a wheel holds, new ones too."""
    told = subprocess.run(
        ["git", "ls-files", "-z", "-co", "--exclude-standard", "proofgen", *CARRIED],
        cwd=HOUSE,
        capture_output=True,
        text=True,
        check=True,
    )
    return [name for name in told.stdout.split("\0") if name and (HOUSE / name).is_file()]


@pytest.fixture(scope="module")
def wheel(ours: list[str], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Built from a copy with the leftovers of a busy maker lying about."""
    pytest.importorskip("hatchling")
    copy = tmp_path_factory.mktemp("checkout")
    for name in [*ours, "pyproject.toml", "README.md", ".gitignore"]:
        (copy / name).parent.mkdir(parents=True, exist_ok=True)
        (copy / name).write_bytes((HOUSE / name).read_bytes())
    for leftover in (
        "content/designs/__pycache__/a.cpython-311.pyc",
        "content/orders/.DS_Store",
        "content/shop.yaml~",
        "content/site/index.html",
        "content/workroom/press/a.pdf",
        "themes/quay/.base.css.swp",
        "proofgen/__pycache__/cli.cpython-311.pyc",
    ):
        (copy / leftover).parent.mkdir(parents=True, exist_ok=True)
        (copy / leftover).write_bytes(b"x")
    out = tmp_path_factory.mktemp("wheel")
    pip("wheel", "--no-deps", "--no-build-isolation", "-w", str(out), str(copy))
    (made,) = out.glob("proofgen-*-py3-none-any.whl")
    return made


def test_the_wheel_carries_every_file_and_no_leftovers(wheel: Path, ours: list[str]) -> None:
    with zipfile.ZipFile(wheel) as opened:
        inside = {n for n in opened.namelist() if ".dist-info/" not in n}
    assert inside == {
        f"proofgen/_carried/{name}" if name.startswith(CARRIED) else name
        for name in ours
        if not name.startswith("content/records/")
    }


def test_the_wheel_is_small(wheel: Path) -> None:
    assert wheel.stat().st_size <= MOST_BYTES


def test_it_works_without_the_checkout(wheel: Path, tmp_path: Path) -> None:
    """Checks the demo's orders and makes one proof, page and PDF, from an empty folder."""
    placed, empty = tmp_path / "placed", tmp_path / "empty"
    empty.mkdir()
    pip("install", "--no-deps", "--no-index", "--target", str(placed), str(wheel))

    def python(*arguments: str, ends: int = 0, before: str = "") -> str:
        done = subprocess.run(
            [sys.executable, *arguments],
            cwd=empty,
            env={**os.environ, "PYTHONPATH": f"{before}{placed}"},
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == ends, done.stdout + done.stderr
        return done.stdout + done.stderr

    assert Path(python("-c", "import proofgen; print(proofgen.__file__)")).is_relative_to(placed)
    python(
        "-c",
        "from pathlib import Path; from proofgen.pipeline.demo_shop import copy_content;"
        "copy_content(Path('demo'))",
    )
    command = str(placed / "bin" / "proofgen")
    python(command, "--shop", "demo", "check", "fenn-harbour")
    python(command, "--shop", "demo", "proof", "nguyen-stars")
    (paper,) = (empty / "demo/site/p").rglob("proof-*.pdf")
    assert paper.read_bytes().startswith(b"%PDF-")
    assert f'"{paper.name}"' in (paper.parent / "index.html").read_text("utf-8")

    told = python(command, "guide")
    first = empty / "proofgen-guide" / "index.html"
    assert str(first) in told and (first.parent / "first-hour.html").is_file()

    lame = tmp_path / "lame"
    lame.mkdir()
    (lame / "sitecustomize.py").write_text(NO_PANGO, "utf-8")
    said = python(
        command, "--shop", "demo", "proof", "abara-coasters", ends=5, before=f"{lame}{os.pathsep}"
    )
    assert "PDFs cannot be made on this machine" in said
    pages = {path.parent.name for path in (empty / "demo/site/p").rglob("index.html")}
    assert len(list((empty / "demo/site/p").rglob("proof-*.pdf"))) == 1 and len(pages) >= 3
    assert python(command, "guide", before=f"{lame}{os.pathsep}")
