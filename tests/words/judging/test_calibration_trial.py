"""A trial with one judge is told of one."""

from bot.words.judging import calibration_trial
from tests.words.judging.longest_sheets import EVENTS, JUDGES


def test_one_judge_has_and_two_judges_have_marked_the_sample() -> None:
    assert calibration_trial.finished(EVENTS[0], JUDGES[:1]).text.startswith("The one judge has marked the sample")
    assert calibration_trial.finished(EVENTS[0], JUDGES[:2]).text.startswith("All 2 judges have marked the sample")
