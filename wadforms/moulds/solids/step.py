"""STEP files: the exact solid, for whoever wants to go on with it in a drawing programme.

ISO 10303-21 is the text, ISO 10303-214 (AP214, 'automotive design') the words in it.
"""

from __future__ import annotations

import io
import re
from typing import Any, Final

from wadforms.errors import ProofFailed
from wadforms.moulds.solids import kernel

_NO_TIME: Final = "1970-01-01T00:00:00"


def step_bytes(shape: Any, *, name: str) -> bytes:
    """A solid as the bytes of a STEP file, mm.

    The same solid gives the same bytes: the header carries the beginning of 1970 for its time,
    and neither author nor path.

    Parameters
    ----------
    shape : cadquery.Shape
        The solid [mm].
    name : str
        Of the product, as the reading programme shows it.

    Raises
    ------
    ProofFailed
        The kernel could not write it.
    KernelMissing
        The kernel cannot be loaded.

    Examples
    --------
    >>> from wadforms.families import family
    >>> from wadforms.moulds.solids.solid import solid
    >>> made = step_bytes(solid(family("disk")().piece().body), name="disk")
    >>> made[:13], b"SI_UNIT(.MILLI.,.METRE.)" in made
    (b'ISO-10303-21;', True)
    """
    control, header_of = kernel.ocp("STEPControl"), kernel.ocp("APIHeaderSection")
    done = kernel.ocp("IFSelect").IFSelect_ReturnStatus.IFSelect_RetDone
    writer = control.STEPControl_Writer()
    # The unit of the file is a setting of the whole process; it is mm unless somebody changed it.
    unit = kernel.ocp("Interface").Interface_Static.CVal_s("write.step.unit")
    how = control.STEPControl_StepModelType.STEPControl_AsIs
    if unit != "MM" or writer.Transfer(shape.wrapped, how) != done:
        raise ProofFailed(f"{name}: the kernel cannot turn this solid into STEP in mm")
    model, text = writer.Model(), _text(name)
    product = kernel.ocp("StepBasic").StepBasic_Product
    for number in range(1, model.NbEntities() + 1):
        if isinstance(entity := model.Value(number), product):
            entity.SetId(text)
            entity.SetName(text)
    header = header_of.APIHeaderSection_MakeHeader(model)
    header.SetName(text)
    header.SetTimeStamp(_text(_NO_TIME))
    header.SetAuthorValue(1, _text(""))
    header.SetOrganizationValue(1, _text(""))
    stream = io.BytesIO()
    if writer.WriteStream(stream) != done:
        raise ProofFailed(f"{name}: the kernel cannot write this solid as STEP")
    return stream.getvalue()


def _text(words: str) -> Any:
    r"""A string of the kernel; what is not printable ASCII as \X2\…\X0\, ISO 10303-21 §6.4.3."""
    coded = re.sub(r"[^ -\[\]-~]+", lambda found: rf"\X2\{_four_hex(found[0])}\X0" + "\\", words)
    return kernel.ocp("TCollection").TCollection_HAsciiString(coded)


def _four_hex(characters: str) -> str:
    return characters.encode("utf-16-be").hex().upper()
