"""Keys that say what an element of a picture is about; the rows of the sheets carry the same."""

from __future__ import annotations


def step_key(number: int) -> str:
    """Give the key of a step.

    Parameters
    ----------
    number
        Number of the step on the route sheet.
    """
    return f"step-{number}"


def feature_key(name: str) -> str:
    """Give the key of a feature.

    Parameters
    ----------
    name
        Name of the feature.
    """
    return f"feature-{name}"


def tool_key(name: str) -> str:
    """Give the key of a tool.

    Parameters
    ----------
    name
        Name of the tool.
    """
    return f"tool-{name}"
