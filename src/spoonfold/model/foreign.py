"""Words that stay in another language than the sheet around them."""

from __future__ import annotations


class Foreign(str):
    """Text that nobody has translated. It is text like any other, so that it may stand wherever
    text stands; a page that prints it whole says its language to whoever reads it aloud."""

    __slots__ = ("is_marked", "language")

    language: str
    """A BCP 47 tag."""
    is_marked: bool
    """Whether a word beside it says so to whoever sees it; not where all around it is foreign."""

    def __new__(cls, text: str, language: str, is_marked: bool = True) -> Foreign:
        made = super().__new__(cls, text)
        made.language = language
        made.is_marked = is_marked
        return made

    def __reduce__(self) -> tuple[type[Foreign], tuple[str, str, bool]]:
        # Texts go to other processes, and `str` alone would lose the language on the way.
        return Foreign, (str(self), self.language, self.is_marked)

    def changed(self, text: str) -> Foreign:
        """Other text of the same language: this one with a capital, say."""
        return Foreign(text, self.language, self.is_marked)
