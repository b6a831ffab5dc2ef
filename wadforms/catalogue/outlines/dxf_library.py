"""The door to ezdxf: it is loaded without a trace on the machine."""

from __future__ import annotations

import logging
import os
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

_NO_FONTS: Final = '{"version": 2, "font-faces": []}'


def dxf_library() -> Any:
    """Load ezdxf without the list of fonts that it would make of this machine, and keep.

    At its first import it looks through all fonts, which takes seconds, and writes what it found
    into the user's cache.  Outlines have no letters, so it is shown an empty list instead; what
    it logs is no part of our output.

    Examples
    --------
    >>> dxf_library().__name__
    'ezdxf'
    """
    log = logging.getLogger("ezdxf")
    if not log.handlers:
        log.addHandler(logging.NullHandler())
    if "ezdxf" not in sys.modules:
        kept = os.environ.get("XDG_CACHE_HOME")
        with TemporaryDirectory() as folder:
            cache = Path(folder, "ezdxf", "font_manager_cache.json")
            cache.parent.mkdir()
            cache.write_text(_NO_FONTS, encoding="ascii")
            os.environ["XDG_CACHE_HOME"] = folder
            try:
                import ezdxf
            finally:
                if kept is None:
                    del os.environ["XDG_CACHE_HOME"]
                else:
                    os.environ["XDG_CACHE_HOME"] = kept
    import ezdxf

    return ezdxf
