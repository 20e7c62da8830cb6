"""Forgetting a customer: all that is theirs goes, and nothing is claimed that was not looked at."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path

from proofgen import store
from proofgen.errors import MachineError, ShopError, SignoffError, UsageError
from proofgen.pipeline import letters, pages, uploads
from proofgen.pipeline.marking import clear_it, known_order, notice_over
from proofgen.pipeline.orders import facts_of, forget_since
from proofgen.pipeline.tickets import forget_ticket, has_ticket
from proofgen.pipeline.workroom_pages import pages_about
from proofgen.press import SHARED, may_hold, owner_of
from proofgen.say import count, joined, quoted
from proofgen.shop.trees import Trees
from proofgen.signoff import EventKind
from proofgen.signoff.names import is_made_up
from proofgen.workshop import DRAFTS, WRITTEN, Workshop

_LET_GO = (EventKind.WITHDRAWN, EventKind.FORGOTTEN)
# Pages of the workroom that tell of many orders; each is made anew when it is asked for.
_OF_MANY = ("findings.json", "findings.html", "evening.html", "evening.pdf", "tally.html")
_MOST_TOLD = 8  # files of one sentence


def why_not_forget(workshop: Workshop, name: str) -> str:
    """Why an order's name is asked for before its data goes; '' where it is not: that it may go
    was said before, by hand or by the days of `keep:`.

    Errors: UsageError where there is no such order, ShopError where its photos lie elsewhere.
    """
    if _is_finished(workshop, name):
        return ""
    home = _folder_of(workshop, name)
    if home is None:
        _refuse_unknown(workshop, name)
    else:
        _refuse_links(home, name)
    try:
        facts = facts_of(workshop, name, None)
        if facts.rules.after in _LET_GO or forget_since(workshop, facts):
            return ""
        stands = facts.rules.stands
    except (SignoffError, UsageError):
        stands = "its records cannot be read"
    return (
        f"what goes of {name}, for good: its photos, words, proofs, answers, letters and press "
        f"sheets. Where it stands: {stands}"
    )


def _refuse_unknown(workshop: Workshop, name: str) -> None:
    """UsageError for a name that neither the folder nor the records have. No likely name is told:
    typed twice, the second `forget` would be led to another customer's order."""
    try:
        known_order(workshop, name)
    except UsageError as error:
        raise UsageError(
            f"{error.problem}, so nothing was forgotten",
            "`proofgen orders` lists them all; what was forgotten before stands there without its "
            "name, as order-…",
        ) from None


def _is_finished(workshop: Workshop, name: str) -> bool:
    """Whether this run brought to its end what another had begun and was stopped in."""
    return name in workshop.records.finished and _folder_of(workshop, name) is None


def _folder_of(workshop: Workshop, name: str) -> Path | None:
    """The order's folder, also of one that cannot be read."""
    home = workshop.folder / "orders"
    names = [path.name for path in home.iterdir()] if home.is_dir() else []
    return home / name if name in names and not name.startswith(".") else None


def _shown(path: Path) -> str:
    """A whole path, all of it visible."""
    return quoted(str(path), most=400)


# -- links ------------------------------------------------------------------------------------


def _links(path: Path) -> Iterator[Path]:
    """What leads out of an order's folder to something that is there: the folder itself, or what
    lies below it."""
    if store.is_link(path):
        if path.exists():
            yield path
    elif path.is_dir():
        for one in sorted(path.iterdir()):
            yield from _links(one)


def _refuse_links(home: Path, name: str) -> None:
    """ShopError where an order's photos really lie in another place: nothing outside the shop is
    ever deleted, and so they would stay."""
    inside = home.resolve()
    found = [p for p in _links(home) if p == home or not p.resolve().is_relative_to(inside)]
    if not found:
        return
    first, real = found[0], found[0].resolve()
    files = sum(p.is_file() for p in real.rglob("*")) if real.is_dir() else 1
    others = f"; so do {count(len(found) - 1)} more links of it" if found[1:] else ""
    shown = _shown(first.relative_to(home.parent.parent))
    raise ShopError(
        f"{shown} is a link: what it shows really lies in {_shown(real)} "
        f"({count(files)} {'file' if files == 1 else 'files'}){others}. proofgen deletes nothing "
        "there, so nothing was done",
        f"delete it there yourself, or, where it shall stay, delete the link alone; then: proofgen "
        f"forget {name}",
    )


# -- what goes --------------------------------------------------------------------------------


def _to_go(workshop: Workshop, name: str) -> Iterator[Path]:
    """What there is of an order beside its records and its page; photos' worked-out pictures are
    named by content, so all of those go."""
    home = _folder_of(workshop, name)
    if home is not None:
        yield home
    # An order that somebody began to type and left may be of the same person.
    folders = (workshop.store_folder, pages.beside(workshop, name), workshop.workroom / DRAFTS)
    yield from (folder for folder in folders if folder.exists())
    for part in ("letters", "press"):
        folder = workshop.workroom / part
        for path in folder.iterdir() if folder.is_dir() else ():
            if letters.is_of(path.name, name) or may_hold(path.name, name):
                yield path
    of_many = [workshop.workroom / page for page in _OF_MANY]
    of_many.append(uploads.copies_of(workshop))
    yield from (page for page in (*of_many, *pages_about(workshop, name)) if page.exists())


def _try(delete: Callable[[], object]) -> None:
    with suppress(MachineError):  # whatever it was: it is looked at again
        delete()


def _delete(path: Path) -> None:
    _try(lambda: (store.remove_folder if path.is_dir() else store.remove)(path))


def _left(workshop: Workshop, name: str, page: Path | None) -> list[Path]:
    """What is still there of all that had to go, half-deleted folders among it."""
    left = [*_to_go(workshop, name)]
    for part in WRITTEN:
        home = workshop.folder / part
        left += [p for p in (home.rglob("*") if home.is_dir() else ()) if store.is_half_gone(p)]
    if page and page.is_dir():
        left += [path for path in page.iterdir() if path.name != "index.html"]
    if has_ticket(workshop, name):
        left.append(workshop.workroom / "tickets.json")
    return left


def _claim(workshop: Workshop, name: str, left: list[Path]) -> None:
    """MachineError, naming what is left, where anything is."""
    if not left:
        return
    named = [_shown(p.relative_to(workshop.folder)) for p in left[:_MOST_TOLD]]
    if left[_MOST_TOLD:]:
        named.append(f"{count(len(left) - _MOST_TOLD)} more")
    raise MachineError(
        f"{name} is not forgotten yet: this could not be deleted: {joined(named)}",
        "close what has it open, and see that you may write there; or delete it yourself. Then "
        f"again: proofgen forget {name} --sure {name}",
    )


def forget(workshop: Workshop, name: str) -> str:
    """Remove a customer's data everywhere in the shop folder; the bare fact of the sale stays.

    Errors: MachineError, naming it, where anything is still there afterwards; ShopError where
    photos lie elsewhere; UsageError where there is no such order.
    """
    if _is_finished(workshop, name):
        return (
            f"{name} is forgotten: what a stopped run had begun is done now.\n"
            "    Next: proofgen orders, which tells what is to be deleted where your site is"
        )
    home, records = _folder_of(workshop, name), workshop.records
    if home is None:
        _refuse_unknown(workshop, name)
    else:
        _refuse_links(home, name)
    # The records come last: a run killed on the way leaves an order that can be forgotten again.
    page, lost, token = None, "", None
    listed = _still_listed(workshop, name)
    try:
        token = records.token(name)
        page = workshop.site / "p" / token if token else None
        _try(lambda: notice_over(workshop, name, EventKind.FORGOTTEN))
    except SignoffError:  # the records no longer tell which page is theirs
        lost = "look through site/p/ for its page and delete it, here and where you uploaded it"
    # A sheet shared with other orders goes too: it can be made again without this one.
    going = [*_to_go(workshop, name)]
    shared = sorted({p.name for p in going if p.parent.name == "press" and _is_shared(p)})
    workshop.trees = Trees()  # of the order's own words, which nothing may keep again
    workshop.by_order.let_go()
    for path in going:
        _delete(path)
    _try(lambda: forget_ticket(workshop, name))
    _claim(workshop, name, _left(workshop, name, page))
    one = records.names.id_of(name)
    _try(lambda: records.forget(name, workshop.now, page=token or ""))
    kept = [records.folder / name] * (records.folder / name).exists()
    _claim(workshop, name, kept + [records.names.path] * (one in records.names.by_id))
    if page and page.is_dir():
        lost = clear_it(workshop, page.relative_to(workshop.folder).as_posix(), one)
    says = [
        f"{name} is forgotten: photos, words, proofs and answers are gone from this folder.",
        *([f"    Next: {lost}"] if lost else []),
        *listed,
        *_really_in(workshop),
        "    Remove it from old backups and your mail, too.",
    ]
    if shared:
        says.append(
            f"    Sheets it shared with other orders went as well ({joined(shared)}); for the "
            "others: proofgen press"
        )
    if one != name:
        says.append(f"    In the records, and so in the list of orders, it is {one} from now on.")
    elif one in records.orders() and not is_made_up(one):
        says.append(
            f"    Its name “{name}” stays in the list of orders and in the records: an older "
            "version wrote it there, and no line of them can be changed."
        )
    return "\n".join(says)


def _is_shared(path: Path) -> bool:
    return owner_of(path.name) == SHARED


def _really_in(workshop: Workshop) -> list[str]:
    """Where parts of the shop are links, that what went lay at their ends."""
    parts = [workshop.folder / part for part in WRITTEN]
    return [
        f"    {part.name}/ is a link: what went of it lay in {_shown(part.resolve())}."
        for part in parts
        if store.is_link(part)
    ]


def _still_listed(workshop: Workshop, name: str) -> list[str]:
    """What to do about words of a customer's name that stand in the maker's own list."""
    order = workshop.shop.orders.get(name)
    own = {part.casefold() for line in workshop.shop.names or () for part in line.split()}
    said = order.customer.name.split() if order and not order.is_own else []
    listed = [f"“{part}”" for part in dict.fromkeys(said) if part.casefold() in own]
    if not listed:
        return []
    return [
        f"    Your list words/names.txt has {joined(listed)} of the customer’s name: take it out "
        "there, unless somebody else has that name."
    ]
