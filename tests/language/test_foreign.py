"""Words in another language keep what is known of them wherever they are taken."""

from __future__ import annotations

import copy
import pickle

from spoonfold.model.translation import Foreign


def test_on_the_way_to_another_process() -> None:
    """A sheet is printed elsewhere than it was made: the language goes with the words."""
    for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):
        words = Foreign("rice", "en", is_marked=False)
        there = pickle.loads(pickle.dumps(words, protocol))
        assert (there, there.language, there.is_marked) == ("rice", "en", False)
        assert isinstance(there, Foreign)


def test_a_copy() -> None:
    """A copy is the same in every way."""
    there = copy.deepcopy(Foreign("rice", "en"))
    assert (there, there.language, there.is_marked) == ("rice", "en", True)
