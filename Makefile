# The verbs of the project. `make demo` and `make test` need git, make and Python 3.11 with venv, no more.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
export OPENBLAS_NUM_THREADS = 1
export OMP_NUM_THREADS = 1
# Where this is set, every worker and every desk of the tests would compile all it imports anew.
unexport PYTHONDONTWRITEBYTECODE
SOURCES := src tests bench tools

.PHONY: demo test checks format lint types layers spelling pytest bench soak lock browser look pictures checked commands clean

demo: $(VENV)/run.stamp
	@$(BIN)/python -m ledgewright check examples/stoneware-corner.toml || test $$? -eq 1
	@$(BIN)/python -m ledgewright packet examples/stoneware-corner.toml -o build/stoneware-corner || test $$? -eq 1

# The types take longer than the other checks together: they run side by side.
test: $(VENV)/dev.stamp
	@$(MAKE) --no-print-directory -j 2 checks
	@$(MAKE) --no-print-directory pytest

checks: types format lint layers spelling

format: $(VENV)/dev.stamp
	$(BIN)/ruff format --check $(SOURCES)

lint: $(VENV)/dev.stamp
	$(BIN)/ruff check $(SOURCES)

types: $(VENV)/dev.stamp
	$(BIN)/mypy

layers: $(VENV)/dev.stamp
	$(BIN)/lint-imports

spelling: $(VENV)/dev.stamp
	$(BIN)/codespell $(SOURCES) docs README.md CONTRIBUTING.md CHANGELOG.md

# Stories in a browser are skipped where none can be had; with CI set that is a failure.
pytest: $(VENV)/dev.stamp
	@$(MAKE) --no-print-directory browser || test -z "$$CI"
	$(BIN)/python -m pytest -n 2 --dist worksteal -p no:cacheprovider

# The long random runs: mutated job files, kill loops.
soak: $(VENV)/dev.stamp
	$(BIN)/python -m pytest -n 2 --dist worksteal -m soak -p no:cacheprovider

bench: $(VENV)/dev.stamp
	$(BIN)/python -m bench

# What is checked against what, from the tests.
checked: $(VENV)/dev.stamp
	$(BIN)/python -m tools.checked

# The reference of the command line, from the commands.
commands: $(VENV)/dev.stamp
	$(BIN)/python -m tools.commands

# The pictures of README and guide, from real packets.
pictures: $(VENV)/dev.stamp
	$(BIN)/python -m tools.pictures

# Every page of the desk at two widths, light and dark, to look at: build/look/*.png.
look: $(VENV)/dev.stamp browser
	$(BIN)/python -m tools.look build/look

# Needs uv on the path; writes the two locks without an address in them.
lock:
	uv pip compile --universal --python-version 3.11 --generate-hashes --no-emit-index-url \
	  --custom-compile-command 'make lock' requirements/run.in -o requirements/run.txt
	uv pip compile --universal --python-version 3.11 --generate-hashes --no-emit-index-url \
	  --custom-compile-command 'make lock' -c requirements/run.txt requirements/dev.in -o requirements/dev.txt

# A Chromium for the stories and for `make look`: the system's, else by apt as root, else the test library's own.
browser: $(VENV)/dev.stamp
	@command -v chromium >/dev/null || command -v chromium-browser >/dev/null || { test "$$(id -u)" = 0 && \
	  command -v apt-get >/dev/null && apt-get update -qq && apt-get install -y -qq chromium >/dev/null; } || \
	  $(BIN)/python -m playwright install chromium || \
	  { echo "no Chromium found and none could be installed: install the package 'chromium'"; exit 1; }

$(VENV)/made.stamp:
	$(PYTHON) -c "import sys; sys.exit('Python 3.11 or newer is needed, this is ' + sys.version) if sys.version_info < (3, 11) else None"
	$(PYTHON) -m venv $(VENV)
	touch $@

# The lock, then the project itself; bytecode is compiled here because PYTHONDONTWRITEBYTECODE may be set.
$(VENV)/run.stamp: $(VENV)/made.stamp requirements/run.txt pyproject.toml
	$(BIN)/python -m pip install -q --disable-pip-version-check --require-hashes --no-deps -r requirements/run.txt
	$(BIN)/python -m pip install -q --disable-pip-version-check --no-deps --no-build-isolation --no-index -e .
	$(BIN)/python -m compileall -q src
	touch $@

# One package comes as source: it is built by the setuptools of the lock, not by one fetched beside it.
$(VENV)/dev.stamp: $(VENV)/run.stamp requirements/dev.txt
	$(BIN)/python -m pip install -q --disable-pip-version-check --require-hashes --no-deps \
	  --no-build-isolation --use-pep517 -r requirements/dev.txt
	touch $@

clean:
	rm -rf $(VENV) build
