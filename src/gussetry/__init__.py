"""Grading and charts for crocheted mittens."""

__version__ = "0.1.0"
