"""Editions: what is published together, and its verification."""
