"""A shop folder opened for work: its records, its clock, its theme, its store."""

from __future__ import annotations

import time as clock
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, nullcontext, suppress
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Self
from zoneinfo import ZoneInfo

from proofgen import store
from proofgen.again import is_fresh
from proofgen.errors import (
    Place,
    ProofgenError,
    ShopError,
    SignoffError,
    UsageError,
    worst_exit,
)
from proofgen.model import Order, Shop
from proofgen.render import OWN, Theme
from proofgen.render.known import known_theme
from proofgen.say import did_you_mean, quoted
from proofgen.say.tongue import Tongue, english_of
from proofgen.shop import read_shop, refuse_real_demo
from proofgen.shop.stands import files_read
from proofgen.shop.trees import KIND as TREES
from proofgen.shop.trees import Trees
from proofgen.signoff import EditionHead, Records
from proofgen.signoff.for_show import demo_id, demo_secret, demo_token
from proofgen.signoff.names import held, sound_token
from proofgen.signoff.used import BlankCloth, InStock, is_to_press, stock_of
from proofgen.store import Gathered
from proofgen.store.standing import UNSEEN, Stood

if TYPE_CHECKING:
    from proofgen.artwork.materials import Materials
    from proofgen.checks import Twins
    from proofgen.colour.printer import SoftProof

Say = Callable[[str], None]

RECORDS = "records"
_TO_PRESS = "to be pressed/1"
DRAFTS = "drafts"  # below workroom/: answers of conversations that are not done
WRITTEN = ("workroom", "site", RECORDS, "orders")  # where runs write

_TIMES_TOLD, _LEAST_TOLD = 10, 5  # how often a long count is told, and never for fewer things

# Stands in a new shop.yaml until the maker's own is written there. Mail to `.example` reaches
# nobody (RFC 2606).
NO_CONTACT = "you@your-shop.example"


def silent(_: str) -> None:
    """Progress that nobody reads."""


@dataclass
class Workshop:
    """One run's view of a shop folder. `say` hears what is being done, `say_more` how far it is,
    which only a person at a terminal wants; `trouble` gathers what went wrong on the way; `files`
    is how the files stood that were read; `close` ends what the run has started; a context manager
    does so too."""

    folder: Path
    shop: Shop
    say: Say = silent
    say_more: Say = silent
    trouble: list[ProofgenError] = field(default_factory=list)
    elsewhere: list[ProofgenError] = field(default_factory=list)  # told, and no trouble of this run
    files: Mapping[str, Stood] = field(default_factory=dict)
    is_locked: bool = False  # this run holds the folder
    command: str = ""  # what runs, as others are told while it holds the folder
    of_run: dict[str, object] = field(default_factory=dict)  # what was worked out in it
    trees: Trees = field(default_factory=Trees)  # of the orders' texts
    ends: list[Callable[[], None]] = field(default_factory=list)  # of what was started in it

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def end_started(self) -> None:
        """End what the run has started beside itself."""
        while self.ends:
            self.ends.pop()()

    def close(self) -> None:
        self.end_started()
        if "materials" in self.__dict__:
            self.materials.close()
        if "store" in self.__dict__:
            if content := self.trees.as_kept():
                self.store.keep(TREES, "", content)
            if "by_order" in self.__dict__:
                self.by_order.gather({*self.shop.orders, *self.records.orders()})
            self.store.trim(self.shop.settings.store_bytes)

    @cached_property
    def records(self) -> Records:
        """All that must not be lost; in the demo shop its ids are the same on every machine."""
        folder = self.folder / RECORDS
        return Records(folder, demo_id) if self.shop.settings.demo else Records(folder)

    @contextmanager
    def hold(self) -> Iterator[None]:
        """Hold the shop folder for a moment's writing, unless this run holds it already. The lock
        lies in the records, which nobody deletes. MachineError when another run holds it."""
        records = self.records.folder
        lock = nullcontext() if self.is_locked else store.lock(records, self.command)
        with lock, held(self.records.journal, self.records.names):
            yield

    def sound_records(self) -> Records:
        """The records, to write on. SignoffError when the journal is not as it was written:
        whatever is added then might stand on nothing."""
        self.records.refuse_broken()
        return self.records

    @cached_property
    def store(self) -> store.Store:
        return store.Store(self.store_folder)

    @cached_property
    def by_order(self) -> Gathered:
        """What was worked out last of each order."""
        return Gathered(self.store)

    @cached_property
    def materials(self) -> Materials:
        """The pictures and fonts of this run, and the process that opens photos."""
        from proofgen.artwork.materials import Materials  # only who draws waits for numpy

        return Materials(self.folder, self.store)

    @cached_property
    def twins(self) -> Twins:
        """The photos of all orders, to find one that came to two customers."""
        from proofgen.checks import Twins  # only who checks orders waits for the checks

        return Twins(self.shop.orders.values(), self.store)

    @cached_property
    def in_stock(self) -> dict[BlankCloth, InStock]:
        """Every blank and cloth that was counted or that an open order needs."""
        return stock_of(self.shop, self.records, self.still_to_press())

    def still_to_press(self) -> list[str]:
        """The orders that blanks are kept for: neither pressed nor at an end nor still being taken.
        One whose records are damaged is told elsewhere."""
        orders = self.shop.orders.values()
        return [one.id for one in orders if not one.draft and self._is_to_press(one.id)]

    def _is_to_press(self, name: str) -> bool:
        """As an earlier run found it of the same records on the same day: to find it, all that was
        ever recorded of an order is read."""
        line, files = self.stands_in_records(name)
        told = store.dump_json([self.today.isoformat(), line, files])
        key = store.digest(told).encode()
        for content in self.by_order.found(_TO_PRESS, name):
            if content[:-1] == key:
                self.by_order.holds(_TO_PRESS, name, content)
                return content[-1:] == b"1"
        try:
            is_kept_for = is_to_press(self.records, name, self.today)
        except SignoffError:
            return False
        now = clock.time_ns()
        if not any(one == UNSEEN or is_fresh(one, now) for _, one in files):
            # Else a change might not show.
            self.by_order.keep(_TO_PRESS, name, key + (b"1" if is_kept_for else b"0"))
        return is_kept_for

    def stands_in_records(self, name: str) -> tuple[str, list[tuple[str, Stood]]]:
        """The last line of the journal about an order, and how its files in the records stand. They
        are looked at once after each line: a run is alone with them."""
        line = self.records.last_line(name)
        if name not in self._recorded or self._recorded[name][0] != line:
            self._recorded[name] = self.records.as_it_stands(name)
        return self._recorded[name]

    @cached_property
    def _recorded(self) -> dict[str, tuple[str, list[tuple[str, Stood]]]]:
        return {}

    @cached_property
    def theme(self) -> Theme:
        """The pages of the maker, in English."""
        settings = self.shop.settings
        return Theme(
            settings.theme,
            english_of(settings.language),
            settings.currency,
            self.folder / OWN,
            self.store,
            settings.wordmark,
        )

    @cached_property
    def _themes(self) -> dict[str, Theme]:
        return {}

    def theme_for(self, order: Order | None) -> Theme:
        """The pages of an order's customer: in their language, else in the one that its last proof
        was in, else in the shop's."""
        settings = self.shop.settings
        wish = order.customer.language if order else ""
        if order and not wish:
            with suppress(SignoffError):  # damaged records are told where they are asked for more
                wish = self.records.language(order.id)
        tag = Tongue.of(*filter(None, (wish, settings.language))).tag
        if tag not in self._themes:
            self._themes[tag] = Theme(
                settings.theme,
                tag,
                settings.currency,
                self.folder / OWN,
                self.store,
                settings.wordmark,
            )
        return self._themes[tag]

    @cached_property
    def printer(self) -> SoftProof | None:
        """The printer's profile; None where the shop names none."""
        path = self.shop.settings.printer.icc
        if path is None:
            return None
        from proofgen.colour.printer import SoftProof  # only shops with one wait for it

        try:
            return SoftProof(path.read_bytes())
        except (OSError, ValueError) as error:
            raise ShopError(
                f"the printer's profile changed while it was used ({error})",
                "run the same again",
                Place(path.name),
            ) from error

    @cached_property
    def site(self) -> Path:
        return self.folder / "site"

    @property
    def store_folder(self) -> Path:
        """What is in it can be worked out again."""
        return _store_of(self.folder)

    @cached_property
    def workroom(self) -> Path:
        return self.folder / "workroom"

    @cached_property
    def now(self) -> datetime:
        """This moment; noon of the fixed day in a shop that has one."""
        settings = self.shop.settings
        if settings.today:
            noon = datetime.combine(settings.today, time(12), ZoneInfo(settings.zone))
            return noon.astimezone(UTC)
        return datetime.now(UTC).replace(microsecond=0)

    @cached_property
    def today(self) -> date:
        """The day at the shop."""
        return self.now.astimezone(ZoneInfo(self.shop.settings.zone)).date()

    def answer_by(self, order: Order) -> date:
        """The last day for an answer to a proof of the order made now."""
        return self.shop.settings.answer_by(self.today, order.due)

    def order(self, name: str) -> Order:
        """The order of that name. UsageError with a likely name if there is none."""
        if name in self.shop.orders:
            return self.shop.orders[name]
        for fault in self.shop.faults:
            if fault.place and f"orders/{name}/" in fault.place.file:
                raise fault
        raise UsageError(
            f"there is no order called {quoted(name)}",
            did_you_mean(name, self.shop.orders, typed=True, begins=True)
            or "`proofgen orders` lists them all",
        )

    def key_for(self, order: str) -> bytes | None:
        """The next edition's key in the demo shop; None (a random one) in a real shop."""
        if not self.shop.settings.demo:
            return None
        return demo_secret("key", order, len(self.records.heads(order)) + 1)

    def token_of(self, order: str) -> str:
        """The secret part of an order's link, made once."""
        return self.records.ensure_token(
            order, demo_token(order) if self.shop.settings.demo else None
        )

    def token_to_be(self, order: str) -> str:
        """What `token_of` will say, without giving it out: drawn now where there is none."""
        if known := self.records.token(order):
            return known
        is_demo = self.shop.settings.demo
        return (
            demo_token(order)
            if is_demo
            else self.records.drawn.setdefault(order, sound_token(None))
        )

    def is_for_show(self, head: EditionHead) -> bool:
        """Whether anybody can work out an edition's key, in a shop that is no demo."""
        of = head["order"], head["edition"]
        return not self.shop.settings.demo and head["key"] == demo_secret("key", *of).hex()

    def open_link(self, order: str) -> str:
        """The secret part of an order's link where anybody can work it out, in a shop that is no
        demo; else ''."""
        open_one = demo_token(order)
        is_open = not self.shop.settings.demo and self.records.token(order) == open_one
        return open_one if is_open else ""

    @property
    def exit_code(self) -> int:
        """The code that says most about what was gathered in `trouble`."""
        return worst_exit(0, *(error.exit_code for error in self.trouble))

    def counted(self, what: str, of: int) -> Callable[[], None]:
        """Counts things done, of so many, and tells a person about ten times how far it is."""
        done, step = 0, max(_LEAST_TOLD, of // _TIMES_TOLD)

        def one_more() -> None:
            nonlocal done
            done += 1
            if done % step == 0 and done < of:
                self.say_more(f"{what}: {done} of {of}")

        return one_more

    @contextmanager
    def each(self, what: str) -> Iterator[None]:
        """One order's work: a fault in it is kept for the end and the others go on."""
        self.say(what)
        try:
            yield
        except ProofgenError as error:
            self.trouble.append(error)


def _store_of(folder: Path) -> Path:
    return folder / "workroom" / "store"


def at_the_door(folder: Path) -> None:
    """Check the records for a command that opens no workshop. SignoffError when they are not as
    they were written."""
    Records(folder / RECORDS).refuse_broken()


def open_workshop(folder: Path, say: Say = silent, say_more: Say = silent) -> Workshop:
    """Read a shop folder. ShopError when shop.yaml cannot be read, names a theme that is not there,
    has one of its own that cannot be understood, or says `demo: yes` of a shop that is none; other
    faults are gathered."""
    files = files_read(folder)
    trees = Trees(store.Store(_store_of(folder)).recall(TREES, ""))
    shop = read_shop(folder, trees)
    known_theme(shop.settings.theme, ShopError, Place("shop.yaml"))
    refuse_real_demo(shop)
    faults: list[ProofgenError] = [*shop.faults]
    workshop = Workshop(folder, shop, say, say_more, faults, files=files, trees=trees)
    if (folder / OWN).is_dir():
        workshop.theme.check()
    return workshop


@contextmanager
def at_work(workshop: Workshop) -> Iterator[None]:
    """Hold the shop folder for a run that writes, and clear what a killed run left behind.
    SignoffError, with nothing touched, when the records are not as they were written."""
    with workshop.hold():
        workshop.records.refuse_broken()
        for part in WRITTEN:
            store.sweep(workshop.folder / part)
        store.sweep(workshop.folder, deep=False)
        for part in ("workroom", "records"):  # as a looser version left them
            store.set_readers(workshop.folder / part, everybody=False)
        workshop.records.tidy()
        workshop.is_locked = True
        try:
            yield
        finally:
            workshop.is_locked = False
