"""Builds the docs as a site with search, build/site, and follows every link in it. Run: make site

The generator is zensical. It gets a copy of the pages in the folders in which they stand, so that links between them
stay as they are; what is a folder in the clone (examples, tables) gets a page of its own.
"""

from __future__ import annotations

import inspect
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import circuitcheck
from circuitcheck import api
from circuitcheck.circuit.keys import SECTIONS
from circuitcheck.rules import ALL_RULES

ROOT = Path(__file__).parents[1]
BUILD = ROOT / "build"
SOURCE = BUILD / "site-source"
SITE = BUILD / "site"

#: Titles and pages, in the order of the menu; a list is a part of it.
PAGES: dict[str, str | dict[str, str]] = {
    "Start": "index.md",
    "Safety": "SAFETY.md",
    "The screens": "docs/screens.md",
    "Commands": "docs/commands.md",
    "Examples": "examples/index.md",
    "From Python": {"Guide": "docs/python.md", "Reference": "docs/python-reference.md"},
    "Sources": {
        "What is covered": "docs/what-is-covered.md",
        "Rule by edition": "docs/rule-by-edition.md",
        "Tables": "docs/tables.md",
        "Words": "docs/words.md",
    },
    "For contributors": {"Guide": "DEVELOPERS.md", "Changes": "CHANGELOG.md"},
}

#: Links to what has no page of its own in the clone.
ELSEWHERE = {
    r"\]\((?:\.\./)*README\.md": "](/index.md",
    r"\]\((?:\.\./)*tables/?\)": "](/docs/tables.md)",
    r"\]\((?:\.\./)*examples/?\)": "](/examples/index.md)",
}

CONFIGURATION = """\
[project]
site_name = "circuitcheck"
site_description = "Do new hardwired lights fit on the lighting circuit that is already there?"
docs_dir = {source!r}
site_dir = {site!r}
use_directory_urls = false
nav = {nav}

[project.theme]
language = "en"
font = false
features = ["navigation.footer", "navigation.indexes", "navigation.top", "search.highlight", "content.code.copy"]

[[project.theme.palette]]
media = "(prefers-color-scheme: light)"
scheme = "default"
toggle.icon = "lucide/sun"
toggle.name = "Dark"

[[project.theme.palette]]
media = "(prefers-color-scheme: dark)"
scheme = "slate"
toggle.icon = "lucide/moon"
toggle.name = "Light"

[project.markdown_extensions]
md_in_html = {{}}
tables = {{}}
toc.permalink = true
pymdownx.highlight.pygments_lang_class = true
pymdownx.superfences = {{}}
"""


def lay_out() -> None:
    """Copy the pages and what they show into SOURCE, and make the pages that the clone has as folders."""
    shutil.rmtree(SOURCE, ignore_errors=True)
    SOURCE.mkdir(parents=True)
    for page in ROOT.glob("*.md"):
        shutil.copy(page, SOURCE / ("index.md" if page.name == "README.md" else page.name))
    for folder in ("docs", "examples"):
        shutil.copytree(ROOT / folder, SOURCE / folder)
    (SOURCE / "examples" / "index.md").write_text(examples_page(), "utf-8")
    (SOURCE / "docs" / "python-reference.md").write_text(reference_page(), "utf-8")
    for page in SOURCE.rglob("*.md"):
        up = "../" * (len(page.relative_to(SOURCE).parts) - 1)
        text = page.read_text("utf-8")
        for pattern, target in ELSEWHERE.items():
            text = re.sub(pattern, target.replace("](/", f"]({up}"), text)
        page.write_text(text, "utf-8")


def examples_page() -> str:
    """The example files in full, with the notes made from them."""
    lines = ["# Examples", "", "Invented houses, each with its circuit file.", ""]
    for file in sorted((ROOT / "examples").glob("*.circuit.toml")):
        name = file.name.removesuffix(".circuit.toml")
        lines += [f"## {name.replace('-', ' ').capitalize()}", ""]
        notes = [note for note in sorted((ROOT / "examples").glob(f"{name}.note.*")) if note.suffix != ".md"]
        if notes:
            shown = ", ".join(f"[{note.suffix[1:]}]({note.name})" for note in notes)
            lines += [f"The note made from it: [text]({name}.note.md), {shown}.", ""]
        lines += [f"[{file.name}]({file.name})", "", "```toml", file.read_text("utf-8").rstrip("\n"), "```", ""]
    return "\n".join(lines)


def reference_page() -> str:
    """Every promised name with its signature and what its docstring says."""
    lines = [
        "# Reference",
        "",
        "Every name that `import circuitcheck` promises. [The guide](python.md) shows their use.",
        "",
    ]
    for name in api.__all__:
        thing = getattr(circuitcheck, name)
        lines += entry(name, thing, "##")
        if inspect.isclass(thing):
            for inner, member in vars(thing).items():
                public = not inner.startswith("_") and (inspect.isfunction(member) or hasattr(member, "__doc__"))
                documented = inspect.isfunction(member) or isinstance(member, property) or hasattr(member, "attrname")
                if public and documented:
                    lines += entry(f"{name}.{inner}", member, "###")
    return "\n".join(lines)


def entry(name: str, thing: object, mark: str) -> list[str]:
    """A name with its signature and its docstring."""
    try:
        signature = str(inspect.signature(thing)) if callable(thing) else ""  # type: ignore[arg-type]
    except ValueError:
        signature = ""
    signature = re.sub(r"circuitcheck\.[a-z_.]+\.", "", signature.replace("'", ""))
    said = inspect.getdoc(thing) or ""
    return [f"{mark} {name}", "", f"```python\n{name}{signature}\n```", "", said.replace("``", "`"), ""]


def navigation() -> str:
    """The menu as TOML."""
    parts = [*PAGES.items()]
    sections = {"The circuit file": "docs/circuit-file.md"}
    sections |= {section.title: f"docs/circuit-file/{name}.md" for name, section in SECTIONS.items()}
    parts.insert(2, ("The circuit file", sections))
    checks = {"All checks": "docs/checks/index.md"}
    checks |= {rule.name: f"docs/checks/{rule.name}.md" for rule in ALL_RULES}
    parts.insert(5, ("Checks", checks))
    lines = []
    for title, where in parts:
        if isinstance(where, dict):
            inner = ", ".join(f"{{ {name!r} = {page!r} }}" for name, page in where.items())
            lines.append(f"  {{ {title!r} = [{inner}] }},")
        else:
            lines.append(f"  {{ {title!r} = {where!r} }},")
    return "\n".join(["[", *lines, "]"])


class Links(HTMLParser):
    """What a page leads to and loads, and the places in it that can be led to."""

    def __init__(self, text: str) -> None:
        """Read the page."""
        super().__init__()
        self.targets: list[str] = []
        self.loaded: list[str] = []
        self.places: set[str] = set()
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note the links of one tag."""
        given = dict(attrs)
        self.places |= {value for name in ("id", "name") if (value := given.get(name))}
        if tag == "a" and given.get("href"):
            self.targets.append(given["href"] or "")
        source = given.get("src") or (given.get("href") if tag == "link" and given.get("rel") != "canonical" else "")
        if source:
            self.loaded.append(source)


def faults() -> Iterator[str]:
    """Every link of the built site that leads nowhere, and everything that a page would load from elsewhere."""
    pages = {page: Links(page.read_text("utf-8")) for page in SITE.rglob("*.html")}
    for page, links in pages.items():
        if page.name == "404.html" or page.name.endswith(".note.html"):
            continue
        shown = page.relative_to(SITE).as_posix()
        for link in links.loaded:
            parts = urlsplit(link)
            if parts.scheme not in ("", "data") or parts.netloc:
                yield f"{shown} loads {link}"
        for link in (*links.targets, *links.loaded):
            parts = urlsplit(link)
            if parts.scheme or parts.netloc:
                continue
            target = (page.parent / unquote(parts.path)).resolve() if parts.path else page
            if target.is_dir():
                target /= "index.html"
            if not target.is_file():
                yield f"{shown} leads to {link}, which is not there"
            elif parts.fragment and target in pages and unquote(parts.fragment) not in pages[target].places:
                yield f"{shown} leads to {link}, a place that is not there"


def main() -> int:
    """Build the site and follow its links. Returns the exit status."""
    lay_out()
    shutil.rmtree(SITE, ignore_errors=True)
    configuration = BUILD / "zensical.toml"
    given = {"source": SOURCE.name, "site": SITE.name, "nav": navigation()}
    configuration.write_text(CONFIGURATION.format(**given).replace("'", '"'), "utf-8")
    command = [str(Path(sys.executable).parent / "zensical"), "build", "--clean", "--config-file", configuration.name]
    built = subprocess.run(command, cwd=BUILD, check=False)  # noqa: S603  (our own command line)
    if built.returncode:
        return built.returncode
    found = list(faults())
    for fault in found:
        print(fault)
    pages = len(list(SITE.rglob("*.html")))
    print(f"{(SITE / 'index.html').relative_to(ROOT)}: {pages} pages, {len(found)} links that lead nowhere")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
