"""The maker's own pages in workroom/: after a command, written again for the orders it changed."""

from __future__ import annotations

import json
import os
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from functools import cached_property
from pathlib import Path
from typing import TypedDict, cast

from proofgen import __version__, reports, store
from proofgen.errors import ProofgenError, SignoffError
from proofgen.pipeline import letters
from proofgen.pipeline.accounts import PAGE as TALLY
from proofgen.pipeline.crew import Crew, crew_for
from proofgen.pipeline.evening import PAGE, PAPER
from proofgen.pipeline.orders import order_names, rank
from proofgen.pipeline.surroundings import surroundings
from proofgen.pipeline.typed import typed_for
from proofgen.pipeline.workroom_pictures import ROOMS
from proofgen.pipeline.workroom_rooms import Beside, room_of
from proofgen.press import SHARED, owner_of
from proofgen.reports import Frame, Room, RoomLink, Step
from proofgen.shop.stands import files_read
from proofgen.workshop import Workshop, open_workshop

_INDEX = "index.html"
_VERSION = f"workroom pages/2 {__version__}"
_MORE = (  # of the whole workroom, in case they are there; with what makes one that is not
    (PAGE, "The evening at the press", "press --plan"),
    (PAPER, "The evening on paper", ""),
    (TALLY, "Stock and costs", "orders --tally"),
    ("findings.html", "What the last build found, with prints", "build"),
    ("../site/index.html", "The catalogue", ""),
    ("guide/index.html", "The guide", "guide"),
)


class _Kept(TypedDict):
    """What a page was made from, on which day, kept beside it."""

    version: str
    inputs: str
    day: str
    frame: str
    room: Room


def index_of(workshop: Workshop) -> Path:
    """The page that tells where everything stands."""
    return workshop.workroom / _INDEX


def keep_workroom(workshop: Workshop) -> list[str]:
    """Bring the maker's pages up to date with the folder and the records; what kept them from being
    written, for people. No fault of theirs is a fault of the command that was run."""
    try:
        with workshop.hold(), _as_it_is_now(workshop) as now:
            _Pages(now).keep()
    except Exception as error:  # whatever it is: what the command did has to be told
        known = isinstance(error, ProofgenError | OSError)
        why = error.problem if isinstance(error, ProofgenError) else str(error)
        fault = "" if known else f"a fault in proofgen, {type(error).__name__}: "
        return [f"The pages in {workshop.workroom} could not be brought up to date: {fault}{why}."]
    return []


def pages_about(workshop: Workshop, name: str) -> list[Path]:
    """The maker's pages that tell of an order: they go with it, and the others are set again."""
    home = workshop.workroom / ROOMS
    own = [path for path in home.iterdir() if _of(path.name) == name] if home.is_dir() else []
    return [index_of(workshop), *own]


def _of(file: str) -> str:
    """The order that a file beside the pages is about: no order's name holds a dot."""
    return file.split(".")[0]


@contextmanager
def _as_it_is_now(workshop: Workshop) -> Iterator[Workshop]:
    """The shop as the command left it, which may have written some of its files."""
    if files_read(workshop.folder) != workshop.files:
        with open_workshop(workshop.folder, say_more=workshop.say_more) as fresh:
            fresh.records = workshop.records  # which know what they have read
            yield fresh
        return
    told = list(workshop.trouble)
    try:
        yield workshop
    finally:
        workshop.trouble[:] = told  # what keeps an order from being read is told on its page


class _Pages:
    """All pages of a workroom, and what they are made from."""

    def __init__(self, workshop: Workshop) -> None:
        settings = workshop.shop.settings
        self.workshop, self.home = workshop, workshop.workroom / ROOMS
        self.frame = Frame(
            theme=workshop.theme,
            shop_name=settings.name,
            day=workshop.today,
            typed=typed_for(workshop.folder.absolute()),
            demo=settings.demo,
        )
        # Nothing is left to do about a forgotten one, and its name may be a person's.
        gone = workshop.records.is_forgotten
        self.names = [name for name in order_names(workshop) if not gone(name)]
        self.there: dict[str, list[str]] = defaultdict(list)  # by order
        for path in self.home.iterdir() if self.home.is_dir() else ():
            self.there[_of(path.name)].append(path.name)
        self._files: dict[str, set[str]] = {}  # by their folder, seen from the pages

    def keep(self) -> None:
        """Write what changed, take away what is no more. MachineError of the one writer."""
        kept = {name: self._kept(name) for name in self.names}
        stale = sum(one is None for one in kept.values())
        one_more = self.workshop.counted("pages of the workroom", stale)
        crew = self._drawn_ahead([name for name, one in kept.items() if one is None])
        rooms: dict[str, Room] = {}
        for name, known in kept.items():
            if known is None:
                if stale > 1:
                    self.workshop.materials.pictures.let_go()
                if crew:
                    crew.wait_for("picture", name)
                rooms[name] = self._worked_out(name)
                one_more()
            else:
                rooms[name] = known["room"]
            if known is None or known["frame"] != self._frame_digest:
                self._write(name, rooms[name])
        for name in self.there.keys() - rooms.keys():
            self._remove(self.there[name])
        links: list[RoomLink] = [
            {"says": says, "href": href}
            for href, says, _ in _MORE
            if (self.workshop.workroom / href).is_file()
        ]
        lacks: list[Step] = [
            {"says": says, "command": f"{self.frame.typed} {command}"}
            for href, says, command in _MORE
            if command and not (self.workshop.workroom / href).is_file()
        ]
        page = reports.rooms_page(
            sorted(rooms.values(), key=lambda room: rank(room["standing"], "due")),
            self.frame,
            faults=[fault.sentence() for fault in self.workshop.shop.faults],
            links=links,
            lacks=lacks,
        )
        store.write(index_of(self.workshop), page)

    def _drawn_ahead(self, names: Sequence[str]) -> Crew | None:
        """Who draws side by side the orders that have no proof, where they are many. The first goes
        before: what all of a blank share is then there for the others."""
        orders = self.workshop.shop.orders
        new = [name for name in names if name in orders and self._has_no_proof(name)]
        crew = crew_for(self.workshop, sum(orders[name].has_photos for name in new) // 3)
        if crew is None:
            return None
        for name in new:
            crew.add("picture", name)
            if name == new[0]:
                crew.wait_for("picture", name)
        return crew

    def _has_no_proof(self, name: str) -> bool:
        with suppress(SignoffError):  # damaged: its page says so
            return not self.workshop.records.heads(name)
        return False

    def _worked_out(self, name: str) -> Room:
        """What an order's page tells, its pictures on disk."""
        beside = Beside(
            pages=self.there[name], letters=self._letters[name], press=self._press[name]
        )
        return room_of(self.workshop, name, beside)

    def _write(self, name: str, room: Room) -> None:
        """An order's page and what it was made from on disk; what else was of it goes."""
        page = reports.order_page(room, self.frame)
        store.write(self.home / f"{name}.html", page)
        kept: _Kept = {
            "version": _VERSION,
            "inputs": self._inputs(name),
            "day": self.workshop.today.isoformat(),
            "frame": self._frame_digest,
            "room": room,
        }
        store.write(self.home / f"{name}.json", store.dump_json(kept))
        keep = {f"{name}.html", f"{name}.json", *(one["src"] for one in room["pictures"])}
        self._remove(file for file in self.there[name] if file not in keep)

    def _remove(self, files: Iterable[str]) -> None:
        for file in files:
            store.remove(self.home / file)

    # -- whether a page is as it should be ---------------------------------------------------

    def _kept(self, name: str) -> _Kept | None:
        """What an order's page was made from, while all of that is as it was, and it, its pictures
        and files lie there; else None."""
        try:
            kept = cast(_Kept, json.loads((self.home / f"{name}.json").read_text("utf-8")))
            room = kept["room"]
            same = (kept["version"], kept["inputs"]) == (_VERSION, self._inputs(name))
            same = same and kept["day"] == self.workshop.today.isoformat()
            files = [f"{name}.html", *(one["src"] for one in room["pictures"])]
            links = [one["href"] for one in room["links"]]
            there = same and all(map(self._lies_there, [*files, *links]))
        except (OSError, ValueError, LookupError, TypeError):
            return None
        return kept if there else None

    def _lies_there(self, way: str) -> bool:
        """Whether a file is there, by its way from the pages. A folder that holds many orders' is
        looked through once."""
        folder, _, file = way.rpartition("/")
        if folder not in ("", "../letters", "../press"):
            return (self.home / way).is_file()
        if folder not in self._files:
            with suppress(FileNotFoundError), os.scandir(self.home / folder) as found:
                self._files[folder] = {entry.name for entry in found if entry.is_file()}
        return file in self._files.get(folder, ())

    @cached_property
    def _frame_digest(self) -> str:
        frame = self.frame
        return store.digest(
            frame.theme.digest.encode(),
            *(part.encode() for part in (frame.shop_name, frame.typed, str(frame.demo))),
        )

    def _inputs(self, name: str) -> str:
        """Digest of all that a page is made from: what the order hangs on, what lies in the
        workroom, and what its pictures stand on."""
        lies = [*self._letters[name], *self._press[name]]
        around = surroundings(self.workshop).of(name)
        return store.digest(
            around.encode(), self.frame.theme.ground.encode(), store.dump_json(lies)
        )

    @cached_property
    def _letters(self) -> Mapping[str, list[str]]:
        """The files of the letters' folder by the order they are about."""
        found: dict[str, list[str]] = defaultdict(list)
        home = self.workshop.workroom / "letters"
        for file in sorted(path.name for path in home.iterdir()) if home.is_dir() else ():
            stem = _of(file)
            for name in {stem, re.sub(r"-(photo|proof-\d+)$", "", stem)}:
                if letters.is_of(file, name):
                    found[name].append(file)
        return found

    @cached_property
    def _press(self) -> Mapping[str, list[str]]:
        """The files for the press by the order they are of; shared sheets are each order's whose
        ticket lies there."""
        found: dict[str, list[str]] = defaultdict(list)
        home = self.workshop.workroom / "press"
        for file in sorted(path.name for path in home.iterdir()) if home.is_dir() else ():
            found[owner_of(file)].append(file)
        shared = found.pop(SHARED, [])
        found.pop("", None)
        for files in found.values():
            files += shared
        return found
