"""Records: what is kept comes back, what was tampered with shows, what is forgotten is gone."""

from __future__ import annotations

import json
import os
import re
from datetime import UTC, datetime
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from proofgen import store
from proofgen.errors import MachineError, SignoffError, UsageError
from proofgen.signoff import Records, journal
from proofgen.signoff.digests import fingerprint
from proofgen.signoff.journal import Journal
from tests.signoff.conftest import ANSWER_BY, MADE, NOW, PICTURE, WRITTEN, new_edition, seen, take
from tests.slips import compose_slip


def fill(records: Records) -> None:
    """Two orders, three proofs, answers and events."""
    records.ensure_token("fenn", "demo-token-of-fenn-000000000")
    records.ensure_token("quill", "demo-token-of-quill-00000000")
    first = new_edition(records)
    records.mark("fenn", "sent", MADE)
    take(records, compose_slip(first, "change", name="Odalys Fenn", note="Darker"))
    second = new_edition(records, fill=8)
    take(records, compose_slip(second, "ok", name="Odalys Fenn", show=True))
    new_edition(records, "quill", fill=9, picture=b"pixels of a goose")
    records.mark("fenn", "accepted", NOW, key="photo/blur:soft:1", reason="a painting, not a photo")
    records.mark("fenn", "pressed", NOW)


@pytest.fixture
def full(records) -> Records:
    fill(records)
    assert records.verify() == []
    return records


def again(records: Records) -> Records:
    """The same folder, read by another run."""
    return Records(records.folder)


def test_an_edition_comes_back_whole(records):
    made = new_edition(records)
    assert made.number == 1
    assert made.key == bytes([7]) * 32
    assert made.answer_by == ANSWER_BY
    assert made.made == MADE and made.made.tzinfo is not None
    assert made.fingerprint == fingerprint(made.document, made.rasters)
    assert again(records).editions("fenn") == [made]
    assert again(records).raster(made, "line1-a-round.png") == PICTURE
    second = new_edition(records, fill=8)
    assert (second.number, again(records).latest("fenn")) == (2, second)
    assert records.orders() == ["fenn"]


def test_editions_share_pictures_that_are_the_same(records):
    new_edition(records)
    new_edition(records, fill=8)
    assert len(list((records.folder / "fenn" / "rasters").iterdir())) == 1


def test_keys_and_tokens_are_fresh_and_long(records):
    one, other = records.ensure_token("fenn"), records.ensure_token("quill")
    assert re.fullmatch("[0-9a-hjkmnp-tv-z]{28}", one) and one != other  # 5 bits a letter: 140
    assert again(records).ensure_token("fenn") == one == again(records).token("fenn")
    made = [new_edition(records, key=None) for _ in range(2)]
    assert len({e.key for e in made}) == 2 and all(len(e.key) == 32 for e in made)
    assert made[0].key.hex() not in repr(made[0]) + str(made[0].key)[:0]


def test_a_given_token_is_taken_once(records):
    token = "demo-token-of-fenn-000000000"
    assert records.ensure_token("fenn", token) == token
    assert records.ensure_token("fenn", "another-token-000000000000000") == token
    with pytest.raises(ValueError, match="another order"):
        records.ensure_token("quill", token)
    for bad in ("short", "x" * 81, "with/slash-000000000000000000000"):
        with pytest.raises(ValueError, match="token"):
            records.ensure_token("quill", bad)
    assert records.token("quill") is None


@pytest.mark.parametrize("bad", ["", "..", "a/b", "A", "fenn.", "x" * 81, "fé", "a\n", "con\x00"])
def test_only_plain_names_become_folders(records, bad):
    for call in (
        lambda: records.ensure_token(bad),
        lambda: new_edition(records, bad),
        lambda: records.mark(bad, "sent", NOW),
        lambda: records.forget(bad, NOW),
        lambda: records.editions(bad),
    ):
        with pytest.raises(UsageError, match="cannot name an order"):
            call()
    assert not records.folder.exists()


def test_times_need_a_zone_and_keys_their_length(records):
    with pytest.raises(ValueError, match="zone"):
        new_edition(records, made=datetime(2026, 11, 25))
    with pytest.raises(ValueError, match="32 bytes"):
        new_edition(records, key=b"short")
    with pytest.raises(ValueError, match="no event"):
        records.mark("fenn", "eaten", NOW)
    with pytest.raises(ValueError, match="use forget"):
        records.mark("fenn", "forgotten", NOW)
    assert records.editions("fenn") == []


def test_events_keep_their_words_and_edition(full):
    kinds = [(e.kind, e.edition) for e in again(full).events("fenn")]
    assert kinds == [("sent", 1), ("accepted", 2), ("pressed", 2)]
    accepted = full.events("fenn")[1]
    assert accepted.data == {"key": "photo/blur:soft:1", "reason": "a painting, not a photo"}
    assert accepted.when == NOW
    assert full.mark("fenn", "accepted", NOW, pieces=[3]).edition == 2
    assert full.events("fenn")[-1].data == {"pieces": [3]}


def test_answers_keep_everything_that_was_said(full):
    first, second = again(full).answers("fenn")
    assert (first.answer, first.remarks, first.edition) == ("change", "Darker", 1)
    assert (second.answer, second.may_print, second.may_show) == ("ok", None, True)
    assert (second.name, second.written, second.way) == ("Odalys Fenn", WRITTEN, "slip")
    assert (second.dated, second.dated_by, second.received) == (NOW.date(), "received", NOW)


def test_the_journal_holds_no_words_of_a_customer(full):
    text = full.journal.path.read_text()
    for private in ("Odalys", "Darker", "painting", "demo-token", "08" * 32, "fenn", "quill"):
        assert private not in text
    for line in text.splitlines():
        assert set(json.loads(line)) <= {"at", "before", "edition", "kind", "order", "payload"}


def test_the_same_calls_write_the_same_bytes(tmp_path):
    full, other = (Records(tmp_path / n, lambda name: f"order-of-{name[0]}") for n in "ab")
    fill(full)
    fill(other)

    def contents(records):
        files = sorted(p for p in records.folder.rglob("*") if p.is_file())
        return {p.relative_to(records.folder): p.read_bytes() for p in files}

    assert contents(other) == contents(full)


def test_ids_of_the_journal_are_random_and_tell_nothing(tmp_path):
    ids = set()
    for n in range(3):
        records = Records(tmp_path / str(n))
        records.ensure_token("fenn")
        records.mark("fenn", "sent", NOW)
        (one,) = records.journal.read().by_order
        assert re.fullmatch("order-[0-9a-hjkmnp-tv-z]{10}", one)  # 5 bits a letter
        assert again(records).names.name_of(one) == "fenn" and again(records).orders() == ["fenn"]
        with pytest.raises(UsageError):
            records.entries("../fenn")
        assert records.entries(one) == []  # nobody types it
        ids.add(one)
    assert len(ids) == 3


def test_a_journal_of_an_older_version_is_read_and_gone_on_with(tmp_path):
    """There an order is its own id; whoever is new gets one that means nothing."""
    records = Records(tmp_path, lambda name: name)
    fill(records)
    records.names.path.unlink()  # which older versions did not have
    lines = records.journal.path.read_bytes()
    records = again(records)
    assert records.orders() == ["fenn", "quill"] and records.verify() == []
    assert len(records.answers("fenn")) == 2 and records.latest("fenn").number == 2
    new_edition(records, "fenn", fill=31)
    new_edition(records, "newcomer", fill=32)
    kept = again(records).journal.path.read_bytes()
    assert kept.startswith(lines) and b"newcomer" not in kept
    assert json.loads(kept[len(lines) :].splitlines()[0])["order"] == "fenn"
    assert again(records).orders() == ["fenn", "newcomer", "quill"]
    again(records).forget("fenn", NOW)
    other = again(records)
    assert other.is_forgotten("fenn") and other.verify() == []
    assert other.orders() == ["fenn", "newcomer", "quill"]
    with pytest.raises(SignoffError, match="was removed"):
        new_edition(other, "fenn")


@pytest.mark.parametrize("harm", ["gone", "noise", "empty", "other", "climbing"])
def test_lost_names_are_found_again(full, harm):
    path = full.names.path
    before, ids = path.read_bytes(), dict(full.names.by_id)
    if harm == "gone":
        path.unlink()
    else:
        content = {
            "noise": b"\x00\xff",
            "empty": b"",
            "other": b"[]",
            "climbing": before.replace(b'"fenn"', b'"../fenn"'),
        }
        path.write_bytes(content[harm])
    other = again(full)
    assert other.names.by_id == ids and other.orders() == ["fenn", "quill"]
    assert len(other.answers("fenn")) == 2 and other.verify() == []
    assert "names.json" in other.notes()[0]
    other.tidy()
    assert other.notes() == []
    assert path.read_bytes() == before


@pytest.mark.parametrize("missing", ["fenn", "quill"])
def test_an_older_copy_of_the_names_is_filled_up(full, missing):
    """As a folder that is kept in step with another computer may put back."""
    before, ids = full.names.path.read_bytes(), dict(full.names.by_id)
    document = json.loads(before)
    del document["orders"][full.names.id_of(missing)]
    full.names.path.write_text(json.dumps(document))
    other = again(full)
    assert other.orders() == ["fenn", "quill"] and other.names.by_id == ids
    assert other.verify() == [] and "too old" in other.notes()[0]
    other.tidy()
    assert other.notes() == [] and full.names.path.read_bytes() == before
    other.forget(missing, NOW)
    assert missing not in again(full).orders() and again(full).notes() == []


def test_lost_names_are_found_though_the_last_file_is_lost_too(full):
    full.names.path.unlink()
    last = full.entries("fenn")[-1].head["payload"]
    (file,) = (full.folder / "fenn").glob(f"*{last[:16]}.json")
    file.unlink()
    assert "fenn" in again(full).orders()


def test_names_that_were_swapped_show(full):
    text = full.names.path.read_text()
    swapped = text.replace('"fenn"', '"x"').replace('"quill"', '"fenn"').replace('"x"', '"quill"')
    full.names.path.write_text(swapped)
    assert again(full).verify()
    with pytest.raises(SignoffError):
        again(full).answers("quill")


def test_withdrawn_until_a_newer_proof(records):
    assert records.happened("fenn") == set()
    new_edition(records)
    records.mark("fenn", "withdrawn", NOW)
    assert records.happened("fenn") == {"withdrawn"}
    new_edition(records, fill=8)
    assert again(records).happened("fenn") == set()


# -- forgetting ------------------------------------------------------------------------------


def test_forget_removes_all_but_the_fact(full):
    one = full.names.id_of("fenn")
    full.forget("fenn", NOW)
    assert not (full.folder / "fenn").exists()
    left = b"".join(p.read_bytes() for p in full.folder.rglob("*") if p.is_file())
    for private in (b"Odalys", b"Darker", b"painting", PICTURE, b"demo-token-of-fenn", b"08" * 32):
        assert private not in left
    assert b"fenn" not in left and one.encode() in left
    other = again(full)
    assert other.verify() == []
    assert other.orders() == [one, "quill"]
    assert (other.token(one), other.latest(one), other.answers(one)) == (None, None, [])
    assert [(e.kind, dict(e.data)) for e in other.events(one)] == [
        ("sent", {}), ("accepted", {}), ("pressed", {}), ("forgotten", {}),
    ]  # fmt: skip
    assert other.latest("quill") is not None


def test_a_name_that_was_forgotten_is_free(full):
    """Nothing tells any more that there was such a name; what is made under it begins anew."""
    one = full.names.id_of("fenn")
    full.forget("fenn", NOW)
    made = new_edition(full, fill=21)
    assert made.number == 1 and full.names.id_of("fenn") != one
    other = again(full)
    assert other.is_forgotten(one) and not other.is_forgotten("fenn") and other.verify() == []


def test_a_forgotten_order_is_not_taken_up_again(full):
    one = full.names.id_of("fenn")
    full.forget("fenn", NOW)
    lines = full.journal.path.read_bytes()
    for call in (
        lambda: new_edition(full, one),
        lambda: full.ensure_token(one),
        lambda: full.mark(one, "sent", NOW),
    ):
        with pytest.raises(SignoffError, match="was removed"):
            call()
    full.forget(one, NOW)  # twice is once
    full.forget("fenn", NOW)
    assert full.journal.path.read_bytes() == lines
    assert not (full.folder / "fenn").exists()


def test_a_forgetting_that_was_killed_is_finished(full, monkeypatch):
    real = store.remove
    count = iter(range(3))

    def dies(path):
        if next(count, None) is None:
            raise KeyboardInterrupt
        real(path)

    monkeypatch.setattr(store, "remove", dies)
    with pytest.raises(KeyboardInterrupt):
        full.forget("fenn", NOW)
    monkeypatch.undo()
    other = again(full)
    assert any("forget fenn" in p for p in other.verify())
    assert other.answers("fenn") == [] and other.token("fenn") is None
    assert other.tidy() > 0 and other.orders() == [other.orders()[0], "quill"]
    assert b"fenn" not in other.names.path.read_bytes()
    assert other.verify() == [] and not (full.folder / "fenn").exists()


def test_an_order_that_was_never_recorded_can_be_forgotten(records):
    records.forget("draft-only", NOW)
    assert records.orders() == [] and records.verify() == []


def test_a_short_answer_cannot_be_guessed_from_what_is_left(tmp_path):
    """Two shops, the same words, other keys: the digests that stay behind do not meet."""
    lines = []
    for n in (1, 2):
        records = Records(tmp_path / str(n))
        new_edition(records, key=bytes([n]) * 32)
        records.mark("fenn", "sent", NOW)
        records.forget("fenn", NOW)
        said = [json.loads(x) for x in records.journal.path.read_text().splitlines()]
        lines.append([x.get("payload") for x in said])
    assert lines[0][:2] != lines[1][:2] and lines[0][1] != lines[1][1]


# -- tampering -------------------------------------------------------------------------------


def paths(records: Records) -> list:
    """All but what can be told anew from the others."""
    files = (p for p in records.folder.rglob("*") if p.is_file())
    return sorted(p for p in files if p.name not in ("journal.head", "names.json"))


def test_every_kept_file_counts(full):
    for path in paths(full):
        content = path.read_bytes()
        path.write_bytes(content[:-3] + bytes([content[-3] ^ 1]) + content[-2:])
        assert again(full).verify(), f"{path.name} altered"
        path.unlink()
        if path.name != "journal.jsonl":
            assert again(full).verify(), f"{path.name} removed"
        path.write_bytes(content)
        assert again(full).verify() == []


def test_every_two_files_swapped_show(full):
    kept = [p for p in paths(full) if p.name != "journal.jsonl"]
    for one, other in pairwise(kept):
        a, b = one.read_bytes(), other.read_bytes()
        one.write_bytes(b)
        other.write_bytes(a)
        assert again(full).verify(), f"{one.name} and {other.name}"
        one.write_bytes(a)
        other.write_bytes(b)
    assert again(full).verify() == []


def test_a_missing_journal_shows(full):
    full.journal.path.unlink()
    assert any("lines are missing" in p for p in again(full).verify())


def test_a_missing_journal_and_head_show(full, tmp_path, monkeypatch):
    full.journal.path.unlink()
    full.journal.head.unlink()
    assert any("it is gone" in p for p in again(full).verify())
    # Nothing is missing where the very first line was never written.
    first = Records(tmp_path / "first")
    for _ in range(3):
        with monkeypatch.context() as patch, pytest.raises(KeyboardInterrupt):
            patch.setattr(store, "append_line", _dies)
            new_edition(first, key=None)
    assert again(first).verify() == [] and new_edition(again(first)).number == 1


def _dies(*_: object) -> None:
    raise KeyboardInterrupt


def test_a_missing_head_shows(full):
    full.journal.head.unlink()
    assert again(full).verify()


@pytest.fixture(scope="module")
def pattern(tmp_path_factory):
    records = Records(tmp_path_factory.mktemp("pattern") / "records")
    fill(records)
    return records.folder


@given(st.data())
@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_tampering_with_lines_is_always_found(pattern, tmp_path, data):
    """Removed, doubled, swapped, cut, moved, changed in one letter, or written anew."""
    lines = (pattern / "journal.jsonl").read_text().splitlines()
    at = data.draw(st.integers(0, len(lines) - 1))
    other = data.draw(st.integers(0, len(lines) - 1).filter(lambda n: n != at))
    kind = data.draw(st.sampled_from(["remove", "double", "swap", "cut", "letter", "word", "junk"]))
    changed = list(lines)
    if kind == "remove":
        del changed[at]
    elif kind == "double":
        changed.insert(other, lines[at])
    elif kind == "swap":
        changed[at], changed[other] = lines[other], lines[at]
    elif kind == "cut":
        del changed[at:]
    elif kind == "letter":
        place = data.draw(st.integers(0, len(lines[at]) - 1))
        letter = data.draw(st.sampled_from('0123456789abcdef{}":, x').filter(
            lambda c: c != lines[at][place]
        ))  # fmt: skip
        changed[at] = lines[at][:place] + letter + lines[at][place + 1 :]
    elif kind == "word":
        said = json.loads(lines[at])
        field = data.draw(st.sampled_from(sorted(said)))
        said[field] = 7 if field == "edition" else "fenn-two"
        changed[at] = json.dumps(said, separators=(",", ":"))
    else:
        changed[at] = changed[at][: data.draw(st.integers(0, len(lines[at]) - 1))]
    path = tmp_path / "journal.jsonl"
    path.write_text("\n".join(changed) + "\n" if changed else "")
    path.with_suffix(".head").write_bytes((pattern / "journal.head").read_bytes())
    assert Journal(path).read().problems, (kind, at, other)


@pytest.mark.parametrize("harm", ["cut", "altered", "head", "taken out"])
def test_nothing_is_written_past_a_broken_chain(full, harm):
    """Not a line, and no file that a line would have spoken of."""
    lines = full.journal.path.read_bytes().splitlines(keepends=True)
    if harm == "cut":
        full.journal.path.write_bytes(b"".join(lines[:-2]))
    elif harm == "altered":
        lines[-1] = lines[-1].replace(b"pressed", b"spoiled")
        full.journal.path.write_bytes(b"".join(lines))
    elif harm == "head":
        full.journal.head.unlink()
    else:
        full.journal.path.write_bytes(b"".join(lines[:3] + lines[4:]))

    def kept() -> dict:
        return {p: p.read_bytes() for p in full.folder.rglob("*") if p.is_file()}

    before = kept()
    for write in (
        lambda r: r.mark("quill", "sent", NOW),
        lambda r: new_edition(r, "quill", fill=12, picture=b"another goose"),
        lambda r: r.ensure_token("newcomer"),
        lambda r: r.forget("quill", NOW),
        lambda r: r.mark_cleared("quill", NOW),
        lambda r: r.tidy(),
        lambda r: r.journal.append({"order": "quill", "kind": "sent", "edition": 1}),
    ):
        with pytest.raises(SignoffError, match="journal"):
            write(again(full))
    assert kept() == before


def test_a_line_added_while_another_run_reads_is_no_fault(full, monkeypatch):
    """Between its two reads another run writes a line and then the head."""
    real, between = journal._content, iter([1])

    def slow(path):
        content = real(path)
        if next(between, None):
            full.mark("quill", "sent", NOW)
        return content

    reader = again(full)
    monkeypatch.setattr(journal, "_content", slow)
    assert reader.journal.read().problems == []
    monkeypatch.undo()
    assert [e.kind for e in reader.events("quill")] == ["sent"] and reader.verify() == []


def test_one_command_reads_the_journal_once(full, monkeypatch):
    reads: list[str] = []
    real = journal._content
    monkeypatch.setattr(journal, "_content", lambda p: reads.append(p.name) or real(p))
    records = again(full)
    records.refuse_broken()
    for order in records.orders():
        records.heads(order), records.events(order), records.answers(order)
    records.mark("quill", "sent", NOW)
    new_edition(records, "quill", fill=12)
    assert sorted(reads) == ["journal.head", "journal.jsonl"]


def test_what_is_remembered_is_what_is_on_disk(full):
    """Lines are added to what was read before; another reader sees the same."""
    for n in range(5):
        full.mark("quill", "accepted", NOW, pieces=[n])
        assert full.journal.read() == again(full).journal.read()
    again(full).mark("quill", "sent", NOW)
    full.mark("quill", "pressed", NOW)
    assert full.journal.read() == again(full).journal.read()
    assert [e.kind for e in full.events("quill")][-2:] == ["sent", "pressed"]
    assert full.verify() == []


def test_damaged_records_are_refused_when_read(full):
    for name, read in (
        ("edition-2", lambda r: r.latest("fenn")),
        ("document", lambda r: r.editions("fenn")),
        ("answer", lambda r: r.answers("fenn")),
        ("accepted", lambda r: r.events("fenn")),
        ("token", lambda r: r.token("fenn")),
    ):
        path = next((full.folder / "fenn").glob(f"{name}-*"))
        content = path.read_bytes()
        path.write_bytes(content + b" ")
        with pytest.raises(SignoffError, match="altered") as told:
            read(again(full))
        assert told.value.exit_code == 4 and "backup" in told.value.cure
        path.unlink()
        with pytest.raises(SignoffError, match="missing"):
            read(again(full))
        path.write_bytes(content)
    edition = full.latest("fenn")
    picture = next((full.folder / "fenn" / "rasters").iterdir())
    picture.write_bytes(b"other")
    with pytest.raises(SignoffError, match=r"line1-a-round.png in the records was altered"):
        full.raster(edition, "line1-a-round.png")


# -- crashes ---------------------------------------------------------------------------------


HALF = b'{"at":"2026-11-26T12:00:00+00:00","before":"' + b"0" * 64 + b'","edition":1}'


@pytest.mark.parametrize("left", [1, 20, 100, -1])
def test_half_a_last_line_is_told_and_not_fatal(full, left):
    before = full.answers("fenn")
    with full.journal.path.open("ab") as stream:
        stream.write(HALF[:left])
    other = again(full)
    assert other.verify() == []
    assert len(other.notes()) == 1 and "half a line" in other.notes()[0]
    assert other.answers("fenn") == before
    other.mark("quill", "sent", NOW)
    third = again(full)
    assert third.verify() == []
    assert third.events("quill")[-1].kind == "sent"
    lines = full.journal.path.read_bytes().split(b"\n")
    lines[lines.index(HALF[:left])] += b"0"
    full.journal.path.write_bytes(b"\n".join(lines))
    assert again(full).verify(), "what was left half-written is under the chain as well"


def test_a_head_one_line_behind_is_no_fault(full):
    head = full.journal.head.read_bytes()
    full.mark("quill", "sent", NOW)
    full.journal.head.write_bytes(head)  # as if killed between the two
    assert again(full).verify() == []
    again(full).mark("quill", "pressed", NOW)
    assert again(full).verify() == []


def test_files_that_the_journal_does_not_mention_do_not_exist(full, monkeypatch):
    def dies(path, line):
        raise KeyboardInterrupt

    monkeypatch.setattr(store, "append_line", dies)
    with pytest.raises(KeyboardInterrupt):
        new_edition(full, "quill", fill=11)
    monkeypatch.undo()
    other = again(full)
    assert other.verify() == [] and len(other.editions("quill")) == 1
    assert new_edition(other, "quill", fill=12).number == 2
    assert again(full).verify() == []


def test_files_are_flushed_before_the_line_that_speaks_of_them(records, monkeypatch):
    calls = []
    write, append = store.write, store.append_line
    monkeypatch.setattr(
        store, "write", lambda p, c, *, durable=False, private=False:
        calls.append((p.suffix, durable)) or write(p, c, durable=durable, private=private),
    )  # fmt: skip
    monkeypatch.setattr(
        store, "append_line", lambda p, x: calls.append((p.suffix, True)) or append(p, x)
    )
    new_edition(records)
    assert calls == [
        (".png", True), (".json", True), (".json", True), (".json", True), (".jsonl", True),
        (".head", True),
    ]  # fmt: skip


@pytest.mark.parametrize("error", [28, 5], ids=["disk full", "disk broken"])
def test_a_flush_that_fails_leaves_old_or_new(tmp_path, monkeypatch, error):
    """The first flush fails, then the second, and so on until none does."""
    for fails in range(40):
        records = Records(tmp_path / str(fails))
        first = new_edition(records)
        slip = compose_slip(first, "ok", name="Odalys")
        count = iter(range(fails))
        real = os.fsync

        def flush(handle, count=count, real=real):
            if next(count, None) is None:
                raise OSError(error, "no")
            real(handle)

        with monkeypatch.context() as patch:
            patch.setattr(os, "fsync", flush)
            try:
                status = take(records, slip).status
            except MachineError as told:
                assert told.exit_code == 5
                status = ""
        other = again(records)
        assert other.verify() == []
        assert len(other.answers("fenn")) <= 1
        if status:
            assert len(other.answers("fenn")) == 1
            break
        assert take(other, slip).status in ("recorded", "nothing new")
        assert len(again(records).answers("fenn")) == 1 and again(records).verify() == []
    assert fails > 2 and status == "recorded"


def test_times_come_back_with_their_zone(records):
    when = datetime.fromisoformat("2026-11-25T10:30:00+01:00")
    new_edition(records, made=when)
    assert again(records).latest("fenn").made == when
    assert again(records).latest("fenn").made.astimezone(UTC) == MADE


def test_the_kept_picture_is_told_by_its_pixels_too(kept):
    assert kept.rasters == {"line1-a-round.png": seen(PICTURE)}
