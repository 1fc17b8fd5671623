"""What a changed day prints anew: only the pages that are other than planned, behind one slip that
says in five lines what is different for whom."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.sheets import NAMES, SITE, parts
from spoonfold.sheets.print_pack import entries_for
from spoonfold.sheets.shared.follows import Follows, follows_of
from spoonfold.sheets.shared.head import Head, head_of
from spoonfold.sheets.sheet import (
    BuildContext,
    Edition,
    Joined,
    Layout,
    PackEntry,
    Part,
    Piece,
    SessionFile,
    Sheet,
)


@dataclass(frozen=True, slots=True)
class SlipLine:
    """What is different for somebody."""

    whom: str
    what: str


@dataclass(frozen=True, slots=True)
class ChangeSlip:
    """The first page of the pack."""

    head: Head
    lines: tuple[SlipLine, ...]
    """Five at most."""
    new: tuple[str, ...]
    """The sheets behind it; those of before are thrown away."""
    still: tuple[str, ...]
    """Sheets of the print pack that are as they were."""


def as_planned(context: BuildContext, session: Session) -> BuildContext | None:
    """The same class with this session as it was planned, for its sheets alone; None where
    nothing of it is different. The mark of the change stays, so that it alone makes no sheet
    another."""
    planned = context.examined.read.planned
    if planned is None or session.changed is None:
        return None
    before = next(each for each in planned.sessions if each.number == session.number)
    before = replace(before, changed=session.changed)

    def swapped(classroom: Classroom) -> Classroom:
        sessions = (before if each == session else each for each in classroom.sessions)
        return replace(classroom, sessions=tuple(sessions))

    def edition(each: Edition) -> Edition:
        classroom = each.folder.classroom
        assert classroom is not None
        return replace(each, folder=replace(each.folder, classroom=swapped(classroom)))

    examined = context.examined
    facts = examined.facts.with_session(before)
    return replace(
        context,
        examined=replace(examined, read=replace(examined.read, folder=facts.folder), facts=facts),
        classroom=swapped(context.classroom),
        editions=tuple(map(edition, context.editions)),
        main=edition(context.main),
        numbers=(session.number,),
    )


def changed_paths(context: BuildContext, session: Session) -> frozenset[str]:
    """The finished sheets of a session that show anything else than was planned."""
    planned = as_planned(context, session)
    if planned is None:
        return frozenset()
    old = _values(planned)
    new = _values(replace(context, numbers=(session.number,)))
    return frozenset(path for path, values in new.items() if old.get(path) != values)


def _values(context: BuildContext) -> Mapping[str, Mapping[str, object]]:
    wanted = {*context.classroom.sheets, "notice"} - {SITE}
    return {
        path: each.values
        for name in NAMES
        if name in wanted
        for each in parts()[name].made(context)
        if isinstance(each, Sheet)
        for path in each.paths
    }


def slip_of(
    head: Head,
    follows: Follows,
    entries: tuple[PackEntry, ...],
    paths: frozenset[str],
    texts: Texts,
) -> ChangeSlip:
    """The slip: each line for somebody, none where nothing is different for them."""
    shop = [
        texts.say("More: {things}.", things="; ".join(follows.more)) if follows.more else "",
        texts.say("Less: {things}.", things="; ".join(follows.less)) if follows.less else "",
    ]
    clock = (
        follows.clock
        if follows.clock == follows.planned_clock
        else texts.say("{now}. Planned: {before}", now=follows.clock, before=follows.planned_clock)
    )
    lines = (
        (texts.say("Everyone"), "; ".join(follows.written)),
        (texts.say("Who shops"), " ".join(filter(None, shop))),
        (texts.say("Tables"), "; ".join(follows.seats)),
        (texts.say("Cooking"), "; ".join(follows.swaps)),
        (texts.say("Lead cook"), ". ".join(filter(None, (clock, " ".join(follows.ways))))),
    )
    return ChangeSlip(
        head=head,
        lines=tuple(SlipLine(whom, what) for whom, what in lines if what),
        new=tuple(each.title for each in entries if each.path in paths),
        still=tuple(each.title for each in entries if each.path not in paths),
    )


def made(context: BuildContext) -> Iterator[Joined]:
    """A pack for each session that is other than planned."""
    planned = context.examined.read.planned
    for session in context.sessions:
        if session.changed is not None and planned is not None:
            yield _pack(context, planned, session)


def _pack(context: BuildContext, planned: Classroom, session: Session) -> Joined:
    texts = context.texts
    path = FILE.path(session, texts.language)
    paths = changed_paths(context, session)
    entries = entries_for(context, session)
    follows = follows_of(context.folder, planned, session, context.uses, texts)
    value = slip_of(
        head_of(context.folder, context.classroom, session, texts), follows, entries, paths, texts
    )
    doing = f"Joining what has changed in session {session.number}"

    def slip(pages: Mapping[str, int]) -> Sheet:
        return Sheet((path,), doing, LAYOUT, {"slip": value}, texts.language)

    pieces = tuple(
        Piece(each.path, each.title, each.copies) for each in entries if each.path in paths
    )
    return Joined(path, doing, pieces, repr((value, pieces)), texts.say("What has changed"), slip)


FILE = SessionFile("changed")

LAYOUT = Layout("change-slip.html", ("large", "middle", "small"), sides=1)

PART = Part(made, FILE.owns)
