"""Model and results to problems: one file per family of rules, one function per rule."""

from spoonfold.check.all import RULES, Examined, check_folder, examine
from spoonfold.check.rule import Facts, Rule, facts_of

__all__ = ["RULES", "Examined", "Facts", "Rule", "check_folder", "examine", "facts_of"]
