"""One module a kind of question: all there is to it, from when it is asked to how it is drawn.

Each says in `ASKS` under which topics it is asked; `choice` finds it there by itself.
"""
