"""Reasons for what is refused in an ingredient line or another amount."""

from __future__ import annotations

AMOUNTS = {
    "unreadable-amount": "An amount that can't be read can't be multiplied for the class. Whole numbers, fractions "
    "such as 1 1/2 and decimals with a point are read exactly.",
    "zero-amount": "Nothing of an ingredient is no amount: the line is left over, or a digit is missing.",
    "negative-amount": "An amount below zero is a slip; often a hyphen of the list stands twice.",
    "divided-by-zero": "Nothing can be divided by 0. A digit below the line is missing.",
    "improper-fraction": "A fraction after a whole number is less than one. 1 3/2 may be 2 1/2, or a slip for "
    "1 1/2, and only the cook knows.",
    "number-too-long": "Kitchens don't measure to the twelfth digit. Something was pasted that isn't an amount.",
    "comma-in-number": "1,500 is fifteen hundred in one country and one and a half in another: a thousand times "
    "too much, or too little.",
    "decimal-comma": "In an ingredient line the comma comes before the preparation. A decimal is written with a "
    "point, so that 1,5 can't be read as 1.",
    "falling-range": "A range goes from the smaller to the larger. Turned round it may be a fraction that lost "
    "its space, such as 1-1/2.",
    "or-for-range": "“2 or 3” is a range in the kitchen and a choice elsewhere. With a hyphen it is a range.",
    "word-for-number": "Numbers in words can't be multiplied with certainty: “half a dozen” holds two of them.",
    "a-for-one": "“A can” and “a little” begin alike. With 1 the amount can be multiplied.",
    "share-above-one": "A share is a part of something. More than all of it can't be taken.",
    "percent-for-share": "Cooks halve and quarter; they don't take per cents. Fractions are also what children "
    "learn here.",
    "foreign-digit": "Figures of other scripts, and small raised figures, are easily read as something else. "
    "Figures are 0 to 9, and fractions 1/2 or ½.",
    "odd-character": "An invisible sign came in with a copied text. It can part a number in two without anyone "
    "seeing it.",
    "line-too-long": "No ingredient needs so many words. A whole paragraph was probably pasted into one line.",
    "empty-line": "There is a hyphen and no ingredient behind it.",
    "nested-bracket": "Brackets inside brackets have no meaning in an ingredient line.",
    "no-amount": "A line without an amount can't be bought, measured or multiplied. What is really used by "
    "taste says so: “to taste”, “for dusting”, “as needed”.",
    "no-name": "The line says how much and how it is prepared, but not of what.",
    "more-than-amount": "Only an amount has a meaning here. More words may be a note that belongs elsewhere.",
    "two-amounts": "A line has one amount, so that it is multiplied once. Two amounts are added up first.",
    "two-ingredients": "Salt and pepper are two things to buy, to measure and to be allergic to. Each needs its "
    "own line and its own amount.",
    "either-or": "A shopping list can't buy “butter or oil”, and one of the two may be an allergen. One is "
    "listed, and the other is a swap with its reason.",
    "plus-more": "“Plus more for dusting” is a second use without an amount. On a line of its own it gets "
    "into the shopping and into its step, and stays out of the sums.",
    "amount-and-as-needed": "With an amount it is measured and multiplied; to taste it isn't. Both at once can't be.",
    "comma-missing": "What follows the first comma is how the ingredient is prepared. Without the comma it "
    "would become part of its name, and no pantry knows “salt to taste”.",
    "comma-before-name": "What stands before the first comma is the ingredient's name. A comma between two "
    "describing words cuts the name off.",
    "bracket-after-name": "Brackets behind the name may hold anything. An amount belongs in front, beside the first "
    "one; a preparation belongs behind a comma.",
    "bracket-not-amount": "In front of the name brackets hold an amount: what one of them holds, or the same thing "
    "measured another way.",
    "contents-before-unit": "“1 15-oz can” and “2 x 400 g” can be read as two numbers or as one. How many comes first, "
    "and what one of them holds stands in brackets.",
    "each-of-measure": "“Each” belongs to things that are counted, such as cans. A cup has no contents of its "
    "own.",
    "each-or-total": "Two cans (30 oz) may hold fifteen each or thirty each: half, or all of it. One word "
    "settles it.",
    "bare-unit-letter": "A T is a tablespoon to one cook and a teaspoon to another, and the one is three times the "
    "other. With salt or chili that spoils the dish, or hurts.",
    "unit-misspelt": "A unit with a slip is taken for part of the food's name, and the amount for a number of "
    "pieces.",
    "short-size": "A size in short is taken for part of the food's name, and then nothing is known of the "
    "food: not what allergens it has, and not what it weighs.",
    "sized-measure": "Cups and spoons have one size. A “large cup” can't be levelled off.",
    "vague-measure": "A heaped spoon holds half as much again as a level one, or twice as much. Only level "
    "measures can be multiplied.",
    "vague-amount": "“About”, “a few” and “some” can't be multiplied by three. Give the amount, or say “as "
    "needed”.",
    "optional-first": "That an ingredient may be left out is said at the end of its line, so that every line "
    "begins with its amount.",
}
