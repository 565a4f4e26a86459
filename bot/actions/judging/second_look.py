"""Where judges of one squad are far apart, they are asked to look again while they still can; nobody is named."""

from collections import defaultdict
from collections.abc import Iterable

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, view
from bot.actions.judging.sheet_queries import all_entries
from bot.actions.scoring.score_book import score_book, standings_of
from bot.rules.analysis.judge_profiles import mark_gaps
from bot.rules.judging.judged_rubrics import rubric_of
from bot.rules.judging.judges_overview import owed_by
from bot.rules.judging.my_sheets import Entry
from bot.rules.judging.second_look import (
    MarkGap,
    can_look_again,
    check_may_ask,
    check_own_sheets_in,
    is_asked,
)
from bot.words.core.action_keys import ActionKey
from bot.words.judging import second_look as words
from storage.records.message import Answer, Replace
from storage.records.request import Request
from storage.records.scores import ScoreBook
from storage.records.tryout import Tryout
from storage.tables import judges, outbox
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.JUDGING_GAPS, "coach")
async def gaps(db: Snapshot, tryout: Tryout, request: Request) -> Work[Answer]:
    """Show where judges are far apart, once the coach's own sheets are in; squads not marked yet are left out."""
    me = await judges.judge_of(db, tryout.id, request.who)
    owed = len(owed_by(me, await all_entries(db, tryout))) if me is not None else 0
    check_own_sheets_in(owed, words.own_sheets(owed))
    book = await score_book(db, tryout)
    return lambda: Replace(message=words.second_look_panel(_named(book, mark_gaps(standings_of(book)))))


@act(ActionKey.JUDGING_ASK_LOOK, "coach")
async def ask_second_look(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Ask every judge of these squads for a second look."""
    check_may_ask(tryout.state)
    book = await score_book(db, tryout)
    found = mark_gaps(standings_of(book))
    by_judge: dict[int, list[Entry]] = defaultdict(list)
    for entry in await all_entries(db, tryout):
        if can_look_again(entry) and any(_about(gap, entry) for gap in found):
            by_judge[entry.sheet.judge_id].append(entry)
    told = 0
    for judge in await judges.judges(db, tryout.id):
        mine = by_judge.get(judge.id, [])
        if is_asked(judge, mine):
            about = [gap for gap in found if any(_about(gap, entry) for entry in mine)]
            message = words.please_look(_named(book, about), mine)
            await outbox.enqueue(db, tryout.id, f"judge/{judge.id}", message, request.at)
            told += 1
    await audit(db, tryout, request, "judging.look-again", judges=told, gaps=len(found))
    return Replace(message=words.asked(told))


def _about(gap: MarkGap, entry: Entry) -> bool:
    return (gap.squad_id, gap.event, gap.measure) == (entry.squad.id, entry.event.key, entry.rubric.key)


def _named(book: ScoreBook, found: Iterable[MarkGap]) -> words.Gaps:
    names = {squad.id: squad.name for squad in book.squads}
    lines: dict[str, list[str]] = defaultdict(list)
    for gap in found:
        _, rubric = rubric_of(book.plan, gap.event, gap.measure)
        criteria = {criterion.key: criterion.name for criterion in rubric.criteria}
        lines[names[gap.squad_id]].append(criteria[gap.criterion])
    return lines
