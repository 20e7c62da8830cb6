"""All that can be built, in the order of the work, and what to do with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from proofgen import proof, reports
from proofgen.model.documents import StandingEntry
from proofgen.pipeline import pages
from proofgen.pipeline.findings import write_findings
from proofgen.pipeline.hosts import named_aloud
from proofgen.pipeline.made import MadeProof
from proofgen.pipeline.marking import cover
from proofgen.pipeline.orders import known_standing, standings
from proofgen.pipeline.preflight import Prepared, prepare_all
from proofgen.pipeline.presses import press_all, press_lines, take_back
from proofgen.pipeline.proofs import make_proofs_of
from proofgen.pipeline.publishing import booklet_ahead, make_catalogue, season_ahead
from proofgen.pipeline.quiet import Quiet
from proofgen.pipeline.standing import say_standing
from proofgen.signoff import RULES, Notice, State
from proofgen.workshop import Workshop

_DEMO = (
    "This is the demo shop, so nothing of it is to be uploaded. Look at its pages: proofgen serve",
    "    A shop of your own: proofgen start my-shop",
)


@dataclass
class Built:
    """What a build made, for people."""

    workshop: Workshop
    prepared: list[Prepared]
    proofs: list[MadeProof]
    press: list[str]
    catalogue: list[str]
    standings: list[StandingEntry]
    notices: list[str] = field(default_factory=list)  # what this run did, once
    always: list[str] = field(default_factory=list)  # what every run says while it stands

    def next_time(self) -> Built | None:
        """What the next build makes and says while nothing changes; None where only it can tell."""
        if self.notices or self.workshop.trouble != [*self.workshop.shop.faults]:
            return None
        following = replace(self, proofs=[])
        following.__dict__["_table"] = self._table
        return following

    @cached_property
    def _table(self) -> str:
        """Where every order stands."""
        return reports.orders_text(reports.orders_document(self.standings))

    @property
    def stopped(self) -> bool:
        """Whether an order that is still to be made has a finding in its way."""
        return any(RULES[State(s["state"])].stops for s in self.standings)

    @staticmethod
    def _why(made: MadeProof, explain: bool) -> str:
        return f" (proof {made.edition}: {made.why})" if explain else ""

    def _but(self) -> str:
        """What of site/ nobody means to be read on the web, while letters carry the proof."""
        if self.workshop.shop.settings.site or not (self.workshop.site / "p").is_dir():
            return ""
        return (
            ", but not p/ in it: private proof pages, which no letter leads to while shop.yaml has "
            "no site: (proofgen publish leaves them out)"
        )

    def lines(self, *, explain: bool = False) -> list[str]:
        """What is where, and the one next step of each order."""
        lines = [*self.catalogue]
        if self.proofs:
            lines += ["", "Private proof pages, each with its PDF:"]
            for p in self.proofs:
                lines += [f"  {p.order}: {p.page}" + self._why(p, explain)]
                lines += [f"    {line}" for line in p.says]
            lines += [f"Their letters: {self.workshop.workroom / 'letters'}"]
        if self.press:
            lines += ["", *self.press]
        lines += ["", self._table]
        if self.workshop.shop.settings.demo:
            lines += ["", *_DEMO]
        elif self.workshop.site.is_dir():
            lines += [
                "",
                f"Upload the folder {self.workshop.site}{self._but()}. Never upload workroom/ or "
                "records/.",
            ]
        lines += [*self.notices, *self.always]
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
        covered = cover(pages.home(workshop, token), proof.notice(page, workshop.shop, theme))
        if covered and workshop.shop.settings.site:
            uploads.append(f"Upload site/p/{token}/ and delete its other files there: {name}.")
    return uploads


def _is_open(workshop: Workshop, one: Prepared) -> bool:
    """Whether something is left to check."""
    row = known_standing(workshop, one.order.id, one)
    return row is not None and not RULES[State(row["state"])].closed


def build(workshop: Workshop) -> Built:
    """Check, prove, press and publish; one order's fault never keeps another from being built."""
    season_ahead(workshop)
    prepared = prepare_all(workshop, [], closed=True)
    booklet_ahead(workshop)
    known = {p.order.id: p for p in prepared}
    names, told = workshop.records.orders(), len(workshop.trouble)
    quiet = Quiet(workshop).among(known)
    rest = [name for name in names if name not in quiet]
    mending = pages.mend(workshop, rest, known)
    stirred = [one for one in prepared if one.order.id not in quiet]
    proofs = make_proofs_of(workshop, stirred)
    notices = pages.mended(workshop, mending)
    notices += gone(workshop, known)
    notices += take_back(workshop, names, prepared, made_anew=True)
    say_standing(workshop, known, [name for name in workshop.records.orders() if name not in quiet])
    if len(workshop.trouble) == told:
        done = [*notices, *(f"{made.order} " for made in proofs)]
        still = (one.order.id for one in stirred)
        Quiet(workshop).keep(name for name in still if not any(name in said for said in done))
    write_findings(workshop, [p for p in prepared if _is_open(workshop, p)])  # as proofs are now
    document = press_all(workshop, prepared, named=())
    season = make_catalogue(workshop)
    return Built(
        workshop=workshop,
        prepared=prepared,
        proofs=proofs,
        press=press_lines(workshop, document),
        catalogue=season,
        standings=standings(workshop, known)["orders"],
        notices=notices,
        always=[*pages.unknown_told(workshop), *named_aloud(workshop)],
    )
