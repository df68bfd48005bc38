"""A long run of hostile record files: `python -m tests.fuzz --count 20000`."""
