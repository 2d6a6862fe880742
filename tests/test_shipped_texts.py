"""What we ship never promises: the words that would are used only to say that we do not use them."""

import re
from pathlib import Path

import pytest

from circuitcheck.safety import SHORT

ROOT = Path(__file__).parents[1]
FORBIDDEN = re.compile(r"\b(safe|safely|legal|legally|compliant|approved)\b", re.IGNORECASE)

#: Text that people meet: the package with its tables and examples, and the pages for users.
TEXTS = sorted(
    path
    for pattern in (
        "circuitcheck/**/*.py",
        "circuitcheck/**/*.html",
        "circuitcheck/**/*.jinja",
        "circuitcheck/**/*.typ",
        "tables/*.toml",
        "examples/*",
        "docs/**/*.md",
        "README.md",
        "SAFETY.md",
        "CHANGELOG.md",
    )
    for path in ROOT.glob(pattern)
    if path.is_file() and path.suffix not in {".pdf", ".png"}
)

#: A line may name the words in order to say that they are never our verdict.
DENIAL = re.compile(r"\bnever\b|\bno promise\b", re.IGNORECASE)


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_promise_is_made(path: Path) -> None:
    for number, line in enumerate(path.read_text("utf-8").splitlines(), 1):
        found = FORBIDDEN.search(line)
        assert not found or DENIAL.search(line), f"{path.name}:{number}: {found and found[0]}: {line.strip()}"


def test_the_safety_page_holds_the_short_form() -> None:
    page = (ROOT / "SAFETY.md").read_text("utf-8")
    for sentence in SHORT:
        assert f"- {sentence}\n" in page


@pytest.mark.parametrize(
    "thought",
    [
        "turn off the breaker",
        "lock it or tag it",
        "checked on a known live outlet before and after",
        "attic can be dangerously hot",
        "step only on framing",
        "asbestos",
        "local code",
        "permit office",
        "licensed electrician",
    ],
)
def test_the_short_form_says(thought: str) -> None:
    assert thought in " ".join(SHORT).lower()
