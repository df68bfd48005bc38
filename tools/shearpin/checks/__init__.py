"""Rules on one record, and the mechanism every rule uses."""
