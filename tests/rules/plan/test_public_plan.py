"""The plan that everybody may have: nothing of a sealed surprise is in it, and its bytes have the posted hash."""

import tomllib
from hashlib import sha256

from bot.rules.plan.read_plan import fingerprint, read_plan, write_plan
from bot.words.plan.builtin_plan import bridges_and_debate_plan_text, builtin_plan_text
from bot.words.plan.public_plan import public_plan

BUILTIN = read_plan(builtin_plan_text())


def test_a_sealed_surprise_is_left_out_but_for_its_weight_and_the_bytes_have_the_hash_that_is_told() -> None:
    found = public_plan(BUILTIN)
    assert sha256(found.text.encode()).hexdigest() == found.sha256 != found.whole_sha256 == fingerprint(BUILTIN)
    assert not found.whole
    for secret in ("paper-chain", "Paper chain", "chain", "scissors", "Teamwork", "communication", "480"):
        assert secret not in found.text
    data = tomllib.loads(found.text)
    assert [event["weight"] for event in data["events"]] == [40, 30, 30]
    assert data["tie_breaks"] == ["sock-run", "bunting", "surprise", "bunting.flags.explain"]


def test_once_it_has_started_the_file_is_the_whole_plan_with_the_fingerprint_posted_at_the_brief() -> None:
    found = public_plan(BUILTIN, {"paper-chain"})
    assert found.whole and found.text == write_plan(BUILTIN)
    assert sha256(found.text.encode()).hexdigest() == public_plan(BUILTIN).whole_sha256
    assert read_plan(found.text) == BUILTIN


def test_a_plan_without_a_surprise_has_one_fingerprint() -> None:
    second = read_plan(bridges_and_debate_plan_text())
    found = public_plan(second)
    assert found.whole and sha256(found.text.encode()).hexdigest() == fingerprint(second)
