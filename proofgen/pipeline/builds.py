"""All that can be built, in the order of the work, and what to do with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from proofgen import proof, reports
from proofgen.model.documents import StandingEntry
from proofgen.pipeline.findings import write_findings
from proofgen.pipeline.marking import cover
from proofgen.pipeline.orders import known_standing
from proofgen.pipeline.preflight import Prepared, is_closed, prepare_all
from proofgen.pipeline.presses import press_all, press_lines, take_back
from proofgen.pipeline.proofs import MadeProof, make_proofs_of
from proofgen.pipeline.seasons import make_catalogue
from proofgen.pipeline.standing import say_standing
from proofgen.signoff import RULES, Notice, State
from proofgen.workshop import Workshop


@dataclass
class Built:
    """What a build made, for people."""

    workshop: Workshop
    prepared: list[Prepared]
    proofs: list[MadeProof]
    press: list[str]
    catalogue: list[str]
    standings: list[StandingEntry]
    notices: list[str] = field(default_factory=list)

    @property
    def stopped(self) -> bool:
        """Whether an order that is still to be made has a finding in its way."""
        return any(RULES[State(s["state"])].stops for s in self.standings)

    @staticmethod
    def _why(made: MadeProof, explain: bool) -> str:
        return f" (proof {made.edition}: {made.why})" if explain else ""

    def lines(self, *, explain: bool = False) -> list[str]:
        """What is where, and the one next step of each order."""
        lines = [*self.catalogue]
        if self.proofs:
            lines += ["", "Private proof pages, each with its PDF:"]
            for p in self.proofs:
                lines += [f"  {p.order}: {p.page}" + self._why(p, explain)]
                lines += [f"    {line}" for line in p.wrote]
            lines += [f"Their letters: {self.workshop.workroom / 'letters'}"]
        if self.press:
            lines += ["", *self.press]
        lines += ["", reports.orders_text(reports.orders_document(self.standings))]
        if self.workshop.site.is_dir():
            lines += [
                "",
                f"Upload the folder {self.workshop.site}. Never upload workroom/ or records/.",
            ]
        lines += self.notices
        return lines


def gone(workshop: Workshop, known: Mapping[str, Prepared]) -> list[str]:
    """Pages that must no longer show a proof become notices; what to upload again."""
    uploads = []
    for name in workshop.records.orders():
        row = known_standing(workshop, name, known.get(name))
        page = RULES[State(row["state"])].page if row else None
        token = workshop.records.token(name) if isinstance(page, Notice) else None
        if not token or not isinstance(page, Notice):
            continue
        theme = workshop.theme_for(workshop.shop.orders.get(name))
        if cover(workshop.site / "p" / token, proof.notice(page, workshop.shop, theme)):
            uploads.append(f"Upload site/p/{token}/ and delete its other files there: {name}.")
    return uploads


def build(workshop: Workshop) -> Built:
    """Check, prove, press and publish; one order's fault never keeps another from being built."""
    prepared = prepare_all(workshop, [], closed=True)
    known = {p.order.id: p for p in prepared}
    write_findings(workshop, [p for p in prepared if not is_closed(workshop, p.order.id)])
    proofs = make_proofs_of(workshop, prepared, named=False)
    notices = gone(workshop, known)
    notices += take_back(workshop, workshop.records.orders(), prepared, made_anew=True)
    say_standing(workshop, known)
    document = press_all(workshop, prepared, named=())
    pages = make_catalogue(workshop)
    names = sorted({*known, *workshop.records.orders()})
    rows = [known_standing(workshop, n, known.get(n)) for n in names]
    return Built(
        workshop=workshop,
        prepared=prepared,
        proofs=proofs,
        press=press_lines(workshop, document),
        catalogue=pages,
        standings=[row for row in rows if row],
        notices=notices,
    )
