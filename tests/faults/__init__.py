"""Deliberate faults: what the tests must not let pass, put into a copy one by one."""
