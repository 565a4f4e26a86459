"""Seasons with every trouble, one after the other, until the bot has been killed often enough."""

import argparse
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.season.bot_process import BotDied
from deploy.rehearsal.server.stepped_clock import ClockStuck
from tests.faults import try_faults as faults
from tests.season import generated_plans, malformed_interactions
from tests.season.played_season import Season, play_season


def main() -> int:
    """Run the soak; 1 when anything was lost, doubled, otherwise than promised, or different."""
    parser = argparse.ArgumentParser(prog="soak", description=__doc__)
    parser.add_argument("--kills", type=int, default=50, help="stop after so many power cuts (default 50)")
    parser.add_argument("--seed", type=int, default=100, help="the first season's number")
    parser.add_argument("--short", action="store_true", help="seasons of five squads and three judges")
    parser.add_argument("--minutes", type=float, default=120.0, help="stop after so many minutes at the latest")
    parser.add_argument("--events", type=int, help="no seasons, but so many malformed events to one bot (30000, say)")
    parser.add_argument(
        "--faults", action="store_true", help="no seasons, but deliberate faults for the tests to notice"
    )
    parser.add_argument(
        "--plans", type=int, help="no built-in seasons, but those of so many generated plans (200, say)"
    )
    parser.add_argument(
        "--first", type=int, default=0, help="of these plans, begin with that of this number: parts can be played apart"
    )
    chosen = parser.parse_args()
    if chosen.faults:
        return faults.try_all(chosen.minutes)
    if chosen.plans is not None:
        return generated_plans.report(chosen.plans, chosen.seed, chosen.minutes, chosen.first)
    if chosen.events is not None:
        return malformed_interactions.report(chosen.events, chosen.seed)
    until = time.monotonic() + 60 * chosen.minutes
    kills = lost = doubled = differing = broken = seasons = 0
    retries: Counter[str] = Counter()
    late, starts = [0.0], []
    while kills < chosen.kills and time.monotonic() < until:
        seed = chosen.seed + seasons
        seasons += 1
        with tempfile.TemporaryDirectory() as folder:
            try:
                calm = play_season(Path(folder) / "calm", seed, short=chosen.short)
                rough = play_season(Path(folder) / "rough", seed, ("all",), short=chosen.short)
            except (CastMistake, ClockStuck, BotDied, AssertionError) as why:
                broken += 1
                print(f"season {seed} broke off: {type(why).__name__}: {why}", flush=True)
                continue
        figures = rough.figures
        kills += figures["kills"]
        lost += figures["lost"]
        doubled += figures["doubled"] + figures["reminders"]["doubled"]
        same = figures["standings"] == calm.figures["standings"]
        differing += not same
        complaints = rough.oracle.complaints()
        broken += figures["broken"] + len(complaints)
        retries.update(figures["retried"])
        late.append(figures["reminders"]["late_s_p99"] or 0.0)
        starts += figures["start_s"][1:]
        print(_line(rough, same, kills), flush=True)
        for what in (*figures["lost_what"], *figures["doubled_what"], *figures["broken_what"], *complaints):
            print(f"  {what}", flush=True)
    print(
        f"{seasons} seasons, {kills} kills: {lost} lost, {doubled} doubled, {broken} broken, {differing} different; "
        f"tried again {_counted(retries)}; slowest restart {max(starts, default=0.0):.2f} s"
    )
    return 1 if lost or doubled or broken or differing else 0


def _counted(retries: Mapping[str, int]) -> str:
    return ", ".join(f"{count} ({why})" for why, count in retries.items()) or "never"


def _line(season: Season, same: bool, kills: int) -> str:
    figures = season.figures
    state = "same standings" if same else "DIFFERENT STANDINGS"
    return (
        f"season {figures['seed']}: {figures['kills']} kills ({kills} in all), {figures['lost']} lost, "
        f"{figures['doubled']} doubled, {figures['broken']} broken, {figures['acknowledged']} acknowledged, "
        f"tried again {_counted(figures['retried'])}, "
        f"{state}"
    )


if __name__ == "__main__":
    sys.exit(main())
