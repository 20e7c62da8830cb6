"""A season as pages: the front, its designs, occasions, seasons, pieces and house texts."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypedDict

from markupsafe import Markup

from proofgen.catalogue import feeds, told
from proofgen.catalogue.booklet import season_sheets
from proofgen.catalogue.content import Entry, Issue, SeasonContent
from proofgen.catalogue.fellows import Fellows
from proofgen.catalogue.finding import answers, finder
from proofgen.catalogue.order_form import ORDER_SCRIPTS, ORDER_STYLES, order_parts
from proofgen.catalogue.ordering import order_mail
from proofgen.catalogue.shared import FONTS, Occasion, Setting, text_title
from proofgen.render import Theme, html_to_pdf

PDF_NAME = "catalogue.pdf"
NOT_FOUND = "404.html"  # what hosts of plain files show where there is no page
STYLES = ("base", "catalogue")
# Scripts, in their order.
TRY_PHOTO = ("turntable", "photo-size", "fitting", "remembering", "try-photo")

Remember = Callable[[str, Callable[[], bytes]], bytes]


def build(
    content: SeasonContent,
    theme: Theme,
    *,
    with_pdf: bool = True,
    remember: Remember = lambda _, make: make(),
    feed_before: bytes = b"",
) -> dict[str, bytes]:
    """Every file of the catalogue by its address below the site's root; pictures come first.

    `remember` may give back the booklet it made from the same page before; `feed_before` is the
    last feed. MachineError when a PDF is wanted and this machine cannot make one.
    """
    files: dict[str, bytes] = {}
    for entry in (*content.entries, *content.elsewhere):
        for plate in entry.shown:
            files.update(plate.files)
        files.update(entry.fitting.files if entry.fitting else {})
        files.update(entry.model.files if entry.model else {})
        if content.site:  # messengers show a JPEG
            files[entry.plate.name] = entry.plate.content
    if content.scene:
        files.update(content.scene.files)
    if content.share and content.site:
        files.update(content.share.files)
    files.update({f"{FONTS}{name}": font for name, font in theme.font_files.items()})
    if with_pdf:
        page, plates = season_sheets(content, theme)
        files[PDF_NAME] = remember(
            page,
            lambda: html_to_pdf(page, plates, page_title=f"{content.title}, {content.shop_name}"),
        )
    setting = Setting(content, theme)
    for address, page in _pages(setting):
        files[address] = page.encode()
    files[NOT_FOUND] = _not_found(setting).encode()
    if content.site:
        files[feeds.FEED] = feeds.feed(content, theme.language, feed_before)
        doubled = [one.address for one in content.issues[:1]]
        files[feeds.MAP] = feeds.sitemap(content, ["index.html", *files], doubled)
    files["index.html"] = _front(setting, "index.html", with_pdf).encode()
    return files


def _front(setting: Setting, address: str, with_pdf: bool) -> str:
    """The season that is shown: at the root, and the same at the address it keeps for ever."""
    root, content = "../" * address.count("/"), setting.content
    asked = finder(content, setting.occasions, setting.tongue)
    return setting.theme.render(
        "season.html",
        styles=(*STYLES, "find") if asked else STYLES,
        scripts=("find",) if asked else (),
        with_pdf=with_pdf,
        finder=asked,
        answers={e.id: answers(e, setting.good_for(e)) for e in content.entries} if asked else {},
        about=told.about(
            content,
            root,
            address,
            f"{content.title}, {content.shop_name}",
            (content.sentence, content.text),
            data=told.collection(content, content.title, content.entries, "index.html"),
            stands="index.html",
        ),
        **setting.shared(root, address),
    )


def _pages(setting: Setting) -> Iterator[tuple[str, str]]:
    """Every page but the front, with its address."""
    content = setting.content
    fellows = Fellows(content.entries)
    for entry in content.entries:
        yield _design(setting, entry, fellows)
    for issue in content.issues[1:]:
        for entry in issue.entries:
            if entry in content.elsewhere:
                yield _design(setting, entry, fellows, issue)
        yield _issue(setting, issue)
    if content.issues:
        address = content.issues[0].address
        yield address, _front(setting, address, with_pdf=False)
    for occasion in setting.occasions:
        yield _occasion(setting, occasion)
    for name, text in content.texts.items():
        yield _words(setting, name, text)
    yield _things(setting)


def _words(setting: Setting, name: str, text: str) -> tuple[str, str]:
    """A house text."""
    content, address = setting.content, f"words/{name}.html"
    title, body = text_title(name, text, setting.tongue)
    return address, setting.theme.render(
        "text.html",
        styles=STYLES,
        title=title,
        text=body,
        about=told.about(content, "../", address, f"{title}, {content.shop_name}", (body, title)),
        **setting.shared("../", address),
    )


def _design(
    setting: Setting, entry: Entry, fellows: Fellows, issue: Issue | None = None
) -> tuple[str, str]:
    """A design's page; one of another season (`issue`) says which, and what is over is not
    ordered."""
    content, theme, address = setting.content, setting.theme, f"designs/{entry.id}.html"
    is_past = issue is not None and issue.when == "past"
    closed = is_past or entry.sold_out
    form = None if closed else entry.form
    return address, theme.render(
        "design.html",
        styles=(
            *STYLES,
            *(("try-photo",) if entry.fitting else ()),
            *(ORDER_STYLES if form else ()),
        ),
        scripts=tuple(
            dict.fromkeys((*(TRY_PHOTO if entry.fitting else ()), *(ORDER_SCRIPTS if form else ())))
        ),
        **order_parts(form, content.contact, content.answer_days + content.lead_days, theme),
        entry=entry,
        issue=issue,
        order="" if closed else order_mail(content.contact, entry, setting.tongue),
        good_for=setting.good_for(entry),
        related=fellows.of(entry),
        drawn=setting.drawn,
        about=told.about(
            content,
            "../",
            address,
            f"{entry.title}, {content.shop_name}",
            (entry.text, entry.title),
            picture=entry.plate,
            data=told.product(content, entry, is_past),
        ),
        **setting.shared("../", address),
    )


def _issue(setting: Setting, issue: Issue) -> tuple[str, str]:
    """A season that is to come, over, or sold beside the one that is shown."""
    content = setting.content
    title = f"{issue.title}, {content.shop_name}"
    return issue.address, setting.theme.render(
        "issue.html",
        styles=STYLES,
        issue=issue,
        about=told.about(
            content,
            "../",
            issue.address,
            title,
            (issue.sentence, issue.text, issue.title),
            data=told.collection(content, issue.title, issue.entries, issue.address),
        ),
        **setting.shared("../", issue.address),
    )


def _occasion(setting: Setting, occasion: Occasion) -> tuple[str, str]:
    """All that is good for one thing, for those who came for that."""
    content, tongue = setting.content, setting.tongue
    designs = tongue.joined([entry.title for entry in occasion.entries])
    says = tongue("Good for {occasions}", occasions=occasion.name)
    return occasion.address, setting.theme.render(
        "occasion.html",
        styles=STYLES,
        occasion=occasion,
        others=setting.others,
        about=told.about(
            content,
            "../",
            occasion.address,
            f"{occasion.name}, {content.shop_name}",
            (f"{says}: {designs}.", content.sentence),
            data=told.collection(content, occasion.name, occasion.entries, occasion.address),
        ),
        **setting.shared("../", occasion.address),
    )


def _things(setting: Setting) -> tuple[str, str]:
    """What is printed on."""
    content, tongue, address = setting.content, setting.tongue, "blanks.html"
    title = tongue("What we print on")
    return address, setting.theme.render(
        "blanks.html",
        styles=(*STYLES, "blanks"),
        cards=[(card, Markup(card.drawing)) for card in content.blanks],
        about=told.about(
            content,
            "",
            address,
            f"{title}, {content.shop_name}",
            (f"{title}: {told.piece_names(content, tongue)}.", content.sentence),
        ),
        **setting.shared("", address),
    )


def _not_found(setting: Setting) -> str:
    """For an address where nothing is, so its own links begin at the host."""
    return setting.theme.render(
        "not-found.html",
        styles=STYLES,
        private=True,
        **setting.shared(told.root_of(setting.content), NOT_FOUND),
    )


class Gone(TypedDict):
    shop_name: str
    contact: str
    demo: bool


def gone_page(theme: Theme, told_of: Gone) -> bytes:
    """What stands where a page was whose address people may have kept; one folder below the root.
    It names nothing of what was there."""
    page = theme.render("gone.html", styles=STYLES, private=True, **told_of)
    return page.encode()
