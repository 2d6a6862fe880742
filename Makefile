# The two commands of the README: `make demo` and `make test`. Both make their own environment in .venv.
# `make test-long` takes minutes more: many more random circuits than `make test` has time for.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/ready

# Tests in one process more for every two cores, since tests of screens wait much of their time. A file stays in one
# process: what its tests share is dear to make. The order is that of tests/conftest.py: the longest files first.
WORKERS := $(shell $(PYTHON) -c "import os; cores = os.cpu_count() or 1; print(min(8, cores + (cores + 1) // 2))")
PARALLEL := -n $(WORKERS) --dist loadfile --no-loadscope-reorder

.PHONY: demo test test-long lint types tests docs notes pictures app site doors papers-check clean

demo: $(READY)
	$(BIN)/circuitcheck demo --replace

# The types beside the tests: they take one core, and would leave the other idle.
test: lint
	$(MAKE) --jobs=2 types tests

lint: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(READY)
	$(BIN)/mypy

# Python keeps what it compiles, whatever the environment says: the tests start many processes.
tests test-long: export PYTHONDONTWRITEBYTECODE =

tests: $(READY)
	$(BIN)/pytest $(PARALLEL)

test-long: $(READY)
	$(BIN)/pytest -m long

docs: $(READY)
	$(BIN)/python making/make_parts.py
	$(BIN)/python making/make_checks.py
	$(BIN)/python making/make_tables.py
	$(BIN)/python making/make_circuit_file.py
	$(BIN)/python making/make_schema.py
	$(BIN)/python making/make_manpage.py
	$(BIN)/python making/make_readme.py
	$(BIN)/python making/make_notes.py

pictures: $(READY)
	$(BIN)/python making/make_pictures.py

notes: $(READY)
	$(BIN)/python making/make_notes.py

# The program in one file, for people without Python: dist/circuitcheck, for the platform this runs on.
app: $(VENV)/ready-app
	$(BIN)/python making/make_app.py

# The docs as a site with search: build/site/index.html.
site: $(VENV)/ready-site
	$(BIN)/python making/make_site.py

# Tries each door for real. Beyond Python: zsh, fish and chromium from the system; a trial without them is skipped.
doors: $(VENV)/ready-doors $(VENV)/ready-checkers app site
	$(BIN)/pytest doors -rs

# Every paper of the examples through the Nu checker (needs java), axe-core (chromium) and a checker of PDF/UA.
papers-check: $(VENV)/ready-checkers
	$(BIN)/pytest doors/test_papers.py -rs

$(VENV)/ready-checkers: $(VENV)/ready-papers
	npm install --no-audit --no-fund --no-save --ignore-scripts --prefix build/papers axe-core@4.14.1 vnu-jar@26.9.27
	touch $@

$(VENV)/ready-%: $(READY)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --group $*
	touch $@

$(READY): pyproject.toml
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --upgrade "pip>=25.1"
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable ".[pdf,serve]" --group dev
	touch $(READY)

clean:
	rm -rf $(VENV) dist build .pytest_cache .ruff_cache .mypy_cache .hypothesis
