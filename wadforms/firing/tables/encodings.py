"""Turns the bytes of a table into text; what is not certain is said, or refused."""

from __future__ import annotations

import codecs
import re
from typing import Final

from wadforms.errors import BadInput, Fault, UnknownName

ENCODINGS: Final = {
    "utf-8": "utf-8-sig",
    "utf-16": "utf-16",
    **dict.fromkeys(("windows-1252", "cp1252"), "cp1252"),
    **dict.fromkeys(("windows-1250", "cp1250"), "cp1250"),
    **dict.fromkeys(("windows-1251", "cp1251"), "cp1251"),
    **dict.fromkeys(("mac-roman", "macintosh"), "mac_roman"),
    **dict.fromkeys(("iso-8859-1", "latin-1"), "iso8859_1"),
    "iso-8859-2": "iso8859_2",
    "iso-8859-15": "iso8859_15",
    "shift-jis": "cp932",
    "euc-jp": "euc_jp",
    "gb18030": "gb18030",
    "big5": "big5",
    "euc-kr": "cp949",
}
"""Encodings that may be named, by the names that programs give them."""

_MARKS: Final = (
    (codecs.BOM_UTF32_LE, "UTF-32", None),  # begins as that of UTF-16 does
    (codecs.BOM_UTF32_BE, "UTF-32", None),
    (codecs.BOM_UTF8, "utf-8", "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16", "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "utf-16"),
)
_SAVE: Final = "save it as CSV in UTF-8"
_BINARY: Final = re.compile("[\x00-\x08\x0e-\x1f]")
_WORD: Final = re.compile(r"[\w'’.-]*[^\x00-\x7f][\w'’.-]*")


def decode(data: bytes, where: str, encoding: str | None = None) -> tuple[str, tuple[str, ...]]:
    r"""The text of a file, and what was taken for granted in reading it.

    UTF-8, with or without its mark, and UTF-16 with its mark are certain; what is neither is
    read as Windows-1252, and that is said.

    Parameters
    ----------
    data : bytes
        The file.
    where : str
        Its name, for messages.
    encoding : str or None
        One of `ENCODINGS`, where the user names it.

    Raises
    ------
    BadInput
        It is no text in that encoding.

    Examples
    --------
    >>> decode("Schüssel".encode("cp1252"), "list.csv")[0]
    'Schüssel'
    >>> decode("Schüssel".encode("mac_roman"), "list.csv", "Mac-Roman")
    ('Schüssel', ())
    """
    mark = next(((name, codec) for start, name, codec in _MARKS if data.startswith(start)), None)
    if encoding is not None:
        return _named(data, where, encoding, mark), ()
    if mark is not None:
        name, codec = mark
        if codec is None:
            raise BadInput(Fault(where, f"text in {name}", _SAVE))
        return _text(data, codec, where, name.upper()), ()
    try:
        return _whole(data.decode("utf-8"), where), ()
    except UnicodeDecodeError:
        pass
    text = _text(data, "cp1252", where, "UTF-8")
    found = _WORD.search(text)
    example = f": {found[0][:30]!r}" if found else ""
    note = (
        f"it was read as Windows-1252, as it is no UTF-8{example}; "
        "if letters are wrong, save it in UTF-8 or name its encoding"
    )
    return text, (note,)


def _named(data: bytes, where: str, encoding: str, mark: tuple[str, str | None] | None) -> str:
    name = encoding.strip().lower().replace("_", "-")
    if name not in ENCODINGS:
        raise UnknownName("encoding", encoding, ENCODINGS)
    if mark is not None and mark[0] != name:
        right = f"leave it out: {where} says itself that it is {mark[0].upper()}"
        raise BadInput(Fault("encoding", repr(encoding), right))
    if name == "utf-16" and mark is None:
        # Which byte comes first would be a guess.
        raise BadInput(Fault(where, "UTF-16 without its mark at the start", _SAVE))
    return _text(data, ENCODINGS[name], where, name)


def _text(data: bytes, codec: str, where: str, name: str) -> str:
    try:
        return _whole(data.decode(codec), where)
    except UnicodeDecodeError:
        raise BadInput(Fault(where, f"text that is not {name}", _SAVE)) from None


def _whole(text: str, where: str) -> str:
    """The text, unless no spreadsheet has written it."""
    if "\x00" in text[:200] and text[:200].count("\x00") >= len(text[:200]) // 3:
        raise BadInput(Fault(where, "UTF-16 without its mark at the start", _SAVE))
    if _BINARY.search(text):
        raise BadInput(Fault(where, "a file that is no text", "save it as CSV or XLSX"))
    return text
