"""Press moulds: solids of the modelling kernel, their triangles, and files that are proven.

``kernel`` is the only door to CadQuery, and opens it when something solid is first asked for.
``solid`` builds any body; ``mesh`` makes triangles and STL of it; ``proof`` reads a file back
and shows that it is what was meant.  Each kind of mould is a module that makes a solid from a
piece and a `Making`; ``write`` gives it a file.

================  =============================================
kind              module
================  =============================================
tray              ``tray``: cavity with a floor, struck off
================  =============================================
"""

from wadforms.moulds.making import Making
from wadforms.moulds.write import TrayResult, write_tray

__all__ = ["Making", "TrayResult", "write_tray"]
