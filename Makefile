# The two commands of the README: `make demo` and `make test`. Both make their own environment in .venv.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/ready

.PHONY: demo test lint types tests clean

demo: $(READY)
	$(BIN)/circuitcheck demo

test: lint types tests

lint: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(READY)
	$(BIN)/mypy

tests: $(READY)
	$(BIN)/pytest

$(READY): pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --upgrade "pip>=25.1"
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable ".[pdf,serve]" --group dev
	touch $(READY)

clean:
	rm -rf $(VENV) dist build .pytest_cache .ruff_cache .mypy_cache .hypothesis
