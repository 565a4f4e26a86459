"""Who reads the own times of the event day, and how long."""

from bot.rules.event_day.own_times import judge_reads, squad_reads


def test_squads_keep_their_times_till_the_try_out_is_put_away_and_judges_till_the_close() -> None:
    assert [squad_reads(state) for state in ("window", "judging", "settled", "archived")] == [True, True, True, False]
    assert [judge_reads(state) for state in ("window", "judging", "settled", "archived")] == [True, True, False, False]
