"""Cutting: speeds, forces, times, tool life, gear-cutting kinematics, run-out and holding, as pure functions."""
