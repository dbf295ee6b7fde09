"""``python -m namebatch``."""

from namebatch.cli import main

if __name__ == "__main__":
    main()
