"""The HTML: one file, nothing fetched, well formed, and the same in a real browser."""

import re
import shutil
import subprocess
import unicodedata

import pytest

from tests.note.build import example, gallery, noted, small
from tests.note.test_injection import Page

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")


@pytest.mark.parametrize("name", ["bedroom", "den", "hallway"])
def test_it_is_one_file_without_scripts_and_fetches_nothing(name):
    text = example(name).text(".html")
    assert not re.search(r"<(script|link|iframe|object|embed|img|audio|video|base|form)\b", text)
    assert not re.search(r"\bon\w+=", text)
    assert not re.search(r"@import|url\(", text)
    assert all(target.startswith("#") for target in re.findall(r'(?:src|href)="([^"]*)"', text))
    assert "default-src 'none'" in text


def test_language_title_and_viewport():
    text = example("den").text(".html")
    assert '<html lang="en-US">' in text
    assert "<title>A light over the bookcase: note for an electrician or inspector</title>" in text
    assert 'name="viewport"' in text


def test_elements_nest_and_ids_are_unique():
    text = example("hallway").text(".html")
    assert Page(text).open == []
    ids = re.findall(r'\bid="([^"]*)"', text)
    assert len(ids) == len(set(ids))
    for name in re.findall(r'aria-labelledby="([^"]*)"', text):
        assert set(name.split()) <= set(ids)


def test_headings_do_not_skip_and_tables_have_headers():
    text = example("hallway").text(".html")
    assert re.findall(r"<h(\d)", text)[0] == "1"
    assert set(re.findall(r"<h(\d)", text)) == {"1", "2"}
    for table in re.findall(r"<table.*?</table>", text, re.DOTALL):
        assert '<th scope="col"' in table
        assert '<th scope="row"' in table


def test_the_drawing_is_there_for_wide_and_for_narrow_windows():
    text = example("hallway").text(".html")
    assert text.count("<svg ") == 3  # and the squared paper, which says nothing
    assert text.count('role="img"') == 2


@pytest.mark.parametrize(("paper", "size"), [("letter", "letter"), ("a4", "A4")])
def test_it_prints_on_the_chosen_paper(paper, size):
    assert f"@page {{ size: {size};" in noted(small()).bytes(".html", paper).decode()


def test_two_hundred_loads():
    assert len(noted(gallery(200)).text(".html")) < 120_000


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
def test_a_browser_shows_it_without_complaint_and_without_sideways_scrolling(tmp_path):
    widths = (360, 1100)  # a phone and a desk
    page = tmp_path / "note.html"
    # The note itself runs no script: the policy is lifted and a probe added for this look only.
    text = example("hallway").text(".html")
    text = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text)
    probe = "<script>document.documentElement.dataset.wide = document.documentElement.scrollWidth</script></body>"
    page.write_text(text.replace("</body>", probe), "utf-8")
    frame = tmp_path / "frame.html"
    frames = "".join(
        f'<iframe id="f{width}" src="note.html" style="width:{width}px;height:900px;border:0"></iframe>'
        for width in widths
    )
    frame.write_text(
        f"<body>{frames}<script>window.onload = () => {{ for (const f of document.querySelectorAll('iframe'))"
        " document.body.dataset[f.id] = f.contentDocument.documentElement.dataset.wide }</script></body>",
        "utf-8",
    )
    run = subprocess.run(
        [CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--allow-file-access-from-files",
         "--enable-logging=stderr", "--virtual-time-budget=3000", "--dump-dom", frame.as_uri()],
        capture_output=True, text=True, timeout=120, check=True,
    )  # fmt: skip
    for width in widths:
        found = re.search(rf'<body[^>]* data-f{width}="(\d+)"', run.stdout)
        assert found, run.stdout[:500]
        assert int(found[1]) <= width, width
    assert "CONSOLE" not in run.stderr


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
def test_a_browser_prints_it(tmp_path):
    import pypdf

    page, printed = tmp_path / "note.html", tmp_path / "note.pdf"
    page.write_text(example("hallway").text(".html"), "utf-8")
    run = subprocess.run(
        [CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--enable-logging=stderr", "--no-pdf-header-footer",
         f"--print-to-pdf={printed}", page.as_uri()],
        capture_output=True, text=True, timeout=120, check=True,
    )  # fmt: skip
    assert "CONSOLE" not in run.stderr
    reader = pypdf.PdfReader(printed)
    for number, one in enumerate(reader.pages, 1):
        text = unicodedata.normalize("NFKC", " ".join(one.extract_text().split()))  # a font may join f and i
        assert "For review, not a certificate" in text
        assert f"page {number} of {len(reader.pages)}" in text
