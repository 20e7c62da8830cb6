"""All that an order's layout, findings and standing hang on, as one digest: what is unchanged since
an earlier run is not worked out again."""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import cached_property
from pathlib import Path
from typing import TypeVar, cast

from proofgen import again, store
from proofgen.model import Order, blanks_needed
from proofgen.pipeline.remembered import installed
from proofgen.store.standing import Stood
from proofgen.workshop import Workshop

Made = TypeVar("Made")
_Files = Mapping[str, Stood]


class Surroundings:
    """How the files of a shop stood when it was opened, by the order they belong to, and what else
    findings hang on: the day, other orders' photos and needs, what is installed."""

    def __init__(self, workshop: Workshop) -> None:
        self._workshop = workshop
        self.at_ns = time.time_ns()  # what changed shortly before is looked at by its content
        self._now: dict[tuple[str, str], tuple[bytes, object]] = {}

    def of(self, name: str) -> str:
        """Digest of all that an order hangs on as the shop was opened, and as its records stand
        now."""
        line = self._workshop.records.last_line(name)
        if name not in self._known or self._known[name][0] != line:
            whole = store.digest(self._of_folder(name).encode(), self._of_records(name))
            self._known[name] = line, whole
        return self._known[name][1]

    def _of_records(self, name: str) -> bytes:
        """What changes with all that is recorded of an order, as JSON."""
        line, files = self._workshop.stands_in_records(name)
        return store.dump_json([line, self._told(f"records/{name}", dict(files))])

    def kept(
        self,
        kind: str,
        name: str,
        make: Callable[[], Made],
        load: Callable[[bytes], Made],
        dump: Callable[[Made], bytes | None],
        beside: object = None,
    ) -> Made:
        """What was made of an order last, in this run or an earlier one, while all it hangs on
        (and `beside`, as JSON) is as it was; else what `make` makes."""
        key = store.digest(self.of(name).encode(), store.dump_json(beside)).encode()
        if (kind, name) in self._now and self._now[kind, name][0] == key:
            return cast(Made, self._now[kind, name][1])

        kept = self._workshop.by_order
        for content in kept.found(kind, name):
            if content.startswith(key):
                with suppress(*store.UNREADABLE):
                    made = load(content[len(key) :])
                    kept.holds(kind, name, content)
                    self._now[kind, name] = (key, made)
                    return made
        made = make()
        dumped = dump(made)
        if dumped is not None:
            kept.keep(kind, name, key + dumped)
        self._now[kind, name] = (key, made)
        return made

    def knows(self, kind: str, name: str) -> bool:
        """Whether what an earlier run made of an order still holds."""
        key = store.digest(self.of(name).encode(), store.dump_json(None)).encode()
        return any(one.startswith(key) for one in self._workshop.by_order.found(kind, name))

    def _of_folder(self, name: str) -> str:
        if name not in self._folders:
            order = self._workshop.shop.orders.get(name)
            own = self.by_order.get(name, {})
            count = self._workshop.twins.photos_of_others(order) if order else 0
            lacks = self._lacking(order) if order else []
            parts = (self._told("", own), self._alike(name, own), count, lacks)
            self._folders[name] = store.digest(self.shared.encode(), store.dump_json(parts))
        return self._folders[name]

    @cached_property
    def _known(self) -> dict[str, tuple[str, str]]:
        return {}

    @cached_property
    def _folders(self) -> dict[str, str]:
        return {}

    def _lacking(self, order: Order) -> list[str]:
        """What is short of the counted blanks that an order needs: with enough of them, it is all
        the same what others need."""
        shop, found = self._workshop.shop, []
        for blank, cloth in sorted(blanks_needed(order.lines, shop.settings.spares)):
            if blank not in shop.blanks or not shop.blanks[blank].stock.pieces:
                continue
            there = self._workshop.in_stock.get((blank, cloth))
            is_enough = there is not None and there.buy == 0
            found.append("" if is_enough else f"{blank} {cloth} {there!r}")
        return found

    @cached_property
    def shared(self) -> str:
        """Digest of all that every order hangs on."""
        of_all = {k: v for k, v in self._workshop.files.items() if not k.startswith("orders/")}
        return store.digest(
            store.dump_json(self._told("", of_all)),
            store.dump_json(sorted(installed().items())),
            self._workshop.today.isoformat().encode(),
        )

    @cached_property
    def shown(self) -> str:
        """Digest of what the files hold that a catalogue is made from; of what they hold, so that a
        shop that was copied is the same."""
        files = sorted(file for file in self._workshop.files if _shows(file))
        return store.digest(store.dump_json([(file, self._digest(file)) for file in files]))

    @cached_property
    def by_order(self) -> Mapping[str, _Files]:
        """How each order's files stand, by the order's name."""
        found: dict[str, dict[str, Stood]] = defaultdict(dict)
        for file, about in self._workshop.files.items():
            part, _, rest = file.partition("/")
            if part == "orders":
                found[rest.partition("/")[0]][file] = about
        return found

    @cached_property
    def _by_size(self) -> Mapping[int, list[str]]:
        """The orders that have a file of this size: files alike have one."""
        found: dict[int, list[str]] = defaultdict(list)
        for name, files in sorted(self.by_order.items()):
            for size in {one[2] for one in files.values()} - {0}:
                found[size].append(name)
        return found

    def _alike(self, name: str, own: _Files) -> object:
        """How the files stand of other orders that may hold a photo of this one."""
        sizes = {one[2] for file, one in own.items() if not file.endswith(".yaml")}
        others = {other for size in sizes for other in self._by_size.get(size, ())} - {name}
        return [self._told("", self.by_order[other]) for other in sorted(others)]

    def _told(self, below: str, files: _Files) -> list[object]:
        """Files with their signatures, and what those hold that changed so lately that the next
        change might not show."""
        return [
            (file, one, self._content(f"{below}/{file}" if below else file, one))
            for file, one in sorted(files.items())
        ]

    def _content(self, file: str, one: Stood) -> str:
        if not again.is_fresh(one, self.at_ns):
            return ""
        if (file, one) not in self._contents:
            self._contents[file, one] = self._digest(file)
        return self._contents[file, one]

    def _digest(self, file: str) -> str:
        try:
            return store.file_digest(Path(self._workshop.folder, file))
        except OSError:
            return "gone"

    @cached_property
    def _contents(self) -> dict[tuple[str, Stood], str]:
        return {}


def _shows(file: str) -> bool:
    return file == "shop.yaml" or file.startswith(("designs/", "blanks/", "seasons/", "words/"))


def surroundings(workshop: Workshop) -> Surroundings:
    """Those of this run."""
    known = workshop.of_run.setdefault("surroundings", Surroundings(workshop))
    return cast(Surroundings, known)
