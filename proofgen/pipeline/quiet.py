"""Orders whose page, letters and ticket are as the last build left them, made from what is still
there: a build has nothing to do about them."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable

from proofgen import store
from proofgen.errors import SignoffError
from proofgen.pipeline import pages
from proofgen.pipeline.remembered import contents_of
from proofgen.pipeline.surroundings import surroundings
from proofgen.pipeline.tickets import as_it_lies
from proofgen.store.standing import Stood, look
from proofgen.workshop import Workshop

_KIND = "nothing to do/1"


class Quiet:
    """What lies of each order where a build writes, as it stands now."""

    def __init__(self, workshop: Workshop) -> None:
        self._workshop = workshop
        self._letters: dict[str, dict[str, Stood]] = defaultdict(dict)
        self._home = workshop.workroom / "letters"
        for file, one in look(self._home)[0].items():
            stem = file.split(".")[0]
            for name in {stem, re.sub(r"-proof-\d+$", "", stem)}:
                self._letters[name][file] = one

    def _key(self, name: str) -> str:
        """What an order hangs on and what lies of it, as a digest; '' with damaged records."""
        workshop, now = self._workshop, surroundings(self._workshop)
        try:
            folder = pages.home(workshop, workshop.records.token(name) or "-")
        except SignoffError:  # told where the order is worked out
            return ""
        (page, below), letters = look(folder), self._letters[name]
        lies = [
            sorted(page.items()),
            sorted(below),
            sorted(letters.items()),
            contents_of(folder, page, now.at_ns),
            contents_of(self._home, letters, now.at_ns),
            as_it_lies(workshop, name),
            folder.is_symlink(),
            folder.is_dir() and store.is_open(folder),
        ]
        return store.digest(now.of(name).encode(), store.dump_json(lies))

    def among(self, names: Iterable[str]) -> set[str]:
        """Those of these orders about which the last build had nothing to do either."""
        kept = self._workshop.by_order
        keys = {one: self._key(one).encode() for one in names}
        return {one for one, key in keys.items() if key and key in kept.found(_KIND, one)}

    def keep(self, names: Iterable[str]) -> None:
        """Note that there is nothing to do about these orders."""
        for name in names:
            self._workshop.by_order.keep(_KIND, name, self._key(name).encode())
