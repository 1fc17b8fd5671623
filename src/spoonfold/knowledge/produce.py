"""Vegetables and fruit that most shops have most of the year."""

from __future__ import annotations

from functools import cache

from spoonfold.knowledge.data import data


@cache
def everyday_produce(fruit: bool) -> tuple[str, ...]:
    """By name, the likeliest first; fruit alone, or vegetables alone."""
    return tuple(data("produce.json")["fruit" if fruit else "vegetables"])


@cache
def taken_in_part() -> frozenset[str]:
    """What is so large that a dish takes a part of one."""
    return frozenset(data("produce.json")["taken in part"])
