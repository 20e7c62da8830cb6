"""Only the store changes a disk. The linter bans the functions that would (pyproject.toml); methods
of a path, a picture or a PDF, which it cannot tell from others, are looked for here.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[2]
# The writer itself, and what makes the environment that proofgen runs in.
WRITERS = {
    "proofgen/store/files.py",
    "proofgen/store/holding.py",
    "proofgen/store/vanishing.py",
    "proofgen/bootstrap.py",
}
OF_A_PATH = {
    *("chmod", "hardlink_to", "lchmod", "mkdir", "rename", "rmdir", "symlink_to", "touch"),
    *("unlink", "write_bytes", "write_text"),
}
# The first argument says where to: a stream in memory is nobody's file.
INTO = {"ZipFile", "save", "write_pdf", "write_png"}


def called(call: ast.Call) -> str:
    match call.func:
        case ast.Attribute(attr=name) | ast.Name(id=name):
            return name
    return ""


def imported(tree: ast.Module) -> set[str]:
    """Names that stand for something imported: what is asked of them is the linter's to judge."""
    found = [n for n in ast.walk(tree) if isinstance(n, ast.Import | ast.ImportFrom)]
    return {alias.asname or alias.name for one in found for alias in one.names}


def streams(tree: ast.Module) -> set[str]:
    """Names that are given a stream in memory and nothing else, or one of the writer's own."""
    given: dict[str, list[bool]] = {name: [True] for name in handed(tree, "BinaryIO")}
    for one in ast.walk(tree):
        if isinstance(one, ast.Assign):
            in_memory = isinstance(one.value, ast.Call) and called(one.value) == "BytesIO"
            for target in one.targets:
                if isinstance(target, ast.Name):
                    given.setdefault(target.id, []).append(in_memory)
    return {name for name, values in given.items() if all(values)}


def handed(tree: ast.Module, kind: str) -> set[str]:
    """Parameters of that kind."""
    every = [n for n in ast.walk(tree) if isinstance(n, ast.arg) and n.annotation]
    return {one.arg for one in every if ast.unparse(one.annotation).split(".")[-1] == kind}


def packs(tree: ast.Module) -> set[str]:
    """Names of zip files: what is opened in one lies in it."""
    held = [n for n in ast.walk(tree) if isinstance(n, ast.withitem) and n.optional_vars]
    return handed(tree, "ZipFile") | {
        ast.unparse(one.optional_vars)
        for one in held
        if isinstance(one.context_expr, ast.Call) and called(one.context_expr) == "ZipFile"
    }


def opens_to_write(call: ast.Call) -> bool:
    """Whether `x.open(...)` may write; a mode that is worked out may."""
    modes = [*call.args[:1], *(k.value for k in call.keywords if k.arg == "mode")]
    return any(not isinstance(m, ast.Constant) or not set(m.value) <= set("rbt") for m in modes)


def writes(source: str) -> Iterator[tuple[int, str]]:
    """Line and method of every call that changes a disk, or cannot be shown not to."""
    tree = ast.parse(source)
    known, in_memory = imported(tree) | packs(tree), streams(tree)
    for call in (n for n in ast.walk(tree) if isinstance(n, ast.Call)):
        name = called(call)
        owner = call.func.value if isinstance(call.func, ast.Attribute) else None
        if name == "ZipFile" and len(call.args) == 1 and not call.keywords:
            wrong = False  # it reads
        elif name in INTO:
            named = [k.value for k in call.keywords if k.arg in ("file", "fp", "target")]
            targets = [*call.args[:1], *named]
            wrong = any(not isinstance(t, ast.Name) or t.id not in in_memory for t in targets)
        elif owner is None or (isinstance(owner, ast.Name) and owner.id in known):
            wrong = False
        elif name == "open":
            wrong = opens_to_write(call)
        elif name == "replace":  # a text's has two arguments, a record's names them
            wrong = len(call.args) == 1 and not call.keywords
        else:
            wrong = name in OF_A_PATH
        if wrong:
            yield call.lineno, name


def test_nothing_else_writes() -> None:
    found = [
        f"{path}:{line}: {method}"
        for file in sorted((HOUSE / "proofgen").rglob("*.py"))
        if (path := file.relative_to(HOUSE).as_posix()) not in WRITERS
        for line, method in writes(file.read_text("utf-8"))
    ]
    assert found == []


BAD = [
    'path.write_text("x")',
    '(folder / "a").write_bytes(b"")',
    'Path("a").unlink(missing_ok=True)',
    "side.replace(target)",
    "folder.mkdir(parents=True)",
    'path.open("w").write("x")',
    'path.open(mode="ab")',
    "path.open(mode)",
    "image.save(path)",
    'image.save("a.png")',
    'out = io.BytesIO()\nout = path\nimage.save(out, "PNG")',
    'zipfile.ZipFile(path, "w")',
    "zipfile.ZipFile(path, mode)",
    'def f(path: Path):\n    zipfile.ZipFile(path, "w")',
    "document.write_pdf(target)",
    'document.write_pdf(target="a.pdf")',
]
GOOD = [
    'text.replace("a", "b")',
    'replace(facts, file="a")',
    "now.replace(microsecond=0)",
    "path.open()",
    'path.open("rb")',
    "from PIL import Image\nImage.open(stream)",
    'out = io.BytesIO()\nimage.save(out, "PNG")',
    "with zipfile.ZipFile(path) as pack:\n    pack.open(entry)",
    'def save(stream: BinaryIO):\n    zipfile.ZipFile(stream, "w")',
    'held = io.BytesIO()\nzipfile.ZipFile(held, "w")',
    "from proofgen import store\nstore.remove(path)",
    "document.write_pdf(optimize_images=False)",
]


@pytest.mark.parametrize("line", BAD)
def test_what_would_write_is_seen(line: str) -> None:
    assert len(list(writes(line))) == 1


@pytest.mark.parametrize("line", GOOD)
def test_what_only_reads_is_let_through(line: str) -> None:
    assert list(writes(line)) == []


@pytest.mark.parametrize(
    "line",
    [
        "import os\nos.replace(a, b)",
        "import shutil as s\ns.rmtree(a)",
        "from shutil import copytree as copy\ncopy(a, b)",
        "import tempfile",
        "from os import unlink\nunlink(a)",
        "import pathlib\npathlib.Path.write_text(a, b)",
        'open(a, "w")',
    ],
)
def test_the_linter_bans_the_functions(line: str) -> None:
    program = Path(sys.executable).with_name("ruff")
    done = subprocess.run(
        [program, "check", "--stdin-filename", "proofgen/some_module.py", "-"],
        cwd=HOUSE,
        input=line + "\n",
        capture_output=True,
        text=True,
        check=False,
    )
    assert "TID251" in done.stdout or "PTH123" in done.stdout
