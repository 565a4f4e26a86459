"""The results packet: built and read back, with nobody in it who can be recognised."""

from decimal import Decimal
from fractions import Fraction
from hashlib import sha256

from bot.rules.plan.read_plan import fingerprint
from bot.rules.scoring.packet import Packet, packet_text, read_packet
from bot.rules.scoring.packet_build import build
from bot.rules.scoring.packet_verify import Stage, verify
from bot.rules.scoring.standings import standings
from storage.records.scores import ScoreBook
from tests.rules.books import absence, attempt, count, event, judges, plan, rubric, sheet, squads, timed
from tests.rules.scoring.test_places_on_team import grouped_book
from tests.rules.tryouts import tryout_h1


def packet_of(book: ScoreBook) -> Packet:
    return build(book, standings(book))


def differing(stages: tuple[Stage, ...]) -> list[str]:
    return [stage.name for stage in stages if not stage.right]


def whole_book() -> ScoreBook:
    """Everything that a packet can hold: ties, run-offs, absences, gaps, a judge of weight 0, times not finished."""
    events = (
        event("run", count("samples", attempts=2), weight=2),
        event("art", rubric("patch", panel="adjusted"), weight=1),
        event("go", timed("relay", scale="standard"), weight=1),
    )
    attempts = [attempt(squad, "run.samples", core=core) for squad, core in ((1, 50), (2, 50), (3, 40), (5, 45))]
    attempts += [attempt(squad, "run.samples", core=core, run_off=True, id=squad) for squad, core in ((1, 4), (2, 9))]
    attempts += [
        attempt(squad, "go.relay", seconds=seconds, id=squad * 100 + 50)
        for squad, seconds in ((1, Decimal("61.5")), (2, Decimal("61.5")), (3, None), (4, Decimal(90)))
    ]
    marks = {(1, 1): [3, 3], (2, 1): [3, 3], (3, 1): [2, 2], (1, 2): [1, 1], (2, 2): [1, 1], (4, 1): [4, 4]}
    sheets = [
        sheet(squad, judge, "art.patch", row, comments={"sheet": "well done"}) for (squad, judge), row in marks.items()
    ]
    sheets += [sheet(3, 3, "art.patch", [4, 4]), sheet(4, 2, "art.patch", None), sheet(5, 1, "art.patch", [2, 3])]
    return ScoreBook(
        plan=plan(*events, tie_breaks=["art.patch.c2"]),
        squads=squads(5),
        judges=judges(1, 2, 0),
        attempts=tuple(attempts),
        sheets=tuple(sheets),
        absences=(absence(4, "run"), absence(5, "go", excused=True)),
    )


def test_the_numbers_of_the_packet_are_those_of_the_standings() -> None:
    book = whole_book()
    result, results = standings(book), packet_of(book).results
    assert results.totals == {str(squad): result.row(squad).total for squad in range(1, 6)}
    assert results.placed == (2,)
    assert results.attempts["1/run.samples/run-off 1"] == 4
    assert results.attempts["3/go.relay/1"] is None
    assert results.events["4/run"] == 0
    assert results.events["5/go"] is None
    assert results.missing == ("4/open_sheet/art.patch/2",)
    assert results.sheets["3/art.patch/3"] == 8


def test_the_plan_in_the_packet_is_the_one_whose_fingerprint_was_posted() -> None:
    book = whole_book()
    packet = packet_of(book)
    assert packet.plan_sha256 == fingerprint(book.plan) == sha256(packet.plan.encode()).hexdigest()


def test_the_same_book_in_another_order_gives_the_same_packet() -> None:
    book = whole_book()
    turned = book.model_copy(
        update={
            name: tuple(reversed(getattr(book, name)))
            for name in ("squads", "judges", "attempts", "sheets", "absences")
        }
    )
    assert packet_text(packet_of(turned)) == packet_text(packet_of(book))


def test_nobody_can_be_recognised_in_a_packet() -> None:
    book = whole_book()
    named = book.model_copy(
        update={
            "squads": tuple(
                each.model_copy(update={"name": "Zebra Zulu", "id": each.id + 777_000}) for each in book.squads
            ),
            "judges": tuple(
                each.model_copy(update={"name": "Quentin Quill", "platform_id": 424_242, "id": each.id + 888_000})
                for each in book.judges
            ),
            "attempts": tuple(
                each.model_copy(update={"squad_id": each.squad_id + 777_000, "recorded_by": 515_151})
                for each in book.attempts
            ),
            "sheets": tuple(
                each.model_copy(update={"squad_id": each.squad_id + 777_000, "judge_id": each.judge_id + 888_000})
                for each in book.sheets
            ),
            "absences": tuple(
                each.model_copy(update={"squad_id": each.squad_id + 777_000, "reason": "chickenpox"})
                for each in book.absences
            ),
        }
    )
    text = packet_text(packet_of(named))
    for trace in ("Zebra", "Quentin", "424242", "515151", "77700", "88800", "well done", "chickenpox", "2025-05-12"):
        assert trace not in text
    assert text == packet_text(packet_of(book))


def test_what_does_not_count_is_not_in_the_packet() -> None:
    book = whole_book()
    sheets = (*book.sheets, sheet(3, 2, "art.patch", [1, 1], state="recused"))
    judges_of = (*book.judges[:2], book.judges[2].model_copy(update={"removed": True}))
    undone = attempt(3, "run.samples", core=99, number=2).model_copy(update={"undone_at": book.attempts[0].recorded_at})
    stray = attempt(3, "old.samples", core=9, id=4000)
    changed = book.model_copy(
        update={"sheets": sheets, "judges": judges_of, "attempts": (*book.attempts, undone, stray)}
    )
    packet = packet_of(changed)
    assert [line.number for line in packet.judges] == [1, 2]
    assert {line.judge for line in packet.sheets} == {1, 2}
    assert (3, 2) not in {(line.squad, line.judge) for line in packet.sheets}
    assert len(packet.attempts) == len(book.attempts)
    assert differing(verify(packet)) == []


def test_an_empty_tryout_has_a_packet_too() -> None:
    book = ScoreBook(plan=whole_book().plan, squads=())
    stages = verify(read_packet(packet_text(packet_of(book))))
    assert differing(stages) == []
    assert packet_of(book).results.totals == {}


def test_exact_numbers_survive_the_text() -> None:
    packet = packet_of(tryout_h1("adjusted")[0])
    assert read_packet(packet_text(packet)) == packet
    assert packet.results.totals["3"] == Fraction("10011/112")


def test_a_packet_says_which_squads_compete_and_recomputes() -> None:
    found = grouped_book([90, 80, 70, 60, 30], "OEPPP", qualify=50)
    packet = build(found, standings(found))
    assert packet.groups == ((1, 2), (3, 4, 5))
    assert packet.results.placed == (1, 3, 4)
    stages = {stage.name: stage for stage in verify(packet)}
    assert all(stage.right for name, stage in stages.items() if name != "plan_sha256"), stages
    moved = packet.model_copy(update={"groups": ((1, 3), (2, 4, 5))})
    assert not {stage.name: stage for stage in verify(moved)}["placed"].right
