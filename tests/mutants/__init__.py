"""A sample of faults put into the program one by one, to see whether a test notices: `python -m tests.mutants book`."""
