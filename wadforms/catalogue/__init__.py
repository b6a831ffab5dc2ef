"""Finds and reads the named shapes: ours, and those in the user's own folders.

A shape is one TOML file, named after itself, that gives a family and its parameters; see the
README beside the shapes.  Nothing here needs to know a shape, and no shape needs Python.

Two shapes of one name are refused, wherever they lie: a batch pressed from the wrong one of two
``disk-20`` is lost clay.
"""

from wadforms.catalogue.folders import VARIABLE, own_folder, user_folder, user_folders
from wadforms.catalogue.shape import Shape, find, shapes

__all__ = ["VARIABLE", "Shape", "find", "own_folder", "shapes", "user_folder", "user_folders"]
