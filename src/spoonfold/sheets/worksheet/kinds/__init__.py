"""One module a kind of question: all there is to it, from when it is asked to how it is drawn.

A frozen dataclass has the numbers that it gives, its one answer, its words, its working for the
key and its picture (`Question` says what must be there); a function yields every such question out
of a session's numbers in a grade, with the standard that each is about. Another kind changes what
is chosen for its grades, as a new seed does.

Each says in `ASKS` under which topics it is asked; `choice` finds it there by itself.
"""
