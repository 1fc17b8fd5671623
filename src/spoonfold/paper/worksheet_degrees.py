"""What the worksheet asks about temperatures."""

from __future__ import annotations

from spoonfold.language.texts import Texts
from spoonfold.quantity.show import show_number
from spoonfold.teach.fractions.clock_kinds import Degrees, EachMinute, PartWay, ToGo


def degrees_asked(question: Degrees, texts: Texts, dish: str) -> str:
    """The question in words; the food, the oven and the cooler each have their own."""
    told = _goal(question, texts, dish)
    start = question.start
    match question:
        case ToGo():
            rest = texts.say(
                "The thermometer shows {start} °F. How many degrees are missing?", start=start
            )
            if question.heat.kind == "cold":
                rest = texts.say(
                    "The thermometer shows {start} °F. How many degrees too warm is that?",
                    start=start,
                )
        case PartWay(part=part):
            rest = texts.say(
                "It was {start} °F and has gone {part} of the way. What does the thermometer show?",
                start=start,
                part=show_number(part),
            )
        case EachMinute(minutes=minutes):
            rest = texts.say(
                "It starts at {start} °F and takes {minutes} minutes. Suppose every "
                "minute brings equally many degrees. How many is that each minute?",
                start=start,
                minutes=minutes,
            )
        case _:
            raise TypeError(question)
    return f"{told} {rest}"


def _goal(question: Degrees, texts: Texts, dish: str) -> str:
    goal = question.heat.goal
    match question.heat.kind:
        case "food":
            return texts.say(
                "{dish}: in step {step} the middle must reach {goal} °F.",
                dish=dish,
                step=question.heat.step,
                goal=goal,
            )
        case "oven":
            return texts.say("{dish}: the oven must reach {goal} °F.", dish=dish, goal=goal)
        case _:
            return texts.say("The cooler must be at {goal} °F or colder.", goal=goal)
