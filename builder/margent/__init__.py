"""Margent reads the lettering of a print, and keeps the vocabulary it reads with."""

__version__ = "0.1.0"
