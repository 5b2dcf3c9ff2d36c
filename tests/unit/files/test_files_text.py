"""Text of part files: what is read, and hostile files that get an answer and never a traceback."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import BadFile
from sequencer.files import part_from_text, read_part, read_shop, shop_from_text
from sequencer.files.marks import BadText, Mark
from sequencer.files.tree import plain, read_tree

_PLENTY = settings(deadline=None, derandomize=True, max_examples=200)


def _values(text: str) -> object:
    document = read_tree(text)
    assert document.root is not None
    assert document.faults == ()
    return plain(document.root)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("on: off", {"on": "off"}),
        ("a: yes", {"a": "yes"}),
        ("a: 010", {"a": 10}),
        ("a: 0o10", {"a": 8}),
        ("a: 0x1F", {"a": 31}),
        ("a: -7", {"a": -7}),
        ("a: 12:30", {"a": "12:30"}),
        ("a: 2027-03-31", {"a": "2027-03-31"}),
        ("a: 1.5e3", {"a": 1500.0}),
        ("a: .5", {"a": 0.5}),
        ("a: True", {"a": True}),
        ("a: 'true'", {"a": "true"}),
        ('a: "5"', {"a": "5"}),
        ("a: ''", {"a": ""}),
        ("a: |\n  x\n  y\n", {"a": "x\ny\n"}),
        ("1: a\ntrue: b\n", {"1": "a", "true": "b"}),
        ("a: &x [1, 2]\nb: *x\n", {"a": [1, 2], "b": [1, 2]}),
        ("a: &x {p: 1, q: 2}\nb: {<<: *x, q: 3}\n", {"a": {"p": 1, "q": 2}, "b": {"q": 3, "p": 1}}),
        (
            "a: &x {p: 1}\nb: &y {q: 2}\nc:\n  <<: [*x, *y]\n",
            {"a": {"p": 1}, "b": {"q": 2}, "c": {"p": 1, "q": 2}},
        ),
    ],
)
def test_core_schema(text: str, value: object) -> None:
    """YAML 1.2 core schema: no yes/no booleans, no octal by a leading zero, no sexagesimal, no dates."""
    assert _values(text) == value


def test_places_of_keys_and_values() -> None:
    document = read_tree("a: 1\nfeatures:\n  - name: x\n    lower: {z: 5}\n  - other\n")
    assert document.place(("a",)) == (Mark(1, 1), Mark(1, 4))
    assert document.place(("features", 0, "lower", "z")) == (Mark(4, 13), Mark(4, 16))
    assert document.place(("features", 1)) == (Mark(5, 5), Mark(5, 5))
    assert document.place(("features", 0, "missing")) == (Mark(3, 5), Mark(3, 5))
    assert document.place(("features", 7, "name")) == (Mark(2, 1), Mark(3, 3))
    assert document.place(()) == (Mark(1, 1), Mark(1, 1))


@pytest.mark.parametrize(
    ("text", "where", "words"),
    [
        ("a: 1\nb: 2\na: 3\n", "3:1", "'a' is written twice"),
        ("a: {b: 1, b: 2}\n", "1:11", "'b' is written twice"),
        ("a:\n", "1:3", "nothing is written here"),
        ("a: ~\n", "1:4", "nothing is written here"),
        ("a: [1, null]\n", "1:8", "nothing is written here"),
        ("a: .nan\n", "1:4", ".nan is no usable number"),
        ("a: -.inf\n", "1:4", "-.inf is no usable number"),
        ("a: 1e999\n", "1:4", "1e999 is no usable number"),
        ("a: " + "9" * 5000, "1:4", "999999999999... is no usable number"),
        ("<<: 5\n", "1:1", "<< takes over groups of keys, this is none"),
    ],
)
def test_faults_after_which_it_is_read_on(text: str, where: str, words: str) -> None:
    faults = read_tree(text).faults
    assert [(str(fault.mark), words in fault.what) for fault in faults] == [(where, True)]


SYNTAX = [
    ("a: b: c", "1:5", "a second colon stands in this value"),
    ("a: 1\n b: 2\n", "2:3", "a key is indented below a key that has a value already"),
    ("a: 1\n\tb: 2\n", "2:1", "a tab is used to indent"),
    ("a:\n\t- b\n", "2:1", "a tab is used to indent"),
    ("a: [1, 2\nb: 3\nc: d", "2:2", "a list opened with [ is not closed"),
    ("a: {x: 1\nb: 3", "2:2", "a group opened with { is not closed"),
    ("a: 'abc\nb: 2\n", "3:1", "a quoted text is not closed"),
    ("a:\n  - x\n - y\n", "3:2", "the indentation fits no line above"),
    ("a: @x\n", "1:4", "a text cannot begin with '@'"),
    ("a: %x\n", "1:4", "a text cannot begin with '%'"),
    ("- a\nb: 1", "2:1", "a key stands where the list above goes on"),
    ("a: 1\nb c\nd: 1\n", "3:1", "this line has no key and colon"),
    ("a: - b\n", "1:4", "a list cannot begin behind a key"),
    ('a: "b\\q"\n', "1:6", "\\ begins an unknown sign in this text"),
    ("a: x\x07y\n", "1:5", "character 0x07 does not belong into a text file"),
    ("%YAML 3.0\n---\na: 1\n", "1:1", "the version line is not known"),
    ("}", "1:1", "a bracket or sign stands here without a value"),
    ("a: 1\n---\nb: 2\n", "2:1", "a second document begins here"),
    ("a: *b\n", "1:4", "alias *b has no finished anchor above it"),
    ("a: &a [*a]\n", "1:8", "alias *a has no finished anchor above it"),
    ("a: !!python/name:os.system x\n", "1:4", "is not used in these files"),
    ("a: !mine {b: 1}\n", "1:4", "tag '!mine' is not used in these files"),
    ("? [a, b]\n: c\n", "1:3", "a key is one word here, no list and no group"),
    ("a: " + "[" * 60 + "]" * 60, "1:43", "the values are nested too deep"),
    ("[" * 100_000, "1:1001", "the values are nested too deep"),
    ("a: " + "{a: " * 5000, "1:160", "the values are nested too deep"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "where", "words"), SYNTAX)
def test_syntax_in_plain_words(text: str, where: str, words: str) -> None:
    with pytest.raises(BadText) as caught:
        read_tree(text)
    assert (str(caught.value.fault.mark), words in caught.value.fault.what) == (where, True), caught.value
    assert caught.value.fault.remedy


def test_a_bomb_of_aliases_is_refused() -> None:
    rows = ["a: &a [x, x, x, x, x, x, x, x, x, x]"]
    rows += [f"{b}: &{b} [{', '.join([f'*{a}'] * 10)}]" for a, b in zip("abcdefgh", "bcdefghi", strict=True)]
    with pytest.raises(BadText, match="the file says too much, values repeated by aliases counted"):
        read_tree("\n".join(rows))


def test_too_many_values_are_refused() -> None:
    with pytest.raises(BadText, match="the file says too much"):
        read_tree("\n".join(f"k{i}: 1" for i in range(100_001)))


FILES = [
    ("empty", b"", "it is empty \\(a part file\\)\\. Begin with `sequencer new`"),
    ("blanks", b" \n\n", "it is empty"),
    ("comments", b"# a\n# b\n", "it holds only comments"),
    ("no values", b"---\n", "it holds only comments"),
    ("list", b"- a\n", ":1:1: it does not begin with keys, as a part file does"),
    ("word", b"hello\n", "it does not begin with keys"),
    ("latin", "name: Größe".encode("latin-1"), ":1:9: byte 0xf6 is not UTF-8 text"),
    ("binary", bytes(range(256)), ":2:118: byte 0x80 is not UTF-8 text"),
    ("zeros", b"name: a\x00b\n", "it is not a text file"),
    ("UTF-16", "name: a".encode("utf-16"), "it is saved as UTF-16 \\(UTF-8 text\\)"),
    ("large", b"a: 1\n" * 2_100_000, "it is too large for a part or shop file \\(at most 2 MB\\)"),
]


@pytest.mark.parametrize(("content", "words"), [case[1:] for case in FILES], ids=[case[0] for case in FILES])
def test_files_that_are_none(tmp_path: Path, content: bytes, words: str) -> None:
    path = tmp_path / "wheel.yaml"
    path.write_bytes(content)
    with pytest.raises(BadFile, match=words) as caught:
        read_part(path)
    assert str(caught.value).startswith(str(path))
    assert len(caught.value.faults) == 1
    with pytest.raises(BadFile, match="wheel"):
        read_shop(path)


def test_files_that_are_not_there(tmp_path: Path, parts_folder: Path) -> None:
    with pytest.raises(BadFile, match=r"it is a folder\. Name a file in it"):
        read_part(tmp_path)
    with pytest.raises(BadFile, match=r"there is no such file\. Check the name"):
        read_part(tmp_path / "nothing.yaml")
    with pytest.raises(BadFile, match=r"there is no such file\. Check the path"):
        read_part(tmp_path / "no" / "nothing.yaml")
    with pytest.raises(BadFile, match=r"there is no such file\. Did you mean .*first_wheel\.yaml\?"):
        read_part(parts_folder / "first_whel.yaml")
    with pytest.raises(BadFile, match="it cannot be read"):
        read_part("a\0b")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes here")
def test_a_pipe_is_no_file(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(BadFile, match="it is no regular file"):
        read_part(tmp_path / "pipe")


def test_byte_order_mark_and_other_line_ends_are_read(tmp_path: Path, parts_folder: Path) -> None:
    text = (parts_folder / "first_wheel.yaml").read_bytes()
    plain_part = read_part(parts_folder / "first_wheel.yaml")
    for content in (b"\xef\xbb\xbf" + text, text.replace(b"\n", b"\r\n")):
        (tmp_path / "part.yaml").write_bytes(content)
        assert read_part(tmp_path / "part.yaml") == plain_part


@_PLENTY
@given(st.text(max_size=80))
def test_any_text_is_a_part_or_a_bad_file(text: str) -> None:
    for read in (part_from_text, shop_from_text):
        with pytest.raises(BadFile) as caught:
            read(text)
        assert all(fault.what and fault.where for fault in caught.value.faults)


_PIECES = [
    "name",
    ": ",
    "\n",
    "  ",
    "- ",
    "[",
    "]",
    "{",
    "}",
    "features",
    "kind",
    "bore",
    "&a",
    "*a",
    "<<",
    "#",
]
_PIECES += [
    "'",
    '"',
    "|",
    ">",
    "0",
    "null",
    "1e9",
    "\t",
    "---",
    "!",
    "%",
    "@",
    "?",
    ",",
    "~",
    "blank",
    "datums",
]


@_PLENTY
@given(st.lists(st.sampled_from(_PIECES), max_size=40))
def test_any_signs_are_a_part_or_a_bad_file(pieces: list[str]) -> None:
    with pytest.raises(BadFile, match="part"):
        part_from_text("".join(pieces))


_KEYS = [
    *(
        "name",
        "drawing",
        "material",
        "blank",
        "features",
        "datums",
        "clampings",
        "order",
        "kind",
        "z_from",
        "z_to",
    ),
    *("diameter", "on", "teeth", "module", "form", "lower", "hand", "tools", "machine", "magazine", "limits"),
    *("rules", "conditions", "materials", "residents"),
]
_DOCUMENTS = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=4),
        st.dictionaries(
            st.sampled_from(_KEYS),
            inner,
            max_size=8,
        ),
    ),
    max_leaves=50,
)


@_PLENTY
@given(st.dictionaries(st.sampled_from(["name", "features", "blank", "tools", "machine"]), _DOCUMENTS))
def test_any_document_is_a_part_or_a_bad_file(document: dict[str, object]) -> None:
    import yaml

    text = yaml.safe_dump(document, allow_unicode=True)
    for read in (part_from_text, shop_from_text):
        with pytest.raises(BadFile) as caught:
            read(text)
        assert str(caught.value)
