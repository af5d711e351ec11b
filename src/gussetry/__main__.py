"""`python -m gussetry`: the same program as `gussetry`."""

from gussetry.cli import main

if __name__ == "__main__":
    main()
