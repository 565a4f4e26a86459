"""Changing the plan of a try-out that runs: at once while nobody has seen it, else asked once more and told to all."""

from collections.abc import Collection

from bot.actions.core.audit import actor_of, audit
from bot.actions.core.dispatch import act
from bot.actions.core.rescheduling import reschedule
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.event_day.move_day import fit_day
from bot.actions.judging.calibration_trial import fit_trials
from bot.actions.practice.lost_closed_or_cancelled_turns import fit_turns
from bot.actions.scoring.score_book import tied_for_good
from bot.actions.squads.squads_changed import every_squad_changed
from bot.rules.calendar.calendar import schedule
from bot.rules.core.audit_pseudonyms import is_by
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.plan.change_plan import (
    Change,
    Present,
    changes,
    check_agreed,
    check_change,
    check_differs,
    check_reason,
    class_is_told,
    moves_dates,
    needs_agreement,
    takes_effect_at_once,
)
from bot.rules.plan.read_plan import fingerprint, short_fingerprint
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import shown_stamp
from bot.words.plan import change_plan as words
from bot.words.plan import edit_plan as panel_words
from bot.words.plan.public_plan import public_plan
from storage.records.message import Answer, Message, Replace
from storage.records.plan import Plan
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import (
    attempts,
    decisions,
    live_messages,
    outbox,
    plan_drafts,
    score_sheets,
    squads,
    students,
    surprises,
    tryouts,
)
from storage.tables.sql_session import Snapshot, Transaction


async def propose(db: Transaction, tryout: Tryout, request: Request, plan: Plan, said: str = "") -> Answer:
    """Let a plan take the place of the one that counts: now, or once the coach has seen what everyone will read.

    Raises:
        Refusal: it may not, as `check_change` says; `nothing_changed`; `reason_needed` once the brief is out.
    """
    reason = " ".join(request.fields.get("reason", "").split())
    found = await _checked(db, tryout, plan, request)
    if takes_effect_at_once(tryout.state, found):
        changed = await _take(db, tryout, plan, request)
        await audit(db, tryout, request, "plan.change", sha256=fingerprint(plan))
        return Replace(
            message=panel_words.edit_plan_panel(changed.plan, changed.state, said or words.changed_quietly())
        )
    check_reason(tryout.brief_at, reason)
    await plan_drafts.keep_draft(db, tryout.id, plan, reason)
    await plan_drafts.propose(db, tryout.id, short_fingerprint(plan), actor_of(tryout, request.who), request.at)
    await audit(db, tryout, request, "plan.propose", stamp=short_fingerprint(plan))
    started = await surprises.started(db, tryout.id)
    return Replace(message=words.sure_to_change(_news(tryout, plan, found, reason, started), _shown(plan, reason)))


@act(ActionKey.PLAN_APPLY, "coach")
async def apply(db: Transaction, tryout: Tryout, request: Request, stamp: str) -> Answer:
    """Make the change that was shown, and tell everyone."""
    draft = await plan_drafts.draft(db, tryout.id)
    if draft is None:
        raise Refusal(Reason.NO_DRAFT)
    if stamp != _shown(draft.plan, draft.reason):
        raise Refusal(Reason.SOMEONE_WAS_QUICKER)
    found = await _checked(db, tryout, draft.plan, request)
    # The brief may have gone out while the coach was thinking.
    check_reason(tryout.brief_at, draft.reason)
    await _check_agreed(db, tryout, draft.plan, request)
    changed = await _take(db, tryout, draft.plan, request)
    await plan_drafts.drop_draft(db, tryout.id)
    started = await surprises.started(db, tryout.id)
    news = _news(tryout, draft.plan, found, draft.reason, started)
    if news is not None:
        await outbox.enqueue(db, tryout.id, "news", news, request.at)
    sha256 = fingerprint(draft.plan)
    if tryout.brief_at is None:
        await audit(db, tryout, request, "plan.change", sha256=sha256)
    else:
        sentences = tuple(words.sentences(found))
        await tryouts.freeze(db, tryout.id, sha256, tryout.brief_at)
        decision = await decisions.decide_plan(db, tryout.id, sentences, sha256, draft.reason, request.at)
        await audit(db, tryout, request, "plan.change", sha256=sha256, decision=decision)
    said = words.changed_quietly() if news is None else words.changed_and_told()
    return Replace(message=panel_words.edit_plan_panel(changed.plan, changed.state, said))


async def _check_agreed(db: Snapshot, tryout: Tryout, plan: Plan, request: Request) -> None:
    """Once there are scores, how they are counted changes by two coaches, or by one who has waited.

    Raises Refusal: `scoring_fixed` (at).
    """
    scored = await attempts.attempts(db, tryout.id) or any(
        one.marks for one in await score_sheets.sheets(db, tryout.id)
    )
    if not needs_agreement(tryout.plan, plan, bool(scored)):
        return
    proposed = await plan_drafts.proposals(db, tryout.id, short_fingerprint(plan))
    if not proposed:
        raise Refusal(Reason.NO_DRAFT)
    first = min(one.proposed_at for one in proposed)
    another = not all(is_by(one.proposed_by, tryout.audit_key, request.who) for one in proposed)
    check_agreed(first, another, request.at)


@act(ActionKey.PLAN_DROP, "coach")
async def drop(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Leave the plan as it is."""
    await plan_drafts.drop_draft(db, tryout.id)
    return Replace(message=panel_words.edit_plan_panel(tryout.plan, tryout.state, words.left_alone()))


async def _checked(db: Snapshot, tryout: Tryout, plan: Plan, request: Request) -> tuple[Change, ...]:
    """What a plan would change, after making sure that it may."""
    found = changes(tryout.plan, plan)
    check_differs(found)
    signed_up = await students.students(db, tryout.id)
    teams = await squads.squads(db, tryout.id)
    present = Present(
        state=tryout.state,
        now=request.at,
        sections=frozenset([*(one.section for one in signed_up), *(squad.section for squad in teams)]),
        largest=max((sum(one.squad_id == squad.id for one in signed_up) for squad in teams), default=0),
        tied=tryout.state == "settled" and await tied_for_good(db, tryout),
    )
    check_change(tryout.plan, plan, schedule_of(tryout), schedule(plan, tryout.brief_at), present)
    return found


async def _take(db: Transaction, tryout: Tryout, plan: Plan, request: Request) -> Tryout:
    """The plan counts from now on: what is due is planned anew, and what shows it is shown anew."""
    await tryouts.set_plan(db, tryout.id, plan)
    changed = await tryouts.get(db, tryout.id)
    await reschedule(db, tryout.id, request.at)
    await fit_trials(db, tryout, changed, request)
    if tryout.state != "drafting":
        await fit_turns(db, changed, request.at)
        await fit_day(db, tryout, changed, request.at)
        await live_messages.mark_stale(db, tryout.id, "*")
        await every_squad_changed(db, changed)
    return changed


def _news(
    tryout: Tryout, plan: Plan, found: tuple[Change, ...], reason: str, started: Collection[str]
) -> Message | None:
    """What the class reads; None while the rules are not fixed yet and every date that was told stays."""
    before, after = schedule_of(tryout), schedule(plan, tryout.brief_at)
    if not class_is_told(tryout.brief_at, before, after):
        return None
    if tryout.brief_at is None:
        return words.moved(plan, before, after)
    return words.changed(plan, after, words.sentences(found), moves_dates(found), reason, public_plan(plan, started))


def _shown(plan: Plan, reason: str) -> str:
    """The same with the reason that everyone will read: what the button under a shown change carries."""
    return shown_stamp(fingerprint(plan), reason)
