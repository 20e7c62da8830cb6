"""The Tab key: what may come next, and that a shell asks for it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from proofgen.cli.completing import next_words
from proofgen.cli.parser import COMMANDS
from tests.cli.small import run

HOUSE = Path(__file__).parents[2]


@pytest.mark.parametrize(
    ("typed", "wants"),
    [
        (["pro"], ["proof"]),
        (["orders", ""], ["fenn", "quill"]),
        (["orders", "--by", ""], ["due", "name", "state"]),
        (["orders", "--cost", "f"], ["fenn"]),
        (["orders", "--ta"], ["--take-down", "--tally"]),
        (["order", "--design", "p"], ["place"]),
        (["order", "--customer", "fe"], []),  # a name of the maker's own
        (["order", "--photo", "a.jpg", "--bl"], ["--blank"]),
        (["truesize", "coaster-r"], ["coaster-round"]),
        (["-q", "chec"], ["check"]),
        (["check", "--fail-on=stop", "q"], ["quill"]),
        (["completion", "power"], ["powershell"]),
        (["nothing", "x"], []),
        ([""], [*sorted(COMMANDS), "--help", "--quiet", "--shop", "--version"]),
    ],
)
def test_what_may_come_next(shop, monkeypatch, typed, wants):
    monkeypatch.chdir(shop)
    assert next_words(typed) == sorted(wants)
    elsewhere = shop.parent
    monkeypatch.chdir(elsewhere)
    assert next_words(["--shop", shop.name, *typed]) == sorted(wants)


def test_a_shop_that_is_not_there_is_no_trouble(tmp_path):
    told = run(tmp_path / "nowhere", "completion", "fish", "--words=orders\n").ended(0)
    assert (told.out, told.err) == ("", "")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish", "powershell"])
def test_each_shell_has_its_script_and_is_told_where_it_goes(tmp_path, shell):
    told = run(tmp_path, "completion", shell).ended(0)
    assert "proofgen completion " in told.out and "--words=" in told.out
    assert f"proofgen completion {shell} >" in told.err
    program = {"powershell": "pwsh"}.get(shell, shell)
    if shutil.which(program) and shell != "powershell":
        checked = subprocess.run([program, "-n"], input=told.out, text=True, check=False)
        assert checked.returncode == 0
    run(tmp_path, "completion", "cmd").ended(2)


def test_bash_finishes_words(shop, tmp_path):
    """A real shell with the script, asked for what its Tab key would show."""
    if not shutil.which("bash"):
        assert not os.environ.get("CI"), "CI has bash"
        pytest.skip("no bash here")
    command = tmp_path / "proofgen"
    command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m proofgen "$@"\n')
    command.chmod(0o755)
    lines = [
        run(shop, "completion", "bash").out,
        'ask() { COMP_WORDS=(proofgen "$@"); COMP_CWORD=$#; _proofgen; echo "${COMPREPLY[@]}"; }',
        "ask han; ask orders ''; ask check --fail-on ''",
    ]
    ran = subprocess.run(
        ["bash", "-c", "\n".join(lines)],
        capture_output=True,
        text=True,
        check=True,
        cwd=shop,
        env={
            **os.environ,
            "PATH": f"{tmp_path}:{os.environ['PATH']}",
            "PYTHONPATH": str(HOUSE),
        },
    )
    assert ran.stdout.splitlines() == ["handed-over", "fenn quill", "note stop warn"]
