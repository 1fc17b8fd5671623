"""What stops the making of sheets in the middle."""

from spoonfold.problem import Problem


class LayoutError(Exception):
    """The class's own layouts can't be used. Raised, since it comes from the depth of a template or
    out of a worker; a build returns its problem as any other."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem)
        self.problem = problem
