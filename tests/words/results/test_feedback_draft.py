"""The drafts of feedback: they never say what somebody lacks, and a next step is a thing to do."""

from decimal import Decimal
from random import Random

import pytest

from bot.rules.plan.read_plan import read_plan
from bot.rules.results.feedback_draft import draft
from bot.rules.scoring.standings import standings
from bot.words.core.plain_text import escape
from bot.words.plan.builtin_plan import builtin_plan_text
from bot.words.results.feedback_draft import drafted, shown
from bot.words.scoring.result_view import ResultView
from storage.records.plan import Plan
from storage.records.plan_measures import Check, Checklist, Criterion, Item, Rubric
from storage.records.score_sheets import Sheet
from storage.records.scores import ScoreBook
from tests.rules.books import attempt, count, event, judges, plan, rubric, sheet, squads

BUILTIN = read_plan(builtin_plan_text())


def criteria(of: Plan) -> list[Criterion]:
    return [
        one
        for event in of.events
        for measure in event.measures
        if isinstance(measure, Rubric)
        for one in measure.criteria
    ]


def without_own_words(of: Plan) -> Plan:
    """The same plan with neither `praise` nor `next`."""
    bare = {"praise": None, "next": None}
    events = []
    for one in of.events:
        measures = [
            measure.model_copy(update={"criteria": tuple(line.model_copy(update=bare) for line in measure.criteria)})
            if isinstance(measure, Rubric)
            else measure
            for measure in one.measures
        ]
        events.append(one.model_copy(update={"measures": tuple(measures)}))
    return of.model_copy(update={"events": tuple(events)})


def texts(of: Plan, seed: int) -> list[str]:
    """The drafts of six squads that three judges marked by chance, around a level of each squad's own."""
    random = Random(seed)
    sheets: list[Sheet] = []
    for squad in range(1, 7):
        own = random.randint(1, 4)
        for judge in (1, 2, 3):
            for one in of.events:
                for measure in one.measures:
                    if isinstance(measure, Rubric):
                        marks = {
                            line.key: min(4, max(1, own + random.choice((-1, 0, 0, 1)))) for line in measure.criteria
                        }
                        number = len(sheets) + 1
                        sheets.append(
                            Sheet(
                                id=number,
                                judge_id=judge,
                                squad_id=squad,
                                event=one.key,
                                measure=measure.key,
                                state="submitted",
                                marks=marks,
                            )
                        )
    attempts = [
        one
        for squad in range(1, 7)
        for one in (
            attempt(squad, "sock-run.socks", items={"sock": random.randint(0, 10)}, id=squad * 10),
            attempt(squad, "bunting.everyone", contributing=2, members=3, id=squad * 10 + 1),
            attempt(squad, "paper-chain.time", seconds=Decimal(200), id=squad * 10 + 2),
        )
    ]
    book = ScoreBook(plan=of, squads=squads(6), judges=judges(1, 1, 1), attempts=tuple(attempts), sheets=tuple(sheets))
    result = ResultView(book, standings(book))
    return [shown(drafted(result, row, draft(of, row))) for row in result.standings.rows]


@pytest.mark.parametrize("of", [BUILTIN, without_own_words(BUILTIN)], ids=["own words", "levels only"])
def test_over_100_seeds_no_draft_holds_a_text_of_the_lower_half_and_no_step_a_level_text(of: Plan) -> None:
    lower = [escape(text) for line in criteria(of) for text in line.levels[: len(line.levels) // 2]]
    levels = [escape(text) for line in criteria(of) for text in line.levels]
    seen = set()
    for seed in range(100):
        for text in texts(of, seed):
            assert not [found for found in lower if found in text], text
            step = text.partition("**A next step**")[2]
            assert not [found for found in levels if found in step], text
            seen |= {head for head in ("What went well", "Strongest so far:", "A next step") if head in text}
    assert seen == {"What went well", "Strongest so far:", "A next step"}


def test_the_built_in_plan_says_praise_and_a_thing_to_do_for_every_criterion() -> None:
    assert all(line.praise and line.next for line in criteria(BUILTIN))


def test_a_squad_in_the_lower_half_reads_what_is_strongest_without_a_number() -> None:
    book = ScoreBook(
        plan=plan(event("patch", rubric("patch", (1, 1, 1)))),
        squads=squads(1),
        judges=judges(1),
        sheets=(sheet(1, 1, "patch.patch", [1, 2, 1]),),
    )
    result = ResultView(book, standings(book))
    row = result.standings.rows[0]
    assert shown(drafted(result, row, draft(book.plan, row))) == (
        "**Feedback for Squad 1**\n\n"
        "Thank you for taking part.\n\n"
        "**Strongest so far:** criterion 2\n\n"
        "**A next step**\n• criterion 1: read its levels in the brief together, and choose one thing to try next time."
    )


def test_an_event_with_one_measure_of_its_own_name_is_named_once() -> None:
    book = ScoreBook(
        plan=plan(event("run", count("run"))), squads=squads(1), attempts=(attempt(1, "run.run", core=80),)
    )
    result = ResultView(book, standings(book))
    row = result.standings.rows[0]
    text = shown(drafted(result, row, draft(book.plan, row)))
    assert "run" in text and "run, run" not in text


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"items": (Item(key="core", name="Sock", points=Decimal(10)),)}, "6 of 10 socks"),
        ({"items": (Item(key="core", name="Sock", points=Decimal(10), most=8),)}, "6 of 8 socks"),
        ({"items": (Item(key="core", name="Sock", points=Decimal(7)),)}, "6 socks"),
    ],
)
def test_what_was_counted_is_told_as_it_was_counted_and_not_in_points(changes: dict[str, object], said: str) -> None:
    book = ScoreBook(
        plan=plan(event("run", count("socks", over_maximum="cap", attempts=2, **changes))),
        squads=squads(1),
        attempts=(attempt(1, "run.socks", core=4), attempt(1, "run.socks", core=6, number=2)),
    )
    result = ResultView(book, standings(book))
    row = result.standings.rows[0]
    text = drafted(result, row, draft(book.plan, row))
    assert said in text and "point" not in text


def test_a_checklist_counts_the_lines_that_give_points_and_says_so() -> None:
    lines = (Check(key="span", name="It spans", points=Decimal(2)), Check(key="tape", name="Tape", points=Decimal(-1)))
    rules = Checklist(key="rules", name="Rules", lines=lines)
    book = ScoreBook(
        plan=plan(event("run", rules)),
        squads=squads(1),
        attempts=(attempt(1, "run.rules", items={"span": 1, "tape": 1}),),
    )
    result = ResultView(book, standings(book))
    row = result.standings.rows[0]
    assert "1 of 1 lines that give points" in drafted(result, row, draft(book.plan, row))


@pytest.mark.parametrize(("slips", "praised"), [(6, False), (0, True)])
def test_mistakes_are_no_strength_and_none_of_them_is(slips: int, praised: bool) -> None:
    late = count("late", name="Minutes over time", better="lower", maximum=Decimal(40), over_maximum="cap")
    book = ScoreBook(
        plan=plan(event("debate", late)), squads=squads(1), attempts=(attempt(1, "debate.late", core=slips),)
    )
    result = ResultView(book, standings(book))
    row = result.standings.rows[0]
    text = drafted(result, row, draft(book.plan, row))
    assert ("What went well\n• debate, Minutes over time: none" in text) is praised
    assert ("What went well" in text or "Strongest" in text) is praised
    assert praised or "Minutes over time: 6 socks (lower is better). Change one thing" in text, slips


def test_a_strength_names_what_was_got_right_and_not_what_cost_points() -> None:
    items = (Item(key="core", name="Sock", points=Decimal(10)), Item(key="hit", name="Chair hit", points=Decimal(-3)))
    book = ScoreBook(
        plan=plan(event("run", count("socks", items=items))),
        squads=squads(1),
        attempts=(attempt(1, "run.socks", items={"core": 9, "hit": 2}),),
    )
    result = ResultView(book, standings(book))
    row = result.standings.rows[0]
    strength = drafted(result, row, draft(book.plan, row)).partition("A next step")[0]
    assert "run, socks: 9 socks" in strength and "chair" not in strength.lower()
