"""The guard in conftest.py really refuses what lies beyond this machine."""

import socket

import pytest


@pytest.mark.parametrize("host", ["192.0.2.1", "2001:db8::1", "tenbell.invalid"])
def test_a_check_cannot_look_up_what_is_beyond_this_machine(host: str) -> None:
    with pytest.raises(RuntimeError, match="stay on this machine"):
        socket.getaddrinfo(host, 80)


def test_a_check_cannot_connect_beyond_this_machine() -> None:
    with socket.socket() as endpoint, pytest.raises(RuntimeError, match="stay on this machine"):
        endpoint.connect(("192.0.2.1", 80))


def test_a_check_may_connect_to_this_machine() -> None:
    with socket.create_server(("127.0.0.1", 0)) as server, socket.create_connection(server.getsockname(), 5) as client:
        assert client.getpeername() == server.getsockname()
