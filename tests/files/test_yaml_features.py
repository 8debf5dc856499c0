"""What YAML can do and a show may not: tags, anchors, aliases, merge keys, a key twice, two documents."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.files.kit import laid, told

HEAD = "song: Lantern\nscenes:\n"
LIKE = "name a scene with `like` instead"
BARE = "write the bare value: its place says its type"


def _told(tmp_path: Path, text: str) -> list[tuple[str, str, str]]:
    return told(laid(tmp_path, {"lantern.yaml": text.encode()}))


@pytest.mark.parametrize(
    ("text", "place", "tag"),
    [
        (HEAD + "  verse: {gate: !!str tight}\n", "3:17", "!!str"),
        (HEAD + "  verse: {!own gate: tight}\n", "3:11", "!own"),
        (HEAD + "  verse: !own {gate: tight}\n", "3:10", "!own"),
        ("!own\n" + HEAD + "  verse: {gate: tight}\n", "1:1", "!own"),
        (HEAD + "  verse: {gate: ! tight}\n", "3:17", "!"),
        (
            HEAD + "  verse: !!python/object/apply:os.system [ls]\n",
            "3:10",
            "!!python/object/apply:os.system",
        ),
    ],
    ids=["value", "key", "block", "file", "bare", "call"],
)
def test_a_tag_is_one_finding_where_it_stands(tmp_path: Path, text: str, place: str, tag: str) -> None:
    assert _told(tmp_path, text)[:1] == [
        (f"lantern.yaml:{place} yaml-feature", f"a tag (`{tag}`) is not used in a show", BARE)
    ]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        (HEAD + "  verse: &v {gate: tight}\n", "3:10"),
        (HEAD + "  verse: {gate: &v tight}\n", "3:17"),
        (HEAD + "  verse: {&v gate: tight}\n", "3:11"),
    ],
    ids=["block", "value", "key"],
)
def test_an_anchor_is_one_finding_where_it_stands(tmp_path: Path, text: str, place: str) -> None:
    assert _told(tmp_path, text) == [
        (f"lantern.yaml:{place} yaml-feature", "an anchor (`&v`) is not used in a show", LIKE)
    ]


def test_an_alias_is_one_finding_where_it_stands(tmp_path: Path) -> None:
    text = HEAD + "  verse: {gate: tight}\n  chorus: *verse\n"

    assert _told(tmp_path, text) == [
        (
            "lantern.yaml:4:11 yaml-feature",
            "an alias is not used in a show",
            "name a scene with `like`, or write the lines out",
        )
    ]


def test_a_merge_key_is_one_finding_though_its_value_is_an_alias(tmp_path: Path) -> None:
    text = HEAD + "  verse: {gate: tight}\n  chorus: {<<: *verse, echo: cliff}\n"

    assert _told(tmp_path, text) == [
        ("lantern.yaml:4:12 yaml-feature", "a merge key is not used in a show", "use `like` instead")
    ]


def test_an_anchor_and_its_alias_are_one_finding_at_the_anchor(tmp_path: Path) -> None:
    text = HEAD + "  verse: &v {gate: tight}\n  chorus: *v\n"

    assert _told(tmp_path, text) == [
        ("lantern.yaml:3:10 yaml-feature", "an anchor (`&v`) is not used in a show", LIKE)
    ]


def test_aliases_of_aliases_are_refused_without_being_unfolded(tmp_path: Path) -> None:
    rows = [f"  s{n}: &a{n} {{like: [{', '.join([f'*a{n - 1}'] * 9)}]}}\n" for n in range(1, 12)]
    text = HEAD + "  s0: &a0 {gate: tight}\n" + "".join(rows)

    assert {place.split()[1] for place, _, _ in _told(tmp_path, text)} == {"yaml-feature"}


def test_a_key_twice_is_one_finding_at_the_second(tmp_path: Path) -> None:
    text = HEAD + "  verse: {gate: tight, echo: cliff, gate: loose}\n"

    assert _told(tmp_path, text) == [
        (
            "lantern.yaml:3:37 key-twice",
            "`gate` is given twice",
            "keep one of the two: YAML readers disagree on which would count",
        )
    ]


def test_a_key_three_times_is_a_finding_for_each_repetition(tmp_path: Path) -> None:
    text = HEAD + "  verse: {gate: tight, gate: loose, 'gate': tight}\n"

    assert [place for place, _, _ in _told(tmp_path, text)] == [
        "lantern.yaml:3:24 key-twice",
        "lantern.yaml:3:37 key-twice",
    ]


@pytest.mark.parametrize(
    ("end", "place"),
    [
        ("---\n" + HEAD + "  verse: {gate: tight}\n", "4:1"),
        ("---\n", "4:1"),
        ("...\nsong: Lantern\n", "5:1"),
        ("--- {a: b}\n", "4:1"),
    ],
    ids=["a whole song", "nothing", "after its end", "on its line"],
)
def test_a_second_document_is_one_finding_where_it_begins(tmp_path: Path, end: str, place: str) -> None:
    text = HEAD + "  verse: {gate: tight}\n" + end

    assert [(at, message) for at, message, _ in _told(tmp_path, text)] == [
        (f"lantern.yaml:{place} yaml-feature", "a second document is not used in a show")
    ]


@pytest.mark.parametrize(
    "text",
    [
        "---\n" + HEAD + "  verse: {gate: tight}\n",
        HEAD + "  verse: {gate: tight}\n...\n",
        "# a remark\n--- # another\n" + HEAD + "  verse: {gate: tight}\n",
    ],
    ids=["begun", "ended", "remarked"],
)
def test_one_document_may_be_marked_as_such(tmp_path: Path, text: str) -> None:
    assert _told(tmp_path, text) == []


def test_text_in_several_lines_may_be_written_as_a_block(tmp_path: Path) -> None:
    text = HEAD + "  verse:\n    gate: tight\n    remark: |\n      hand over\n      the mandola\n"

    assert _told(tmp_path, text) == []
