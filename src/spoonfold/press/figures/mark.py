"""Writing SVG elements with the same numbers on every machine."""

from xml.sax.saxutils import quoteattr

LETTERS = "Andika, Vazirmatn, sans-serif"
"""The families of a drawing's words: those of the sheets, for a drawing is in any language."""


def number(value: float) -> str:
    """`value` with at most two decimals and no exponent: finer than any printer's dot here."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def tag(name: str, **attributes: str | float) -> str:
    """An empty element; `stroke_width` becomes `stroke-width` and `class_` becomes `class`."""
    written = (
        f" {key.rstrip('_').replace('_', '-')}"
        f"={quoteattr(value if isinstance(value, str) else number(value))}"
        for key, value in attributes.items()
    )
    return f"<{name}{''.join(written)}/>"
