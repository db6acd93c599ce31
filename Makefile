# Every command of the house. The first "make" on a fresh machine makes .venv, which takes a few minutes; later ones start at once.
PYTHON ?= python3
VENV := .venv
ifeq ($(OS),Windows_NT)
BIN := $(VENV)/Scripts
else
BIN := $(VENV)/bin
endif
READY := $(VENV)/.ready

.PHONY: help run test check check-static bench screenshots docs setup libraries clean
.DEFAULT_GOAL := help

help:
	@echo 'make run          open the window on a demo; without a display solve the demo and write out/'
	@echo 'make test         the whole test suite'
	@echo 'make check        lint, format, types, import borders, documents current, and the tests'
	@echo 'make bench        speed, as ratios measured in one run'
	@echo 'make screenshots  pictures of the window for the README'
	@echo 'make docs         write again what is generated from the code (tests/validation/CHECKS.md)'
	@echo 'make clean        remove .venv, out/ and every cache'

run: setup
	@$(BIN)/gantrywright

# A process for each core; the tests of one file stay together, so that what they share is made once.
test: setup
	$(BIN)/python -m pytest -n auto --dist loadfile

check: test check-static

# What "make check" does besides the tests; quick enough to run before each commit.
check-static: setup
	$(BIN)/python -m ruff check .
	$(BIN)/python -m ruff format --check .
	$(BIN)/python -m mypy
	$(BIN)/lint-imports
	$(BIN)/python scripts/outside_checks.py --check

bench: setup
	$(BIN)/python scripts/bench.py

screenshots: setup
	$(BIN)/python scripts/screenshots.py

docs: setup
	$(BIN)/python scripts/outside_checks.py

setup: libraries $(READY)

# Looked at every time: it takes a moment, and a machine may lose a library after .venv was made.
libraries:
	@$(PYTHON) scripts/system_libraries.py

$(READY): pyproject.toml constraints.txt
	@$(PYTHON) -c 'import sys; sys.exit(0 if sys.version_info >= (3, 11) else "Gantrywright needs Python 3.11 or newer; name one with: make PYTHON=python3.11")'
	@echo 'Making $(VENV) with the pinned packages; this takes a few minutes, once.'
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install -qq --disable-pip-version-check -c constraints.txt -e '.[dev]'
	@touch $(READY)

clean:
	rm -rf $(VENV) out build *.egg-info .pytest_cache .mypy_cache .ruff_cache .hypothesis .import_linter_cache
	find app core scripts tests -name __pycache__ -type d -prune -exec rm -rf {} +
