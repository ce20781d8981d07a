"""Run the command line as ``python -m stairjig``."""

from stairjig.cli import run

if __name__ == "__main__":
    run()
