"""Any text at all in place of a file of the base show, from pieces that YAML and the show's language know."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from switchmatrix.pipeline import judge
from tests.fuzz.damage import KEYS, ODD, WRONG
from tests.fuzz.holding import counted_in_each_form, misplaced, on_disk
from tests.support import BASE_SHOW

BASE = {p.relative_to(BASE_SHOW).as_posix(): p.read_bytes() for p in sorted(BASE_SHOW.rglob("*.yaml"))}


def _texts(path: str) -> SearchStrategy[tuple[str, str]]:
    """A path, and pieces in any order: lines of its file, keys, values, brackets, breaks, any character."""
    rows = st.sampled_from(BASE[path].decode().splitlines(keepends=True))
    keys = st.sampled_from([f"{key}: " for key in KEYS])
    piece = st.one_of(rows, keys, st.sampled_from(WRONG), st.sampled_from(ODD), st.text(max_size=3))
    return st.tuples(st.just(path), st.lists(piece, max_size=14).map("".join))


@settings(max_examples=160, derandomize=True)
@given(st.sampled_from(sorted(BASE)).flatmap(_texts))
def test_any_text_in_a_files_place_is_judged_and_each_finding_said_at_a_place_in_it(
    text: tuple[str, str],
) -> None:
    path, said = text
    files = BASE | {path: said.encode("utf-8", errors="surrogatepass")}
    with on_disk(files) as folder:
        judged = judge(folder)
        assert misplaced(judged, files) == []
        assert counted_in_each_form(judged) == [len(judged.found)] * 3


@settings(max_examples=60, derandomize=True)
@given(st.sampled_from(sorted(BASE)), st.binary(max_size=200))
def test_any_bytes_in_a_files_place_are_judged_and_each_finding_said_at_a_place_in_it(
    path: str, data: bytes
) -> None:
    files = BASE | {path: data}
    with on_disk(files) as folder:
        judged = judge(folder)
        assert misplaced(judged, files) == []
        assert counted_in_each_form(judged) == [len(judged.found)] * 3
