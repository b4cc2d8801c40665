"""`wheelrate sweep` writes what `Bike.sweep` gives."""

import csv

import pytest
from click.testing import CliRunner

import wheelrate as wr
from wheelrate.cli import main

VARY = ["--vary", "rear.shock.spring.rate=50 N/mm:56 N/mm:3", "--vary", "rear.chain.front_teeth=12,13"]
OUTPUTS = ["--output", "rear.rider_sag", "--output", "trail"]
AXES = {"rear.shock.spring.rate": ["50 N/mm", "53 N/mm", "56 N/mm"], "rear.chain.front_teeth": [12.0, 13.0]}


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "patrol.toml"
    path.write_text(wr.demo_file(), "utf-8")
    return str(path)


def run(*arguments):
    return CliRunner().invoke(main, ["sweep", *map(str, arguments)])


def test_rows_go_to_standard_output(file):
    done = run(file, *VARY, *OUTPUTS)
    assert done.exit_code == 0, done.output
    head, *rows = csv.reader(done.stdout.splitlines())
    result = wr.demo().sweep(AXES, ["rear.rider_sag", "trail"])
    assert head == ["design", *result.columns(), "reason"]
    for name, values in result.columns().items():
        assert [float(row[head.index(name)]) for row in rows] == values.tolist()


@pytest.mark.parametrize("name", ["sweep.parquet", "sweep.csv", "folder"])
def test_files_are_written(file, tmp_path, name):
    to = tmp_path / name
    vary = ["--vary", "rear.shock.spring.rate=50 N/mm:56 N/mm"]
    drawn = ["--scheme", "latin_hypercube", "--samples", 9, "--seed", 3, "--chunk", 4]
    done = run(file, *vary, *OUTPUTS, *drawn, "--to", to)
    assert done.exit_code == 0, done.output
    assert f"written: {to} (9 designs)" in done.stderr
    axes = {"rear.shock.spring.rate": ("50 N/mm", "56 N/mm")}
    result = wr.demo().sweep(axes, ["rear.rider_sag", "trail"], scheme="latin_hypercube", samples=9, seed=3)
    if name == "sweep.csv":
        result.save(tmp_path / "saved.csv")
        assert to.read_text("utf-8") == (tmp_path / "saved.csv").read_text("utf-8")
    else:
        assert wr.SweepResult.load(to) == result


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--vary", "rear.shock.spring.rate", *OUTPUTS], "wanted `KEY=FROM:TO:N`"),
        (["--vary", "rear.shock.spring.rate=50 N/mm:60 N/mm:many", *OUTPUTS], "wanted `KEY=FROM:TO:N`"),
        (["--vary", "rear.shock.spring.rate=50 mm:60 mm:3", *OUTPUTS], "rear.shock.spring.rate"),
        (["--vary", "rear.shock.spring.rate=50 N/mm:60 N/mm", *OUTPUTS], "for the scheme `grid`"),
        ([*VARY, "--output", "trial"], "did you mean `trail`?"),
        ([*VARY, *OUTPUTS, "--samples", 3], "samples: found 3"),
    ],
)
def test_what_is_wrong_is_said_in_a_line(file, arguments, says):
    done = run(file, *arguments)
    assert done.exit_code == 2
    assert says in done.stderr
    assert "Traceback" not in done.output
    assert done.stdout == ""


def test_outputs_are_listed():
    done = run("--list-outputs")
    assert done.exit_code == 0
    assert [line.split()[0] for line in done.stdout.splitlines()] == list(wr.sweep_outputs())
