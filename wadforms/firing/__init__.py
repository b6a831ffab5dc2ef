"""A whole firing: from the table of what is fired to what to make and to weigh out.

::

    tables       what any table needs: CSV and XLSX, headings and cells with units
    list_file    reads the firing list, and tells every fault of it with row and column
    list_rows    one row of it: a pot, a shelf, posts, cones, draw rings
    rows         what was read
    candidates   the shapes that are tried where the user names none
    choosing     wads for every touch of the list
    make_list    how many of which shape, of which mix, with spare
    batch        what to weigh out for a volume of wet mix
    write        pictures, outlines, make list and moulds
    folder       a folder that appears whole or not at all

What wads carry and how they are chosen is for `wadforms.setting`; here it is only counted.
"""
