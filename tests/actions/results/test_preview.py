"""The result: private to the coach, exact, and never with a missing mark as a zero."""

import csv
from decimal import Decimal
from io import StringIO

from bot.actions.core.dispatch import ACTIONS
from storage.tables import helpers
from tests.actions.conftest import Begin, button, small_plan
from tests.actions.results.test_hidden_until_close import main, owing
from tests.actions.scored import BUNTING, preview, record, start_surprise, whole
from tests.actions.table_help import add_judges, add_squads, hand_in, labels


async def test_the_preview_ranks_shows_where_the_points_come_from_and_draws_them(begin: Begin) -> None:
    asking, _ = await whole(begin)
    message = await preview(asking)
    assert message.text.split("\n")[:2] == [
        "**Complete**: all 3 squads can be ranked; nothing is missing.",
        "-# Quillmere robot club try-out: standings (nothing is announced). Only coaches can read this.",
    ]
    assert "**Next:** press **Announce**. It shows you the words first" in message.text
    assert "1\\. **Crooked Spoons**" in message.text
    assert "**Winner:** **Crooked Spoons** with " in message.text
    assert labels(message) == ["Announce", "Squad by squad", "What if?", "Numbers"]
    assert labels(await asking.message("results.firm")) == ["Do the judges agree?", "Standings"]
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
    await start_surprise(asking)
    squads = await add_squads(asking, 2)
    await record(asking, squads, [14, 3], [100, 120])
    (judge,) = await add_judges(asking, 1)
    for squad in squads:
        await hand_in(asking, judge, squad, "chain", "team", {"talk": 3})
    await hand_in(asking, judge, squads[0], "bunting", "bunting", BUNTING)
    await hand_in(asking, judge, squads[1], "bunting", "bunting", {})
    text = (await preview(asking)).text
    assert text.startswith("**NOT COMPLETE**: 1 of 2 squads cannot be ranked; judge 1 owes 1 sheet.\n")
    assert "**Waiting** (1): Muddy Teapots" in text
    assert "1 squad not ranked; a missing mark is never a zero" in text
    assert "Judge 1 (Judge 1) owes Bunting, Bunting: Muddy Teapots" in text
    assert "1\\." not in text and "2\\." not in text


async def test_a_squad_nobody_timed_is_missing_and_one_that_did_not_finish_scores_nothing(begin: Begin) -> None:
    event = small_plan().events[2]
    timed = event.model_copy(update={"measures": event.measures[:1]})
    asking = await begin("settled", events=(timed,), tie_breaks=())
    await start_surprise(asking)
    squads = await add_squads(asking, 3)
    await asking.ask(f"table.save:chain.time:{squads[0]}:1:100:0")
    await asking.ask(f"table.save:chain.time:{squads[1]}:1:dnf:0")
    text = (await preview(asking)).text
    assert text.startswith("**NOT COMPLETE**: 1 of 3 squads cannot be ranked; 1 entry is missing at the table.\n")
    assert "- **Muddy Teapots** 0.0" in text
    assert "Paper chain, Time: no attempt recorded: Sleepy Turnips" in text


async def test_exact_ties_are_named_and_the_tie_break_that_decided(begin: Begin) -> None:
    run = small_plan().events[0]
    other = run.model_copy(update={"key": "other", "name": "Night run"})
    asking = await begin("settled", events=(run, other), tie_breaks=("run",))
    squads = await add_squads(asking, 2)
    for squad, first, second in ((squads[0], 10, 5), (squads[1], 5, 10)):
        await asking.ask(f"table.save:run.socks:{squad}:1:{first}:0")
        await asking.ask(f"table.save:other.socks:{squad}:1:{second}:0")
    text = (await preview(asking)).text
    assert "**Crooked Spoons** and **Muddy Teapots** have the same total; decided by Sock run." in text
    assert "**Crooked Spoons** and **Muddy Teapots** have the same total; decided by" in text


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
    of = int(first.text.rsplit(" ", 1)[1])
    assert len(first.text) <= 2000 and first.text.endswith(f"-# page 1 of {of}")
    texts, second = [first.text], first
    for number in range(2, of + 1):
        second = await asking.message(button(second, f"Next page {number} of {of}").key)
        texts.append(second.text)
    ranked = [line for text in texts for line in text.split("\n") if "\\. **" in line]
    assert [line.split("\\.")[0] for line in ranked] == [str(place) for place in range(1, 41)]
    assert len(first.files[0].alt) <= 1024 and not second.files


async def test_a_squad_alone_wins_with_its_picture(begin: Begin) -> None:
    asking, _ = await whole(begin, 1)
    message = await preview(asking)
    assert "1\\. **Crooked Spoons**" in message.text and message.files[0].name == "standings.png"


async def test_before_any_squad_can_be_ranked_there_is_no_picture_and_a_plain_word(begin: Begin) -> None:
    asking = await begin("settled")
    await add_squads(asking, 2)
    message = await preview(asking)
    assert "No squad can be ranked yet." in message.text
    assert not message.files


async def test_only_coaches_see_anything_of_the_result(begin: Begin) -> None:
    asking, _ = await whole(begin)
    await add_judges(asking, 1)
    async with asking.store.write() as db:
        await helpers.add_officer(db, 1, 300, "Keeper", "scorekeeper")
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
    assert "; 3.1 points ahead of **Muddy Teapots**." in text
    assert "**Why them**, against Muddy Teapots: " in text
    assert "**How sure:** fairly. In the 8 ways that could be tried (see **Numbers**) the winner would not" in text
    assert "For 1 other way it cannot be told." in text
    assert "**Do the judges agree?** Bunting: too few to tell; " in text
    assert "It did not matter: all judges saw all squads, so nobody gains by it." in text
    numbers = (await asking.message("results.firm")).text
    assert "of 100 points of weight would have to move before **Muddy Teapots** ties" in numbers
    async with asking.store.write() as db:
        await db.run("UPDATE sheet SET marks_json = json_set(marks_json, '$.reasons', 4) WHERE squad_id = ?", squads[1])
        await db.run(
            "UPDATE sheet SET marks_json = json_set(marks_json, '$.reasons', 1) WHERE squad_id = ? AND judge_id = 1",
            squads[0],
        )
    text = (await preview(asking)).text
    assert "points of weight between events would change the winner." in text


async def test_without_a_ranked_squad_there_is_nothing_to_look_into(begin: Begin) -> None:
    asking = await begin("settled")
    await add_squads(asking, 2)
    for key in ("results.firm", "results.judges:0", "results.what-if"):
        assert "No squad can be ranked yet" in (await asking.message(key)).text


async def test_after_the_close_an_incomplete_result_names_no_winner_no_place_and_no_gap(begin: Begin) -> None:
    asking, squads, _ = await owing(begin, "settled")
    message = await preview(asking)
    text = message.text
    assert text.startswith("**NOT COMPLETE**: 2 of 3 squads cannot be ranked; judge 2 owes 2 sheets.\n")
    assert "**Waiting** (2): Muddy Teapots, Sleepy Turnips" in text
    assert "**So far**, by squad number (no places before everybody can be ranked)\n- **Crooked Spoons** " in text
    for said in ("The place", "holds", "leads", "ahead", "Winner", "How sure", "Without judge", "1\\."):
        assert said not in text, said
    assert [file.name for file in message.files] == ["standings.png"]
    assert (
        message.files[0].alt.startswith("So far (private). INCOMPLETE: 1 of 3 squads, Mon 4 Jan 2027. ")
        and "1. Crooked" not in message.files[0].alt
    )
    assert labels(message) == ["Remind judge 2", "Announce", "Squad by squad"]
    assert main(message) == ["Remind judge 2"] and button(message, "Announce").disabled
    for path in ("results.firm", "results.judges:0", "results.what-if"):
        assert "would name a wrong winner" in (await asking.message(path)).text
    one = await asking.message("results.squad", values=(str(squads[0]),))
    assert "no places yet: other squads wait" in one.text and "place 1" not in one.text


async def test_the_complete_preview_says_why_in_one_sentence_against_the_next_squad(begin: Begin) -> None:
    asking, _ = await whole(begin)
    text = (await preview(asking)).text
    (line,) = [one for one in text.split("\n") if one.startswith("**Why them**")]
    assert "against Muddy Teapots: +2.9 in Sock run; level in Bunting" in line
