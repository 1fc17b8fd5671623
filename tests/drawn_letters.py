"""The letters of a PDF as they are printed."""

from __future__ import annotations

import ctypes
from collections.abc import Iterable, Iterator

import pypdfium2
import pypdfium2.raw as pdfium


def letters(
    pages: Iterable[pypdfium2.PdfPage],
) -> Iterator[tuple[str, float, str, tuple[float, ...]]]:
    """Each letter with its size in points as printed, its font's name, and its frame."""
    for page in pages:
        read = page.get_textpage()
        for index in range(read.count_chars()):
            letter = chr(pdfium.FPDFText_GetUnicode(read, index))
            if letter.isspace():
                continue
            matrix = pdfium.FS_MATRIX()
            pdfium.FPDFText_GetMatrix(read, index, matrix)
            size = pdfium.FPDFText_GetFontSize(read, index) * abs(matrix.d)
            name = ctypes.create_string_buffer(100)
            pdfium.FPDFText_GetFontInfo(read, index, name, 100, None)
            yield letter, size, name.value.decode(), read.get_charbox(index)
