"""The command line as ``python -m wheelrate``."""

from wheelrate.cli import main

if __name__ == "__main__":
    main(prog_name="python -m wheelrate")
