"""Chances of causes, and the order of tests."""
