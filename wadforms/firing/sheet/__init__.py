"""The crew sheet: what every helper must know, on one page of the web and on paper.

::

    parts     what a sheet is made of: cards, tables, steps, points
    cards     what goes under which pot, a card for each row of the list
    tables    make list, batch, boxes, kiln wash and touches as tables
    order     the order of work, as far as this firing has that work
    cautions  what can hurt
    content   all of it, in order: the one thing that both writers write
    html      as one page that needs nothing else
    pdf       as sheets of paper
    flow      what the layout flows over these
"""
