"""The private pages below site/p/: held against what the records say was shown, put back where they
are not that, and told where they belong to nobody."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Container, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from proofgen import proof, store
from proofgen.errors import SignoffError, UsageError
from proofgen.pipeline.hosts import HTACCESS, write_for_hosts
from proofgen.pipeline.orders import facts_of
from proofgen.pipeline.preflight import Prepared
from proofgen.say import joined
from proofgen.say.safe import quoted
from proofgen.signoff import Notice, Rules
from proofgen.workshop import Workshop

_OTHER_DRESS = (
    "; its words, prices and pictures are those of the proof, its dress is today’s, because "
    "proofgen, the theme or a font is another than then"
)
_STAMP = "page/1"
_MOST_PAGE = 100_000_000  # bytes; a page of ours has a tenth at most, whatever lies there now
_MOST_NAMED = 5  # files of a damaged page
ALL = "all"  # of what belongs to nobody


def home(workshop: Workshop, token: str) -> Path:
    """The folder of the page with this secret end of its link."""
    return workshop.site / "p" / token


def beside(workshop: Workshop, name: str) -> Path:
    """Where an order's page lies once more as it was set, for its maker alone, to be put back
    from. It may be thrown away: what lies there counts only if its digest is the noted one."""
    return workshop.workroom / "pages" / name


# -- comparing -------------------------------------------------------------------------------


def as_noted(content: bytes, file: str) -> str:
    """The digest by which the records know a file of a page: of the page itself without the
    sentence that tells how its order stands."""
    if file == proof.PAGE:
        content = proof.without_standing(content)
    return hashlib.sha256(content).hexdigest()


def _is_whole(path: Path, digest: str) -> bool:
    """Whether it is a file of its own with that content, which every host can read."""
    if path.is_symlink() or not path.is_file() or not store.is_open(path):
        return False
    with suppress(OSError):
        if path.name != proof.PAGE:
            return store.file_digest(path) == digest
        small = path.stat().st_size <= _MOST_PAGE
        return small and as_noted(path.read_bytes(), path.name) == digest
    return False


def _all_read(folder: Path, shown: Mapping[str, str]) -> list[str]:
    there = not folder.is_symlink() and folder.is_dir() and store.is_open(folder)
    foreign = [path.name for path in folder.iterdir() if path.name not in shown] if there else []
    lost = [file for file, digest in shown.items() if not _is_whole(folder / file, digest)]
    return sorted({*foreign, *lost}) if there else sorted(shown)


def stamp_of(workshop: Workshop, name: str, folder: Path) -> dict[str, str]:
    """What was noted of a page's folder when all of it was read last; empty where anything in it
    changed since, or may have."""
    seen, _ = store.signature(folder)
    for content in workshop.by_order.found(_STAMP, name):
        with suppress(ValueError):
            stamp = json.loads(content)
            if stamp.get("seen") == seen:
                workshop.by_order.holds(_STAMP, name, content)
                return dict(stamp)
    return {}


def keep_stamp(workshop: Workshop, name: str, folder: Path, shown: str, says: str = "") -> None:
    """Note that all of a page's folder is as the records say (`shown`, a digest of that), and what
    its top says. Not while a change might not show."""
    seen, settled = store.signature(folder)
    if settled:
        stamp = {"seen": seen, "shown": shown, "says": says}
        workshop.by_order.keep(_STAMP, name, store.dump_json(stamp))


def damaged(workshop: Workshop, name: str, shown: Mapping[str, str]) -> list[str]:
    """The files of an order's page that are not as the records say, by name: gone, changed, foreign
    or closed to a host. Size and times tell where nothing happened since all was read."""
    folder = home(workshop, str(workshop.records.token(name)))
    known = store.digest(store.dump_json(dict(shown)))
    if stamp_of(workshop, name, folder).get("shown") == known:
        return []
    found = _all_read(folder, shown)
    if not found:
        keep_stamp(workshop, name, folder, known)
        if not beside(workshop, name).is_dir():
            files = {file: (folder / file).read_bytes() for file in shown}
            keep_beside(workshop, name, files)
    return found


# -- putting back ----------------------------------------------------------------------------


def keep_beside(workshop: Workshop, name: str, files: Mapping[str, bytes]) -> None:
    """Keep a page's files as they were set."""
    kept = dict(files)
    kept[proof.PAGE] = proof.without_standing(kept[proof.PAGE])
    store.write_folder(beside(workshop, name), kept, last=proof.PAGE, private=True)


def with_standing(workshop: Workshop, name: str, rules: Rules, page: bytes) -> bytes:
    """An order's page, telling what its state has to tell, and no more."""
    return proof.with_standing(page, says_of(workshop, name, rules))


def says_of(workshop: Workshop, name: str, rules: Rules) -> bytes:
    """What the top of an order's page has to tell."""
    theme = workshop.theme_for(workshop.shop.orders.get(name))
    return proof.standing_of(rules.banner, theme, closed=not rules.answerable)


def _from_beside(workshop: Workshop, name: str, shown: Mapping[str, str]) -> dict[str, bytes]:
    """All files of an order's page as they were set; empty unless each is what was noted."""
    kept, folder = {}, beside(workshop, name)
    for file, digest in shown.items():
        path = folder / file
        content = path.read_bytes() if path.is_file() else b""
        if as_noted(content, file) != digest:
            return {}
        kept[file] = content
    return kept


@dataclass
class Mending:
    """What became of damaged pages: sentences for people, and by order's name the files of those
    that can only be put back by setting them again, with what was noted of them. A page that is
    not there at all is no damage: this may be another computer than the one it was made on."""

    says: list[str] = field(default_factory=list)
    left: dict[str, tuple[list[str], Mapping[str, str]]] = field(default_factory=dict)
    absent: dict[str, int] = field(default_factory=dict)  # how many proofs the order had
    put_back: list[str] = field(default_factory=list)


def _named(files: Iterable[str]) -> str:
    every = [quoted(file) for file in files]
    more = len(every) - _MOST_NAMED
    return joined([*every[:_MOST_NAMED], *([f"{more} more"] if more > 0 else [])])


def _upload(workshop: Workshop, name: str) -> str:
    return f"Upload site/p/{workshop.records.token(name)}/ again."


def mend(workshop: Workshop, names: Iterable[str], known: Mapping[str, Prepared]) -> Mending:
    """Put back what was shown at the links of these orders, where it is kept beside; today's files
    of an order are not asked. A notice is not looked at: it is written anew where it changed."""
    mending = Mending()
    if (workshop.site / "p").is_dir():
        write_for_hosts(workshop)
    for name in names:
        try:
            _mend(workshop, name, known.get(name), mending)
        except SignoffError as error:  # damaged records
            workshop.trouble.append(error)
    return mending


def _mend(workshop: Workshop, name: str, prepared: Prepared | None, mending: Mending) -> None:
    shown = workshop.records.shown(name) if workshop.records.token(name) else {}
    rules = facts_of(workshop, name, prepared).rules if shown else None
    bad = damaged(workshop, name, shown) if rules and not isinstance(rules.page, Notice) else []
    if rules is None or not bad:
        return
    if not os.path.lexists(home(workshop, workshop.token_of(name))):
        mending.absent[name] = len(workshop.records.heads(name))
    files = _from_beside(workshop, name, shown)
    if not files:
        mending.left[name] = bad, shown
        return
    files[proof.PAGE] = with_standing(workshop, name, rules, files[proof.PAGE])
    publish(workshop, name, files)
    if name in mending.absent:
        mending.put_back.append(name)
        return
    mending.says.append(
        f"The page of {name} was not as its customer was shown it ({_named(bad)}); now it is, to "
        f"the byte. {_upload(workshop, name)}"
    )


def publish(workshop: Workshop, name: str, files: Mapping[str, bytes]) -> None:
    """A page's files at its link, flushed to the disk, and where every host can read them."""
    store.write_folder(home(workshop, workshop.token_of(name)), files, last=proof.PAGE)
    write_for_hosts(workshop)


def mended(workshop: Workshop, mending: Mending, later: Container[str] = ()) -> list[str]:
    """What became of the pages that were to be set again, for people; those that are still not as
    they were shown become trouble, but for the orders that this run did not look at (`later`)."""
    says, set_again, waiting = [*mending.says], [*mending.put_back], []
    for name, (bad, before) in mending.left.items():
        now = workshop.records.shown(name)
        whole = bool(now) and not damaged(workshop, name, now)
        if name in later and not whole:
            waiting.append(name)
            continue
        if name in mending.absent:
            if not whole:
                says += _not_here(workshop, name)
            elif len(workshop.records.heads(name)) == mending.absent[name]:  # else a new proof
                set_again.append(name)
            continue
        if whole:
            exact = "" if now == before else _OTHER_DRESS
            says.append(
                f"The page of {name} was not as its customer was shown it ({_named(bad)}); it was "
                f"set again from what was signed{exact}. {_upload(workshop, name)}"
            )
            continue
        workshop.trouble.append(
            SignoffError(
                f"the page of {name} is not as its customer was shown it ({_named(bad)}), and "
                "what it is made from is no longer in the order’s folder",
                "put the order back as it was, or fetch the page from your host, then: proofgen "
                f"build; or make a new proof: proofgen proof {name}",
                Path(f"site/p/{workshop.records.token(name)}"),
            )
        )
    if set_again:
        are = "pages" if len(set_again) > 1 else "page"
        says.append(
            f"Set again from what was signed, because it was not in site/p/: the {are} of "
            f"{joined(set_again)}. Upload site/p/ again."
        )
    if waiting:
        says.append(f"To set the page of {joined(waiting)} again, type: proofgen build")
    return says


def _not_here(workshop: Workshop, name: str) -> list[str]:
    """Of a page that is not there and cannot be set again, for people."""
    return [
        f"The page of {name} is not in site/p/, and what it is made from is no longer in the "
        "order’s folder. If it lies at your host, its customer still sees it there.",
        f"    For a page of the order as it is now: proofgen proof {name}",
    ]


def leave_open_link(workshop: Workshop, name: str) -> list[str]:
    """Give an order another link where anybody can work out the one it has, and take its page from
    there; for people."""
    old = workshop.open_link(name)
    if not old:
        return []
    store.take_away(home(workshop, old))
    workshop.sound_records().ensure_token(name, bad=old)
    gone = f"Delete site/p/{old}/ at your host."
    return [f"Anybody could work out its link, so it has another. {gone}"]


# -- what belongs to nobody ------------------------------------------------------------------


def unknown(workshop: Workshop) -> list[str]:
    """What lies below site/p/ and belongs to no order that the records know, by name."""
    folder = workshop.site / "p"
    if not folder.is_dir() or workshop.records.journal.read().problems:
        return []  # broken records do not tell whose a page is
    try:
        known = workshop.records.tokens() | {proof.PAGE, HTACCESS}
    except SignoffError:
        return []
    return sorted(path.name for path in folder.iterdir() if path.name not in known)


def unknown_told(workshop: Workshop) -> list[str]:
    """What belongs to nobody, and what to do about it, for people."""
    every = unknown(workshop)
    if not every:
        return []
    one = len(every) == 1
    word = every[0] if one and every[0].isascii() and every[0].isalnum() else ALL
    return [
        f"Below site/p/ {'lies' if one else 'lie'} what the records know nothing of: "
        f"{_named(every)}. If you put back an older backup, look first whether a newer one knows "
        "it: an order may be missing.",
        f"    If it is to go: proofgen orders --take-down {word}; then delete it at your host, too",
    ]


def take_down(workshop: Workshop, names: Iterable[str]) -> list[str]:
    """Delete below site/p/ what the maker names (or ALL of it) and the records know nothing of; for
    people. UsageError, and nothing is deleted, for anything else."""
    workshop.sound_records().tokens()  # SignoffError: it cannot be told whose a page is
    every, wanted = unknown(workshop), list(dict.fromkeys(names))
    bad = [name for name in wanted if name not in every and name != ALL]
    if bad:
        raise UsageError(
            f"site/p/ holds no {joined(map(quoted, bad))} that the records know nothing of",
            "`proofgen orders` names what there is",
        )
    gone = every if ALL in wanted else wanted
    for name in gone:
        store.take_away(workshop.site / "p" / name)
    if not gone:
        return ["Below site/p/ lies nothing that the records know nothing of."]
    return [f"Deleted below site/p/: {_named(gone)}. Delete it at your host, too."]
