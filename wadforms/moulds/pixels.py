"""Greys of a picture."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


def averaged(seen: NDArray[np.uint8], fine: int) -> NDArray[np.uint8]:
    """A picture that was drawn so many times as large, each pixel the mean of its block.

    Parameters
    ----------
    seen : array of shape (fine × n, fine × m)
        Greys.
    fine : int
        How many times as large it was drawn.

    Examples
    --------
    >>> import numpy as np
    >>> averaged(np.array([[0, 10], [20, 30]], dtype=np.uint8), 2).tolist()
    [[15]]
    """
    import numpy as np

    rows = sum(seen[k::fine].astype(np.uint16) for k in range(fine))
    blocks = sum(np.asarray(rows)[:, k::fine] for k in range(fine))
    return np.asarray((blocks + fine**2 // 2) // fine**2, dtype=np.uint8)
