"""Exact solids of the modelling kernel: a witness of volumes, and STEP files."""
