"""Search engines: nothing private is to be listed, and nothing that everybody reads names it."""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

import pytest

from proofgen.signoff import Records
from tests.cli.small import files, make_shop, run, write
from tests.guide.reading import HOUSE, fences

SEASONS = HOUSE / "content" / "guide" / "09-seasons.md"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    made = make_shop(tmp_path / "shop", "fenn", season=True)
    run(made, "-q", "build").ended(0)
    return made


def sent(rules: str, address: str) -> dict[str, str]:
    """What a host that reads `_headers` sends with an address: after a line with a pattern,
    indented lines with a name and a value each."""
    fields: dict[str, str] = {}
    holds = False
    for line in rules.splitlines():
        if not line.startswith((" ", "#")):
            holds = bool(re.fullmatch(re.escape(line).replace(r"\*", ".*"), address))
        elif holds and line.startswith(" "):
            name, _, value = line.strip().partition(": ")
            fields[name] = value
    return fields


@pytest.mark.parametrize("below", ["", "/shop"])
def test_a_proof_s_pdf_is_sent_with_noindex(shop: Path, below: str) -> None:
    text = (shop / "shop.yaml").read_text("utf-8")
    write(
        shop / "shop.yaml",
        text.replace("puffinyard.example\npaper", f"puffinyard.example{below}\npaper"),
    )
    run(shop, "-q", "build").ended(0)
    rules = (shop / "site" / "_headers").read_text("utf-8")
    private = [name for name in files(shop / "site") if name.startswith("p/")]
    assert any(name.endswith(".pdf") for name in private)
    for name in files(shop / "site"):
        says = sent(rules, f"{below}/{name}").get("X-Robots-Tag", "")
        assert ("noindex" in says) == (name in private), name
    page = (shop / "site" / "p" / ".htaccess").read_text("utf-8")
    assert 'Header set X-Robots-Tag "noindex' in page.partition("<IfModule mod_headers.c>")[2]


def test_what_is_named_by_its_contents_may_be_kept_and_nothing_else(shop: Path) -> None:
    """A file whose address can come to hold something else must be asked for again."""
    rules = (shop / "site" / "_headers").read_text("utf-8")
    for name, content in files(shop / "site").items():
        kept = "immutable" in sent(rules, f"/{name}").get("Cache-Control", "")
        digest = hashlib.sha256(content).hexdigest()
        assert kept == name.startswith(("pictures/", "fonts/")), name
        assert not kept or digest[:16] in name, name
    assert any(name.startswith("pictures/") for name in files(shop / "site"))


def test_the_guide_s_rule_for_apache_keeps_the_same_for_as_long(shop: Path) -> None:
    """mod_headers' `Header set` inside `<If>`, which compares with a pattern (Apache 2.4)."""
    ((_, rule),) = [one for one in fences(SEASONS) if one[0] == "apache"]
    (pattern,) = re.findall(r'^<If "%\{REQUEST_URI\} =~ m#(.+)#">$', rule, re.M)
    (kept,) = re.findall(r'^Header set Cache-Control "(.+)"$', rule, re.M)
    rules = (shop / "site" / "_headers").read_text("utf-8")
    for below in ("", "/shop"):
        for name in files(shop / "site"):
            here = kept if re.search(pattern, f"{below}/{name}") else ""
            assert here == sent(rules, f"/{name}").get("Cache-Control", ""), name
    write(shop / "site" / ".htaccess", rule)
    run(shop, "-q", "build").ended(0)
    run(shop, "publish").ended(0)
    assert (shop / "site" / ".htaccess").read_text("utf-8") == rule
    assert (shop / "workroom/upload/changed/.htaccess").read_text("utf-8") == rule


def test_what_everybody_reads_names_no_proof(shop: Path) -> None:
    token = str(Records(shop / "records").token("fenn"))
    site = files(shop / "site")
    for name in (
        "robots.txt",
        "_headers",
        "p/.htaccess",
        "p/index.html",
        "index.html",
        "sitemap.xml",
        "feed.xml",
    ):
        assert token.encode() not in site[name], name
    assert {"sitemap.xml", "feed.xml"} <= set(site)
    robots = site["robots.txt"].decode()
    assert "\nSitemap: https://puffinyard.example/sitemap.xml\n" in robots
    assert "/p/" not in robots and re.search(r"(?m)^Disallow:$", robots), "noindex must be read"


def test_a_robots_txt_that_names_one_is_told(shop: Path) -> None:
    token = Records(shop / "records").token("fenn")
    mine = f"User-agent: *\nDisallow: /p/{token}/\n"
    write(shop / "site" / "robots.txt", mine)
    told = run(shop, "-q", "build").ended(0).out
    assert "site/robots.txt names the address of a private page" in told
    assert (shop / "site" / "robots.txt").read_text("utf-8") == mine, "the maker's own stays"


@pytest.mark.parametrize("name", ["robots.txt", "_headers", "p/.htaccess"])
def test_the_maker_s_own_files_stay_and_lost_ones_come_back(shop: Path, name: str) -> None:
    path = shop / "site" / name
    ours = path.read_bytes()
    path.unlink()
    run(shop, "-q", "build").ended(0)
    assert path.read_bytes() == ours
    path.write_text("", "utf-8")  # as who does not want it writes it
    run(shop, "-q", "build").ended(0)
    assert path.read_bytes() == b""
    assert "know nothing of" not in run(shop, "-q", "build").out
