"""Say on what machine the other benches run: processor, cores, system, and the versions of what is measured.

Run: ``python benches/python/machine.py``.
"""

import os
import platform
from importlib.metadata import version
from pathlib import Path


def processor():
    """Name the processor, by its model and the vectors it has."""
    known = Path("/proc/cpuinfo")
    if not known.exists():
        return platform.processor() or platform.machine()
    facts = dict(line.split(":", 1) for line in known.read_text().splitlines() if ":" in line)
    facts = {name.strip(): fact.strip() for name, fact in facts.items()}
    widest = next((name for name in ("avx512f", "avx2", "avx") if name in facts.get("flags", "").split()), "sse2")
    return f"{facts.get('model name', platform.machine())} ({widest})"


def main():
    """Print one line."""
    packages = ", ".join(f"{name} {version(name)}" for name in ("numpy", "scipy"))
    print(
        f"{processor()}, {os.cpu_count()} cores, {platform.system()}, Python {platform.python_version()}, {packages}; "
        "shortest of several runs each"
    )


if __name__ == "__main__":
    main()
