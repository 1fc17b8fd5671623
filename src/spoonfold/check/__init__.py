"""Model and results to problems: one file per family of rules, one function per rule."""

from spoonfold.check.all import RULES, check_folder
from spoonfold.check.rule import Facts, Rule, facts_of

__all__ = ["RULES", "Facts", "Rule", "check_folder", "facts_of"]
