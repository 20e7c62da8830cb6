"""A theme: templates, style and script of one folder, put together as pages that load nothing."""

from __future__ import annotations

import base64
import functools
import hashlib
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import TypedDict

import yaml
from jinja2 import BaseLoader, Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from proofgen.errors import ShopError
from proofgen.render.house_text import safe_markdown
from proofgen.render.shipped import carried
from proofgen.say.safe import for_letter, for_page
from proofgen.say.tongue import Tongue

# What a page may load: its own pictures, and the very style and script that stand in it.
_POLICY = {
    "default-src": "'none'",
    "img-src": "'self' data:",
    "base-uri": "'none'",
    "form-action": "'none'",
}


def _source_of(text: str) -> str:
    """The CSP source expression for one inline block (CSP level 3, section 6.7.3.3)."""
    value = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
    return f"'sha256-{value}'"


def _inline(text: str, tag: str) -> Markup:
    if f"</{tag}" in text.lower():
        raise ValueError(f"a {tag} block may not contain its own end")
    return Markup(text)


def theme_names() -> list[str]:
    """The names of the themes that ship."""
    return sorted(p.parent.name for p in carried("themes").glob("*/theme.yaml"))


class _Facts(TypedDict, total=False):
    """A theme.yaml: the ground of pictures in the round ('#rrggbb'), and the theme that it stands
    on."""

    plate: str
    based_on: str


class Theme:
    """One theme for one shop's language and currency.

    A theme may stand on another (`based_on:`): what it lacks is taken from there. Errors: ShopError
    for a name that no theme has.
    """

    def __init__(self, name: str, language: str = "en", currency: str = "EUR") -> None:
        self.name, self.currency = name, currency
        self._folders: list[Path] = []
        self._facts = self._read(name)
        self.tongue = Tongue.of(language)  # sentences, dates and numbers follow it
        self.language = self.tongue.tag
        places = [folder / "templates" for folder in self._folders]
        self._pages = self._environment(FileSystemLoader(places))

    @property
    def plate(self) -> str:
        """The ground, '#rrggbb', that pictures in the round stand on: the theme's paper by day, a
        plate of that colour by night and on white paper."""
        return self._facts.get("plate", "#ffffff")

    def _read(self, name: str) -> _Facts:
        known = theme_names()
        if name not in known:
            raise ShopError(f"there is no theme “{name}”", f"choose one of: {', '.join(known)}")
        folder = carried("themes") / name
        facts: _Facts = yaml.safe_load((folder / "theme.yaml").read_text("utf-8"))
        self._folders.append(folder)
        if below := facts.get("based_on"):
            facts = {**self._read(below), **facts}
        return facts

    def _environment(self, loader: BaseLoader) -> Environment:
        environment = Environment(
            loader=loader,
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
            finalize=for_page,
            extensions=["jinja2.ext.i18n"],
        )
        environment.install_gettext_callables(  # type: ignore[attr-defined]
            self.tongue.message, self.tongue.messages, newstyle=True
        )
        environment.filters.update(
            date=self.date,
            day=self.tongue.day,
            money=self.money,
            number=self.tongue.number,
            mm=self.mm,
            markdown=safe_markdown,
            one_line=lambda text: for_letter(str(text)),
        )
        return environment

    @functools.cached_property
    def digest(self) -> str:
        """SHA-256 over every file of the theme, hex: changes when a page might."""
        total = hashlib.sha256(self.language.encode() + self.currency.encode())
        for folder in self._folders:
            for path in sorted(p for p in folder.rglob("*") if p.is_file()):
                total.update(path.read_bytes())
        total.update(self.tongue.catalogue)
        return total.hexdigest()

    def date(self, day: date, long: bool = True) -> str:
        """A date in the theme's language."""
        return self.tongue.date(day, long)

    def money(self, amount: Decimal, currency: str | None = None) -> str:
        """An amount in the shop's currency, or in `currency`."""
        return self.tongue.money(amount, currency or self.currency)

    def mm(self, value: float, places: int = 1) -> str:
        """A length in mm."""
        return self.tongue.mm(value, places)

    def _file(self, name: str) -> Path:
        """A file of the theme, or of the theme it stands on."""
        for folder in self._folders:
            if (folder / name).is_file():
                return folder / name
        raise FileNotFoundError(f"theme {self.name} has no {name}")

    def _text(self, names: Sequence[str], ending: str) -> str:
        """Files of the theme, one after the other."""
        texts = (self._file(name + ending).read_text("utf-8").strip() for name in names)
        return "\n".join(texts) + "\n"

    def render(
        self,
        template: str,
        *,
        styles: Sequence[str] = ("base",),
        own_style: str = "",
        scripts: Sequence[str] = (),
        private: bool = False,
        allow: Mapping[str, str] | None = None,
        **context: object,
    ) -> str:
        """A page from a template that extends `page.html` (or, for a PDF, `sheet.html`).

        `own_style` is style of this one page, after the sheets `styles`. `private` keeps it out of
        search engines. `allow` adds to the policy of what the page may load, for example
        {"img-src": "blob:"}.
        """
        style = self._text(styles, ".css") + own_style
        script = self._text(scripts, ".js") if scripts else ""
        return self._pages.get_template(template).render(
            style=_inline(style, "style"),
            script=_inline(script, "script"),
            policy=_policy(style, script, allow or {}),
            private=private,
            language=self.language,
            runs=self.tongue.runs,
            theme=self.name,
            **context,
        )


def _policy(style: str, script: str, allow: Mapping[str, str]) -> str:
    policy = dict(_POLICY)
    policy["style-src"] = _source_of(style)
    if script:
        policy["script-src"] = _source_of(script)
    for kind, more in allow.items():
        before = policy.get(kind, "'none'")
        policy[kind] = more if before == "'none'" else f"{before} {more}"
    return "; ".join(f"{kind} {value}" for kind, value in policy.items())
