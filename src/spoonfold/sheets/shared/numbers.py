"""Numbers of steps, and short names for them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from spoonfold.language.texts import Texts

LONGEST = 36
"""Letters of a name."""

_SENTENCE_END = re.compile(r"[.!?:;](?=\s|$)")
_CLAUSE_END = re.compile(r",(?=\s)")


def numbers_text(numbers: Iterable[int]) -> str:
    """Whole numbers as people write them: `1, 3–5`."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        str(run[0]) if len(run) == 1 else f"{run[0]}{'–' if len(run) > 2 else ', '}{run[-1]}"
        for run in runs
    )


def step_name(text: str, texts: Texts, longest: int = LONGEST) -> str:
    """What a step is called, out of its own first words: `Grate the cucumber`.

    A name ends where a clause does, and says so with no dots: whoever wants the whole step has
    its number.
    """
    first = _SENTENCE_END.split(" ".join(text.split()), maxsplit=1)[0].strip()
    if len(first) <= longest:
        return first
    # Translators: words that begin a clause of their own, parted by spaces. A name ends before it.
    first = _before(first, texts.say("until so that as than because when while where which"))[0]
    if len(first) <= longest:
        return first
    # Translators: other words before which the name of a step may end, parted by spaces.
    ends = _before(first, texts.say("and or with on in into under over to from for by"))
    ends += tuple(first[: match.start()] for match in _CLAUSE_END.finditer(first))
    # Two words at least: “Put” alone names nothing.
    fitting = [each for each in ends if len(each) <= longest and " " in each]
    if fitting:
        return max(fitting, key=len)
    # Translators: words that join one noun to the next, parted by spaces.
    joints = texts.say("of")
    whole = [each for each in _before(first, joints) if len(each) <= longest and " " in each]
    if whole:
        return max(whole, key=len)
    cut = first[: longest + 1].rpartition(" ")[0]
    # Translators: words that no name ends with, parted by spaces.
    hanging = set(texts.say("the a an of its their your each every all").split())
    while cut.rpartition(" ")[2].lower() in hanging:
        cut = cut.rpartition(" ")[0]
    return cut or first


def _before(text: str, words: str) -> tuple[str, ...]:
    """The text up to each of the words; where there is none, all of it."""
    found = re.finditer(
        rf",?\s(?:{'|'.join(map(re.escape, words.split()))})\s", text, re.IGNORECASE
    )
    ends = tuple(text[: match.start()] for match in found)
    return ends or (text,)
