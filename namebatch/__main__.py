"""``python -m namebatch``."""

from namebatch.start import main

if __name__ == "__main__":
    main()
