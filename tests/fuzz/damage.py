"""Damage to the text of a file, and to a show's folder: what hands, editors and disks do."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from hypothesis import strategies as st

from tests.compile.drawn import Dice


def _table(text: str) -> list[str]:
    """The entries of a table, two spaces or a line between them."""
    return re.split(r" {2,}|\n", text.strip())


WRONG = (
    *("", "x" * 300, "\u00e9" * 90),
    *_table("""
~  []  {}  [[]]  {a: {b: c}}  [a, {b: [c]}]  on  yes  now  home  leave  as stored  nothing  recalls  -  --
0  -1  128  99999999999999999999  1e5  0x10  .5  1,5  +  -inf dB  inf  nan %  0 ms  0 Hz  -5 ms  1000000 s
5-  0-127  127-0  bar 0  bar 99999  bar 1 beat 999  999:59.999999  23:59:59:99  0/4  1/0  99/1  1/8 dotted
gate-1.engage  echo.patch  echo.  .engage  a.b.c  verse  standing  a-rig  b-rig  lantern  plain-gate
"a\\nb"  "\\0"  "\\ud800"  '  "  &a b  *a  !!int 3  | x  > x  @x  `x`  %x  # x  ? x
"""),
)
"""Values that are wrong in most places, and right in a few."""

ODD = (
    *"\t\u00a0\u200b\u202e\ufeff\u0085\u2028\u0000\ufffe\u0301\U0001f56f\u0660\u2460\u00df\u0130\r\n",
    *" :,-{}[]'\"\\!|>@%",
    *("\u001b[31m", "\n\n", "  ", ": ", " #", "- ", "&a ", "*a", "<<: ", "? ", "---\n", "\n...\n"),
)
"""Pieces that do not belong where they fall."""

KEYS = _table("""
at  like  remark  tempo  instrument  drop  order  patch  loops  kind  cc  program  main  stored  hazard
range  codes  points  centre  bottom  values  send  channel  definition  port  patches  stores  home  standing
absent  joint  rigs  legs  setlist  changes  <<
""")


def _at(dice: Dice, rows: list[str]) -> int:
    return dice.pick(range(len(rows)))


def _inside(dice: Dice, row: str) -> int:
    return dice.pick(range(len(row) + 1))


def _drop(dice: Dice, rows: list[str]) -> None:
    rows.pop(_at(dice, rows))


def _twice(dice: Dice, rows: list[str]) -> None:
    rows.insert(_at(dice, rows), rows[_at(dice, rows)])


def _swap(dice: Dice, rows: list[str]) -> None:
    one, other = _at(dice, rows), _at(dice, rows)
    rows[one], rows[other] = rows[other], rows[one]


def _join(dice: Dice, rows: list[str]) -> None:
    at = _at(dice, rows)
    rows[at : at + 2] = ["".join(rows[at : at + 2])]


def _indent(dice: Dice, rows: list[str]) -> None:
    rows[_at(dice, rows)] = dice.pick((" ", "  ", "\t", "- ")) + rows[_at(dice, rows)].lstrip()


def _cut_off(dice: Dice, rows: list[str]) -> None:
    at = _at(dice, rows)
    rows[at:] = [rows[at][: _inside(dice, rows[at])]]


def _value(dice: Dice, rows: list[str]) -> None:
    """Another value after one of the line's colons."""
    at = _at(dice, rows)
    parts = rows[at].split(": ")
    spot = dice.pick(range(1, len(parts) + 1))
    old = parts[spot] if spot < len(parts) else ""
    end = next((n for n, c in enumerate(old) if c in ",}]"), len(old))
    rows[at] = ": ".join([*parts[:spot], dice.pick(WRONG) + old[end:], *parts[spot + 1 :]])


def _key(dice: Dice, rows: list[str]) -> None:
    """Another key before one of the line's colons."""
    at = _at(dice, rows)
    parts = rows[at].split(":")
    spot = dice.pick(range(len(parts)))
    head = parts[spot].rstrip("abcdefghijklmnopqrstuvwxyz-0123456789")
    rows[at] = ":".join([*parts[:spot], head + dice.pick(KEYS), *parts[spot + 1 :]])


def _values_swapped(dice: Dice, rows: list[str]) -> None:
    """The values of two lines change places."""
    one, other = _at(dice, rows), _at(dice, rows)
    (a, colon, left), (b, _, right) = rows[one].partition(":"), rows[other].partition(":")
    rows[one], rows[other] = a + colon + right, b + colon + left


def _odd(dice: Dice, rows: list[str]) -> None:
    at = _at(dice, rows)
    spot = _inside(dice, rows[at])
    rows[at] = rows[at][:spot] + dice.pick(ODD) + rows[at][spot:]


def _lost(dice: Dice, rows: list[str]) -> None:
    at = _at(dice, rows)
    spot = _inside(dice, rows[at])
    rows[at] = rows[at][:spot] + rows[at][spot + dice.pick((1, 2, 9)) :]


def _deep(dice: Dice, rows: list[str]) -> None:
    """Many levels where a value was."""
    at = _at(dice, rows)
    head, _, _ = rows[at].partition(":")
    levels = dice.pick((3, 12, 23, 24, 25, 400))
    rows[at] = (
        f"{head}: "
        + dice.pick(("[", "{a: ", "- ", "? ")) * levels
        + dice.pick(("", "]" * levels, "}" * levels))
    )


def _long(dice: Dice, rows: list[str]) -> None:
    at = _at(dice, rows)
    rows[at] += dice.pick((" ", "x", "\u00e9", ", a", ": ", "[]")) * dice.pick((100, 1000, 20_000))


TEXT: tuple[Callable[[Dice, list[str]], None], ...] = (
    *(_value, _value, _value, _key, _values_swapped, _odd, _lost),
    *(_drop, _twice, _swap, _join, _indent, _cut_off, _deep, _long),
)


def damaged(dice: Dice, text: str) -> str:
    """The text after one to three pieces of damage."""
    rows = text.split("\n")
    for _ in range(dice.pick((1, 1, 2, 3))):
        dice.pick(TEXT)(dice, rows)
        rows = rows or [""]
    return "\n".join(rows)


DICE = st.binary(min_size=24, max_size=24)
"""Enough bytes to decide about one damaged file."""


HARM = (*("text",) * 12, *_table("lost  empty  blank  latin  bytes  yml  moved  more  large"))
"""What may happen to a file; most often its text is damaged."""


def folder_damaged(dice: Dice, files: Mapping[str, bytes]) -> dict[str, bytes]:
    """The folder after one file is damaged, lost, emptied, renamed or spoilt; an extra one may come."""
    out = dict(files)
    path = dice.pick(sorted(files))
    data = out.pop(path)
    match dice.pick(HARM):
        case "text":
            out[path] = damaged(dice, data.decode("utf-8", errors="replace")).encode()
        case "empty":
            out[path] = b""
        case "blank":
            out[path] = dice.pick(
                (b"\n", b"  \n\n", b"# nothing\n", b"---\n", b"\xef\xbb\xbf", b"~\n", b"[]\n", b"{}\n")
            )
        case "latin":
            out[path] = data + b"remark: caf\xe9\n"
        case "bytes":
            out[path] = data[:40] + dice.pick(
                (b"\xff\xfe", b"\x00", b"\xc3", b"\xed\xa0\x80", b"\xf4\x90\x80\x80")
            )
        case "yml":
            out[path.removesuffix(".yaml") + ".yml"] = data
        case "moved":
            out[dice.pick(("rigs/", "definitions/", "")) + path.rpartition("/")[2]] = data
        case "more":
            out |= {path: data, dice.pick(EXTRA): data}
        case "large":
            out[path] = data + b"# and so on\n" * 100_000
    return out


EXTRA = (
    *(
        "rigs/ .yaml",
        "rigs/x\ny.yaml",
        "\x1b[31mred.yaml",
        "definitions/" + "d" * 81 + ".yaml",
        "\u00e9\u0301.yaml",
    ),
    *_table(
        "standing.yaml  .hidden.yaml  a.b.yaml  Lantern.yaml  -x.yaml  notes.txt  rigs/A-rig.yaml  show.yml"
    ),
)
"""Names of files that do not belong in a show, or only just."""
