# Two commands are all a newcomer needs: `make demo` and `make test`. Each sets itself up; the second time is quick.
PYTHON ?= python3
VENV   ?= .venv
BIN    := $(VENV)/bin
OUT    ?= out
JOBS   ?= 2
PIP    := $(BIN)/python -m pip install -q --disable-pip-version-check -c constraints.txt

.PHONY: demo test quick test-long bench lint format types smoke clean help
.DEFAULT_GOAL := help

help:
	@echo "make demo       read the demo machine, plan, tally, and write the report to $(OUT)/demo"
	@echo "make test       format, lint, types, tests (the everyday suite)"
	@echo "make test-long  the same with the long profile"
	@echo "make quick      unit and structure tests only"
	@echo "make bench      the figures: speed, memory, rates (several minutes)"

$(VENV)/made-by-make:
	@command -v $(PYTHON) >/dev/null || { echo "Python is missing. Type:  sudo apt-get install -y python3 python3-venv"; exit 2; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Python 3.11 or later is needed; $(PYTHON) is $$($(PYTHON) -V). Install a newer one, then:  make PYTHON=python3.12 ..."; exit 2; }
	@$(PYTHON) -c 'import venv, ensurepip' 2>/dev/null || { echo "Python's venv is missing. Type:  sudo apt-get install -y python3-venv"; exit 2; }
	@echo "Making the virtual environment in $(VENV) ..."
	@$(PYTHON) -m venv $(VENV)
	@touch $@

$(VENV)/installed: $(VENV)/made-by-make pyproject.toml constraints.txt
	@echo "Installing lastbolt ..."
	@$(PIP) -e .
	@touch $@

$(VENV)/installed-test: $(VENV)/installed
	@echo "Installing what the tests need ..."
	@$(PIP) -e '.[test,scan]'
	@touch $@

demo: $(VENV)/installed
	@$(BIN)/lastbolt demo --out $(OUT)/demo

format: $(VENV)/installed-test
	@$(BIN)/ruff format .

lint: $(VENV)/installed-test
	@$(BIN)/ruff format --check -q . && $(BIN)/ruff check -q .

types: $(VENV)/installed-test
	@$(BIN)/mypy

test: lint types
	@$(BIN)/pytest -q -n $(JOBS) --dist worksteal -m "not long"

test-long: lint types
	@$(BIN)/pytest -q -n $(JOBS) --dist worksteal

quick: $(VENV)/installed-test
	@$(BIN)/pytest -q -n $(JOBS) -m "not long" tests/unit tests/structure

bench: $(VENV)/installed-test
	@$(BIN)/python -m bench

clean:
	@rm -rf $(VENV) $(OUT) build dist
