"""How an order stands, said at the top of the page that its link leads to."""

from __future__ import annotations

from collections.abc import Mapping

from proofgen import proof, store
from proofgen.pipeline.orders import known_standing
from proofgen.pipeline.preflight import Prepared
from proofgen.signoff import RULES, Notice, State
from proofgen.workshop import Workshop


def say_standing(workshop: Workshop, known: Mapping[str, Prepared]) -> None:
    """Every proof's page that is there tells what its order's state has to tell, and no more."""
    for name in workshop.records.orders():
        row = known_standing(workshop, name, known.get(name))
        token = workshop.records.token(name)
        page = workshop.site / "p" / str(token) / "index.html"
        rules = RULES[State(row["state"])] if row else None
        if rules is None or isinstance(rules.page, Notice) or not page.is_file():
            continue
        theme = workshop.theme_for(workshop.shop.orders.get(name))
        now = page.read_bytes()
        told = proof.with_standing(now, rules.banner, theme, closed=not rules.answerable)
        if told != now:
            store.write(page, told)
