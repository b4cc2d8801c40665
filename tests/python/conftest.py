"""Shared set-up of the Python tests."""

import hypothesis

# A shared machine may pause at any time: no deadline, and the same examples on every run.
hypothesis.settings.register_profile("wheelrate", deadline=None, derandomize=True)
hypothesis.settings.load_profile("wheelrate")
