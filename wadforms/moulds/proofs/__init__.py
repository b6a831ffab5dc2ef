"""Shows from its file alone that a part is the part that was meant."""
