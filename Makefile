# Needs Rust, Python 3.10 or newer, and make. Everything else goes into .venv and target/.
PYTHON ?= python3
CHROMIUM ?= chromium
VENV := $(abspath .venv)
BIN := $(VENV)/bin
PINS := python/requirements-dev.txt
SITE_PINS := python/requirements-docs.txt
PACKING_PINS := python/requirements-packages.txt
MATURIN = VIRTUAL_ENV=$(VENV) PIP_CONSTRAINT=$(abspath $(PINS)) $(BIN)/maturin
# Linked against a glibc of 2014 by zig, which comes as a wheel; other systems need no such thing.
ZIG := $(if $(filter Linux,$(shell uname)),--zig --compatibility manylinux_2_17)
PACK = PATH="$(BIN):$$PATH" $(MATURIN) build --profile dist $(ZIG)
SOURCES := Cargo.toml Cargo.lock $(shell find core python -name '*.rs' -o -name '*.toml' -o -name '*.j2')

.PHONY: demo test test-all explore test-rust test-python wheel test-packages third-party public-api bench bench-ratios docs rustdoc validation lint stubs notebooks picture calibration clean fuzz answers limits broken-files mutants coverage deny
.DELETE_ON_ERROR:

demo: $(VENV)/installed  ## the shipped bike: the sheet in the terminal, and out/patrol.html
	@mkdir -p out
	@$(BIN)/wheelrate demo --html out/patrol.html

test: test-rust test-python

# The same bikes are drawn in every run, so that a red test is red again; `make explore` draws others.
test-rust:
	PROPTEST_RNG_SEED=20261125 cargo test --workspace --exclude wheelrate-python
	cargo check --package wheelrate --no-default-features

# pytest comes last: it ends with what was left out, and why. A core each; who is done takes over tests of another, from the end, so
# that what a file sets up is mostly set up once.
test-python: $(VENV)/installed $(VENV)/developing
	cd python && MYPYPATH=. $(BIN)/python -m mypy.stubtest --mypy-config-file ../mypy.ini wheelrate._core
	$(BIN)/python -m pytest --numprocesses logical --maxprocesses 4 --dist worksteal tests/python

test-all: test docs test-packages $(VENV)/frontends  ## and the site, the packages, the core without features, the widget in JupyterLab and marimo
	cargo test --package wheelrate --no-default-features --features serde --lib landing
	$(BIN)/python -m pytest tests/frontends

explore:  ## the properties over many more bikes, drawn anew in each run
	PROPTEST_CASES=5000 cargo test --release --package wheelrate --package wheelrate-tests

# Seconds that each body is fuzzed for, and how many mutants are tried: about 2,000 an hour on two cores.
SECONDS_EACH ?= 600
SAMPLE ?= 2000

fuzz:  ## every body of tests/fuzz for SECONDS_EACH, mutated from valid things; counts to out/fuzz.jsonl
	mkdir -p out && rm -f out/fuzz.jsonl
	WHEELRATE_FUZZ=$(SECONDS_EACH) WHEELRATE_FUZZ_SEED=$$(date +%s) WHEELRATE_FUZZ_ROWS=$(abspath out/fuzz.jsonl) \
	    cargo test --release --package wheelrate-tests --test fuzz for_long -- --nocapture
	$(PYTHON) docs/site/trust.py fuzz out/fuzz.jsonl

answers:  ## tests/files/answers anew: what the kept bikes answer to every question; what then differs is to be explained
	WHEELRATE_ANSWERS=write cargo test --package wheelrate-tests --test answers

limits:  ## time and memory of nasty files of 10 MB, against what is stated
	mkdir -p out
	cargo run --release --package wheelrate-tests --example measure_limits > out/limits.json
	$(PYTHON) docs/site/trust.py limits out/limits.json

broken-files:  ## every key of the shipped files broken in every way: where is it said?
	mkdir -p out
	WHEELRATE_MUTATIONS=all cargo test --release --package wheelrate-tests --test mutations -- --nocapture > out/broken.txt
	$(PYTHON) docs/site/trust.py broken out/broken.txt

mutants: $(VENV)/mutating  ## which changes of one operator or value of the core does no test notice? a SAMPLE of them (needs cargo-mutants)
	$(BIN)/python tests/mutants/trials.py out/mutants --sample $(SAMPLE)
	$(PYTHON) docs/site/trust.py mutants out/mutants/outcomes.json

# The extension of the second half is a build of its own, beside a copy of the package, so that the one that is installed stays.
COVERED := $(abspath target/coverage)
LLVM = $$(rustc --print sysroot)/lib/rustlib/$$(rustc --print host-tuple)/bin

coverage: $(VENV)/developing  ## lines of the core that the suites run (needs cargo-llvm-cov and `rustup component add llvm-tools`)
	mkdir -p out $(COVERED)
	cargo llvm-cov --workspace --exclude wheelrate-python --lib --tests --lcov --output-path out/coverage_rust.info
	LLVM_PROFILE_FILE="$(COVERED)/build-%4m.profraw" RUSTFLAGS="-C instrument-coverage" CARGO_TARGET_DIR=$(COVERED) CARGO_PROFILE_RELEASE_OPT_LEVEL=1 \
	    cargo build --release --package wheelrate-python
	rm -rf $(COVERED)/package $(COVERED)/*.profraw && mkdir $(COVERED)/package && cp -r python/wheelrate $(COVERED)/package
	rm -f $(COVERED)/package/wheelrate/_core*.so && cp $(COVERED)/release/lib_core.so $(COVERED)/package/wheelrate/_core.abi3.so
	LLVM_PROFILE_FILE="$(COVERED)/python-%4m.profraw" PYTHONPATH=$(COVERED)/package \
	    $(BIN)/python -m pytest --quiet --numprocesses logical --maxprocesses 4 --dist worksteal tests/python
	$(LLVM)/llvm-profdata merge --sparse $(COVERED)/python-*.profraw --output $(COVERED)/python.profdata
	$(LLVM)/llvm-cov export --format lcov --instr-profile $(COVERED)/python.profdata \
	    $(COVERED)/package/wheelrate/_core.abi3.so > out/coverage_python.info
	$(PYTHON) docs/site/trust.py coverage out/coverage_rust.info out/coverage_python.info

deny:  ## licences, bans and sources of what is linked (needs cargo-deny)
	cargo deny check licenses bans sources

wheel: $(VENV)/packaging  ## the package for `pip install`, in out/packages
	$(PACK) --out out/packages --manifest-path python/Cargo.toml

# The source package is compiled with what `make demo` compiled already; the wheel is the one that is shipped.
test-packages: $(VENV)/packaging  ## wheel, source package and crate: what is in them, and the first two installed, each on its own
	rm -rf out/packages && mkdir -p out/packages
	$(BIN)/python python/third_party.py --check THIRD_PARTY.md
	$(PACK) --out out/packages --manifest-path python/Cargo.toml
	$(MATURIN) sdist --out out/packages --manifest-path python/Cargo.toml
	cargo package --quiet --package wheelrate --allow-dirty --no-verify && cp target/package/wheelrate-*.crate out/packages
	$(BIN)/python tests/packages.py out/packages
	for package in out/packages/*.whl out/packages/*.tar.gz; do \
	    rm -rf out/packages/venv && $(PYTHON) -m venv out/packages/venv \
	    && CARGO_TARGET_DIR=$(abspath target) MATURIN_PEP517_ARGS="--profile release" PIP_CONSTRAINT=$(PINS) \
	       out/packages/venv/bin/pip install --quiet --disable-pip-version-check $$package \
	    && (cd out/packages && venv/bin/python ../../tests/installed.py) || exit 1; \
	done

third-party: $(VENV)/created  ## THIRD_PARTY.md, the notices of what the wheel links
	$(BIN)/python python/third_party.py THIRD_PARTY.md

public-api: rustdoc  ## docs/public_api.txt, what the crate shows, from rustdoc's pages
	$(PYTHON) docs/site/public_api.py target/doc/wheelrate docs/public_api.txt

bench: $(VENV)/installed $(VENV)/developing
	cargo bench --package wheelrate-benches
	$(BIN)/python benches/python/linkage.py
	$(BIN)/python benches/python/fit.py
	$(BIN)/python benches/python/settling.py
	$(BIN)/python benches/python/decisions.py
	$(BIN)/python benches/python/sweep.py
	$(BIN)/python benches/python/page.py

bench-ratios: $(VENV)/installed $(VENV)/developing  ## docs/benches.txt, for the page of validation
	for bench in machine linkage fit settling decisions sweep; do $(BIN)/python benches/python/$$bench.py && echo || exit 1; done > docs/benches.txt

lint: $(VENV)/installed $(VENV)/developing
	cargo fmt --all --check
	cargo clippy --workspace --all-targets -- --deny warnings
	$(BIN)/ruff check
	$(BIN)/ruff format --check
	$(BIN)/python -m mypy

rustdoc:
	RUSTDOCFLAGS="--deny warnings" cargo doc --package wheelrate --no-deps

docs: rustdoc $(VENV)/installed $(VENV)/documenting  ## the site in out/site: no page without its links, no example that does not run
	$(BIN)/python docs/site/gather.py out/docs/source
	$(BIN)/sphinx-build --builder html --nitpicky --fail-on-warning --keep-going --quiet --doctree-dir out/docs/doctrees \
	    --conf-dir docs out/docs/source out/site
	rm -rf out/site/rust && cp -r target/doc out/site/rust
	$(BIN)/python docs/site/offline.py out/site

validation: $(VENV)/installed $(VENV)/developing  ## docs/validation.json, written by the tests that compare with the outside
	mkdir -p out && rm -f out/validation.jsonl
	WHEELRATE_VALIDATION=$(abspath out/validation.jsonl) cargo test --package wheelrate-tests --test reference
	WHEELRATE_VALIDATION=$(abspath out/validation.jsonl) $(BIN)/python -m pytest --quiet \
	    $$(grep -l '^from outside import' tests/python/test_*.py)
	$(BIN)/python docs/site/validation_page.py out/validation.jsonl docs/validation.json

stubs: $(VENV)/installed $(VENV)/developing  ## python/wheelrate/_core.pyi, written from the bindings
	$(MATURIN) generate-stubs --profile release --manifest-path python/Cargo.toml --features introspection --out out/stubs
	$(BIN)/python python/stubs.py out/stubs python/wheelrate/_core.pyi

notebooks: $(VENV)/installed $(VENV)/developing  ## executed, as HTML in out/notebooks
	mkdir -p out/notebooks
	$(BIN)/python docs/notebook_pages.py out/notebooks notebooks/*.py

calibration: $(VENV)/developing  ## docs/calibration.png: how often intervals hold the truth and chances come true, over thousands of simulated garages
	( WHEELRATE_GARAGES=2000 cargo test --release -p wheelrate-tests --test invariants calibration -- --nocapture \
	    --test-threads 1; \
	  WHEELRATE_GARAGES=400 cargo test --release -p wheelrate-tests --test invariants verdicts -- --nocapture ) \
	    | $(BIN)/python docs/calibration.py docs/calibration.png

picture: $(VENV)/installed $(VENV)/developing  ## docs/page.png, the picture in the README; needs Chromium
	$(BIN)/python docs/picture.py "$$(command -v $(CHROMIUM))" docs/page.png

clean:
	rm -rf $(VENV) out
	cargo clean

$(VENV)/created:
	@command -v cargo >/dev/null || { echo 'cargo is not there: install Rust first' >&2; exit 1; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 10))' \
	    || { echo '$(PYTHON) is older than 3.10: try make PYTHON=python3.12' >&2; exit 1; }
	$(PYTHON) -m venv $(VENV)
	@touch $@

$(VENV)/maturin: $(VENV)/created $(PINS)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --constraint $(PINS) maturin
	@touch $@

$(VENV)/frontends: $(VENV)/developing python/requirements-frontends.txt
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --constraint $(PINS) \
	    --requirement python/requirements-frontends.txt
	@touch $@

$(VENV)/installed: $(VENV)/maturin $(SOURCES)
	$(MATURIN) develop --release --manifest-path python/Cargo.toml
	@touch $@

$(VENV)/packaging: $(VENV)/maturin $(PACKING_PINS)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --requirement $(PACKING_PINS)
	@touch $@

$(VENV)/mutating: $(VENV)/developing python/requirements-mutants.txt
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --requirement python/requirements-mutants.txt
	@touch $@

$(VENV)/documenting: $(VENV)/developing $(SITE_PINS)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --requirement $(SITE_PINS)
	@touch $@

$(VENV)/developing: $(VENV)/maturin
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --requirement $(PINS)
	@touch $@
