"""Whatever a planner writes, the checks answer with faults and never fail themselves."""

from __future__ import annotations

import copy
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from sequencer.part import Part
from sequencer.part.references import check_names, check_references
from sequencer.part.section import make_section

_VALUES = st.one_of(
    st.sampled_from(
        ["0 mm", "-50 mm", "0.001 mm", "5000 mm", "200 mm", "330 mm", "90 deg", "0 deg", "1e9 mm"]
    ),
    st.sampled_from(
        ["bore", "wheel", "hub", "apex", "lower_face", "spline", "blank", "mark", "bolts", "low", "body"]
    ),
    st.sampled_from(
        ["inside", "outside", "upper", "lower", "both", "radial", "axial", "H7", "0.1 mm", "ISO 4156"]
    ),
    st.sampled_from([3, 5, 6, 2000, 200, 1, 0.5, -1.5, True, None]),
    st.sampled_from([["A"], ["A", "B"], ["bore"], [], {"to": "bolts", "tolerance": "1 mm"}]),
)


def _leaves(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    if isinstance(value, dict):
        return [leaf for key, inner in value.items() for leaf in _leaves(inner, (*path, key))]
    if isinstance(value, list):
        return [leaf for at, inner in enumerate(value) for leaf in _leaves(inner, (*path, at))]
    return [path]


@settings(deadline=None, derandomize=True, max_examples=250)
@given(st.data())
def test_any_slips_give_faults_only(
    wheel: dict[str, Any], shaft: dict[str, Any], data: st.DataObject
) -> None:
    document = copy.deepcopy(data.draw(st.sampled_from([wheel, shaft])))
    paths = data.draw(st.lists(st.sampled_from(_leaves(document)), min_size=1, max_size=4, unique=True))
    for path in paths:
        here = document
        for step in path[:-1]:
            here = here[step]
        here[path[-1]] = data.draw(_VALUES)
    check_names(document)
    try:
        part = Part.model_validate(document)
    except ValidationError:
        return
    for fault in check_references(part):
        assert fault.what
        assert fault.path[0] in ("features", "clampings", "datums", "due", "order")
    section = make_section(part)
    assert section.outline()
    assert section.wall_ratio() >= 0
    for feature in part.features:
        extent = section.extent(feature.name)
        assert extent.z_from <= extent.z_to
        assert 0 <= extent.inner <= extent.outer


@settings(deadline=None, derandomize=True, max_examples=150)
@given(
    st.recursive(
        st.one_of(st.none(), st.booleans(), st.integers(), st.text(max_size=5)),
        lambda inner: st.one_of(
            st.lists(inner, max_size=3),
            st.dictionaries(
                st.sampled_from(
                    ["name", "kind", "on", "datums", "geometric", "to", "phase", "order", "before"]
                )
                | st.sampled_from(["features", "clampings", "hold", "up", "rests_on", "next_to", "gear"]),
                inner,
                max_size=6,
            ),
        ),
        max_leaves=40,
    )
)
def test_names_of_any_document(document: Any) -> None:
    for fault in check_names(document):
        assert fault.what
        assert fault.path
