"""The sheets in a real browser: at the width of a phone and of a desk nothing sticks out."""

import re
import shutil
import subprocess

import pytest

from tests.sheets.build import example, plan, survey, text_of

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
#: A phone and a desk, in points.
WIDTHS = (360, 1100)
SHEETS = {
    "plan of the den": lambda: plan(example("den")),
    "plan that stops": lambda: plan(example("old-house")),
    "blank survey": survey,
    "survey of the hallway": lambda: survey(example("hallway")),
}


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
@pytest.mark.parametrize("name", SHEETS)
def test_nothing_sticks_out(tmp_path, name):
    # The sheet itself runs no script: its policy is lifted and a probe added for this look only.
    text = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text_of(SHEETS[name](), ".html"))
    probe = "<script>document.documentElement.dataset.wide = document.documentElement.scrollWidth</script></body>"
    (tmp_path / "sheet.html").write_text(text.replace("</body>", probe), "utf-8")
    frames = "".join(
        f'<iframe id="f{width}" src="sheet.html" style="width:{width}px;height:900px;border:0"></iframe>'
        for width in WIDTHS
    )
    frame = tmp_path / "frame.html"
    frame.write_text(
        f"<body>{frames}<script>window.onload = () => {{ for (const f of document.querySelectorAll('iframe'))"
        " document.body.dataset[f.id] = f.contentDocument.documentElement.dataset.wide }</script></body>",
        "utf-8",
    )
    command = [CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--allow-file-access-from-files"]
    command += [f"--user-data-dir={tmp_path / 'profile'}", "--window-size=1200,1000", "--virtual-time-budget=2000"]
    shown = subprocess.run(
        [*command, "--dump-dom", frame.as_uri()], capture_output=True, text=True, timeout=120, check=True
    )
    for width in WIDTHS:
        found = re.search(rf'<body[^>]* data-f{width}="(\d+)"', shown.stdout)
        assert found is not None, shown.stderr
        assert int(found[1]) <= width, width
