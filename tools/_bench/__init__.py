"""What tools/bench.py does: writes synthetic books, times whole commands on them, sets the figures beside the budgets."""
