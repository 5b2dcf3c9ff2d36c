"""Checks that a part can exist as its document describes it."""
