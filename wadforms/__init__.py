"""Wads for wood firing: which, how many and where, with their templates and press moulds."""
