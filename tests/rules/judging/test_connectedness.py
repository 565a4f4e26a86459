"""Which squads a panel can compare: its parts, and the sheets and judges without which it falls into more."""

from typing import Any

import networkx as nx
from hypothesis import given

from bot.rules.judging.connectedness import WeakLinks, parts, shared_squads, weak_links
from bot.rules.scoring.severity_model import Observation
from tests.rules.reference import reference
from tests.rules.scoring.test_severity_model import numbered, panels


def test_every_sheet_of_a_chain_is_a_weak_link() -> None:
    """Reference C4: seven sheets join eight squads and judges, so none can be spared."""
    seen = [(sheet.squad, sheet.judge) for sheet in numbered(reference("C4")["input"]["obs"])]
    assert weak_links(seen).sheets == tuple(sorted(seen))


def test_a_panel_with_every_pair_of_judges_has_no_weak_link() -> None:
    """Reference C2 and C5: without any one judge it stays connected."""
    seen = [(sheet.squad, sheet.judge) for sheet in numbered(reference("C2")["input"]["obs"])]
    assert weak_links(seen) == WeakLinks(sheets=(), judges=())
    assert shared_squads(seen) == {1: 3, 2: 3, 3: 3, 4: 3}


@given(panels())
def test_parts_and_weak_links_agree_with_networkx(sheets: list[Observation]) -> None:
    graph: nx.Graph[tuple[str, int]] = nx.Graph([(("squad", each.squad), ("judge", each.judge)) for each in sheets])
    seen = [(each.squad, each.judge) for each in sheets]
    components = sorted(sorted(n for kind, n in group if kind == "squad") for group in nx.connected_components(graph))
    assert [list(part.squads) for part in parts(seen)] == components
    links = weak_links(seen)
    bridges: Any = nx.bridges(graph)
    ends = [dict(bridge) for bridge in bridges]
    assert links.sheets == tuple(sorted((end["squad"], end["judge"]) for end in ends))
    cuts = sorted(n for kind, n in nx.articulation_points(graph) if kind == "judge")
    assert list(links.judges) == cuts
