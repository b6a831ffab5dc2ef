"""The statics of a pot on its wads: feet, mixes, contact, load, stability, span and sizing."""
