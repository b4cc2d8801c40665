"""Front ends of notebooks, run for real: `make test-all`, since they bring a hundred packages."""

import shutil

import pytest

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")


@pytest.fixture(scope="session")
def chromium():
    if CHROMIUM is None:
        pytest.skip("no Chromium on the PATH")
    playwright = pytest.importorskip("playwright.sync_api", reason="no Playwright")
    with playwright.sync_playwright() as running:
        browser = running.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield browser
        browser.close()


def pytest_terminal_summary(terminalreporter):
    """Say last what was left out, and why."""
    for report in terminalreporter.stats.get("skipped", []):
        terminalreporter.write_line(f"left out: {report.nodeid}: {report.longrepr[2].removeprefix('Skipped: ')}")
