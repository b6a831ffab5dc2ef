"""Triangles of parts: bodies meshed by plain arithmetic, joined and cut by manifold3d."""
