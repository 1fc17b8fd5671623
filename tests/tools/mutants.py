"""Which small changes of the code would no test notice?

    pip install -e '.[test,mutants]'
    python tests/tools/mutants.py

mutmut makes the changes (`<` into `<=`, `and` into `or`, 3 into 4, one arm of a condition for
both); this runs, for each of a sample, the tests that reach the changed line, and prints those
that all pass. mutmut's own way of running starts the whole suite for each.

The sample is the same each time: mutants are ordered by a hash of the function and of the change,
not of file or line, so that moving a function or editing its neighbour leaves the rest as it was.
Another `--seed` gives other ones. Three of mutmut's kinds are left out: a text that changes (words
are held by what is printed), and an argument or a value that becomes None (strict types find it).

A change is put into a running copy of the tests (`fork`), so it needs Linux or macOS. What a
module works out while it is imported stays as it was; a survivor whose function is called there
is tried by hand.
"""

from __future__ import annotations

import argparse
import ast
import builtins
import difflib
import functools
import gc
import hashlib
import os
import signal
import time
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, FunctionType

import libcst as cst
import pytest
from libcst.metadata import CodeRange, MetadataWrapper, PositionProvider
from mutmut.mutation.file_mutation import Mutation, create_mutations

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "spoonfold"
ROOMS = ("quantity", "teach", "check", "plan/amounts", "plan/clock", "plan/shop", "plan/people")
# Rooms of tests that look at values and messages; those that print or open a browser take minutes.
TESTS = ("quantity", "teach", "check", "plan", "pantry", "mistakes", "read")
# Seconds. A test longer than this looks at much at once and is not asked.
LONG_TEST = 2.0
# How many times the seconds of tests that a mutant gets before it counts as hung.
PATIENCE = 20


@dataclass(frozen=True)
class Mutant:
    """One change of one function."""

    file: Path
    function: str
    first: int
    """The line on which it begins."""
    key: str
    code: str

    def where(self) -> str:
        return f"{self.file.relative_to(ROOT)}:{self.first} {self.function} [{self.key[:8]}]"

    def shown(self) -> str:
        """Where it is, with the lines before and after."""
        before = self.file.read_text(encoding="utf-8").splitlines()
        lines = difflib.unified_diff(before, self.code.splitlines(), n=0, lineterm="")
        changed = [line for line in lines if line[:1] in "+-" and line[:3] not in ("+++", "---")]
        return "\n".join([self.where(), *("    " + line for line in changed)])


def _is_dull(mutation: Mutation) -> bool:
    """A text, or a value or an argument that becomes None or goes."""
    was, becomes = mutation.original_node, mutation.mutated_node
    if isinstance(was, cst.BaseString | cst.Assign | cst.AnnAssign):
        return True
    return isinstance(was, cst.Call) and isinstance(becomes, cst.Call) and was.args != becomes.args


def _functions(module: cst.Module) -> Iterator[tuple[str, cst.FunctionDef]]:
    for node in module.body:
        if isinstance(node, cst.FunctionDef):
            yield node.name.value, node
        elif isinstance(node, cst.ClassDef):
            for inner in node.body.body:
                if isinstance(inner, cst.FunctionDef):
                    yield f"{node.name.value}.{inner.name.value}", inner


def _mutants_of(file: Path, seed: int) -> Iterator[tuple[str, Path, str, Mutation, cst.Module]]:
    module, mutations, _, _ = create_mutations(str(file), file.read_text(encoding="utf-8"))
    names = {id(node): name for name, node in _functions(module)}
    seen: Counter[str] = Counter()
    for mutation in mutations:
        name = names.get(id(mutation.contained_by_top_level_function))
        if name is None or _is_dull(mutation):
            continue
        was = module.code_for_node(mutation.original_node)
        becomes = module.code_for_node(mutation.mutated_node)
        what = f"{seed}|{name}|{was}|{becomes}"
        seen[what] += 1
        key = hashlib.sha256(f"{what}|{seen[what]}".encode()).hexdigest()
        yield key, file, name, mutation, module


def _code_of(code: str | ast.Module, file: Path, function: str) -> CodeType | None:
    """The function's code object in a module's text."""
    waiting = [compile(code, str(file), "exec", dont_inherit=True)]
    while waiting:
        for const in waiting.pop().co_consts:
            if isinstance(const, CodeType):
                if const.co_qualname == function:
                    return const
                waiting.append(const)
    return None


def sample(rooms: tuple[str, ...], count: int, seed: int) -> tuple[list[Mutant], int]:
    """The first `count` mutants by their hash, and how many there are to draw from."""
    found: list[tuple[str, Path, str, Mutation, cst.Module]] = []
    for room in rooms:
        for file in sorted((SOURCE / room).rglob("*.py")):
            found += _mutants_of(file, seed)
    found.sort(key=lambda one: one[0])
    mutants: list[Mutant] = []
    places: dict[Path, Mapping[cst.CSTNode, CodeRange]] = {}
    for key, file, name, mutation, module in found:
        if len(mutants) == count:
            break
        changed = module.deep_replace(mutation.original_node, mutation.mutated_node)
        assert isinstance(changed, cst.Module)
        # Only what a call runs: a default value or a decorator is worked out while importing.
        if _code_of(changed.code, file, name) == _code_of(module.code, file, name):
            continue
        if file not in places:
            places[file] = MetadataWrapper(module, unsafe_skip_copy=True).resolve(PositionProvider)
        node = mutation.original_node
        place = places[file].get(node) or places[file][mutation.contained_by_top_level_function]
        mutants.append(Mutant(file, name, place.start.line, key, changed.code))
    return mutants, len(found)


_reached: set[str] = set()
"""The changes whose statement ran since this was emptied: the markers in the code write here."""


class Driver:
    """A pytest plugin that runs, in place of the tests, the mutants."""

    def __init__(self, mutants: list[Mutant], enough: float) -> None:
        self.mutants = mutants
        self.enough = enough
        self.seconds: dict[pytest.Item, float] = {}
        self.left: dict[str, tuple[Mutant, str]] = {}

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.running = Running()
        reach = self._reach(session.items)
        gc.freeze()
        for number, mutant in enumerate(self.mutants, 1):
            tests = sorted(reach[mutant.key], key=lambda item: (self.seconds[item], item.nodeid))
            began = time.monotonic()
            end = self._try(session, mutant, tests) if tests else "unreached"
            if end != "killed":
                self.left[mutant.key] = mutant, end
            took = f"{time.monotonic() - began:5.1f} s"
            print(f"{number:4} {end:9} {len(tests):5} tests {took}  {mutant.where()}", flush=True)
        return True

    def _reach(self, items: list[pytest.Item]) -> dict[str, list[pytest.Item]]:
        """Runs every test once with a marker at each change: which tests come by it."""
        reach: dict[str, list[pytest.Item]] = defaultdict(list)
        by_file: dict[Path, list[Mutant]] = defaultdict(list)
        for mutant in self.mutants:
            by_file[mutant.file].append(mutant)
        # A name that every changed module finds without importing it; stubs know no new builtins.
        builtins.__reached__ = _reached  # type: ignore[attr-defined]
        for file, mutants in by_file.items():
            marked = _marked(file, mutants)
            for function in {each.function for each in mutants}:
                self.running.change(file, function, marked)
        for number, item in enumerate(items):
            _reached.clear()
            following = items[number + 1] if number + 1 < len(items) else None
            began = time.process_time()
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            self.seconds[item] = time.process_time() - began
            if self.seconds[item] <= LONG_TEST:
                for key in _reached:
                    reach[key].append(item)
            if number % 500 == 499:
                spent = sum(self.seconds.values())
                print(f"{number + 1} of {len(items)} tests run, {spent:.0f} s", flush=True)
        return reach

    def _try(self, session: pytest.Session, mutant: Mutant, tests: list[pytest.Item]) -> str:
        """Forks, changes the function in the child, and asks the tests until one fails."""
        child = os.fork()
        if child == 0:
            os._exit(self._child(session, mutant, tests))
        last = time.monotonic() + self.enough * PATIENCE
        while time.monotonic() < last:
            done, status = os.waitpid(child, os.WNOHANG)
            if done:
                return "survived" if os.waitstatus_to_exitcode(status) == 0 else "killed"
            time.sleep(0.02)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        return "killed"

    def _child(self, session: pytest.Session, mutant: Mutant, tests: list[pytest.Item]) -> int:
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        self.running.change(mutant.file, mutant.function, mutant.code)
        # A cache may hold what the unchanged function said; but to fill all again takes longer than
        # the tests that notice most changes.
        for tries in range(2):
            spent = 0.0
            for item, following in zip(tests, [*tests[1:], None], strict=True):
                item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
                if session.testsfailed:
                    return 1
                spent += self.seconds[item]
                if spent > self.enough:
                    break
            if not tries:
                self.running.forget()
        return 0


def _marked(file: Path, mutants: list[Mutant]) -> ast.Module:
    """The module with a marker in front of every statement in which something changes."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    for mutant in mutants:
        holder, index = _statement(tree, mutant)
        marker = ast.parse(f"__reached__.add({mutant.key!r})").body[0]
        for node in ast.walk(marker):
            if hasattr(node, "lineno"):
                ast.copy_location(node, holder[index])
        holder.insert(index, marker)
    return tree


def _statement(tree: ast.Module, mutant: Mutant) -> tuple[list[ast.stmt], int]:
    """The innermost statement that holds the line of a change: the list in which it stands, and
    its place there."""
    found = [
        (block, index)
        for node in ast.walk(tree)
        for _, block in ast.iter_fields(node)
        if isinstance(block, list)
        for index, each in enumerate(block)
        if isinstance(each, ast.stmt) and each.lineno <= mutant.first <= (each.end_lineno or 0)
    ]
    return min(found, key=lambda at: (at[0][at[1]].end_lineno or 0) - at[0][at[1]].lineno)


class Running:
    """The functions of this process by file and name, and its caches."""

    def __init__(self) -> None:
        self.functions: dict[tuple[str, str], list[FunctionType]] = defaultdict(list)
        self.caches: list[functools._lru_cache_wrapper[object]] = []
        for thing in gc.get_objects():
            if isinstance(thing, FunctionType):
                code = thing.__code__
                self.functions[code.co_filename, code.co_qualname].append(thing)
            elif isinstance(thing, functools._lru_cache_wrapper):
                self.caches.append(thing)

    def change(self, file: Path, function: str, code: str | ast.Module) -> None:
        """Gives every function that was made from the file the new code."""
        new = _code_of(code, file, function)
        assert new is not None
        for each in self.functions[str(file), function]:
            each.__code__ = new

    def forget(self) -> None:
        """Empties every cache."""
        for cache in self.caches:
            cache.cache_clear()


def main() -> int:
    parser = argparse.ArgumentParser(description="Which small changes would no test notice?")
    parser.add_argument("--count", type=int, default=300, help="how many mutants")
    parser.add_argument("--seed", type=int, default=1, help="another number, another sample")
    parser.add_argument("--room", action="append", help="a room of src/spoonfold, in place of all")
    parser.add_argument("--only", action="append", help="a mutant by the start of its hash")
    parser.add_argument("--list", action="store_true", help="show the sample and run nothing")
    parser.add_argument("--enough", type=float, default=20, help="seconds of tests for a mutant")
    parser.add_argument("tests", nargs="*", help="other tests than those of these rooms")
    given = parser.parse_args()

    rooms = tuple(given.room or ROOMS)
    mutants, drawn_from = sample(rooms, given.count, given.seed)
    if given.only:
        mutants = [one for one in mutants if one.key.startswith(tuple(given.only))]
    if given.list:
        print("\n".join(one.shown() for one in mutants))
        return 0
    driver = Driver(mutants, given.enough)
    tests = given.tests or [str(ROOT / "tests" / folder) for folder in TESTS]
    # Without its report and its catching of output: a mutant's tests fail in silence.
    quiet = ["-o", "addopts=", "-s", "-p", "no:cacheprovider", "-p", "no:terminal"]
    pytest.main([*quiet, "--rootdir", str(ROOT), *tests], plugins=[driver])
    for mutant, end in driver.left.values():
        print(f"{end}: {mutant.shown()}")
    rooms_of = Counter(
        next(room for room in rooms if SOURCE / room in each.file.parents) for each in mutants
    )
    left = len(driver.left)
    print(f"{len(mutants)} of {drawn_from} mutants: {len(mutants) - left} killed, {left} left")
    print(", ".join(f"{room} {number}" for room, number in rooms_of.items()))
    return 1 if left else 0


if __name__ == "__main__":
    raise SystemExit(main())
