"""Run the command line as `python -m ledgewright`."""

from ledgewright.cli import main

if __name__ == "__main__":
    main()
