"""`python -m sweepbook`: the same as `sweepbook`."""

from sweepbook.cli import main

if __name__ == "__main__":
    main()
