"""`python -m dovelayout`."""

from dovelayout.cli.main import main

if __name__ == "__main__":
    main()
