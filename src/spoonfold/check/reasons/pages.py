"""Reasons for what reading says of recipes, their steps and their prose."""

from __future__ import annotations

PAGES = {
    "no-steps": "The numbered list under “Steps” is what the children follow. Without it there is no dish.",
    "unknown-section": "The sheets print a few known sections: the steps, culture, talk, science, and at home. A "
    "heading that isn't one of them would be printed nowhere.",
    "section-twice": "Only one section of each kind has a place on the sheets; the second would push out the "
    "first.",
    "heading-level": "The title stands in the header and is printed as the page's one great heading. A second "
    "one confuses readers who hear the page.",
    "set-as-code": "Markdown takes lines that are indented by four spaces for a piece of a program and prints "
    "them in another type, without stress, links or line breaks.",
    "link-not-read": "A slip in a link, often a space in its address, prints the link with all its brackets, "
    "and the amount behind it isn't counted.",
    "link-to-file": "A link to a file on this computer leads nowhere on paper, on another computer or on the "
    "web.",
    "raw-html": "HTML works on web pages only. In the booklet, in the cards and in other languages these "
    "signs would be printed as they stand.",
    "colon-in-line": "A colon followed by a space makes a key of the words in front of it, so this is no longer "
    "a line of text. In the list of ingredients only `part:` is a key.",
    "line-broken": "Each ingredient is one line that begins with a hyphen. Without the hyphen two lines "
    "become one, and the second ingredient vanishes into the name of the first.",
    "empty-part": "A heading with nothing under it is usually left over, or the ingredients below it were "
    "moved.",
    "ingredient-twice": "Two lines for one ingredient in the same part can't be told apart by the steps. Added up "
    "they are one line; in two parts they are two.",
    "strange-step": "A step is words with a number, and under it a list of notes, four spaces in. What stands "
    "elsewhere belongs to no step: a time that isn't counted, a caution that isn't printed.",
    "empty-step": "A number without words tells the children nothing.",
    "step-number": "Steps are numbered as they follow each other, whatever was typed. When `after` counts by "
    "the numbers as typed, and those differ, a step would wait for the wrong one.",
    "note-without-colon": "Under a step stand its notes: a word, a colon and a value. Words without a colon belong "
    "into the step itself.",
    "unknown-note": "A note that isn't known is neither printed nor counted: a caution with a slip in its key "
    "would be lost.",
    "note-not-translated": "Times, equipment and temperatures come from the original alone, so that two languages "
    "can't say two things. A translation gives only the words.",
    "translation-of-nothing": "A translation takes its amounts and times from the original. Without one there is nothing "
    "to translate.",
    "translation-sections": "The headings of a translation are in its own language, so its sections are told apart by "
    "their order. With one too few or too many, culture would be printed as science.",
    "amount-in-translation": "Amounts are worked out from the original for every number of people. A number in the "
    "translation would stay what it was, beside the right one.",
    "entry-twice": "A word that is explained twice would be printed with one of the two meanings, and nobody "
    "knows which.",
    "cannot-accept": "A warning is a likely mistake, and you may know better. An error would print something "
    "wrong, or hurt a child, and no reason makes that right.",
    "accepts-nothing": "An accepted warning that is no longer given would hide the next one of its kind. Usually "
    "its name is misspelt, or what it was about has been mended.",
}
