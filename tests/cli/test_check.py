"""``circuitcheck check``: exit statuses, what goes to which stream, and what people read."""

import io
import json
import subprocess
import sys
from pathlib import Path

import pytest

from circuitcheck.case import EvidenceRule
from circuitcheck.checking import check
from circuitcheck.cli import statuses
from circuitcheck.findings import Finding, Outcome, Verdict
from circuitcheck.safety import SHORT

EXAMPLES = Path(__file__).parents[2] / "examples"


def rule_that_says(outcome: Outcome, **fields) -> EvidenceRule:
    finding = Finding(check="trial", subject="hall", outcome=outcome, says="One plain sentence.", **fields)
    return EvidenceRule(name="trial", title="Trial", rank=1, check=lambda circuit, book: [finding])


@pytest.fixture
def only(monkeypatch):
    """Replaces every rule by ones that say a given outcome, since statuses do not depend on which rule speaks."""

    def put(*rules: EvidenceRule) -> None:
        monkeypatch.setattr("circuitcheck.checking.check", lambda circuit, book: check(circuit, book, rules))

    return put


@pytest.mark.parametrize(
    ("outcomes", "status", "verdict"),
    [
        ([Outcome.PASS], 0, "fits"),
        ([Outcome.PASS, Outcome.CAUTION], 0, "fits"),
        ([Outcome.PASS, Outcome.FAIL], 1, "does not fit"),
        ([Outcome.UNDETERMINED, Outcome.FAIL], 1, "does not fit"),
        ([Outcome.UNDETERMINED, Outcome.CAUTION], 3, "undetermined"),
        ([], 0, "fits"),
    ],
)
def test_exit_status_and_verdict(run, only, circuit_file, outcomes, status, verdict) -> None:
    only(*(rule_that_says(outcome) for outcome in outcomes))
    ran = run("check", circuit_file())
    assert ran.status == status
    assert ran.err == ""
    as_json = run("check", "--json", circuit_file())
    assert as_json.status == status
    assert json.loads(as_json.out)["verdict"] == verdict


def test_a_wrong_file_is_told_on_standard_error_only(run, circuit_file) -> None:
    path = circuit_file(('power = "60 W"', "power = 60"), ('breaker = "15 A"', 'braker = "15 A"'))
    ran = run("check", path)
    assert ran.status == 2
    assert ran.out == ""
    assert f"{path}:" in ran.err
    assert "power" in ran.err
    assert "did you mean: breaker" in ran.err
    assert '| braker = "15 A"\n       | ^^^^^^\n' in ran.err
    assert ran.err.endswith(f"3 problems in {path}; nothing was checked.\n")


@pytest.mark.parametrize(
    "arguments",
    [
        ["check"],
        ["check", "--jason", "x"],
        ["chekc", "x.circuit.toml"],
        ["x.circuit.toml"],
        ["check", "there-is-no-such-file.circuit.toml"],
        ["check", "."],
        ["tables", "ampacityy"],
        ["--nonsense"],
        ["check", "--brief", "--working", "x"],
        ["check", ""],
        ["note", "", "-o", "x.md"],
    ],
)
def test_a_wrong_command_line_is_status_2_and_prints_nothing(run, arguments) -> None:
    ran = run(*arguments)
    assert ran.status == 2
    assert ran.out == ""
    assert ran.err.strip()
    assert "Traceback" not in ran.err


def test_a_mistyped_command_is_named(run) -> None:
    assert 'did you mean "check"?' in run("chekc", "x.circuit.toml").err
    assert "circuitcheck check hall.circuit.toml" in run("hall.circuit.toml").err


def test_a_fault_of_our_own_is_status_4_in_one_line(run, only, circuit_file) -> None:
    def broken(circuit, book):
        raise ZeroDivisionError("a slip of ours")

    only(EvidenceRule(name="trial", title="Trial", rank=1, check=broken))
    ran = run("check", circuit_file())
    assert ran.status == 4
    assert "fault of the program in check trial" in ran.out
    assert "FITS ON PAPER" not in ran.out
    assert ran.err.count("\n") == 1
    assert "fault of the program in check trial: ZeroDivisionError: a slip of ours" in ran.err
    assert "--traceback" in ran.err
    traced = run("check", "--traceback", circuit_file())
    assert traced.status == 4
    assert "Traceback (most recent call last)" in traced.err


def test_stopped_by_the_keyboard(run, only, circuit_file) -> None:
    def interrupted(circuit, book):
        raise KeyboardInterrupt

    only(EvidenceRule(name="trial", title="Trial", rank=1, check=interrupted))
    ran = run("check", circuit_file())
    assert ran.status == statuses.INTERRUPTED
    assert "Traceback" not in ran.err


def test_standard_input(run, circuit_file, monkeypatch) -> None:
    data = circuit_file().read_bytes()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))
    report = json.loads(run("check", "--json", "-").out)
    assert report["file"] == "standard input"
    assert report["title"] == "Porch light"


@pytest.mark.parametrize("size", [0, 50_000_000])
def test_standard_input_that_is_no_circuit_file(run, monkeypatch, size) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"#" * size)))
    ran = run("check", "-")
    assert ran.status == 2
    assert ran.out == ""
    assert ran.err.startswith("standard input")


def test_several_files_worst_status_and_one_document_a_line(run, circuit_file, tmp_path) -> None:
    fits = circuit_file(name="one.circuit.toml")
    overfull = circuit_file(('breaker = "15 A"', 'breaker = "30 A"'), name="two.circuit.toml")
    wrong = circuit_file(('"15 A"', '"15 W"'), name="three.circuit.toml")
    both = run("check", "--json", fits, overfull)
    assert both.status == 1
    reports = [json.loads(line) for line in both.out.splitlines()]
    assert [report["file"] for report in reports] == [str(fits), str(overfull)]
    with_wrong = run("check", "--json", fits, wrong, overfull)
    assert with_wrong.status == 2
    lines = [json.loads(line) for line in with_wrong.out.splitlines()]
    assert [line["file"] for line in lines] == [str(fits), str(wrong), str(overfull)]
    assert lines[1] == {
        "report": 1,
        "file": str(wrong),
        "problems": [
            {
                "line": lines[1]["problems"][0]["line"],
                "key": "supply.breaker",
                "says": "W is a unit for a power, and this key takes a current",
                "given": '"15 W"',
                "allowed": 'a current in A or mA, such as "15 A"',
                "nearest": None,
            }
        ],
    }
    assert wrong.read_text("utf-8").splitlines()[lines[1]["problems"][0]["line"] - 1] == 'breaker = "15 W"'
    assert "three.circuit.toml" in with_wrong.err
    shown = run("check", fits, overfull).out
    table = "".join(shown[shown.index("All files, worst first") :].split())  # a long path is broken over two lines
    assert table.index("two.circuit.toml") < table.index("one.circuit.toml")
    assert shown.count(SHORT[0][:40]) == 1


def test_worst_status() -> None:
    assert statuses.worst([0, 3, 1]) == 1
    assert statuses.worst([1, 2]) == 2
    assert statuses.worst([2, 4]) == 4
    assert statuses.worst([0, 3]) == 3
    assert statuses.worst([]) == 0
    assert {statuses.status_of(verdict) for verdict in Verdict} == {0, 1, 3}


def test_worst_findings_come_first_and_stop_before_all(run, only, circuit_file) -> None:
    only(
        rule_that_says(Outcome.CAUTION),
        rule_that_says(Outcome.FAIL),
        rule_that_says(Outcome.PASS),
        rule_that_says(Outcome.UNDETERMINED),
        rule_that_says(Outcome.FAIL, stop=True),
    )
    out = run("check", "--working", circuit_file()).out
    places = [out.index(word) for word in ("✗ STOP", "✗ FAIL", "? CANNOT TELL", "! CAUTION", "✓ PASS")]
    assert places == sorted(places)


def spoken(subject: str, **fields) -> EvidenceRule:
    told = {"outcome": Outcome.CAUTION, "says": f"Hold {subject}.", "to_do": ("Staple it.",), **fields}
    finding = Finding(check="trial", subject=subject, **told)
    return EvidenceRule(name="trial", title="Trial", rank=1, check=lambda circuit, book: [finding])


def test_parts_with_one_answer_and_one_remedy_stand_together(run, only, circuit_file) -> None:
    only(
        spoken("cable a", needs=("cable.a.place",), value=1.0, limit=54.0, unit="in"),
        spoken("cable b", needs=("cable.b.place",), value=1.0, limit=54.0, unit="in"),
        spoken("cable c", value=2.0, limit=54.0, unit="in"),
        spoken("cable d", to_do=("Strap it.",)),
        spoken("cable e", outcome=Outcome.FAIL),
    )
    out = run("check", circuit_file()).out
    assert out.index('✗ FAIL  trial, "cable e"\n    Hold cable e.\n') < out.index("! CAUTION")
    assert (
        '! CAUTION  trial, "cable a", "cable b", "cable c"\n'
        "    Hold cable a.\n    Hold cable b.\n    value 1 in, limit 54 in\n"
        "    Hold cable c.\n    value 2 in, limit 54 in\n"
        "    needs: cable.a.place\n    needs: cable.b.place\n    to do: Staple it.\n\n"
        '! CAUTION  trial, "cable d"\n    Hold cable d.\n    to do: Strap it.\n'
    ) in out
    assert "Hold cable b.\n    Hold cable c.\n\n" in run("check", "--brief", circuit_file()).out


@pytest.mark.parametrize("how", [[], ["--working"], ["--brief"]])
@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.circuit.toml")), ids=lambda path: path.name)
def test_every_page_fits_80_columns_and_ends_with_the_safety_text(run, example, how) -> None:
    ran = run("check", *how, example)
    assert ran.status in {0, 1, 3}
    assert max(len(line) for line in ran.out.splitlines()) <= 80
    end = " ".join(ran.out[ran.out.index("Before you open anything") :].split())
    for sentence in SHORT:
        assert sentence in end
    assert end.endswith(SHORT[-1])


def test_text_from_the_user_cannot_steer_the_terminal(run, circuit_file) -> None:
    path = circuit_file(('title = "Porch light"', 'title = "Porch \\u001b[2J\\u202e light [red]"'))
    out = run("check", path).out
    assert "\x1b" not in out
    assert "\u202e" not in out
    assert "Porch \\x1b[2J\\u202e light [red]" in out
    text = run("check", "--json", path).out
    assert text.isascii()
    assert json.loads(text)["title"] == "Porch \x1b[2J\u202e light [red]"


def test_another_rulebook(run, circuit_file) -> None:
    report = json.loads(run("check", "--json", "--rulebook", "nec-2017", circuit_file()).out)
    assert report["rulebook"] == "nec-2017"
    wrong = run("check", "--rulebook", "nec-2032", circuit_file())
    assert wrong.status == 2
    assert "nec-2017, nec-2020, nec-2023" in wrong.err


def command(*arguments: str, **options) -> subprocess.Popen[bytes]:
    return subprocess.Popen([sys.executable, "-m", "circuitcheck", *arguments], **options)


def test_a_reader_that_goes_away_is_no_fault() -> None:
    example = str(EXAMPLES / "hallway.circuit.toml")
    with command("check", "--working", example, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout
        assert process.stderr
        process.stdout.close()
        err = process.stderr.read()
        status = process.wait(timeout=30)
    assert err == b""
    assert status == 1


def test_an_output_that_knows_ascii_only() -> None:
    import os

    environment = {**os.environ, "PYTHONIOENCODING": "ascii"}
    example = str(EXAMPLES / "hallway.circuit.toml")
    with command("check", example, stdout=subprocess.PIPE, env=environment) as process:
        out = process.communicate(timeout=30)[0]
    assert process.returncode == 1
    assert b'X FAIL  box fill, box "attic"' in out
    assert out.isascii()


def test_of_very_many_problems_the_first_are_told_and_how_many_there_are(run, circuit_file):
    path = circuit_file(("[supply]", "".join(f"k{number} = 1\n" for number in range(5000)) + "[supply]"))
    ran = run("check", path)
    assert ran.status == statuses.WRONG_INPUT
    lines = ran.err.splitlines()
    assert sum(line.strip() == "^^" or line.strip() == "| ^^" or line.strip() == "| ^^^" for line in lines) == 50
    assert "job.k0:" in lines[0]
    assert lines[-1] == f"5,000 problems in {path}; the first 50 are shown, and nothing was checked."


@pytest.mark.parametrize("command", ["check", "note"])
def test_a_machine_without_enough_memory_is_no_fault_of_the_program(run, circuit_file, tmp_path, monkeypatch, command):
    def without_memory(*_, **__):
        raise MemoryError

    monkeypatch.setattr("circuitcheck.checking.check", without_memory)
    out = ["-o", tmp_path / "note.txt"] if command == "note" else []
    ran = run(command, circuit_file(), *out)
    assert ran.status == statuses.WRONG_INPUT
    assert "not enough memory" in ran.err
    assert "fault" not in ran.err
    assert not (tmp_path / "note.txt").exists()


@pytest.mark.skipif(sys.platform != "linux", reason="limits memory as Linux does")
def test_running_out_of_memory_in_earnest(tmp_path):
    path = tmp_path / "large.circuit.toml"
    path.write_text("a = [" + "[]," * 2_000_000 + "]\n", "utf-8")
    code = (
        "import resource, sys; from circuitcheck.cli.main import main; "
        "resource.setrlimit(resource.RLIMIT_AS, (150_000_000, 150_000_000)); sys.exit(main(sys.argv[1:]))"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, "check", str(path)], capture_output=True, text=True, timeout=120, check=False
    )
    assert ran.returncode == statuses.WRONG_INPUT, ran.stderr
    assert "not enough memory" in ran.stderr
