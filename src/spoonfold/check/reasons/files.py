"""Reasons for what reading says of files and of their layout."""

from __future__ import annotations

FILES = {
    "no-class-file": "class.yaml says when the class meets, who comes, what the kitchen has and what is cooked. "
    "Without it no amount, no plan and no list can be made.",
    "unused-file": "Only files in their own places are read. One that nothing reads may hold a whole recipe, "
    "or the allergens of an ingredient, that everybody believes to be in the booklet.",
    "file-name": "The name of a recipe's file becomes part of the address of its page. Spaces, capital "
    "letters and accents break such addresses on some computers and web hosts.",
    "empty-file": "An empty file is usually one that was not saved, or was saved somewhere else.",
    "file-too-large": "What an educator writes is a few pages of text. A file that is hundreds of times larger "
    "is a picture or a document under the wrong name.",
    "not-utf-8": "Letters such as é or ü, and signs such as ½ and °, have numbers inside the computer, and "
    "old encodings number them differently. A ½ that is read wrongly is a wrong amount.",
    "not-text": "Word processors leave signs behind that nobody sees: page breaks, zero bytes, line ends "
    "of their own. They would land in the sheets, or make the line numbers of all messages "
    "wrong.",
    "turned-text": "Some signs that nobody sees print letters and figures in another order than they are "
    "written in: the cook who checks the line and the child who reads it see two different "
    "amounts. Words in Arabic or Hebrew need none of them, since every letter knows its own "
    "direction.",
    "not-a-file": "A folder, a device or a pipe with the name of a text file can't be read as one.",
    "unreadable-file": "The computer refused to open the file. It may belong to somebody else or lie on a stick "
    "that was taken out.",
    "link-outside": "A link to a file elsewhere works on one computer only, and it could bring a private file "
    "into the published pages. The class folder must hold everything itself.",
    "link-to-folder": "A linked folder can lead back into itself, or to files that change behind one's back. "
    "Only real folders are read.",
    "private-tracked": "What lies in content/private/ is about children. Whatever git keeps is copied to everyone "
    "who gets the repository, and stays in its history when the file is long gone.",
    "no-header": "A recipe, a lesson and a note after class begin with a header between two lines of three "
    "hyphens: the title, the ingredients and so on. Without its first line nothing can be told "
    "apart.",
    "unclosed-header": "Without the second line of three hyphens the header never ends, and all the steps would "
    "be taken for part of it.",
    "empty-header": "The header is there but says nothing: no title, no ingredients.",
    "unreadable-yaml": "The header and the .yaml files are read by their layout: each key on its line, items "
    "below each other. Where the layout contradicts itself nobody can tell what belongs to "
    "what.",
    "tab": "A tab is as wide as each program likes, so what looks indented in one editor isn't in "
    "another. Spaces are the same width everywhere.",
    "unclosed-quote": "Without its second quotation mark the text runs on over all the following lines.",
    "unclosed-bracket": "Without its second bracket the list runs on over all the following lines.",
    "second-colon": "A colon with a space after it ends a key. With two of them on a line it is not clear "
    "which one ends it; quotation marks around the value settle it.",
    "strange-start": "A few signs (*, &, !, %, @ and the backquote) have a meaning of their own at the start of "
    "a value. In quotation marks they are plain signs.",
    "yaml-alias": "An alias repeats a value that stands somewhere else. Whoever changes that place changes "
    "this one without seeing it, so everything is written out.",
    "yaml-anchor": "An anchor names a value so that it can be repeated elsewhere. Everything is written out "
    "here, so that each line says all that it means.",
    "yaml-tag": "A tag tells a program to turn a value into something else. Everything here is plain text "
    "that Spoonfold reads itself.",
    "too-deep": "Nothing here needs lists inside lists inside lists. Depth like this is a bracket in the "
    "wrong place.",
    "strange-key": "A key is the word in front of a colon. An empty one, or a list in its place, can't be "
    "looked up.",
    "key-twice": "When the same key stands there twice, one of the two values is lost without a word. That "
    "may be the one with the allergen.",
    "second-document": "A line of three hyphens begins a new document, and everything after it would be lost.",
    "unknown-key": "A key that isn't known is never read. It is nearly always a slip of one letter, and what "
    "was written after it would be lost without a word.",
    "missing-key": "Without this key a sheet would have a hole, or a sum could not be done.",
    "not-keys": "Here several things are asked for, each with its name. A single value doesn't say which "
    "of them it is.",
    "not-a-list": "Here any number of things may stand, each on a line of its own with a hyphen. Written in "
    "another way they can't be told apart.",
    "empty-list": "An empty list says that there is nothing, where at least one thing is needed.",
    "list-too-long": "A list of hundreds of items where a class has a dozen is a slip: something pasted in many "
    "times, or another file under this name. Reading on would take hours and print nonsense.",
    "text-too-long": "A value is a name, a line or a few sentences. One that fills pages leaves no room for "
    "anything else on its sheet; most often a quotation mark is missing that ends it.",
    "not-text-here": "Here goes a short text, and what stands there is a list or has keys of its own. Often a "
    "colon, a bracket or a # inside the text did it; quotation marks help.",
    "nothing-given": "A key without a value says nothing. Either the value was forgotten or the key is too "
    "many.",
    "unknown-choice": "Only a few words have a meaning here. Any other would be printed nowhere and counted "
    "nowhere.",
}
