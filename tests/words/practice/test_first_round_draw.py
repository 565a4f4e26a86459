"""The lot for the first round at the practice table, in words."""

from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.rules.core.refusal_reasons import Reason
from bot.rules.practice.first_round_draw import opens_for
from bot.words.core.plain_text import escape
from bot.words.practice import first_round_draw as draw_words
from storage.records.plan import Practice
from storage.records.practice import PracticeDraw
from tests.words.practice.test_practice_table import PRACTICE, START


@given(st.integers(1, 80))
@settings(max_examples=20, deadline=None)
def test_the_lot_is_told_whole_however_many_squads_there_are(squads: int) -> None:
    pool = tuple(range(1, squads + 1))
    names = {number: f"{'_' * 37}{number:3}" for number in pool}
    source = Practice(times=PRACTICE.times, first_round="draw", key_source="d" * 100)
    waiting = PracticeDraw(tryout_id=1, pool=pool, published_at=START)
    before = "\n".join(message.text for message in draw_words.published(source, waiting, names))
    drawn = waiting.model_copy(update={"key": "1.2.4./", "drawn_at": START})
    after = "\n".join(message.text for message in draw_words.drawn(drawn, names))
    for number in pool:
        assert f"{number - 1}. " in before and before.count(escape(names[number])) == 1
        assert f"{number}. " in after and after.count(escape(names[number])) == 1
        draw_words.your_moment(drawn, number)
    draw_words.draw_form(source)


def test_every_squad_reads_the_moment_from_which_it_may_book() -> None:
    """Drawn in the middle of a minute: moments are full minutes."""
    lot = PracticeDraw(
        tryout_id=1, pool=(1, 2, 3), published_at=START, key="1.2.4./", drawn_at=START + timedelta(seconds=42)
    )
    told = draw_words.drawn(lot, {1: "Moles", 2: "Newts", 3: "Owls"})[0].text
    for squad in lot.pool:
        moment = int(opens_for(lot, squad).timestamp())
        assert moment % 60 == 0
        assert f"<t:{moment}:" in draw_words.your_moment(lot, squad).text and f"from <t:{moment}:" in told


def test_who_draws_too_late_reads_within_how_long_it_could_be_done() -> None:
    assert "Nobody drew within a day" in draw_words.REFUSALS[Reason.DRAW_TOO_LATE]
