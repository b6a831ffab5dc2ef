"""Make."""

from wadforms.page.visit import Place

PLACE = Place("/make", "Make", "x", lambda v: None)
