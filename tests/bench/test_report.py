"""How figures are shown: the verdict is the figure's own, and every part of the benchmark can be asked for."""

import pytest

from tests.bench.__main__ import main, parts
from tests.bench.report import at_most, not_measured, percentile


def test_a_figure_beyond_its_promise_is_called_missed() -> None:
    assert str(at_most("start", "2.1x", 2.1, 2.0, "at most 2x")).endswith("MISSED")
    assert str(at_most("start", "2.0x", 2.0, 2.0, "at most 2x")).endswith("kept")
    assert str(not_measured("memory", "this system does not tell it")).endswith("this system does not tell it")


def test_percentiles_are_values_that_were_measured() -> None:
    waits = [float(number) for number in range(1, 151)]
    assert [percentile(waits, percent) for percent in (50, 99, 100)] == [75.0, 149.0, 150.0]
    assert percentile([7.0], 99) == 7.0


def test_every_part_is_found() -> None:
    assert set(parts()) >= {
        "event_day",
        "large_school",
        "imports",
        "statistics",
        "panels",
        "presses",
        "season",
        "sheets",
        "start",
    }


def test_a_part_that_breaks_counts_as_missed_and_the_others_go_on(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken() -> list[str]:
        raise RuntimeError("no such thing")

    monkeypatch.setattr("tests.bench.__main__.parts", lambda: {"a": broken, "b": lambda quick: [f"quick is {quick}"]})
    assert main(["--quick"]) == 1
    shown = capsys.readouterr().out
    assert "could not be measured: RuntimeError: no such thing" in shown
    assert "quick is True" in shown
