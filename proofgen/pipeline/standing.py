"""How an order stands, said at the top of the page that its link leads to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from proofgen import proof, store
from proofgen.pipeline import pages
from proofgen.pipeline.orders import known_standing
from proofgen.pipeline.preflight import Prepared
from proofgen.signoff import RULES, Notice, State
from proofgen.workshop import Workshop


def say_standing(
    workshop: Workshop, known: Mapping[str, Prepared], names: Iterable[str] | None = None
) -> None:
    """Every proof's page that is there (or those of `names`) tells what its order's state has to
    tell, and no more."""
    for name in workshop.records.orders() if names is None else names:
        row = known_standing(workshop, name, known.get(name))
        folder = pages.home(workshop, str(workshop.records.token(name)))
        page = folder / proof.PAGE
        rules = RULES[State(row["state"])] if row else None
        if rules is None or isinstance(rules.page, Notice) or not page.is_file():
            continue
        told = pages.says_of(workshop, name, rules)
        stamp = pages.stamp_of(workshop, name, folder)
        if stamp.get("says") == store.digest(told):
            continue
        now = page.read_bytes()
        new = proof.with_standing(now, told)
        if new != now:
            store.write(page, new, durable=True, private=False)
        elif stamp:
            pages.keep_stamp(workshop, name, folder, stamp["shown"], store.digest(told))
