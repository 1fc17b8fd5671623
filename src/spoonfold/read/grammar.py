"""Small texts of the header and the notes: pans, holdings, equipment, waits."""

from __future__ import annotations

import re
from fractions import Fraction

from spoonfold.model.recipe import Holding, Pan, Position
from spoonfold.quantity.duration import read_minutes
from spoonfold.quantity.grammar import Refusal, read_number

_PAN = re.compile(
    r"(?P<a>[0-9./ ½¼¾⅓⅔]+?)\s*(?:x|×|by)\s*(?P<b>[0-9./ ½¼¾⅓⅔]+?)\s*(?:in|inch|inches|\")?",
    re.IGNORECASE,
)
_ROUND_PAN = re.compile(r"(?P<a>[0-9./ ½¼¾⅓⅔]+?)\s*(?:in|inch|inches|\")\s+round", re.IGNORECASE)
_HOLDS = re.compile(r"(?P<count>[0-9][0-9./ ½¼¾⅓⅔]*?)\s*(?P<what>[^\W\d].*)")
_NEED = re.compile(r"(?P<name>.*\S)\s*[x×]\s*(?P<count>[0-9]{1,3})")
_PRICE = re.compile(r"[0-9]+(?:[.,][0-9]{2})?(?![0-9.,])")
_MONEY = re.compile(r"[$£€¥\s]")
COUNTRIES = frozenset(
    re.findall(
        r"[A-Z]{2}",
        """
    AD AE AF AG AI AL AM AO AQ AR AS AT AU AW AX AZ BA BB BD BE BF BG BH BI BJ BL BM BN BO BQ BR
    BS BT BV BW BY BZ CA CC CD CF CG CH CI CK CL CM CN CO CR CU CV CW CX CY CZ DE DJ DK DM DO DZ
    EC EE EG EH ER ES ET FI FJ FK FM FO FR GA GB GD GE GF GG GH GI GL GM GN GP GQ GR GS GT GU GW
    GY HK HM HN HR HT HU ID IE IL IM IN IO IQ IR IS IT JE JM JO JP KE KG KH KI KM KN KP KR KW KY
    KZ LA LB LC LI LK LR LS LT LU LV LY MA MC MD ME MF MG MH MK ML MM MN MO MP MQ MR MS MT MU MV
    MW MX MY MZ NA NC NE NF NG NI NL NO NP NR NU NZ OM PA PE PF PG PH PK PL PM PN PR PS PT PW PY
    QA RE RO RS RU RW SA SB SC SD SE SG SH SI SJ SK SL SM SN SO SR SS ST SV SX SY SZ TC TD TF TG
    TH TJ TK TL TM TN TO TR TT TV TW TZ UA UG UM US UY UZ VA VC VE VG VI VN VU WF WS YE YT ZA ZM
    ZW
    XK
""",
    )
)
"""The codes of ISO 3166-1, by Unicode CLDR 48, and XK, which everybody uses for Kosovo."""
_MEANT = {"UK": "GB", "EN": "GB"}
_DEGREES = r"([-−]?[0-9]{1,3}(?:\.[0-9]{1,8})?)"
_POSITION = re.compile(rf"{_DEGREES}\s*,\s*{_DEGREES}")
LARGEST_PAN_SIDE = 40  # inches; a full sheet pan is 18 x 26


def read_pan(text: str) -> Pan | Refusal:
    """`9 x 13 in` or `8 in round`."""
    match = _PAN.fullmatch(text.strip()) or _ROUND_PAN.fullmatch(text.strip())
    if match is None:
        return Refusal(
            "unreadable-pan", f"“{text}” can't be read as the size of a pan.", 0, "9 x 13 in"
        )
    sides = []
    for side in match.groups():
        number = read_number(side.strip())
        if isinstance(number, Refusal):
            return number
        if number > LARGEST_PAN_SIDE:
            return Refusal("unreadable-pan", "No pan is as large as that.", 0, "9 x 13 in")
        sides.append(number)
    return Pan(tuple(sides), text)


def read_price(text: str) -> Fraction | Refusal:
    """`1.89`: money, in whatever is paid with."""
    number = read_number(text)
    if isinstance(number, Refusal):
        digits = _PRICE.search(text)
        return Refusal(
            "not-a-price",
            f"“{text}” isn't a price: digits alone, without a sign.",
            0,
            digits[0].replace(",", ".") if digits else "1.89",
            certain=digits is not None and _MONEY.sub("", text) == digits[0],
        )
    return number


def read_holding(text: str) -> Holding | Refusal:
    """`6 portions`, `4 pancakes`."""
    match = _HOLDS.fullmatch(text.strip())
    if match is None:
        return Refusal(
            "unreadable-holding", "This should say how many of what fit at once.", 0, "6 portions"
        )
    count = read_number(match["count"])
    return count if isinstance(count, Refusal) else Holding(count, match["what"].strip())


def read_need(text: str) -> tuple[str, int] | Refusal:
    """`knife`, `knife x2`: a name and a count."""
    match = _NEED.fullmatch(text.strip())
    if match is None:
        return text.strip(), 1
    count = int(match["count"])
    if not count:
        return Refusal("zero-amount", "None of it is needed?", 0, match["name"].strip())
    return match["name"].strip(), count


def read_wait(text: str) -> tuple[Fraction, bool] | Refusal:
    """`20 min` or `20 min aside`: minutes, and whether the equipment is free meanwhile."""
    words, aside = text.strip(), False
    if words.lower().endswith(" aside"):
        words, aside = words[: -len(" aside")].rstrip(), True
    minutes = read_minutes(words)
    return minutes if isinstance(minutes, Refusal) else (minutes, aside)


def read_country(text: str) -> str | Refusal:
    """Two capital letters of ISO 3166-1."""
    if text in COUNTRIES:
        return text
    code = _MEANT.get(text.upper(), text.upper())
    return Refusal(
        "unreadable-country",
        f"“{text}” isn't the code of a country: two capital letters of ISO 3166-1.",
        0,
        code if code in COUNTRIES else "Write for example TR for Türkiye or PE for Peru.",
        certain=code in COUNTRIES,
    )


def read_position(text: str) -> Position | Refusal:
    """`37.07, 37.38`: degrees north, then degrees east; south and west with a minus."""
    match = _POSITION.fullmatch(text.strip())
    if match is None:
        return Refusal(
            "unreadable-position",
            f"“{text}” should be two numbers: degrees north, then degrees east.",
            0,
            "37.07, 37.38",
        )
    latitude, longitude = (Fraction(each.replace("−", "-")) for each in match.groups())
    if abs(latitude) > 90 or abs(longitude) > 180:
        return Refusal(
            "unreadable-position",
            "No place on earth has these degrees: north goes to 90 and east to 180.",
            0,
            "37.07, 37.38",
        )
    return Position(latitude, longitude)
