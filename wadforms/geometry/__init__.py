"""Exact outlines of lines and arcs, and the solids raised on them."""
