"""Wads for wood firing: which, how many and where, with their templates and press moulds.

In layers; each may import from those above it in this list, never from those below:

- ``errors``, ``units``, ``files``: what can go wrong; quantities with units; files written whole
- ``geometry``: outlines of exact lines and arcs, bodies raised on them
- ``families``: one module a kind of shape, from declared parameters to a ``Piece``
- ``nesting``: copies of an outline laid on a rectangle, as many as it takes
- ``catalogue``: named shapes and outline files, ours and the user's own
- ``setting``: pots, mixes, wads in place, and whether they hold: statics
- ``moulds``: press trays as proven STL; the only layer that knows the CAD kernel
- ``templates``: drawings in mm; its module ``svg`` alone knows how SVG is written
- ``firing``: a whole kiln load, from the list to what is made and weighed out
- ``cli``: reads what is typed, calls the rest, prints
"""
