"""The class server itself: REST routes, gateway, interactions, rate limits, clock, injected faults, transcript."""
