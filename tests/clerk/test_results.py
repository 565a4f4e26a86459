"""The result: private to the coach, exact, never with a missing mark as a zero, and said once."""

import csv
from datetime import timedelta
from decimal import Decimal
from io import StringIO
from typing import Any

import pytest

import bot.clerk.announce
import bot.clerk.attempts
import bot.clerk.results  # noqa: F401
from bot.clerk.frame import ACTIONS, perform
from storage.records.message import Message, Say, Select
from storage.records.request import Request
from storage.tables import decisions, judges, post, trail, tryouts
from tests.clerk.conftest import COACH, SERVER, Asking, Begin, button, small_plan
from tests.clerk.table_help import add_judges, add_squads, hand_in

PATCH = {"reasons": 3, "mission": 2}


async def record(asking: Asking, squads: list[int], samples: list[int], seconds: list[int | str]) -> None:
    """Attempts and shares of some squads."""
    for squad, found, time in zip(squads, samples, seconds, strict=True):
        await asking.ask(f"table.save:core.samples:{squad}:1:{found}:0")
        await asking.ask(f"table.save:relay.time:{squad}:1:{time}:0")
        await asking.ask(f"table.save:patch.members:{squad}:1:3")


async def whole(begin: Begin, count: int = 3, state: Any = "settled", **changes: Any) -> tuple[Asking, list[int]]:
    """A try-out in which everything is recorded and handed in."""
    asking = await begin(state, **changes)
    squads = await add_squads(asking, count)
    samples = [max(14 - place, 0) for place in range(count)]
    await record(asking, squads, samples, [100 + 9 * place for place in range(count)])
    for judge in await add_judges(asking, 2):
        for squad in squads:
            await hand_in(asking, judge, squad, "patch", "patch", {"reasons": 1 + judge, "mission": 2})
            await hand_in(asking, judge, squad, "relay", "team", {"talk": 3})
    return asking, squads


async def preview(asking: Asking, who: int = COACH) -> Message:
    return await asking.message("results.panel", who)


def labels(message: Message) -> list[str]:
    return [part.label for row in message.rows if isinstance(row, tuple) for part in row]


async def test_the_preview_ranks_shows_where_the_points_come_from_and_draws_them(begin: Begin) -> None:
    asking, _ = await whole(begin)
    message = await preview(asking)
    assert message.text.startswith("**Quillmere rover club try-out: standings** (private; nothing is announced)")
    assert "1\\. **Comet Crew**" in message.text
    assert "The place**: **Comet Crew** holds it now." in message.text
    assert labels(message) == [
        "How firm is it?",
        "Do the judges agree?",
        "Squad by squad",
        "What if?",
        "Announce",
    ]
    assert [file.name for file in message.files] == ["standings.png", "standings.csv", "results-packet.json"]
    assert message.files[0].data.startswith(b"\x89PNG")


async def test_the_picture_says_in_words_the_numbers_of_the_text(begin: Begin) -> None:
    asking, _ = await whole(begin)
    message = await preview(asking)
    ranked = [line for line in message.text.split("\n") if line[:1].isdigit()]
    assert len(ranked) == 3
    for line in ranked:
        spoken = line.replace("\\", "").replace("**", "")
        assert spoken in message.files[0].alt


async def test_a_missing_sheet_is_named_with_who_owes_it_and_its_squad_is_not_ranked(begin: Begin) -> None:
    asking = await begin("judging")
    squads = await add_squads(asking, 2)
    await record(asking, squads, [14, 3], [100, 120])
    (judge,) = await add_judges(asking, 1)
    for squad in squads:
        await hand_in(asking, judge, squad, "relay", "team", {"talk": 3})
    await hand_in(asking, judge, squads[0], "patch", "patch", PATCH)
    await hand_in(asking, judge, squads[1], "patch", "patch", {})
    text = (await preview(asking)).text
    assert "1 squad not ranked; a missing mark is never a zero" in text
    assert "Judge 1 (Judge 1) owes Mission patch, Mission patch: Moon Moles" in text
    assert "2\\." not in text


async def test_a_squad_nobody_timed_is_missing_and_one_that_did_not_finish_scores_nothing(begin: Begin) -> None:
    event = small_plan().events[2]
    timed = event.model_copy(update={"measures": event.measures[:1]})
    asking = await begin("judging", events=(timed,), tie_breaks=())
    squads = await add_squads(asking, 3)
    await asking.ask(f"table.save:relay.time:{squads[0]}:1:100:0")
    await asking.ask(f"table.save:relay.time:{squads[1]}:1:dnf:0")
    text = (await preview(asking)).text
    assert "2\\. **Moon Moles** 0.0" in text
    assert "Pipeline relay, Time: no attempt recorded: Star Snails" in text


async def test_exact_ties_are_named_and_the_tie_break_that_decided(begin: Begin) -> None:
    core = small_plan().events[0]
    other = core.model_copy(update={"key": "other", "name": "Night run"})
    asking = await begin("settled", events=(core, other), tie_breaks=("core",))
    squads = await add_squads(asking, 2)
    for squad, first, second in ((squads[0], 10, 5), (squads[1], 5, 10)):
        await asking.ask(f"table.save:core.samples:{squad}:1:{first}:0")
        await asking.ask(f"table.save:other.samples:{squad}:1:{second}:0")
    text = (await preview(asking)).text
    assert "**Comet Crew** and **Moon Moles** have the same total; decided by Core-sample run." in text
    assert "**Comet Crew** and **Moon Moles** have the same total; the tie-break decides." in text


async def tied(begin: Begin) -> tuple[Asking, list[int]]:
    """Two squads that are exactly equal in everything."""
    asking = await begin("settled", events=(small_plan().events[0],), tie_breaks=())
    squads = await add_squads(asking, 3)
    for squad, found in zip(squads, (9, 9, 4), strict=True):
        for number in (1, 2):
            await asking.ask(f"table.save:core.samples:{squad}:{number}:{found}:0")
    return asking, squads


async def test_a_tie_for_the_last_place_stops_the_announcement_until_a_run_off_decides_it(begin: Begin) -> None:
    asking, squads = await tied(begin)
    message = await asking.message("results.announce")
    assert message.text.startswith("**Not yet.**")
    assert (
        "**A run-off is due.** **Comet Crew** and **Moon Moles** are exactly equal, with 1 place left." in message.text
    )
    before = (await preview(asking)).text.split("\n")[1]
    await asking.ask(f"table.save:core.samples:{squads[0]}:r1:3:0")
    await asking.ask(f"table.save:core.samples:{squads[1]}:r1:4:0")
    text = (await preview(asking)).text
    assert "decided by run-off 1 (Core-sample run, Samples)." in text
    assert before.split("** ")[1] in text, "a run-off changes no total"
    said = await asking.message("results.announce")
    assert "The place goes to **Moon Moles**." in said.text


async def test_the_announcement_shows_what_will_be_said_and_says_exactly_that_once(begin: Begin) -> None:
    asking, squads = await whole(begin)
    shown = await asking.message("results.announce")
    assert shown.text.startswith("**This will be said** in the news room (the winner and thanks, as the plan says).")
    assert await asking.letters("news") == []
    asking.now -= timedelta(seconds=1)
    press = button(shown, "Announce now").key
    answer = await asking.message(press)
    assert answer.text.startswith("Announced.")
    (said,) = await asking.letters("news")
    assert shown.text.split("\n\n", 1)[1] == said
    assert (await asking.tryout()).state == "announced"
    assert "announced already" in (await asking.message(press)).text
    assert len(await asking.letters("news")) == 1
    for squad in squads:
        assert len(await asking.letters(f"squad/{squad}")) == 1


async def test_the_winner_alone_is_public_and_no_squad_reads_of_another(begin: Begin) -> None:
    asking, squads = await whole(begin)
    shown = await asking.message("results.announce")
    await asking.ask(button(shown, "Announce now").key)
    (said,) = await asking.letters("news")
    async with asking.store.read() as db:
        alt = await db.value("""SELECT json_extract(message_json, '$.files[0].alt') FROM letter WHERE "to" = 'news'""")
    assert "Comet Crew" in said and "Comet Crew" in alt
    for other in ("Moon Moles", "Star Snails", "Judge"):
        assert other not in said and other not in alt
    (own,) = await asking.letters(f"squad/{squads[1]}")
    assert own.startswith("**Your result**: Moon Moles")
    assert "13 core samples x 10 = 130 points" in own
    assert "Written reasons: 2.5 of 4 (2 to 3)" in own
    assert "place" not in own and "Judge" not in own and "Comet Crew" not in own


@pytest.mark.parametrize(("mode", "public"), [("podium", 3), ("table", 4)])
async def test_podium_and_table_show_what_the_plan_says(begin: Begin, mode: str, public: int) -> None:
    asking, _ = await whole(begin, 4, announce=mode)
    shown = await asking.message("results.announce")
    assert sum(line[:1].isdigit() for line in shown.text.split("\n")) == public


async def test_squads_hear_their_own_result_before_or_with_the_class(begin: Begin) -> None:
    asking, _ = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    async with asking.store.read() as db:
        rows = await db.rows("""SELECT "to", not_before FROM letter ORDER BY id""")
    assert [row["to"] for row in rows][3:] == ["news", "office"]
    assert len({row["not_before"] for row in rows}) == 1


async def test_scores_that_change_after_the_look_stop_the_announcement(begin: Begin) -> None:
    asking, squads = await whole(begin)
    press = button(await asking.message("results.announce"), "Announce now").key
    await asking.ask(f"table.save:core.samples:{squads[2]}:2:20:0")
    assert "The scores have changed" in (await asking.message(press)).text
    assert await asking.letters("news") == []
    assert (await asking.tryout()).state == "settled"


async def test_nothing_is_announced_while_judging_is_open_or_a_squad_cannot_be_ranked(begin: Begin) -> None:
    asking, squads = await whole(begin, state="judging")
    assert "Judging is still open" in (await asking.message("results.announce")).text
    refused = await asking.message("results.announced:0000000000000000")
    assert "Something is missing before the announcement" in refused.text
    async with asking.store.write() as db:
        await tryouts.set_state(db, 1, "settled")
    undo = f"table.undo:{3 * squads.index(squads[0]) + 1}"
    await asking.ask(undo.replace("table.undo", "table.undone") + ":slip")
    text = (await asking.message("results.announce")).text
    assert "Not ranked, because something is missing: Comet Crew" in text


async def test_a_repeated_press_of_announce_gets_the_first_answer(begin: Begin) -> None:
    asking, _ = await whole(begin)
    key = button(await asking.message("results.announce"), "Announce now").key
    args = (key.split(":")[1],)
    request = Request(id=5, at=asking.now, who=COACH, name="Coach", server_id=SERVER, args=args)
    first = await perform(asking.store, ACTIONS["results.announced"], request)
    assert isinstance(first, Say) and first.message.text.startswith("Announced.")
    assert await perform(asking.store, ACTIONS["results.announced"], request) == first


async def test_changes_of_the_plan_since_the_brief_are_listed_with_their_reasons(begin: Begin) -> None:
    asking, _ = await whole(begin)
    assert "Nothing in the plan was changed" in (await asking.message("results.announce")).text
    async with asking.store.write() as db:
        await decisions.decide_plan(db, 1, ("weight of Mission patch 30 to 35",), "a" * 64, "snow day", asking.now)
    text = (await asking.message("results.announce")).text
    assert "- weight of Mission patch 30 to 35 (reason: snow day)" in text


async def test_a_coach_who_judges_sees_no_marks_for_a_squad_before_handing_in_the_own_sheet(begin: Begin) -> None:
    asking, squads = await whole(begin)
    async with asking.store.write() as db:
        own = await judges.enrol(db, 1, COACH, "Coach")
        await judges.set_weight(db, own, "0")
    await hand_in(asking, own, squads[1], "patch", "patch", {})
    message = await preview(asking)
    assert "1 squad not shown: hand in your own sheets for them first." in message.text
    assert "Moon Moles" not in message.text and "Moon Moles" not in message.files[0].alt
    assert [file.name for file in message.files] == ["standings.png"]
    refused = await asking.message("results.squad", values=(str(squads[1]),))
    assert "Hand in your own sheet first" in refused.text
    assert "1 score sheet of your own" in (await asking.message("results.announce")).text
    await hand_in(asking, own, squads[1], "patch", "patch", PATCH)
    assert "Moon Moles" in (await preview(asking)).text


async def test_why_them_goes_from_what_was_recorded_to_the_total(begin: Begin) -> None:
    asking, squads = await whole(begin)
    pick = await asking.message("results.squads:0")
    select = next(row for row in pick.rows if isinstance(row, Select))
    assert [choice.label for choice in select.choices] == ["1 Comet Crew", "2 Moon Moles", "3 Star Snails"]
    message = await asking.message(select.key, values=(str(squads[1]),))
    assert message.text.startswith("**2 Moon Moles**: place 2, total")
    assert "attempt 1: 13 core samples x 10 = 130 points" in message.text
    assert "130 points (best), of the best squad's = 92.9 %" in message.text
    assert "judge 2 (Judge 2): Written reasons 3, Fits the mission 2 = 8" in message.text
    total = message.text.split("total ")[1].split("\n")[0]
    assert f"= **{total}**\n-# Rounded for show" in message.text
    assert total in message.files[0].alt
    typed = await asking.message("results.squad", fields={"squad": "moon moles"})
    assert typed.text == message.text


async def test_the_table_of_the_whole_result_reads_back_and_runs_no_formula(begin: Begin) -> None:
    asking, squads = await whole(begin)
    async with asking.store.write() as db:
        await db.run("UPDATE squad SET name = '=1+1' WHERE id = ?", squads[0])
    data = (await preview(asking)).files[1].data
    assert data.startswith(b"\xef\xbb\xbf") and b"\r\n" in data
    rows = list(csv.reader(StringIO(data.decode("utf-8-sig"), newline=""), strict=True))
    assert rows[1][:4] == ["1", "1", "'=1+1", "7-A"]
    parts = [Decimal(rows[2][place]) for place in (6, 9, 12)]
    assert abs(sum(parts) - Decimal(rows[2][4])) < Decimal("0.00000001")


async def test_long_standings_go_on_over_pages_and_end_in_one_picture(begin: Begin) -> None:
    asking, _ = await whole(begin, 40)
    first = await preview(asking)
    assert len(first.text) <= 2000 and first.text.endswith("-# page 1 of 2")
    second = await asking.message(button(first, "Later").key)
    ranked = [line for text in (first.text, second.text) for line in text.split("\n") if "\\. **" in line]
    assert [line.split("\\.")[0] for line in ranked] == [str(place) for place in range(1, 41)]
    assert len(first.files[0].alt) <= 1024 and not second.files


async def test_a_squad_alone_wins_with_its_picture(begin: Begin) -> None:
    asking, _ = await whole(begin, 1)
    message = await preview(asking)
    assert "1\\. **Comet Crew**" in message.text and message.files[0].name == "standings.png"


async def test_before_any_squad_can_be_ranked_there_is_no_picture_and_a_plain_word(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 2)
    message = await preview(asking)
    assert "No squad can be ranked yet." in message.text
    assert [file.name for file in message.files] == ["standings.csv", "results-packet.json"]


async def test_only_coaches_see_anything_of_the_result(begin: Begin) -> None:
    asking, _ = await whole(begin)
    await add_judges(asking, 1)
    async with asking.store.write() as db:
        await tryouts.add_officer(db, 1, 300, "Keeper", "scorekeeper")
    for action in (key for key in ACTIONS if key.startswith("results.")):
        for who in (201, 300, 10_100, 4242):
            refused = await asking.message(f"{action}:0:1", who)
            assert "Only a coach can do that" in refused.text, (action, who)
            assert not refused.files


async def test_the_result_is_not_there_before_the_brief(begin: Begin) -> None:
    asking = await begin("signup")
    assert "before the brief is out" in (await preview(asking)).text


async def test_the_preview_says_who_by_how_much_and_whether_a_judge_or_weights_would_change_it(begin: Begin) -> None:
    asking, squads = await whole(begin)
    text = (await preview(asking)).text
    short = text.split("**In short**\n")[1].split("\n\n")[0]
    assert "- **The place**: **Comet Crew** holds it now." in short
    assert "- No run-off is due." in short
    assert "**Comet Crew** is 3.1 points ahead of **Moon Moles**" in short
    assert "- Without any one of the 2 judges the place stays where it is." in short
    assert "- No other weights of the events would move the place." in short
    assert "- **Judges agree:** Mission patch: too few to tell" in short
    async with asking.store.write() as db:
        await db.run("UPDATE sheet SET marks_json = json_set(marks_json, '$.reasons', 4) WHERE squad_id = ?", squads[1])
        await db.run(
            "UPDATE sheet SET marks_json = json_set(marks_json, '$.reasons', 1) WHERE squad_id = ? AND judge_id = 1",
            squads[0],
        )
    text = (await preview(asking)).text
    assert "**Weights:**" in text and "points of weight would have to move before" in text


async def test_how_firm_it_is_comes_in_words_first_and_then_in_pictures_that_say_the_same(begin: Begin) -> None:
    asking, _ = await whole(begin)
    message = await asking.message("results.firm")
    assert "Without any one of the 2 judges the place stays where it is." in message.text
    assert "**If the same judges were drawn by lot again**" in message.text
    assert [file.name for file in message.files] == ["firm.png", "weights.png"]
    assert "Without one judge: judge 1: Comet Crew; judge 2: Comet Crew." in message.files[0].alt
    assert "Plan: Core-sample run 40.0, Mission patch 30.0, Pipeline relay 30.0." in message.files[1].alt


async def test_whether_the_judges_agree_is_said_with_caution(begin: Begin) -> None:
    asking, _ = await whole(begin)
    text = (await asking.message("results.judges:0")).text
    assert "Too few judges or squads to tell whether they agree." in text
    assert "judge 1 (Judge 1), 3 sheets: 1.0 sheet points harsher than the average judge" in text
    assert "never a verdict on a judge" in text


async def test_without_a_ranked_squad_there_is_nothing_to_look_into(begin: Begin) -> None:
    asking = await begin("judging")
    await add_squads(asking, 2)
    assert "No squad can be ranked yet" in (await asking.message("results.firm")).text
    assert "no sheet is handed in yet" in (await asking.message("results.judges:0")).text


async def test_the_office_keeps_the_whole_result_and_the_digest_of_the_trail(begin: Begin) -> None:
    asking, _ = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    (kept,) = await asking.letters("office")
    async with asking.store.read() as db:
        entries = await trail.entries(db)
        dues = await post.dues(db, 1)
    digests = [entry.digest for entry in entries if entry.action == "results.announce"]
    assert kept.endswith(f"The trail so far ends in {digests[0]}")
    assert [row.kind for row in dues if row.state == "waiting"] == ["purge"]


async def test_each_squad_gets_its_own_picture_that_says_its_own_numbers_only(begin: Begin) -> None:
    asking, squads = await whole(begin)
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    async with asking.store.read() as db:
        (letter,) = await db.rows("""SELECT message_json FROM letter WHERE "to" = ?""", f"squad/{squads[1]}")
    own = Message.model_validate_json(letter[0])
    (picture,) = own.files
    assert picture.data.startswith(b"\x89PNG") and picture.alt.startswith("Your result: Moon Moles. ")
    total = own.text.split("**Total: ")[1].split(" of")[0]
    assert f"Total {total} = " in picture.alt
    for points in [
        line.split(": ")[1].split(" of 100")[0] for line in own.text.split("\n") if " of 100 points," in line
    ]:
        assert f"{points} x " in picture.alt
    assert "Comet Crew" not in picture.alt and "Judge" not in picture.alt


async def test_squads_whose_panels_share_no_judge_are_said_to_be_beyond_comparing(begin: Begin) -> None:
    patch = small_plan().events[1]
    judged = patch.model_copy(update={"measures": patch.measures[:1]})
    asking = await begin("judging", events=(judged,), tie_breaks=())
    squads = await add_squads(asking, 3)
    first, second = await add_judges(asking, 2)
    for judge, squad in ((first, squads[0]), (first, squads[1]), (second, squads[2])):
        await hand_in(asking, judge, squad, "patch", "patch", PATCH)
    text = (await asking.message("results.judges:0")).text
    assert "no chain of common judges links these groups" in text
    assert "**Comet Crew** and **Moon Moles**; **Star Snails**" in text
