"""The label of a portion that is taken home: the dish, its allergens, chill by when."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.plan.safety.cold import Times, chill_by
from spoonfold.plan.safety.flow import Flow
from spoonfold.sheets.labels import Labels, labels_of

_LATEST = 24 * 60 - 1
_ROUND = 5


@dataclass(frozen=True, slots=True)
class HomeLabel:
    """What is written on one box."""

    dish: str
    labels: Labels
    """Of the dish as listed; a table that swapped has its own words on its box."""
    chill_by: datetime.time | None
    """None: nothing in it needs the cold."""


def home_label(flow: Flow, setting: Setting, times: Times, texts: Texts) -> HomeLabel:
    """The label of a dish in a session with that setting, by these times of its steps."""
    minutes = chill_by(flow, setting, times)
    return HomeLabel(
        dish=flow.recipe.title,
        labels=labels_of(flow.recipe, flow.pantry, texts),
        chill_by=None if minutes is None else _clock(setting.starts, int(minutes)),
    )


def _clock(starts: datetime.time, minutes: int) -> datetime.time:
    """The time of day, rounded down to five minutes as people say it: never later than is safe."""
    at = min(starts.hour * 60 + starts.minute + minutes, _LATEST) // _ROUND * _ROUND
    return datetime.time(at // 60, at % 60)
