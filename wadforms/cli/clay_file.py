"""Reads the clay of a pot, for how far its base may sag."""

from __future__ import annotations

from wadforms.cli.options import PotOptions
from wadforms.cli.reading import Reader
from wadforms.errors import BadInput, Fault
from wadforms.setting.clays import clay


def read_clay(options: PotOptions, reader: Reader) -> tuple[float | None, str]:
    """Pyroplastic index of the pot's clay [1/mm], and where it was measured."""
    if options.clay_file is None:
        return options.pyroplastic_index, ""
    reader.unused(
        options.pyroplastic_index, "--pyroplastic-index", "--clay tells the index: leave it out"
    )
    if options.base_thickness is None:
        right = "give it: the clay tells how far a base of that thickness sags"
        reader.faults.append(Fault("--base-thickness", "nothing", right))
    try:
        found = clay(options.clay_file)
    except BadInput as error:
        reader.faults += error.faults
        return None, ""
    return found.sags.value, found.words
