"""Sheets for the shop: route sheet, tool list, methods and findings, each from a plan."""
