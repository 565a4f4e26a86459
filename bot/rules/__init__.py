"""What is decided: pure functions without clock, network, file or chance."""
