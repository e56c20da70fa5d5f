# `make` sets up and shows that it works; `make test` proves it. Everything real is in `margent` and pytest: this file only
# calls them. It needs Python 3.11 or later with venv, and nothing else.

PYTHON ?= python3
BIN := .venv/bin
EXAMPLE := A. Verrou pinxit / B. Holm sculp. et excud. Antuerpiae 1612

.PHONY: all test nightly tidy lock clean native

all: native
	$(BIN)/margent check --authority demo
	$(BIN)/margent publish --to public --authority demo
	$(BIN)/margent read "$(EXAMPLE)"
	@echo
	@echo "The site begins at public/index.html: open it in a browser."
	@echo "Read a lettering of your own:  $(BIN)/margent read \"...\"      All commands:  $(BIN)/margent --help"

test: native
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/margent tidy --check
	$(BIN)/pytest

# What takes too long for every change: all seeded faults, two hundred random edits, and a second engine of SHACL on all of it.
nightly: .venv/installed
	MARGENT_ALL_FAULTS=1 $(BIN)/pytest tests/checking

tidy: .venv/installed
	$(BIN)/margent tidy
	$(BIN)/python tools/developers_map.py
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

# The environment is made anew from the lock, whose hashes pin every file that is downloaded.
.venv/installed: requirements.lock pyproject.toml hatch_build.py
	@command -v $(PYTHON) >/dev/null || { echo "Python is missing: install it (Debian: apt-get install python3 python3-venv)" >&2; exit 2; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Python 3.11 or later is needed (Debian 12 or later: apt-get install python3); or name one: make PYTHON=python3.12" >&2; exit 2; }
	@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || { echo "Python's venv module is missing: install it (Debian: apt-get install python3-venv)" >&2; exit 2; }
	test -x $(BIN)/python || $(PYTHON) -m venv .venv
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	@touch $@

# The reader as machine code, where that can be made (20 seconds, whenever its sources have changed); else it is as good, and slower.
native: .venv/installed
	@$(BIN)/python -m margent.native || true

# Writes requirements.lock anew from pyproject.toml, for every platform; needs uv (pip install uv).
lock:
	uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --extra test --no-emit-index-url \
		--custom-compile-command "make lock" --upgrade --output-file requirements.lock pyproject.toml

clean:
	rm -rf .venv public dist build .mypy_cache .pytest_cache .ruff_cache .hypothesis
