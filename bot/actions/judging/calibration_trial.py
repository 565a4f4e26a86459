"""The trial: the coach gives all judges one invented entry; each sees privately how they compare."""

from bot.actions.core.audit import audit
from bot.actions.core.dispatch import Work, act, view
from bot.actions.core.photos import picture_ending, tidy_photo
from bot.actions.judging.sheet_queries import lists_changed, me_as_judge
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging import calibration_trial as rules
from bot.rules.judging.judged_rubrics import picked_rubric, rubric_of, rubrics
from bot.rules.judging.score_sheet import is_whole, missing, next_step, read_step, steps
from bot.words.core import refusals
from bot.words.core.action_keys import ActionKey
from bot.words.judging import calibration_trial as words
from storage.records.hand_in import Photo
from storage.records.judging import Trial, TrialSheet
from storage.records.message import Answer, Message, Open, Replace, Say
from storage.records.plan import Event
from storage.records.plan_measures import Rubric
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import calibration_trial as table
from storage.tables import judges, outbox
from storage.tables.sql_session import Snapshot, Transaction
from storage.tables.surprises import waiting as still_sealed


@view(ActionKey.TRIALS_PANEL, "coach")
async def calibration_panel(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show the newest trial to the coach, or how one begins."""
    return Replace(message=await _panel(db, tryout))


async def _panel(db: Snapshot, tryout: Tryout) -> Message:
    trial = rules.shown(await _fitting(db, tryout))
    everyone = await judges.judges(db, tryout.id)
    if trial is None:
        return words.none_yet()
    event, rubric = rubric_of(tryout.plan, trial.event, trial.measure)
    whole = await _whole(db, trial, rubric)
    marks = [sheet.marks for sheet in whole]
    found = rules.compared(rubric, marks)
    return words.calibration_panel(event, trial, everyone, len(whole), found, rules.share_near(found, marks))


@view(ActionKey.TRIALS_ASK, "coach")
async def ask_trial(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form that begins a trial, or ask first for which rubric."""
    await _check_none_runs(db, tryout)
    judged = list(rubrics(tryout.plan))
    known = rules.to_try_out(judged, await _sealed(db, tryout))
    if len(judged) > 1:
        return Replace(message=words.pick_rubric(known, sealed=len(known) < len(judged)))
    return Open(form=words.calibration_form(*judged[0]))


@view(ActionKey.TRIALS_FORM, "coach")
async def form(db: Snapshot, tryout: Tryout, request: Request, *, picked: str) -> Answer:
    """Open the form that begins a trial of the picked rubric."""
    await _check_none_runs(db, tryout)
    what = picked_rubric(tryout.plan, picked)
    rules.check_may_try_out(what[0], await _sealed(db, tryout))
    return Open(form=words.calibration_form(*what))


async def _sealed(db: Snapshot, tryout: Tryout) -> set[str]:
    """The keys of surprises that have not started."""
    return {event.key for event in await still_sealed(db, tryout)}


async def _admit(db: Snapshot, tryout: Tryout, request: Request, event_key: str, measure_key: str) -> None:
    """A picture is fetched only where a trial may begin, or a Refusal."""
    await _check_none_runs(db, tryout)
    rules.check_may_try_out(rubric_of(tryout.plan, event_key, measure_key)[0], await _sealed(db, tryout))


async def _drawn(
    db: Snapshot, tryout: Tryout, request: Request, event_key: str, measure_key: str
) -> Work[Photo | Refusal | None]:
    """The picture drawn anew, as photos are, so that place and time are gone from it; or why it cannot be."""
    upload = request.uploads.get("picture")

    def tidy() -> Photo | Refusal | None:
        try:
            return None if upload is None else tidy_photo(upload)
        except Refusal as refusal:
            return refusal

    return tidy


@act(ActionKey.TRIALS_BEGIN, "coach", before=_drawn, admits=_admit)
async def calibration_begin(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    event_key: str,
    measure_key: str,
    *,
    prepared: Photo | Refusal | None,
) -> Answer:
    """Give all judges the invented entry; what was written for a picture that cannot be used is given back."""
    await _check_none_runs(db, tryout)
    event, rubric = rubric_of(tryout.plan, event_key, measure_key)
    rules.check_may_try_out(event, await _sealed(db, tryout))
    sample = rules.read_sample(request.fields.get("sample", ""))
    if isinstance(prepared, Refusal):
        return Say(message=words.picture_refused(refusals.message(prepared).text, sample))
    picture = None if prepared is None else (words.picture_name(picture_ending(prepared.data)), prepared.data)
    await _forget_others(db, tryout, request)
    trial_id = await table.begin(db, tryout.id, (event.key, rubric.key), sample, picture, request.at)
    trial = await table.trial(db, tryout.id, trial_id)
    assert trial is not None
    told = 0
    for judge in await judges.judges(db, tryout.id):
        if rules.is_invited(judge):
            await outbox.enqueue(db, tryout.id, f"judge/{judge.id}", words.invitation(event, trial), request.at)
            told += 1
    await lists_changed(db, tryout)
    await audit(db, tryout, request, "trial.begin", trial=trial_id)
    return Say(message=words.begun(told))


@act(ActionKey.TRIALS_CLOSE, "coach")
async def close(db: Transaction, tryout: Tryout, request: Request, trial_id: int) -> Answer:
    """End a trial: its picture is thrown away; whoever has not marked the sample goes straight to the real sheets."""
    trial, *_ = await _running(db, tryout, trial_id)
    await table.end(db, trial.id, request.at)
    await table.drop_picture(db, trial.id)
    await lists_changed(db, tryout)
    await audit(db, tryout, request, "trial.close", trial=trial.id)
    return Replace(message=await _panel(db, tryout))


@view(ActionKey.TRIALS_LOOK, "judge")
async def look(db: Snapshot, tryout: Tryout, request: Request, trial_id: int) -> Answer:
    """Show a judge the invented entry."""
    me = await me_as_judge(db, tryout, request)
    trial, event, rubric = await _running(db, tryout, trial_id)
    mine = await _marks(db, trial, me.id)
    return Say(message=words.sample(event, trial, await table.picture(db, trial.id), is_whole(rubric, mine)))


@view(ActionKey.TRIALS_MARK, "judge")
async def mark(db: Snapshot, tryout: Tryout, request: Request, trial_id: int) -> Answer:
    """Open the sheet for the invented entry at the first step that is not marked yet."""
    me = await me_as_judge(db, tryout, request)
    trial, _, rubric = await _running(db, tryout, trial_id)
    mine = await _marks(db, trial, me.id)
    rules.check_may_mark(is_whole(rubric, mine))
    return Open(form=words.mark_form(trial, rubric, next_step(rubric, mine), mine, request.id))


@act(ActionKey.TRIALS_SAVE, "judge")
async def save(
    db: Transaction, tryout: Tryout, request: Request, trial_id: int, number: int, opening: int = 0
) -> Answer:
    """Save one step of the invented entry; once every line is marked it stays as it is."""
    me = await me_as_judge(db, tryout, request)
    trial, event, rubric = await _running(db, tryout, trial_id)
    mine = await _marks(db, trial, me.id)
    rules.check_may_mark(is_whole(rubric, mine))
    parts = steps(rubric)
    marks, _ = read_step(parts[min(number, len(parts) - 1)], request.fields)
    now = {**mine, **marks}
    await table.save(db, trial.id, me.id, now, request.at)
    await lists_changed(db, tryout, me.id)
    if not is_whole(rubric, now):
        return Replace(message=words.half_marked(trial, [one.name for one in missing(rubric, now)]))
    whole = await _whole(db, trial, rubric)
    everyone = await judges.judges(db, tryout.id)
    if rules.is_finished(len(whole), len(everyone)):
        await outbox.enqueue(db, tryout.id, "office", words.finished(event, everyone), request.at)
    return Replace(message=words.marked(trial, len(whole)))


@view(ActionKey.TRIALS_COMPARE, "judge")
async def compare(db: Snapshot, tryout: Tryout, request: Request, trial_id: int) -> Answer:
    """Show a judge, and nobody else, how they compare with the middle of the panel."""
    me = await me_as_judge(db, tryout, request)
    trial = next((one for one in await _fitting(db, tryout) if one.id == trial_id), None)
    if trial is None:
        raise Refusal(Reason.TRIAL_OVER)
    event, rubric = rubric_of(tryout.plan, trial.event, trial.measure)
    whole = await _whole(db, trial, rubric)
    mine = next((sheet for sheet in whole if sheet.judge_id == me.id), None)
    rules.check_may_compare(mine is not None, len(whole))
    assert mine is not None
    found = rules.readings(rubric, [sheet.marks for sheet in whole])
    return Replace(message=words.comparison(event, found, mine.marks, len(whole)))


async def waiting(db: Snapshot, tryout: Tryout, judge_id: int) -> Trial | None:
    """The trial that a judge has still to mark, if there is one."""
    trial = await _open(db, tryout)
    if trial is None:
        return None
    _, rubric = rubric_of(tryout.plan, trial.event, trial.measure)
    return None if is_whole(rubric, await _marks(db, trial, judge_id)) else trial


async def fit_trials(db: Transaction, tryout: Tryout, changed: Tryout, request: Request) -> None:
    """Forget trials in which other lines were marked than the changed plan has; the office hears of one that runs."""
    before, now = ({(event.key, one.key): one for event, one in rubrics(it.plan)} for it in (tryout, changed))
    for trial in await table.trials(db, tryout.id):
        what = (trial.event, trial.measure)
        if rules.still_fits(before.get(what), now.get(what)):
            continue
        await table.forget(db, trial.id)
        await audit(db, tryout, request, "trial.gone", trial=trial.id)
        if trial.closed_at is None:
            await outbox.enqueue(db, tryout.id, "office", words.gone(), request.at)
            await lists_changed(db, tryout)


async def _fitting(db: Snapshot, tryout: Tryout) -> list[Trial]:
    """The trials of what the plan has, oldest first. Older versions kept others, too, when a plan was changed."""
    judged = {(event.key, rubric.key) for event, rubric in rubrics(tryout.plan)}
    return [one for one in await table.trials(db, tryout.id) if (one.event, one.measure) in judged]


async def _forget_others(db: Transaction, tryout: Tryout, request: Request) -> None:
    fitting = await _fitting(db, tryout)
    for trial in await table.trials(db, tryout.id):
        if trial not in fitting:
            await table.forget(db, trial.id)
            await audit(db, tryout, request, "trial.gone", trial=trial.id)


async def _open(db: Snapshot, tryout: Tryout) -> Trial | None:
    return next((one for one in await _fitting(db, tryout) if one.closed_at is None), None)


async def _running(db: Snapshot, tryout: Tryout, trial_id: int) -> tuple[Trial, Event, Rubric]:
    trial = await _open(db, tryout)
    if trial is None or trial.id != trial_id:
        raise Refusal(Reason.TRIAL_OVER)
    return trial, *rubric_of(tryout.plan, trial.event, trial.measure)


async def _check_none_runs(db: Snapshot, tryout: Tryout) -> None:
    rules.check_may_begin(another_runs=await _open(db, tryout) is not None)


async def _marks(db: Snapshot, trial: Trial, judge_id: int) -> dict[str, int]:
    return next((sheet.marks for sheet in await table.sheets(db, trial.id) if sheet.judge_id == judge_id), {})


async def _whole(db: Snapshot, trial: Trial, rubric: Rubric) -> list[TrialSheet]:
    return [sheet for sheet in await table.sheets(db, trial.id) if is_whole(rubric, sheet.marks)]
