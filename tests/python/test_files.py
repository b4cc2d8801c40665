"""Pages on the disk: what was there is never lost, and output goes through any pipe."""

import os
import resource
import stat
import subprocess
import sys
from pathlib import Path

import pytest

import wheelrate as wr
from wheelrate import _files

COMMAND = Path(sys.executable).with_name("wheelrate")
# No page fits into so many bytes.
TOO_FEW = 1000


def run(*arguments, **options):
    """Run the command; what it prints is kept as bytes."""
    return subprocess.run([COMMAND, *map(str, arguments)], capture_output=True, check=False, **options)


@pytest.fixture(scope="module")
def page():
    return wr.demo().sheet().to_html()


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "patrol.toml"
    path.write_text(wr.demo_file(), "utf-8")
    return path


def refused(done, *words):
    """Check that a run ended as bad input, printed nothing and said these words."""
    assert (done.returncode, done.stdout) == (2, b""), done.stderr
    for word in ("not written", *words):
        assert word in done.stderr.decode()
    assert b"Traceback" not in done.stderr


@pytest.mark.parametrize("force", [[], ["--force"]])
def test_a_bike_file_is_never_written_over_by_its_own_page(file, force):
    refused(run("sheet", file, "--html", file, *force), str(file), "made from")
    named_as_a_page = file.rename(file.with_suffix(".html"))
    refused(run("sheet", named_as_a_page, *force), "made from")
    hard = file.with_name("hard.html")
    os.link(named_as_a_page, hard)
    refused(run("sheet", named_as_a_page, "--html", hard, *force), "made from")
    with named_as_a_page.open("rb") as opened:
        refused(run("sheet", "-", "--html", named_as_a_page, *force, stdin=opened), "made from")
    link = file.with_name("link.toml")
    link.symlink_to(named_as_a_page)
    refused(run("sheet", link, "--html", named_as_a_page, *force), "made from")
    assert named_as_a_page.read_text("utf-8") == wr.demo_file()


@pytest.mark.parametrize("force", [[], ["--force"]])
def test_a_table_of_practice_is_never_written_over_by_the_page_made_with_it(file, force):
    table = file.with_name("practice.toml")
    table.write_text(wr.CommonPractice.shipped_file(), "utf-8")
    refused(run("sheet", file, "--targets", table, "--html", table, *force), "made from")
    assert table.read_text("utf-8") == wr.CommonPractice.shipped_file()


@pytest.mark.parametrize("command", [["sheet", "patrol.toml"], ["demo"]])
def test_only_a_page_of_ours_is_written_over_unless_forced(file, page, command):
    other = file.with_name("other.html")
    for text in ("<!DOCTYPE html><title>A letter</title>", 'x = "<meta name="generator" content="wheelrate 1">"'):
        other.write_text(text, "utf-8")
        refused(run(*command, "--html", other.name, cwd=file.parent), "other.html", "--force")
        assert other.read_text("utf-8") == text
    assert run(*command, "--html", other.name, "--force", cwd=file.parent).returncode == 0
    assert other.read_text("utf-8") == page
    inch = run(*command, "--html", other.name, "--units", "inch", cwd=file.parent)
    assert inch.returncode == 0
    assert other.read_text("utf-8") == wr.demo().sheet("inch").to_html() != page


@pytest.mark.parametrize("force", [[], ["--force"]])
@pytest.mark.parametrize("there", [True, False])
def test_a_symbolic_link_is_neither_followed_nor_replaced(file, page, force, there):
    behind, link = file.with_name("behind.html"), file.with_name("link.html")
    if there:
        behind.write_text(page, "utf-8")
    link.symlink_to(behind)
    refused(run("sheet", file, "--html", link, *force), "symbolic link", str(behind))
    assert link.is_symlink()
    assert behind.exists() == there


def test_what_is_no_ordinary_file_is_left_alone(file):
    pipe = file.with_name("pipe")
    os.mkfifo(pipe)
    refused(run("demo", "--html", pipe, "--force"), "no ordinary file")
    refused(run("demo", "--html", "/dev/null", "--force"), "no ordinary file")
    assert stat.S_ISCHR(os.stat("/dev/null").st_mode)


def test_on_a_full_disk_the_page_of_before_is_whole(file, page):
    target = file.with_suffix(".html")
    target.write_text(page, "utf-8")
    before = sorted(file.parent.iterdir())

    def no_room():
        resource.setrlimit(resource.RLIMIT_FSIZE, (TOO_FEW, TOO_FEW))

    done = run("sheet", file, "--units", "inch", preexec_fn=no_room)
    assert (done.returncode, done.stdout) == (1, b"")
    assert str(target) in done.stderr.decode()
    assert target.read_text("utf-8") == page
    assert sorted(file.parent.iterdir()) == before, "no temporary file is left"


def test_a_page_broken_off_leaves_the_page_of_before(tmp_path, page, monkeypatch):
    target = tmp_path / "sheet.html"
    target.write_text(page, "utf-8")

    def break_off(_):
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", break_off)
    with pytest.raises(KeyboardInterrupt):
        wr.demo().sheet("inch").save(target)
    assert target.read_text("utf-8") == page
    assert list(tmp_path.iterdir()) == [target]


def test_the_folder_is_checked_before_anything_is_printed(file):
    target = file.parent / "no" / "page.html"
    done = run("sheet", file, "--html", target)
    assert (done.returncode, done.stdout) == (1, b"")
    assert f"{target}: there is no such folder" in done.stderr.decode()
    done = run("sheet", file, "--html", file / "page.html")
    assert (done.returncode, done.stdout) == (1, b"")
    assert run("sheet", file, "--html", "").returncode == 2, "an empty name is the folder itself"


def test_permissions_are_kept_and_new_pages_go_by_the_mask(tmp_path, page):
    target = tmp_path / "sheet.html"
    before = os.umask(0o027)
    try:
        _files.write(target, page)
        assert stat.S_IMODE(target.stat().st_mode) == 0o640
        target.chmod(0o604)
        _files.write(target, page)
    finally:
        os.umask(before)
    assert stat.S_IMODE(target.stat().st_mode) == 0o604
    assert target.read_text("utf-8") == page


@pytest.mark.parametrize("case", ["Link", "NotAFile", "NotOurs"])
def test_save_refuses_the_same(tmp_path, page, case):
    target = tmp_path / "sheet.html"
    film = wr.plot.animation(wr.demo().rear.linkage)
    if case == "Link":
        target.symlink_to(tmp_path / "behind.html")
    elif case == "NotAFile":
        target.mkdir()
    else:
        target.write_text("a letter", "utf-8")
    for thing in (wr.demo().sheet(), film):
        with pytest.raises(wr.errors.OverwriteError, match="not written") as caught:
            thing.save(target)
        assert (caught.value.case, caught.value.path) == (case, str(target))
        if case != "NotOurs":
            with pytest.raises(wr.errors.OverwriteError):
                thing.save(target, force=True)
    if case == "NotOurs":
        assert target.read_text("utf-8") == "a letter"
        film.save(target, force=True)
        wr.demo().sheet().save(str(target))
        assert target.read_text("utf-8") == page
    else:
        assert [path.name for path in tmp_path.iterdir()] == ["sheet.html"]


def test_an_empty_file_holds_nothing_to_lose(tmp_path, page):
    target = tmp_path / "sheet.html"
    target.touch()
    wr.demo().sheet().save(target)
    assert target.read_text("utf-8") == page


@pytest.mark.parametrize("encoding", ["cp1252", "latin-1", "ascii", "utf-16"])
def test_every_stream_is_utf_8(file, page, encoding):
    env = {**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0", "LC_ALL": "C", "COLUMNS": "100"}
    wall = file.with_name("wall.html")
    done = run("demo", "--html", wall, env=env)
    assert (done.returncode, done.stdout.decode("utf-8")) == (0, wr.demo().sheet().to_screen(100))
    assert wall.read_text("utf-8") == page
    named = wr.demo().correct({"bike.name": "Grat−Läufer ½"}).to_toml()
    done = run("sheet", "-", env=env, input=named.encode("utf-8"))
    assert done.returncode == 0
    assert "Grat−Läufer ½" in done.stdout.decode("utf-8")
    done = run("check", "-", env=env, input=named.replace("rake =", '"Läufer−½" =').encode("utf-8"))
    assert "Läufer−½" in done.stdout.decode("utf-8")
    done = run("fit", "-", env=env, input=named.replace("rake =", '"Läufer−½" =').encode("utf-8"))
    assert "Läufer−½" in done.stdout.decode("utf-8")
    change = "rear.shock.spring.rate=56 N/mm"
    done = run("what-if", "-", change, env=env, input=named.replace("rake =", '"Läufer−½" =').encode("utf-8"))
    assert "Läufer−½" in done.stderr.decode("utf-8")


def test_a_file_name_that_is_no_text_is_printed_as_it_is(file):
    odd = os.fsencode(file.parent) + b"/caf\xe9.toml"
    os.rename(file, odd)
    done = subprocess.run([COMMAND, "check", odd], capture_output=True, check=False)
    assert (done.returncode, done.stdout) == (0, odd + b": no faults\n")


def test_a_reader_that_goes_away_is_no_fault_and_the_page_is_there(file, page):
    for command in (["sheet", file], ["check", file], ["demo", "--file"]):
        reading, writing = os.pipe()
        os.close(reading)
        try:
            done = subprocess.run([COMMAND, *command], stdout=writing, stderr=subprocess.PIPE, check=False)
        finally:
            os.close(writing)
        assert (done.returncode, done.stderr) == (141, b""), command
    assert file.with_suffix(".html").read_text("utf-8") == page
    shell = subprocess.run(
        ["bash", "-c", '"$0" sheet "$1" --json | head -1', COMMAND, file], capture_output=True, check=False
    )
    assert (shell.returncode, shell.stderr) == (0, b"")
    assert len(shell.stdout.splitlines()) == 1
