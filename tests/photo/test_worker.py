"""The small process that opens photos when it fails: slow, silent, lying, gone; and its limits."""

import json
import sys
from pathlib import Path

import pytest

from proofgen.errors import MachineError, ProofgenError
from proofgen.photo import opening, worker
from proofgen.photo.opening import Pictures
from proofgen.store import Store
from tests.materials import PICTURES
from tests.photo import picture_files as make

JPEG = make.saved(make.scene(240, 160), "JPEG", quality=90)
PNG = make.saved(make.scene(240, 160), "PNG")


@pytest.mark.skipif(sys.platform != "linux", reason="read from Linux's own account of a process")
def test_the_child_has_limits(look):
    assert look(JPEG).usable
    process = PICTURES._worker._process
    told = Path(f"/proc/{process.pid}/limits").read_text(encoding="ascii").splitlines()
    limits = {line[:26].strip(): line[26:].split()[0] for line in told}
    assert int(limits["Max address space"]) == 4 << 30
    assert int(limits["Max cpu time"]) < 600
    assert limits["Max file size"] == "0"
    assert limits["Max core file size"] == "0"
    assert limits["Max open files"] == "0"


CHILDREN = {
    "dies": ("raise SystemExit(9)", "damaged", "broke off"),
    "hangs": ("import time; time.sleep(60)", "slow", "takes too long"),
    "babbles": ("print('hello', flush=True); import time; time.sleep(60)", "damaged", "broke off"),
    "lies": ("""print('{"size": [60000, 60000], "mode": "RGB"}')""", "damaged", "broke off"),
    "says nothing": ("print('{}')", "damaged", "broke off"),
    "says no word": ("print('[]')", "damaged", "broke off"),
    "exaggerates": ("""print('{"refused": "ends", "share": 7}')""", "damaged", "broke off"),
    "stops short": ("""print('{"size": [9, 9], "mode": "RGB"}')""", "damaged", "broke off"),
}


@pytest.mark.parametrize("way", CHILDREN)
def test_a_child_that_fails(tmp_path, look, own, monkeypatch, way):
    script, code, words = CHILDREN[way]
    child = tmp_path / "child.py"
    child.write_text(script)
    monkeypatch.setattr(worker, "_CHILD", child)
    monkeypatch.setattr(worker, "CLOCK", 0.7 if way == "hangs" else 60)
    facts = look(JPEG, by=own)
    assert (facts.problem_code, words in facts.problem) == (code, True), facts.problem
    assert own._worker._process is None


CHANGED = """
import os, signal, sys, time
sys.path[:0] = [{house!r}, *sys.argv[2:]]
{before}
from proofgen.photo import child, examining
plain = examining.decode
def decode(*given, **more):
    {first}
    return plain(*given, **more)
examining.decode = decode
child.main(int(sys.argv[1]))
"""
WITHOUT_LIMITS = "sys.modules['resource'] = None"  # as on Windows


def changed(tmp_path: Path, monkeypatch, first: str, before: str, seconds: int) -> None:
    """The next child does `first` before it decodes, and may take `seconds` for it."""
    house = str(Path(worker.__file__).parents[2])
    child = tmp_path / "child.py"
    child.write_text(CHANGED.format(house=house, before=before, first=first))
    monkeypatch.setattr(worker, "_CHILD", child)
    monkeypatch.setattr(worker, "SECONDS", seconds)


@pytest.mark.parametrize("before", ["", WITHOUT_LIMITS], ids=["limits", "no limits"])
def test_who_works_too_long_is_ended(tmp_path, look, own, monkeypatch, before):
    if sys.platform == "win32" and not before:
        pytest.skip("Windows has no such limits")
    changed(tmp_path, monkeypatch, "while True: pass", before, 0)
    facts = look(JPEG, by=own)
    assert (facts.problem_code, facts.usable) == ("slow", False)
    assert "takes too long to open" in facts.problem
    assert own._worker._process is None


@pytest.mark.parametrize("before", ["", WITHOUT_LIMITS], ids=["limits", "no limits"])
def test_who_waits_for_a_busy_machine_is_not_given_up(tmp_path, look, own, monkeypatch, before):
    changed(tmp_path, monkeypatch, "time.sleep(2.5)", before, 2)
    assert look(JPEG, by=own).usable


@pytest.mark.parametrize(
    "reply",
    [
        '"size": [60000, 60000], "mode": "RGB"',
        '"size": [9, 9]',
        '"size": [9, 9], "mode": "RGB"',
        '"size": [9, 9], "mode": "CMYK"',
    ],
)
def test_a_picture_that_cannot_be_is_not_taken(tmp_path, look, own, monkeypatch, reply):
    """Of the announced bytes, or too few; three or four channels, but none we asked for."""
    facts = look(JPEG, by=own)
    own.close()
    child = tmp_path / "child.py"
    pixels = 9 * 9 * (4 if "CMYK" in reply else 2)
    child.write_text(f"""print('{{{reply}}}'); print(end="x" * {pixels}, flush=True)""")
    monkeypatch.setattr(worker, "_CHILD", child)
    with pytest.raises(ProofgenError, match="broke off"):
        own.open_pixels(facts)


def test_a_picture_of_another_shape_is_not_taken(tmp_path, look, own, monkeypatch):
    facts = look(JPEG, by=own)
    own.close()
    child = tmp_path / "child.py"
    child.write_text(
        """print('{"size": [90, 90], "mode": "RGB"}'); print(end="x" * 24300, flush=True)"""
    )
    monkeypatch.setattr(worker, "_CHILD", child)
    with pytest.raises(ProofgenError, match="broke off"):
        own.open_pixels(facts)


def test_who_breaks_off_leaves_no_half_reply_behind(look, own, monkeypatch):
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as hasty:
        hasty.setattr(worker, "next_reply", stopped)
        with pytest.raises(KeyboardInterrupt):
            look(JPEG, by=own)
    assert own._worker._process is None
    assert look(PNG, "pier.png", by=own).usable


def ways_to_end(way: str) -> str:
    return {
        "slow": "while True: pass",
        "crashed": "os.kill(os.getpid(), signal.SIGSEGV)",
        "killed": "os.kill(os.getpid(), signal.SIGKILL)",
    }[way]


NOT_CONFINED = "from proofgen.photo import child; child.confine = lambda: []"


@pytest.mark.skipif(sys.platform == "win32", reason="signals")
@pytest.mark.parametrize("way", ["slow", "crashed"])
def test_a_bad_file_is_remembered_as_bad(tmp_path, look, monkeypatch, way):
    """The next command starts no process for it, until a limit is another."""
    store = Store(tmp_path / "store")
    before = "sys.path[:0] = sys.argv[2:]\n" + NOT_CONFINED
    with monkeypatch.context() as bad, Pictures(store) as pictures:
        changed(tmp_path, bad, ways_to_end(way), before, 0)
        first = look(JPEG, by=pictures)
        assert first.problem_code == ("slow" if way == "slow" else "damaged")
    with Pictures(store) as pictures:
        assert look(JPEG, by=pictures) == first
        assert look(JPEG, by=pictures, decode=False) == first
        assert pictures._worker._process is None
    monkeypatch.setattr(opening, "_LIMITS", (*opening._LIMITS, "another"))
    with Pictures(store) as pictures:
        assert look(JPEG, by=pictures).usable


@pytest.mark.skipif(sys.platform == "win32", reason="signals")
def test_what_may_go_well_another_day_is_not_remembered(tmp_path, look, monkeypatch):
    """A system that runs out of memory kills a process, whatever it works on."""
    store = Store(tmp_path / "store")
    before = "sys.path[:0] = sys.argv[2:]\n" + NOT_CONFINED
    with monkeypatch.context() as bad, Pictures(store) as pictures:
        changed(tmp_path, bad, ways_to_end("killed"), before, 60)
        assert look(JPEG, by=pictures).problem_code == "too-big"
    with Pictures(store) as pictures:
        assert look(JPEG, by=pictures).usable


def test_no_photo_is_blamed_for_a_child_that_was_lost_before(look, own):
    assert look(JPEG, by=own).usable
    own._worker._process.kill()
    own._worker._process.wait()
    assert look(PNG, "pier.png", by=own).usable


BENT = [
    '{"content": {"refused": "ends"}, "fresh": true}',
    '{"content": [], "fresh": true}',
    '{"content": {"clear": 1}, "fresh": true}',
    '{"content": {"header": {"width": "9"}}, "fresh": true}',
    '{"content": {"clipped": NaN}, "fresh": true}',
    '{"refused": "because", "share": 0}',
]


@pytest.mark.parametrize("reply", [*BENT, "wide", "long"])
def test_what_a_child_says_is_held_to_its_form(tmp_path, look, own, monkeypatch, reply):
    """It works on strangers' bytes: its words may be theirs."""
    if reply in ("wide", "long"):
        header = make.header(private=[], zoom=None)
        header |= {"width": 1 << 70} if reply == "wide" else {"profile": "x" * 5_000}
        reply = json.dumps({"content": {"header": header}, "fresh": True})
    child = tmp_path / "child.py"
    child.write_text(f"print({reply!r}, flush=True)")
    monkeypatch.setattr(worker, "_CHILD", child)
    facts = look(JPEG, by=own)
    assert (facts.problem_code, "broke off" in facts.problem) == ("damaged", True)


def test_no_child_is_the_machines_fault(look, own, monkeypatch):
    monkeypatch.setattr(sys, "executable", "/nowhere/python")
    with pytest.raises(MachineError, match="cannot be started"):
        look(JPEG, by=own)
