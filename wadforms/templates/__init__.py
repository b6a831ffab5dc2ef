"""What is drawn: templates to cut by and pictures to look at.

::

    drawing   a description of a drawing in mm, y up, that knows no file format
    look      the styles, greys and sizes of text that all drawings share
    shading   hatching, as plain lines
    placing   moves and scales what is drawn, and tells where it lies
    svg       writes a drawing as SVG; nothing else knows that format
    pdf       writes drawings as the pages of a PDF file, for paper
    dxf       writes a stencil as DXF
    write     chooses among them by a file's name; all files or none
    paper     sheets of paper and what a printer can reach on them
    proof     the square and the line that tell whether a print is true to scale
    correction        why a print is not true, and what makes up for it
    tiles     a drawing that is larger than a sheet, on several to be joined
    tile_room   where each of them has room for its square, words and crosses
    tile_strip  what is written at the foot of each of them

    outline_sheet     shapes at full size, to cut by
    outline_places    where they go on a sheet
    outline_pages     on as many sheets as they take
    proof_page        the square alone, to try a printer with
    stencil           closed paths for a machine that cuts
    pieces            one piece in plan and from the side, at any scale
    piece_picture     one piece with its dimensions
    library_picture   all shapes on one sheet
    slab_layout       as many pieces as a slab yields
    slab_drawing      the slab at full size, or as an overview
    setting_guide     foot and wads at full size, to lay on the shelf
    setting_notes     the mark that will stay, and every place in numbers
    guide_pages       both together
    setting_view      what a picture of a setting shows
    setting_picture   a setting from below and from the side
    card_picture      wads from above, pieces and marks, for a wall or a phone

A kind of drawing is a module with a function that gives a `Drawing`; a file format is a module
with a function that takes one.
"""
