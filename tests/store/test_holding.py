"""Who holds a folder is told to others, and nothing is told that is no longer so."""

from __future__ import annotations

import json
import os
import re
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from proofgen import store
from proofgen.errors import MachineError

PLAIN = "another run is at work in this shop folder"


def told(folder: Path) -> str:
    with pytest.raises(MachineError) as refused, store.lock(folder):
        pass
    return refused.value.problem


def noted(folder: Path) -> str:
    return (folder / ".lock").read_bytes()[1:].decode().strip()


def test_who_holds_it_and_since_when_is_told(tmp_path: Path) -> None:
    with store.lock(tmp_path, "build"):
        now = time.strftime("%H:%M")
        said = told(tmp_path)
        assert re.fullmatch(
            rf"{PLAIN}: `proofgen build`, since \d\d:\d\d \(process {os.getpid()}\)", said
        )
        assert now in said or time.strftime("%H:%M") != now
    assert noted(tmp_path) == "", "nobody holds it any more"
    with store.lock(tmp_path, "handed-over"):
        assert "`proofgen handed-over`" in told(tmp_path)


def test_a_run_of_yesterday_is_told_with_its_day(tmp_path: Path) -> None:
    with store.lock(tmp_path, "build"):
        note = json.loads(noted(tmp_path))
        put(tmp_path, {**note, "since": time.mktime((2026, 1, 30, 14, 2, 0, 0, 0, -1))})
        assert "since 14:02 on 30 January" in told(tmp_path)


def put(folder: Path, note: object) -> None:
    with (folder / ".lock").open("r+b") as stream:
        stream.seek(1)
        stream.write(json.dumps(note).encode().ljust(255))


@pytest.mark.parametrize(
    "changed",
    [
        {"process": 2**22 + 1},  # nobody's: Linux gives no higher number
        {"process": "x"},
        {"process": 10**30},
        {"machine": "another"},
        {"since": None},
        {"since": -1},
        {"since": 1e300},
        {"since": "nan"},
        {"command": 3},
        {"command": "build\nrm -rf"},
        {"command": ""},
    ],
)
def test_a_note_that_may_be_an_old_one_is_not_believed(
    tmp_path: Path, changed: dict[str, object]
) -> None:
    with store.lock(tmp_path, "build"):
        put(tmp_path, {**json.loads(noted(tmp_path)), **changed})
        assert told(tmp_path) == PLAIN
    with store.lock(tmp_path, "press"):
        assert "`proofgen press`" in told(tmp_path)


@pytest.mark.parametrize("content", [b"", b"\0", b"\0\xff\xfe{", b"\0[]", b"\0" * 5000, b"{}"])
def test_a_file_of_before_or_a_spoilt_one_is_no_trouble(tmp_path: Path, content: bytes) -> None:
    (tmp_path / ".lock").write_bytes(content)
    with store.lock(tmp_path, "build"):
        assert "`proofgen build`" in told(tmp_path)
        with (tmp_path / ".lock").open("r+b") as stream:
            stream.write(content.ljust(256))
        assert told(tmp_path) == PLAIN


@pytest.fixture
def killed(tmp_path: Path) -> Iterator[Path]:
    """A folder whose run was killed, and left its note."""
    code = (
        "import sys, time; from pathlib import Path; from proofgen import store\n"
        "with store.lock(Path(sys.argv[1]), 'build'): print('held', flush=True); time.sleep(60)"
    )
    with subprocess.Popen(
        [sys.executable, "-c", code, str(tmp_path)], stdout=subprocess.PIPE
    ) as run:
        assert run.stdout and run.stdout.readline() == b"held\n"
        assert f"(process {run.pid})" in told(tmp_path)
        run.kill()
    yield tmp_path


def test_what_a_killed_run_left_is_told_to_nobody(killed: Path) -> None:
    assert json.loads(noted(killed))["machine"] == socket.gethostname()
    with store.lock(killed, "press"):
        assert "`proofgen press`" in told(killed)
    assert noted(killed) == ""
