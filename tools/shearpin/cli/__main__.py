"""`python -m shearpin.cli`."""

from shearpin.cli.main import run

if __name__ == "__main__":
    run()
