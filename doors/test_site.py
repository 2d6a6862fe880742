"""The docs site (`make site`): every page, every link followed, opened in Chromium, and the search has the words."""

from __future__ import annotations

import http.server
import subprocess
import threading
from functools import partial
from pathlib import Path

import pytest

from circuitcheck import api
from circuitcheck.rules import ALL_RULES
from making import make_site


@pytest.fixture(scope="module")
def site() -> Path:
    if not (make_site.SITE / "index.html").exists():
        pytest.skip("the site is not built: make site")
    return make_site.SITE


@pytest.fixture(scope="module")
def address(site):
    """The site served on this machine."""

    class Quiet(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *_: object) -> None:
            """Nothing is printed."""

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


def test_every_page_is_there(site) -> None:
    for rule in ALL_RULES:
        assert (site / "docs" / "checks" / f"{rule.name}.html").is_file()
    reference = (site / "docs" / "python-reference.html").read_text("utf-8")
    assert all(f">{name}<" in reference for name in api.__all__)


def test_every_link_leads_somewhere_and_nothing_is_loaded_from_elsewhere(site) -> None:
    assert list(make_site.faults()) == []


def test_a_dead_link_is_found(site, tmp_path, monkeypatch) -> None:
    page = tmp_path / "index.html"
    page.write_text('<p id="here"><a href="#here">1</a><a href="#gone">2</a><a href="gone.html">3</a>', "utf-8")
    with page.open("a", encoding="utf-8") as more:
        more.write('<script src="https://cdn.example/x.js"></script><a href="https://elsewhere.example/">4</a>')
    monkeypatch.setattr(make_site, "SITE", tmp_path)
    found = list(make_site.faults())
    assert len(found) == 3
    assert "cdn.example" in found[0]


def test_the_search_has_the_words_of_every_check(site) -> None:
    words = (site / "search.json").read_text("utf-8").lower()
    assert all(rule.name in words for rule in ALL_RULES)
    assert "clamps" in words


def test_it_opens_in_a_browser(address, needs, tmp_path) -> None:
    chromium = needs("chromium", "apt-get install chromium")
    options = ["--headless=new", "--no-sandbox", "--disable-gpu", f"--user-data-dir={tmp_path}", "--dump-dom"]
    for page, expected in (("index.html", "circuitcheck"), ("docs/checks/box-fill.html", "What it asks")):
        command = [chromium, *options, "--virtual-time-budget=5000", f"{address}/{page}"]
        shown = subprocess.run(command, capture_output=True, text=True, timeout=120).stdout
        assert expected in shown
        assert "Rule by edition" in shown
        assert "data-md-color-scheme" in shown
