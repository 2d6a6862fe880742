"""The form to type into: typed in a real browser, saved, filled in, read again; and answers that no form gave."""

import html
import json
import re
import shutil
import subprocess
import tomllib

import pytest

from circuitcheck.circuit.reader import read_circuit
from circuitcheck.errors import CommandError
from circuitcheck.paper.form_page import form_page_text
from circuitcheck.quantities import How
from circuitcheck.sheets.survey_fill import filled_text
from circuitcheck.sheets.survey_form import survey_form
from circuitcheck.tables.rulebook import vocabulary
from tests.rules.build import box, cable, circuit, load
from tests.sheets.build import EXAMPLES, example

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")


def page(built=None):
    return form_page_text(survey_form(built, vocabulary(), tool="circuitcheck 0.0", file="x.circuit.toml"))


def answers(*parts):
    told = [{"section": section, "id": name, "entries": entries} for section, name, entries in parts]
    return json.dumps({"circuitcheck survey": 1, "parts": told}).encode()


def known(value, how=""):
    return {"value": value, "how": how}


NEW = (
    ("load", "lamp", {"box": known("attic"), "kind": known("light"), "power": known("60 W", "label")}),
    ("box", "attic", {"origin": known("existing"), "internal_clamps": known("yes")}),
    ("job", "-", {"title": known('A "small" job'), "rulebook": known("nec-2023"), "date": known("2026-11-25")}),
    ("supply", "-", {"voltage": known("120 V"), "breaker": known("15 A", "label"), "poles": known("1")}),
    ("site", "-", {"signs": {"value": []}}),
    ("cable", "feed", {"from": known("panel"), "to": known("attic"), "length": known("60 ft", "guess"),
                       "size": known("14 AWG", "label")}),
)  # fmt: skip


def test_answers_of_a_blank_form_make_a_circuit_file():
    built = read_circuit(filled_text(answers(*NEW), None, "a.json"), "new", vocabulary())
    assert built.job.title == 'A "small" job'
    assert built.site.signs == ()
    assert built.supply.poles == 1
    (feed,) = built.cables
    assert feed.length_m.how is How.GUESS
    assert feed.known_by == {"size": "label"}
    assert built.loads[0].power_w.how is How.LABEL
    assert built.boxes[0].internal_clamps is True


def test_answers_change_only_what_they_are_about():
    before = (EXAMPLES / "den.circuit.toml").read_text("utf-8")
    after = filled_text(answers(("cable", "feed", {"size": known("12 AWG", "label")})), before, "a.json")
    changed = [line for line in after.splitlines() if line not in before.splitlines()]
    assert len(changed) <= 2
    assert read_circuit(after, "den", vocabulary()).cables[0].size == "12 AWG"


def test_a_part_that_was_found_is_added():
    before = (EXAMPLES / "den.circuit.toml").read_text("utf-8")
    found = ("load", "closet lamp", {"box": known("hall"), "kind": known("light"), "origin": known("existing")})
    built = read_circuit(filled_text(answers(found), before, "a.json"), "den", vocabulary())
    assert [one.id for one in built.loads][-1] == "closet lamp"


@pytest.mark.parametrize(
    "told",
    [
        b"",
        b"[]",
        b'{"circuitcheck survey": 2, "parts": []}',
        answers(("chimney", "x", {})),
        answers(("box", "a", {"smoke": known("yes")})),
        answers(("box", "a", {"room": known(3)})),
        answers(("box", "a", {"room": known("attic", "hearsay")})),
        answers(("job", "-", {"date": known("soon")})),
    ],
)
def test_what_no_form_gave_is_refused(told):
    with pytest.raises(CommandError):
        filled_text(told, None, "a.json")


def test_every_text_is_escaped_and_nothing_is_fetched():
    nasty = '"><script>alert(1)</script> {{ 7*7 }} </textarea>'
    built = circuit(box(nasty), cable("c", "panel", nasty), load("l", nasty, power_w=5))
    text = page(built)
    assert "<script>alert" not in text
    assert "&lt;script&gt;alert(1)&lt;/script&gt; {{ 7*7 }} &lt;/textarea&gt;" in text
    assert text.count("<script") == 1
    assert not re.search(r'\b(?:src|href|action)="', text.partition("<script>")[0])
    ids = re.findall(r'(?<![-\w])id="([^"]*)"', text)
    assert len(ids) == len(set(ids))
    for name in re.findall(r'<label for="([^"]*)"', text):
        assert name in ids


def test_no_word_that_would_be_a_promise_and_the_caution_stands():
    text = page()
    assert not re.search(r"\b(safe|safely|legal|legally|compliant|approved)\b", text, re.IGNORECASE)
    assert "Breaker off and locked or tagged, tested dead" in text


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
def test_what_is_typed_in_a_browser_comes_into_the_file(tmp_path):
    text = page(example("den"))
    (tmp_path / "form.html").write_text(text, "utf-8")
    (tmp_path / "frame.html").write_text(
        '<body><iframe id="f" src="form.html" style="width:360px;height:900px"></iframe><script>'
        "window.onload = () => { const inner = document.getElementById('f').contentWindow, page = inner.document;"
        "const part = page.querySelector('[data-section=cable][data-id=feed]');"
        "const put = (key, value, how) => { const field = part.querySelector('[data-key=' + key + ']');"
        "  field.querySelector('[data-value]').value = value;"
        "  if (how) field.querySelector('[data-how]').value = how; };"
        "put('size', '12 AWG', 'label'); put('length', '52 ft', 'measured');"
        "document.body.dataset.wide = page.documentElement.scrollWidth;"
        "document.body.dataset.told = JSON.stringify(inner.answers()); }</script></body>",
        "utf-8",
    )
    run = subprocess.run(
        [CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--allow-file-access-from-files",
         "--enable-logging=stderr", "--virtual-time-budget=2000", "--dump-dom", (tmp_path / "frame.html").as_uri()],
        capture_output=True, text=True, timeout=60, check=True,
    )  # fmt: skip
    assert "CONSOLE" not in run.stderr
    told = html.unescape(re.search(r'data-told="([^"]*)"', run.stdout)[1])
    assert int(re.search(r'data-wide="(\d+)"', run.stdout)[1]) <= 360
    parts = json.loads(told)["parts"]
    assert [(part["section"], part["id"], sorted(part["entries"])) for part in parts] == [
        ("cable", "feed", ["length", "size"])
    ]
    before = (EXAMPLES / "den.circuit.toml").read_text("utf-8")
    feed = tomllib.loads(filled_text(told.encode(), before, "a.json"))["cable"][0]
    assert (feed["size"], feed["length"], feed["known_by"]["size"]) == ("12 AWG", "measured 52 ft", "label")
