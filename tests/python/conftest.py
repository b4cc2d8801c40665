"""Shared set-up of the Python tests."""

from collections import Counter

import hypothesis
import pytest

# A shared machine may pause at any time: no deadline, and the same examples on every run.
hypothesis.settings.register_profile("wheelrate", deadline=None, derandomize=True)
hypothesis.settings.load_profile("wheelrate")


def pytest_terminal_summary(terminalreporter):
    """Say last what was left out, how much of it, and why."""
    skipped = terminalreporter.stats.get("skipped", [])
    reasons = Counter(report.longrepr[2].removeprefix("Skipped: ") for report in skipped)
    terminalreporter.write_line(f"left out: {sum(reasons.values()) or 'nothing'}")
    for reason, count in reasons.most_common():
        terminalreporter.write_line(f"  {count}: {reason}")


@pytest.fixture(scope="session")
def found():
    """Give two objects of every class at most, by its name."""
    from test_classes import inside, made

    by_class = {}
    for root in made():
        for value in inside(root):
            kept = by_class.setdefault(type(value).__name__, [])
            if len(kept) < 2 and value not in kept:
                kept.append(value)
    return by_class
