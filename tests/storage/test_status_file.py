"""The status file beside the database."""

from pathlib import Path

from storage.status_file import heartbeat_file, read_heartbeat


def test_a_status_file_that_is_no_status_is_none(tmp_path: Path) -> None:
    heartbeat_file(tmp_path / "a.db").write_text("{", "utf-8")
    assert read_heartbeat(tmp_path / "a.db") is None
