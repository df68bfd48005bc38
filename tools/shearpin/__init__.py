"""Repair knowledge for small engines and outdoor power equipment: checked, linked, computed, published."""

__version__ = "0.1.0"
