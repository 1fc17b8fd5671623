"""Reasons for what reading says of dates, times, numbers and names."""

from __future__ import annotations

VALUES = {
    "not-a-whole-number": "Children, tables and minutes are counted in whole numbers within sensible bounds. A "
    "number outside them is a slip of a key.",
    "not-a-date": "3/4 is March in one country and April in another. Year, month and day in this order mean "
    "the same everywhere.",
    "not-a-time": "The plan of a session counts on from its start. Written as 10:00, on a clock of 24 hours, "
    "it can't be taken for the evening.",
    "not-ages": "The youngest and the oldest age decide how the sheets speak. The smaller number stands "
    "first.",
    "not-a-language": "Languages have short codes, such as es for Spanish. From the code follow the numbers, the "
    "plurals and the direction of the text.",
    "not-an-address": "The square code on the sheets leads to this address. One that isn't whole leads nowhere.",
    "not-a-volume": "A jug is known by how much it holds. That decides how often children fill it.",
    "not-days": "How long food keeps is counted in whole days, so that nobody has to guess on the last "
    "one.",
    "not-a-price": "Prices are digits with a point. Signs and commas mean different things in different "
    "countries.",
    "unreadable-country": "The map and the lists find a country by its two letters. Names of countries differ from "
    "language to language; the letters don't.",
    "unreadable-position": "A dish stands on the map where its degrees say, north before east. With the two in the "
    "other order it would stand in another part of the world.",
    "unreadable-pan": "From the sides of the pan follows its area, and from that the pan for twice as much. The "
    "sides are given in inches.",
    "unreadable-holding": "What fits at once decides how many loads are cooked, one after the other: a number and "
    "what it counts.",
    "unreadable-time": "The plan of the session adds up the minutes of every step. A time that can't be read "
    "would be counted as none.",
    "clock-for-time": "1:30 may be a time of day, an hour and a half, or a minute and a half. The units say "
    "which.",
    "no-time-unit": "Thirty may be minutes or hours when chickpeas soak. The unit is always written.",
    "range-for-time": "The plan must hold for the slowest table, so it counts on the longer time.",
    "unreadable-temperature": "A temperature decides whether meat and egg are safe. One that can't be read is printed "
    "nowhere.",
    "no-scale": "165 degrees Fahrenheit is safe for poultry; 165 degrees Celsius is a hot pan. The scale "
    "is always written.",
    "temperature-out-of-range": "No kitchen reaches this temperature. A digit is too many, or the scale is another.",
    "number-too-large": "No class needs so much. A slip of a key here would make the shopping list buy a "
    "warehouse.",
}
