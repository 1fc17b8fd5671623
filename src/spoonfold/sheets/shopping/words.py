"""The words of a shopping list: packages, weights, money, what should be left, who must not."""

from __future__ import annotations

import datetime
import math
from collections.abc import Sequence
from fractions import Fraction

from spoonfold.language.amounts import amount_text
from spoonfold.language.calendar import plate_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Item, Package
from spoonfold.plan.amounts.convert import GRAM, OUNCE, TSP
from spoonfold.plan.amounts.measure import in_pounds
from spoonfold.plan.amounts.total import added, expressed
from spoonfold.plan.safety.avoid import Finding, Match
from spoonfold.plan.safety.needs import avoids, of_safety
from spoonfold.plan.shop.left import Lot
from spoonfold.plan.shop.portion import Part
from spoonfold.plan.shop.shop import Purchase
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.show import show_number
from spoonfold.quantity.unit import PIECE, Dimension, size_in
from spoonfold.sheets.shared.labels import ON_LABELS

_CENT = Fraction(1, 100)
_QUARTER = Fraction(1, 4)


def money(sum_of: Fraction) -> str:
    """`2.70`: in the class's own currency, halves of a hundredth up."""
    cents = math.floor(sum_of / _CENT + Fraction(1, 2))
    return f"{cents // 100}.{cents % 100:02}"


def bought_text(purchase: Purchase | None, texts: Texts) -> str:
    """`2 × 2 lb + 1 medium`; `nothing` where there is nothing to buy."""
    if purchase is None or not purchase.packages:
        return texts.say("nothing")
    return " + ".join(_packages(count, package, texts) for count, package in purchase.packages)


def _packages(count: int, package: Package, texts: Texts) -> str:
    size = package.size
    if size.low == 1 and size.unit.dimension is Dimension.COUNT:
        return amount_text(size.times(Fraction(count)), texts)
    inside = amount_text(size, texts)
    if size.unit == PIECE:
        return texts.count(
            "{number} pack of {size}", "{number} packs of {size}", count, size=inside
        )
    return f"{count} × {inside}"


def weight_text(grams: Fraction, texts: Texts) -> str:
    """Up to the next quarter ounce, or ounce above a pound, and to the next 5 g."""
    ounces = grams * size_in(GRAM, OUNCE)
    step = _QUARTER if ounces < 16 else Fraction(1)
    shown = in_pounds(math.ceil(ounces / step) * step)
    pounds = " ".join(amount_text(each, texts) for each in shown)
    return texts.say("{pounds} or {grams} g", pounds=pounds, grams=math.ceil(grams / 5) * 5)


def loosely(parts: Sequence[Part]) -> tuple[Amount, ...]:
    """What is measured, to read beside a package: each kind by its larger unit."""
    return tuple(
        each for total in added((part.amount,) for part in parts) for each in loosely_one(total)
    )


def loosely_one(amount: Amount) -> tuple[Amount, ...]:
    """A volume in cups and spoons that cooks say; the rest as it is, and what metric tools
    measure: a millilitre is no part of a teaspoon."""
    volume = amount.unit.dimension is Dimension.VOLUME and amount.unit.system != "metric"
    if volume and amount.high is None:
        return expressed(amount.to(TSP).low)
    return (amount,)


def at_hand_text(lots: Sequence[Lot], texts: Texts) -> str:
    """`about ¾ of 17 fl oz, since Sep 25, in the cupboard`; empty for nothing."""
    return "; ".join(
        texts.say(
            "{amount}, since {day}, in the {place}",
            amount=lot_amount(lot, texts),
            day=day_short(lot.since, texts),
            place=texts.say(lot.place),
        )
        for lot in lots
    )


def lot_amount(lot: Lot, texts: Texts) -> str:
    """`about ¾ of 17 fl oz`."""
    size = lot.package.size
    if size.unit.dimension is Dimension.COUNT and size.low > 1:
        left = Fraction(math.floor(lot.share * size.low))
        return texts.say("about {amount}", amount=amount_text(size.times(left / size.low), texts))
    whole = amount_text(size, texts)
    quarters = round(lot.share / _QUARTER)
    if quarters >= 4:
        return texts.say("nearly all of {package}", package=whole)
    return texts.say(
        "about {part} of {package}", part=show_number(max(quarters, 1) * _QUARTER), package=whole
    )


def day_short(date: datetime.date, texts: Texts) -> str:
    """`Sep 25`."""
    return " ".join(plate_text(date, texts.language))


def findings_text(findings: Sequence[Finding], setting: Setting, texts: Texts) -> str:
    """`milk (table 2)`: what is avoided, and where nobody may be given it."""
    return ", ".join(_finding(each, setting, texts) for each in findings)


def on_label(finding: Finding, texts: Texts) -> str:
    """What is avoided, as a label has it where only the label tells."""
    if finding.match is Match.LABEL:
        return texts.say(ON_LABELS.get(finding.avoided, finding.avoided))
    return texts.say(finding.avoided)


def _finding(finding: Finding, setting: Setting, texts: Texts) -> str:
    what = on_label(finding, texts)
    needs = [need for need in of_safety(setting.needs) if finding.avoided in avoids(need)]
    if any(need.table is None for need in needs):
        return texts.say("{what} (all tables)", what=what)
    tables = sorted({need.table for need in needs if need.table is not None})
    if not tables:
        return what
    return texts.say("{what} (table {tables})", what=what, tables=", ".join(map(str, tables)))


def label_text(
    item: Item | None, findings: Sequence[Finding], setting: Setting, texts: Texts
) -> str:
    """What the label in the hand must not name."""
    wanted = Match.UNKNOWN if item is None else Match.LABEL
    return findings_text(tuple(each for each in findings if each.match is wanted), setting, texts)


def brands_text(item: Item | None, findings: Sequence[Finding], texts: Texts) -> str:
    """What some brands contain, beyond what must be read for anyway."""
    said = {each.avoided for each in findings}
    return (
        ""
        if item is None
        else ", ".join(texts.say(name) for name in item.check_label if name not in said)
    )


def avoided_words(setting: Setting) -> tuple[str, ...]:
    """All that is handled as an allergy in a session, each once."""
    return tuple(dict.fromkeys(word for need in of_safety(setting.needs) for word in avoids(need)))
