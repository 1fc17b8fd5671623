"""A copy of this process that may die."""

from __future__ import annotations

import os
import traceback
from collections.abc import Callable


def in_fork(act: Callable[[], None]) -> int:
    """Runs `act` in a copy of this process; its exit code, or minus the signal that ended it."""
    child = os.fork()
    if child == 0:
        code = 1
        try:
            act()
            code = 0
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(code)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
