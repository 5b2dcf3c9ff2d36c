"""Cutting as pure functions: speeds, forces, times, tool life, gear cutting, run-out and holding."""
