"""Shapes."""

from wadforms.page.visit import Place

PLACE = Place("/shapes", "Shapes", "x", lambda v: None)
