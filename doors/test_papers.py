"""Every paper of the examples through three outside checkers (`make papers-check`): no error is let through.

HTML: the Nu checker (vnu-jar, needs Java) and axe-core in Chromium, at the width of a phone and of a desk.
PDF: outloud, the rules of PDF/UA-1 (Matterhorn Protocol). Its own guesses beyond the standard are left out: they count
a running head, which PDF/UA wants outside the text, as lost, and the groups of a table as shredded heads.
"""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path
from urllib.parse import unquote

import pytest

from circuitcheck.paper.form_page import form_page_text
from circuitcheck.sheets.survey_form import survey_form
from circuitcheck.tables.rulebook import vocabulary
from doors.conftest import ROOT
from tests.note.build import gallery, noted
from tests.sheets.build import bytes_of, example, plan, survey

EXAMPLES = sorted(path.name.removesuffix(".circuit.toml") for path in (ROOT / "examples").glob("*.circuit.toml"))
TOOLS = ROOT / "build" / "papers" / "node_modules"
AXE, NU = TOOLS / "axe-core" / "axe.min.js", TOOLS / "vnu-jar" / "build" / "dist" / "vnu.jar"
HOW = "make papers-check"
WIDTHS = (390, 1100)

#: The Nu checker knows no hash in a page's policy, by which the form lets its own script in and no other.
OWN_SCRIPT = "Inline script violates Content Security Policy"

#: Puts what axe-core finds into the page, since a headless page has no other way to tell.
PROBE = """<script>{axe}</script><script>
axe.run(document, {{ resultTypes: ["violations"] }}).then(
  (found) => tell({{ passes: found.passes.length, violations: found.violations.map((one) =>
    one.id + ": " + one.help + ": " + one.nodes.slice(0, 3).map((node) => node.html.slice(0, 120)).join(" | ")) }}),
  (error) => tell({{ passes: 0, violations: ["axe-core itself: " + error] }}));
function tell(found) {{ document.documentElement.dataset.found = encodeURIComponent(JSON.stringify(found)); }}
</script></body>"""


@pytest.fixture(scope="module")
def papers(tmp_path_factory) -> dict[str, Path]:
    """Every paper of every example, of sixty lights and of no file at all: as HTML and, but for the forms, as PDF."""
    outlines = {"survey, blank": survey(), "note of sixty lights": noted(gallery(60, alike=False)).outline}
    forms = {"form, blank": survey_form(None, vocabulary(), tool="circuitcheck 0.0")}
    for name in EXAMPLES:
        built = example(name)
        outlines |= {f"note, {name}": noted(built).outline, f"plan, {name}": plan(built)}
        outlines[f"survey, {name}"] = survey(built)
        forms[f"form, {name}"] = survey_form(built, vocabulary(), tool="circuitcheck 0.0", file=name, digest="ab" * 32)
    folder = tmp_path_factory.mktemp("papers")
    written = {
        f"{name}{ending}": bytes_of(one, ending) for name, one in outlines.items() for ending in (".html", ".pdf")
    }
    written |= {f"{name}.html": form_page_text(page).encode("utf-8") for name, page in forms.items()}
    for name, data in written.items():
        (folder / name).write_bytes(data)
    return {name: folder / name for name in written}


def nu_errors(java: str, pages: list[Path]) -> list[str]:
    """What the Nu checker says about these pages, one line each; warnings too."""
    command = [java, "-jar", str(NU), "--format", "gnu", "--exit-zero-always", *map(str, pages)]
    return subprocess.run(command, capture_output=True, text=True, timeout=300, check=True).stderr.splitlines()


def axe_found(chromium: str, page: Path, width: int, folder: Path) -> dict[str, list[str] | int]:
    """What axe-core finds on the page in a window of that width. The page's policy, which lets no script in, is off."""
    text = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", page.read_text("utf-8"))
    probed = folder / "probed.html"
    probed.write_text(text.replace("</body>", PROBE.format(axe=AXE.read_text("utf-8"))), "utf-8")
    command = [chromium, "--headless=new", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder / 'profile'}"]
    command += [f"--window-size={width},1000", "--virtual-time-budget=20000", "--dump-dom", probed.as_uri()]
    shown = subprocess.run(command, capture_output=True, text=True, timeout=180, check=True)
    told = re.search(r'data-found="([^"]*)"', shown.stdout)
    assert told is not None, f"{page.name}: axe-core gave no answer: {shown.stderr[-500:]}"
    found: dict[str, list[str] | int] = json.loads(unquote(told[1]))
    return found


def tool(path: Path) -> None:
    """Skips the trial where the tool of the npm registry is not there."""
    if not path.is_file():
        pytest.skip(f"{path.name} is not installed: {HOW}")


def test_nu_finds_nothing(papers, needs, tmp_path) -> None:
    tool(NU)
    java = needs("java", "apt-get install default-jre-headless")
    found = nu_errors(java, [path for path in papers.values() if path.suffix == ".html"])
    assert [one for one in found if OWN_SCRIPT not in one] == []
    wrong = tmp_path / "wrong.html"
    wrong.write_text('<!DOCTYPE html><html lang="en"><title>wrong</title><p id="a"><p id="a"></html>', "utf-8")
    assert nu_errors(java, [wrong])


@pytest.mark.parametrize("width", WIDTHS)
def test_axe_finds_nothing(papers, needs, tmp_path, width) -> None:
    tool(AXE)
    chromium = needs("chromium", "apt-get install chromium")
    for name, path in papers.items():
        if path.suffix == ".html":
            found = axe_found(chromium, path, width, tmp_path)
            assert found["violations"] == [], name
            assert found["passes"] > 10, name
    wrong = tmp_path / "wrong.html"
    wrong.write_text("<!DOCTYPE html><html><title>wrong</title><body><input></body></html>", "utf-8")
    assert axe_found(chromium, wrong, width, tmp_path)["violations"]


def test_every_pdf_keeps_to_pdf_ua(papers, needs, tmp_path) -> None:
    outloud = needs("outloud", HOW)
    pages = [str(path) for path in papers.values() if path.suffix == ".pdf"]
    command = [outloud, "--layer", "conformance", "--fail-on", "error", "--json"]
    report = tmp_path / "report.json"
    done = subprocess.run([*command, str(report), *pages], capture_output=True, text=True, timeout=600)
    results = json.loads(report.read_text("utf-8"))["results"]
    assert len(results) == len(pages)
    found = {one["path"]: [finding for finding in one["findings"] if finding["severity"] == "error"] for one in results}
    assert {path: errors for path, errors in found.items() if errors} == {}
    assert not any(one["error"] for one in results)
    assert done.returncode == 0, done.stdout
    assert subprocess.run([*command, str(report), str(untagged(tmp_path))], capture_output=True, timeout=60).returncode


def untagged(folder: Path) -> Path:
    """A PDF without tags, title and language, so that the check is seen to find something."""
    from pypdf import PdfWriter

    writer = PdfWriter()
    writer.add_blank_page(612, 792)
    writer.write(folder / "untagged.pdf")
    return folder / "untagged.pdf"
