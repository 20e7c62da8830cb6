"""A shop folder opened for work: its records, its clock, its theme, its store."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Self
from zoneinfo import ZoneInfo

from proofgen import store
from proofgen.errors import (
    Place,
    ProofgenError,
    ShopError,
    UsageError,
    worst_exit,
)
from proofgen.model import Order, Shop
from proofgen.render import Theme, theme_names
from proofgen.say import did_you_mean, sentences
from proofgen.say.tongue import Tongue, english_of
from proofgen.shop import read_shop
from proofgen.signoff import Records

if TYPE_CHECKING:
    from proofgen.artwork.materials import Materials
    from proofgen.checks import Twins
    from proofgen.colour.printer import SoftProof

Say = Callable[[str], None]

_TIMES_TOLD, _LEAST_TOLD = 10, 5  # how often a long count is told, and never for fewer things

# Stands in a new shop.yaml until the maker's own is written there. Mail to `.example` reaches
# nobody (RFC 2606).
NO_CONTACT = "you@your-shop.example"


def silent(_: str) -> None:
    """Progress that nobody reads."""


@dataclass
class Workshop:
    """One run's view of a shop folder. `say` hears what is being done, `say_more` how far it is,
    which only a person at a terminal wants; `trouble` gathers what went wrong on the way; `close`
    ends what the run has started; a context manager does so too."""

    folder: Path
    shop: Shop
    say: Say = silent
    say_more: Say = silent
    trouble: list[ProofgenError] = field(default_factory=list)
    is_locked: bool = False  # this run holds the folder

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        if "materials" in self.__dict__:
            self.materials.close()

    @cached_property
    def records(self) -> Records:
        return Records(self.folder / "records")

    def sound_records(self) -> Records:
        """The records, to write on. SignoffError when the journal is not as it was written:
        whatever is added then might stand on nothing."""
        self.records.refuse_broken()
        return self.records

    @cached_property
    def store(self) -> store.Store:
        return store.Store(self.store_folder)

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
    def theme(self) -> Theme:
        """The pages of the maker, in English."""
        settings = self.shop.settings
        return Theme(settings.theme, english_of(settings.language), settings.currency)

    @cached_property
    def _themes(self) -> dict[str, Theme]:
        return {}

    def theme_for(self, order: Order | None) -> Theme:
        """The pages of an order's customer, in their language, else in the shop's."""
        settings = self.shop.settings
        wish = order.customer.language if order else ""
        tag = Tongue.of(*filter(None, (wish, settings.language))).tag
        if tag not in self._themes:
            self._themes[tag] = Theme(settings.theme, tag, settings.currency)
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

    @property
    def site(self) -> Path:
        return self.folder / "site"

    @property
    def store_folder(self) -> Path:
        """What is in it can be worked out again."""
        return self.workroom / "store"

    @property
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

    @property
    def answer_by(self) -> date:
        """The last day for an answer to a proof made now."""
        return self.today + timedelta(days=self.shop.settings.answer_days)

    def order(self, name: str) -> Order:
        """The order of that name. UsageError with a likely name if there is none."""
        if name in self.shop.orders:
            return self.shop.orders[name]
        for fault in self.shop.faults:
            if fault.place and f"orders/{name}/" in fault.place.file:
                raise fault
        raise UsageError(
            f"there is no order called “{name}”",
            did_you_mean(name, self.shop.orders, typed=True) or "`proofgen orders` lists them all",
        )

    def key_for(self, order: str) -> bytes | None:
        """The next edition's key in the demo shop; None (a random one) in a real shop."""
        if not self.shop.settings.demo:
            return None
        return _demo_secret("key", order, len(self.records.heads(order)) + 1)

    def token_of(self, order: str) -> str:
        """The secret part of an order's link, made once."""
        if self.shop.settings.demo:
            token = base64.b32encode(_demo_secret("token", order)[:20]).decode().lower()
            return self.records.ensure_token(order, token)
        return self.records.ensure_token(order)

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


def _demo_secret(what: str, order: str, number: int = 0) -> bytes:
    """32 bytes, the same on every machine: for show in the demo shop, secret from nobody."""
    return hashlib.sha256(f"demonstration only: {what} {order} {number}".encode()).digest()


def known_theme(
    name: str, kind: type[ProofgenError] = UsageError, place: Place | None = None
) -> None:
    """An error of that kind for a theme that is not there."""
    known = theme_names()
    if name not in known:
        cure = sentences(
            did_you_mean(name, known, typed=True), f"Choose one of: {', '.join(known)}"
        )
        raise kind(f"there is no theme “{name}”", cure, place)


def open_workshop(folder: Path, say: Say = silent, say_more: Say = silent) -> Workshop:
    """Read a shop folder. ShopError when shop.yaml cannot be read or names a theme that is not
    there; other faults are gathered."""
    shop = read_shop(folder)
    known_theme(shop.settings.theme, ShopError, Place("shop.yaml"))
    return Workshop(folder, shop, say, say_more, list(shop.faults))


@contextmanager
def at_work(workshop: Workshop) -> Iterator[None]:
    """Hold the shop folder for a run that writes, and clear what a killed run left behind."""
    with store.lock(workshop.workroom):
        for part in ("workroom", "site", "records", "orders"):
            store.sweep(workshop.folder / part)
        workshop.records.tidy()
        workshop.is_locked = True
        try:
            yield
        finally:
            workshop.is_locked = False
