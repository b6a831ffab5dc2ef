"""A whole firing: from the table of what is fired to what to make and to weigh out.

::

    tables       what any table needs: CSV and XLSX, headings and cells with units
    list_file    reads the firing list, and tells every fault of it with row and column
                 (list_columns, list_rows, list_feet: its columns, its rows, the feet in them)
    rows         what was read
    touches      everything that would stick, with the load on it (standing: what stands on what;
                 towers, loads: stacks and all above; furniture, stacking: shelves and posts)
    candidates   the shapes that are tried where the user names none
    options      for one touch the lightest arrangement of each shape
    programme    the fewest shapes that serve, then the least mix
    choosing     wads for every touch, by these two (reasons: why, in words)
    plan         what was chosen
    stock        what is in the boxes already
    make_list    how many of which shape, of which mix, with spare; what is left in the boxes
    batch, wash  what to weigh out, and how much kiln wash
    sheet        what the crew must know, as a page and on paper
    write        pictures, outlines, tables and moulds
    folder       a folder that appears whole or not at all

What wads carry and how they are chosen is for `wadforms.setting`; here it is only counted.
"""
