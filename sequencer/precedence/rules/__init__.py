"""The rules of the trade, by subject."""
