"""The catalogue's files in site/: written, told, and what is no longer shown put away."""

from __future__ import annotations

from collections.abc import Container, Iterable

from proofgen import catalogue, store
from proofgen.errors import MachineError
from proofgen.pipeline.at_fault import pages_left, unshown
from proofgen.pipeline.cards import in_no_season, names_alike, without_samples
from proofgen.pipeline.crew import crew_for, crew_there
from proofgen.pipeline.hosts import is_ours, write_for_hosts
from proofgen.pipeline.season_days import current_season, undecided
from proofgen.pipeline.seasons import season_content, season_files
from proofgen.pipeline.stall import write_stall
from proofgen.pipeline.surroundings import surroundings
from proofgen.say import plural, quoted
from proofgen.workshop import Workshop


def make_catalogue(workshop: Workshop) -> list[str]:
    """Publish the season below site/; sentences that tell where it is."""
    chosen = current_season(workshop)
    if chosen is None:
        if fault := undecided(workshop):
            workshop.trouble.append(fault)
            return []
        return [
            "There is no season yet, so no catalogue. The guide shows how to write one, under "
            "“Seasons and the catalogue”: proofgen guide --open"
        ]
    season, why = chosen
    if crew := crew_there(workshop):
        crew.finish("design", "booklet")
    content = season_content(workshop, season)
    at_fault = unshown(workshop, season, [entry.id for entry in content.entries])
    if at_fault and not content.entries:
        return [f"None of {season.id}’s designs can be shown, so the catalogue stays as it was."]
    workshop.say("catalogue: pages and PDF")
    try:
        files = season_files(workshop, content, _feed_before(workshop))
    except MachineError as error:
        workshop.trouble.append(error)
        files = season_files(workshop, content, _feed_before(workshop), with_pdf=False)
    left = pages_left(workshop, at_fault)
    _publish(workshop, files, {name for names in left.values() for name in names})
    workshop.store.keep(_MADE, "", surroundings(workshop).shared.encode())
    workshop.store.keep(_SHOWN, "", surroundings(workshop).shown.encode())
    count = plural(len(content.entries), "design")
    told = {"soon": "to come", "past": "over", "now": "also now"}
    sentences = [
        f"Catalogue: site/index.html ({count})",
        f"    Its season is {season.id}: {why}.",
        *(f"    {told[one.when]}: site/{one.address}" for one in content.issues[1:]),
    ]
    if catalogue.PDF_NAME in files:
        sentences.append(f"Catalogue to print: site/{catalogue.PDF_NAME}")
        sentences += write_stall(workshop, content)
    sentences += [f"{name} cannot be shown now; its page stays as it was." for name in left]
    sentences += [*without_samples(workshop, season), *names_alike(workshop)]
    sentences += in_no_season(workshop, season)
    return [*sentences, *_foreign_told(workshop, files)]


def _feed_before(workshop: Workshop) -> bytes:
    """The feed that was written last; none where the maker wrote one."""
    path = workshop.site / catalogue.FEED
    return path.read_bytes() if path.is_file() and is_ours(path) else b""


_MADE, _SHOWN = "season made/1", "season shown/1"


def _is_made(workshop: Workshop) -> bool:
    """Whether an earlier run made the season from the same files on the same day."""
    return workshop.store.recall(_MADE, "") == surroundings(workshop).shared.encode()


def is_older(workshop: Workshop) -> bool:
    """Whether designs, blanks, season, words or shop.yaml changed since the catalogue was made."""
    made = workshop.store.recall(_SHOWN, "")
    return made is not None and made != surroundings(workshop).shown.encode()


def season_ahead(workshop: Workshop) -> None:
    """Ask for the season's designs to be drawn side by side, where no earlier run drew them."""
    chosen = current_season(workshop)
    if chosen is None or _is_made(workshop):
        return
    designs = [name for name in chosen[0].designs if name in workshop.shop.designs]
    if crew := crew_for(workshop, len(designs)):
        for name in designs:
            crew.add("design", name)


def booklet_ahead(workshop: Workshop) -> None:
    """Ask for the season's booklet, once its designs were asked for."""
    chosen, crew = current_season(workshop), crew_there(workshop)
    if chosen and crew and not _is_made(workshop):
        crew.add("booklet", chosen[0].id)


_PARTS = ("pictures", "words", "fonts", "for")
_KEPT = ("designs", "seasons")  # whose addresses people keep
_PAGES = ("404.html", "blanks.html", "index.html")
PARTS = (*_PARTS, *_KEPT)  # the catalogue's folders in site/
_SEARCHED = (catalogue.FEED, catalogue.MAP)
# What hosts ask for is put there on purpose: _headers, robots.txt, .well-known, favicon.ico, CNAME.
_FOR_HOSTS = ("_", ".", "robots.txt", "favicon", "CNAME")


def ours_in_site(workshop: Workshop) -> set[str]:
    """What the catalogue has in site/ itself: folders and files; private pages are not among it."""
    files = (catalogue.PDF_NAME, catalogue.FEED, catalogue.MAP, *_PAGES)
    guide = ("guide",) if workshop.shop.settings.demo else ()  # which `proofgen demo` writes
    return {*PARTS, *files, *guide}


def _foreign_told(workshop: Workshop, files: Iterable[str]) -> list[str]:
    """What lies in site/ beside the catalogue and would be uploaded with it, for people."""
    ours = {"p", *ours_in_site(workshop), *(name.split("/")[0] for name in files)}
    there = sorted(path.name for path in workshop.site.iterdir())
    foreign = [name for name in there if name not in ours and not name.startswith(_FOR_HOSTS)]
    if not foreign:
        return []
    more = f" and {len(foreign) - 5} more" if len(foreign) > 5 else ""
    named = ", ".join(map(quoted, foreign[:5])) + more
    return [
        f"In site/ also, and not made by proofgen: {named}. Once it is uploaded everybody can "
        "read it; if it is not meant for that, move it out first."
    ]


def _publish(workshop: Workshop, files: dict[str, bytes], left: Container[str]) -> None:
    """Pictures first, pages after, and only then what no page shows any longer is removed, but for
    what is `left` as it is. A page that people may have kept the address of says that it is
    gone."""
    for name, content in files.items():
        if name not in _SEARCHED or is_ours(workshop.site / name):
            store.write(workshop.site / name, content, private=False)
    settings = workshop.shop.settings
    gone = catalogue.gone_page(
        workshop.theme_for(None),
        {"shop_name": settings.name, "contact": settings.contact, "demo": settings.demo},
    )
    for part in PARTS:
        folder = workshop.site / part
        for path in sorted(folder.iterdir()) if folder.is_dir() else ():
            if f"{part}/{path.name}" in files or f"{part}/{path.name}" in left:
                continue
            if part in _KEPT and path.suffix == ".html":
                store.write(path, gone, private=False)
            else:
                store.remove(path)
    for name in _SEARCHED:
        path = workshop.site / name
        if name not in files and path.is_file() and is_ours(path):
            store.remove(path)
    write_for_hosts(workshop)
